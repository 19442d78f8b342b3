"""The cheapest set of changes that clears what a judge wants cleared.

Best first over sets of changes. Of each yard on the way one finding is taken, the one that
the fewest changes aim at, and every change that may clear it is tried: whatever clears
them all must hold one of those. A change that clears nothing where it is made is not
followed, so a set counts only if each change in it clears something in its turn.
"""

import heapq
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import count
from typing import Protocol

from mewswright.checks.finding import Finding
from mewswright.fit.change import Change
from mewswright.model.yard import Yard

Key = tuple[str, str, str, str]
Offers = Callable[[Yard, Finding], Sequence[Change]]
MOST_YARDS = 400  # yards judged before the search gives up: a few seconds


class Judge(Protocol):
    """Says what is still wanted of a yard, and what may not be done to it."""

    def wanted(self, yard: Yard) -> tuple[Finding, ...]:
        """Findings that must still be cleared."""

    def is_allowed(self, yard: Yard) -> bool:
        """The yard may stand on the way: nothing new does harm in the unit."""

    def is_accepted(self, yard: Yard) -> bool:
        """The yard may be the last one: nothing new does harm anywhere."""


@dataclass(frozen=True)
class Outcome:
    """Where the search ended.

    `left` is what the best yard found does not clear. `proven` says that the search ran to
    its end: no cheaper set of the changes offered does as much.
    """

    changes: tuple[Change, ...]
    yard: Yard
    left: tuple[Finding, ...]
    proven: bool
    yards: int


def key_of(finding: Finding) -> Key:
    """Tell findings apart, but not by their figures, which change with every yard."""
    why = re.sub(r"[\d.,]+", "", finding.why)
    return finding.code, finding.bird or "", finding.fitting or "", why


@dataclass(order=True)
class _Node:
    bound: float
    mm: float
    number: int
    yard: Yard = field(compare=False)
    changes: tuple[Change, ...] = field(compare=False)
    weight: float = field(compare=False)
    wanted: tuple[Finding, ...] = field(compare=False)


class _Pool:
    """The changes offered, and which of them clear each finding of the first yard."""

    def __init__(self, offers: Offers) -> None:
        self.aimed = offers
        self.clears: dict[Key, dict[str, Change]] = {}

    def bound(self, wanted: Iterable[Finding]) -> float:
        """Least weight that clearing these can cost.

        Findings that no one change clears together cost the sum of their cheapest changes.
        """
        known = [found for f in wanted if (found := self.clears.get(key_of(f)))]
        floors = sorted(
            ((min(c.cost.weight for c in of.values()), set(of)) for of in known),
            key=lambda floor: -floor[0],
        )
        total, used = 0.0, set[str]()
        for weight, ids in floors:
            if not ids & used:
                total += weight
                used |= ids
        return total


def cheapest(yard: Yard, judge: Judge, offers: Offers, most_yards: int = MOST_YARDS) -> Outcome:
    """Find the cheapest set of changes after which the judge wants nothing more.

    Args:
        yard: The yard as it stands.
        judge: Says what is wanted, and what may not be.
        offers: Gives the changes that may clear a finding in a yard.
        most_yards: Yards to judge before giving up.

    Returns:
        The set, in the order found; where none clears all, the one that leaves the fewest
        findings, cheapest first, with `left` not empty.
    """
    pool, numbers, judged = _Pool(offers), count(), 0
    first = judge.wanted(yard)
    if not first:
        return Outcome((), yard, (), True, 0)
    judged = _try_each(pool, judge, yard, first)
    start = _Node(pool.bound(first), 0.0, next(numbers), yard, (), 0.0, first)
    heap, best_weight, best = [start], {yard: 0.0}, start
    while heap:
        node = heapq.heappop(heap)
        if node.weight > best_weight.get(node.yard, node.weight):
            continue
        if len(node.wanted) < len(best.wanted) and judge.is_accepted(node.yard):
            best = node
            if not node.wanted:
                return Outcome(node.changes, node.yard, (), True, judged)
        if not node.wanted:
            continue
        for change in _branches(pool, node):
            after = change.apply(node.yard)
            weight = node.weight + change.cost.weight
            if after is None or weight >= best_weight.get(after, float("inf")):
                continue
            if judged >= most_yards:
                return Outcome(best.changes, best.yard, best.wanted, False, judged)
            judged += after not in best_weight
            best_weight[after] = weight
            wanted = judge.wanted(after)
            if not _clears_one(node.wanted, wanted) or not judge.is_allowed(after):
                continue
            mm = node.mm + change.mm
            changes = (*node.changes, change)
            bound = weight + pool.bound(wanted)
            heapq.heappush(
                heap, _Node(bound, mm, next(numbers), after, changes, weight, wanted)
            )  # fmt: skip
    return Outcome(best.changes, best.yard, best.wanted, True, judged)


def _try_each(pool: _Pool, judge: Judge, yard: Yard, wanted: Sequence[Finding]) -> int:
    """Try every change of the first yard alone, to learn what it clears by the way."""
    keys = {key_of(finding) for finding in wanted}
    every = {c.id: c for finding in wanted for c in pool.aimed(yard, finding)}
    for finding in wanted:
        pool.clears[key_of(finding)] = {c.id: c for c in pool.aimed(yard, finding)}
    judged = 0
    for change in every.values():
        after = change.apply(yard)
        if after is None:
            continue
        judged += 1
        for key in keys - {key_of(finding) for finding in judge.wanted(after)}:
            pool.clears[key][change.id] = change
    return judged


def _branches(pool: _Pool, node: _Node) -> list[Change]:
    """Changes that may clear one of the findings: the one that has the fewest."""
    written = frozenset().union(*(change.paths for change in node.changes))
    best: list[Change] | None = None
    for finding in node.wanted:
        known = dict(pool.clears.get(key_of(finding), {}))
        if not known:
            known |= {c.id: c for c in pool.aimed(node.yard, finding)}
        able = [change for change in known.values() if not change.paths & written]
        if best is None or len(able) < len(best):
            best = able
        if not best:
            break
    return best or []


def _clears_one(before: Sequence[Finding], after: Sequence[Finding]) -> bool:
    left = {key_of(finding) for finding in after}
    return any(key_of(finding) not in left for finding in before)
