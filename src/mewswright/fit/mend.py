"""Mend one unit: the cheapest set of changes that clears harm, then what falls short.

Every step is judged by all checks. What no change clears is said to be beyond mending.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import run_checks
from mewswright.checks.report import Counts
from mewswright.fit.change import Change, Edit, Priced, Steps
from mewswright.fit.mend_beyond import why_beyond
from mewswright.fit.mend_search import MOST_YARDS, Key, Outcome, cheapest, key_of
from mewswright.fit.mend_shape import CAUTIONS, NOT_EURO, Beyond, Mending, Stage, Step, Total
from mewswright.fit.remedies import offers
from mewswright.fit.remedy import Standing
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

MOST_TURNS = 3  # what was beyond mending is tried again in the mended room, so many times
LEVELS: dict[Stage, tuple[Status, ...]] = {"harm": ("harm",), "short": ("harm", "short")}


@dataclass(frozen=True)
class Mended:
    """The plan for the keeper, and the yard as it then is."""

    mending: Mending
    yard: Yard
    changes: tuple[Change, ...]

    @property
    def edits(self) -> tuple[Edit, ...]:
        """All edits in order, for the text of the yard file."""
        return tuple(edit for change in self.changes for edit in change.edits)


@dataclass
class _Judge:
    """What the checks say of one unit, and what may be left as it is."""

    start: Yard
    quarters: str
    standards: tuple[str, ...] | None
    levels: tuple[Status, ...]
    beyond: frozenset[Key] = frozenset()
    written: frozenset[Steps] = frozenset()
    _found: dict[Yard, tuple[Finding, ...]] = field(default_factory=dict)
    _elsewhere: dict[Yard, Counter[tuple[str, str, str, str]]] = field(default_factory=dict)
    _standing: dict[Yard, Standing] = field(default_factory=dict)
    _offered: dict[tuple[Yard, Key], Sequence[Change]] = field(default_factory=dict)

    def offers(self, yard: Yard, finding: Finding) -> Sequence[Change]:
        place = (yard, key_of(finding))
        if place not in self._offered:
            if yard not in self._standing:
                self._standing[yard] = Standing(yard, self.quarters, self.standards)
            self._offered[place] = offers(self._standing[yard], finding)
        # Nothing is built twice: what a change has set, no later one sets anew.
        return [change for change in self._offered[place] if not change.paths & self.written]

    def findings(self, yard: Yard) -> tuple[Finding, ...]:
        if yard not in self._found:
            self._found[yard] = run_checks(yard, self.standards, self.quarters)
        return self._found[yard]

    def wanted(self, yard: Yard) -> tuple[Finding, ...]:
        return tuple(
            f
            for f in self.findings(yard)
            if f.status in self.levels and key_of(f) not in self.beyond
        )

    def is_allowed(self, yard: Yard) -> bool:
        return _harms(self.findings(yard)) <= _harms(self.findings(self.start))

    def is_accepted(self, yard: Yard) -> bool:
        return self._harms_of_all(yard) <= self._harms_of_all(self.start)

    def _harms_of_all(self, yard: Yard) -> Counter[tuple[str, str, str, str]]:
        if yard not in self._elsewhere:
            self._elsewhere[yard] = _harms(run_checks(yard, self.standards))
        return self._elsewhere[yard]


def _harms(findings: Sequence[Finding]) -> Counter[tuple[str, str, str, str]]:
    return Counter(
        (f.quarters or "", f.code, f.bird or "", f.fitting or "")
        for f in findings
        if f.status == "harm"
    )


def mend(
    yard: Yard,
    quarters: str,
    standards: Sequence[str] | None = None,
    most_yards: int = MOST_YARDS,
) -> Mended:
    """Find the cheapest changes that clear harm from a unit, then what falls short.

    Args:
        yard: The yard.
        quarters: Name of the unit.
        standards: Standards to judge by; None = those that bind the yard.
        most_yards: Yards to judge in each search before giving up; there are a few.

    Raises:
        Problem: For an unknown unit or standard, or a unit that no bird lives in.
    """
    yard.quarters_named(quarters)
    if not yard.stays_in(quarters):
        raise Problem(
            f"no bird lives in {quarters!r}, so nothing says what it must be: give a stay in the "
            "yard file"
        )
    keys = tuple(standards) if standards else None
    judge = _Judge(yard, quarters, keys, LEVELS["harm"])
    plan = _planned(judge, yard, ("harm", "short"), most_yards)
    if len(plan.changes) > 1 or any(tried for _, tried in plan.beyond.values()):
        # One change may clear harm and short together for less than one for each.
        other = _planned(judge, yard, ("short",), most_yards)
        plan = replace(
            min(plan, other, key=lambda one: one.rank),
            proven=plan.proven and other.proven,
            nodes=plan.nodes + other.nodes,
        )
    judge.levels, judge.beyond = LEVELS["short"], frozenset(plan.beyond)
    changes = _in_order(judge, yard, _needed(judge, yard, plan.changes))
    return _told(judge, yard, replace(plan, changes=changes))


@dataclass(frozen=True)
class _Plan:
    """Changes, what they leave, and what was found out on the way."""

    changes: tuple[Change, ...]
    beyond: dict[Key, tuple[Finding, bool]]
    harms: int
    shorts: int
    proven: bool
    nodes: int

    @property
    def rank(self) -> tuple[int, int, float]:
        return self.harms, self.shorts, sum(change.cost.weight for change in self.changes)


def _planned(judge: _Judge, yard: Yard, stages: Sequence[Stage], most_yards: int) -> _Plan:
    """Clear stage by stage; what was beyond mending is tried again in the mended room."""
    beyond: dict[Key, tuple[Finding, bool]] = {}
    changes: tuple[Change, ...] = ()
    now, nodes, proven = yard, 0, True
    for turn in range(MOST_TURNS):
        beyond, done = {}, len(changes)
        for stage in stages:
            judge.levels = LEVELS[stage]
            judge.written = frozenset().union(*(change.paths for change in changes))
            found = _clear(judge, now, beyond, most_yards)
            changes, now = changes + found.changes, found.yard
            nodes, proven = nodes + found.yards, proven and found.proven
        if len(changes) == done:
            break
        proven = proven and turn == 0  # a plan made in two goes is not shown to be the cheapest
        if not beyond:
            break
    left = _counts(judge.findings(now))
    return _Plan(changes, beyond, left.harm, left.short, proven, nodes)


def _clear(
    judge: _Judge, yard: Yard, beyond: dict[Key, tuple[Finding, bool]], most_yards: int
) -> Outcome:
    """Clear what can be cleared; findings that no change clears are put down as beyond."""
    judge.beyond = frozenset(beyond)
    for finding in judge.wanted(yard):
        if not any(_cures(judge, yard, c, finding) for c in judge.offers(yard, finding)):
            beyond[key_of(finding)] = finding, False
    yards = 0
    while True:
        judge.beyond = frozenset(beyond)
        outcome = cheapest(yard, judge, judge.offers, most_yards)
        yards += outcome.yards
        for finding in outcome.left:
            beyond[key_of(finding)] = finding, True
        if not outcome.left or not outcome.proven:
            judge.beyond = frozenset(beyond)
            return Outcome(outcome.changes, outcome.yard, (), outcome.proven, yards)


def _cures(judge: _Judge, yard: Yard, change: Change, finding: Finding) -> bool:
    after = change.apply(yard)
    if after is None or not judge.is_allowed(after):
        return False
    return key_of(finding) not in {key_of(f) for f in judge.wanted(after)}


def _needed(judge: _Judge, yard: Yard, changes: tuple[Change, ...]) -> tuple[Change, ...]:
    """Leave out, dearest first, what later changes have made needless."""
    goal = len(judge.wanted(_after(yard, changes)))
    for change in sorted(changes, key=lambda one: -one.cost.weight):
        fewer = tuple(one for one in changes if one is not change)
        after = _applied(yard, fewer)
        if after is None or len(judge.wanted(after)) > goal:
            continue
        if judge.is_allowed(after) and judge.is_accepted(after):
            changes = fewer
    return changes


def _in_order(judge: _Judge, yard: Yard, changes: tuple[Change, ...]) -> tuple[Change, ...]:
    """Put what clears harm first, and within that what carries before what hangs on it.

    Where that order would bring harm on the way, the order found in the search stays.
    """
    judge_harm = [f for f in judge.findings(yard) if f.status == "harm"]
    clears_harm = {
        change.id: (after := change.apply(yard)) is not None
        and sum(f.status == "harm" for f in judge.findings(after)) < len(judge_harm)
        for change in changes
    }
    ordered = tuple(sorted(changes, key=lambda one: (not clears_harm[one.id], one.order)))
    now: Yard | None = yard
    for change in ordered:
        now = change.apply(now) if now is not None else None
        if now is None or not judge.is_allowed(now):
            return changes
    return ordered if now == _after(yard, changes) else changes


def _applied(yard: Yard, changes: Sequence[Change]) -> Yard | None:
    now: Yard | None = yard
    for change in changes:
        now = change.apply(now) if now is not None else None
    return now


def _after(yard: Yard, changes: Sequence[Change]) -> Yard:
    after = _applied(yard, changes)
    assert after is not None, "changes that were made one by one can be made again"
    return after


def _counts(findings: Sequence[Finding]) -> Counts:
    of = Counter(finding.status for finding in findings)
    return Counts(harm=of["harm"], short=of["short"], mind=of["mind"], sound=of["sound"])


def _faults(findings: Sequence[Finding]) -> Counter[tuple[str, str, str, str]]:
    """Harm and short by code and thing; a harm weighs double, so that easing it shows."""
    weighed: Counter[tuple[str, str, str, str]] = Counter()
    for f in findings:
        if f.status in ("harm", "short"):
            weighed[f.code, f.bird or "", f.fitting or "", ""] += 2 if f.status == "harm" else 1
    return weighed


def _codes(more: Counter[tuple[str, str, str, str]]) -> tuple[str, ...]:
    return tuple(sorted({key[0] for key in more}))


def _told(judge: _Judge, yard: Yard, plan: _Plan) -> Mended:
    """Walk the steps once more and say of each what it clears and adds."""
    changes = plan.changes
    currency = yard.yard.currency
    stages = [judge.findings(yard)]
    now = yard
    for change in changes:
        now = _after(now, (change,))
        stages.append(judge.findings(now))
    harms = [_counts(found).harm for found in stages]
    first_clear = next(i for i, harm in enumerate(harms) if harm == harms[-1])
    steps = []
    for n, change in enumerate(changes, 1):
        before, after = _faults(stages[n - 1]), _faults(stages[n])
        steps.append(
            Step(
                n=n, change=change.words, clears=_codes(before - after),
                adds=_codes(after - before), price=change.cost.price, currency=currency,
                priced=change.cost.priced, hours=change.cost.hours,
                stage="harm" if n <= first_clear else "short",
            )
        )  # fmt: skip
    last = stages[-1]
    left = {key_of(f) for f in last if f.status in ("harm", "short")}
    tried = {key: was_tried for key, (_, was_tried) in plan.beyond.items()}
    cautions = list(CAUTIONS)
    if any(step.priced == "missing" for step in steps):
        cautions.append(NOT_EURO.format(currency=currency))
    if not plan.proven:
        cautions.append(
            f"The search judged {plan.nodes} yards and not every set: a cheaper one, or one that "
            "clears more, may exist."
        )
    mending = Mending(
        yard=yard.yard.name,
        quarters=judge.quarters,
        standards=judge.standards or yard.yard.standards,
        before=_counts(stages[0]),
        after_harm=_counts(stages[first_clear]),
        after=_counts(last),
        steps=tuple(steps),
        total=_total(steps),
        beyond=tuple(
            Beyond(code=f.code, status=f.status, why=why_beyond(f, tried.get(key_of(f), False)))
            for f in last
            if key_of(f) in left and f.status in ("harm", "short")
        ),
        minds=tuple(f"{f.code} {f}" for f in last if f.status == "mind"),
        proven=plan.proven,
        nodes=plan.nodes,
        cautions=tuple(cautions),
    )
    return Mended(mending, now, changes)


def _total(steps: Sequence[Step]) -> Total:
    def sum_of(*marks: Priced) -> Decimal:
        return sum((s.price for s in steps if s.price and s.priced in marks), Decimal(0))

    keeper, assumed = sum_of("keeper"), sum_of("assumption")
    return Total(
        price=keeper + assumed,
        hours=round(sum(step.hours for step in steps), 2),
        from_keeper=keeper,
        from_assumption=assumed,
        is_whole=all(step.price is not None for step in steps),
    )
