"""Lay out perches, bath and hatch in one unit, or say what stands in each other's way.

The search proposes, the checks dispose: no layout is given that the checks find harmful
or short in anything that the size of the room and its fittings decide.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import hypot

from mewswright.checks.case import Case
from mewswright.checks.finding import Finding
from mewswright.fit.doorway import DOORWAY
from mewswright.fit.judged import Judge, bad, is_ours
from mewswright.fit.score import Scorer, total
from mewswright.fit.screen import Layout, Screen
from mewswright.fit.search import Budget, Clock, Found, Search, fitted
from mewswright.fit.specs import perches_asked, specs
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

BEST = 3
THREE_HEIGHTS = 3
STEPS, STARTS = 1200, 4  # for each number of perches
JUDGED_STEPS = 160
SHORTLIST = 10
FIRST_SHARE = 0.6  # of the time, for layouts that leave every doorway free
DIFFERENT_SPANS = 0.5  # layouts whose perches lie nearer than this on average are one


@dataclass(frozen=True)
class Laid:
    """One layout that the checks have passed."""

    layout: Layout
    quarters: Quarters
    score: float
    parts: dict[str, float]
    findings: tuple[Finding, ...]
    blocks_a_door: bool = False

    @property
    def left(self) -> int:
        """Findings of harm or short that no fitting decides; the place of a perch may."""
        return len(bad(self.findings))


class Room:
    """One unit to be laid out: what stays, and a way to search it."""

    def __init__(self, judge: Judge, quarters: Quarters, keep: Sequence[str], seed: int) -> None:
        self.judge, self.quarters, self.keep, self.seed = judge, quarters, tuple(keep), seed
        self.kept = _kept(quarters, self.keep)
        self.case: Case = judge.case(quarters)
        self.bare: Case = judge.case(self.kept)
        self.asked = perches_asked(self.case)
        self.tried = 0
        self._screens: dict[tuple[int, bool], Screen] = {}

    def screen(self, count: int, bath: bool = True) -> Screen:
        """The screen for a number of perches, with or without a bath to place."""
        key = (count, bath)
        if key not in self._screens:
            wanted = specs(self.case, self.kept, count)
            if not bath:
                wanted = replace(wanted, bath=None, more_baths=())
            self._screens[key] = Screen(self.bare, self.kept, wanted)
        return self._screens[key]

    def scorer(self, count: int) -> Scorer:
        """The scorer for a number of perches."""
        return Scorer(self.screen(count), self.asked)

    def resized(self, width_mm: float, depth_mm: float, higher_mm: float) -> "Room":
        """The same unit with other dimensions; what stays keeps its place."""
        q = self.quarters
        update: dict[str, float] = {"width_mm": width_mm, "depth_mm": depth_mm}
        if q.front_height_mm is not None and q.back_height_mm is not None:
            update["front_height_mm"] = q.front_height_mm + higher_mm
            update["back_height_mm"] = q.back_height_mm + higher_mm
        higher = {} if q.ridge_mm is None else {"ridge_height_mm": q.ridge_mm[1] + higher_mm}
        roof = None if q.roof is None else q.roof.model_copy(update=higher)
        other = q.model_copy(update={**update, "roof": roof})
        return Room(self.judge, other, self.keep, self.seed)

    def counts(self) -> list[int]:
        """Numbers of perches for loose birds to try: what is asked, and one at each height."""
        if not self.asked:
            return [0]
        return sorted({self.asked, max(self.asked, THREE_HEIGHTS)})

    def search(
        self, count: int, ignored: frozenset[str] = frozenset(), judged: bool = False
    ) -> Search:
        """A search for a number of perches."""
        screen = self.screen(count, "W101" not in ignored)
        judge = self.judge_unit if judged else None
        scorer = Scorer(screen, self.asked)
        return Search(screen, scorer, screen.specs, self.seed, ignored, judge)

    def judge_unit(self, layout: Layout) -> list[Finding]:
        """What the checks of the unit have against a layout."""
        return self.judge.of_unit(self.judge.case(fitted(self.kept, layout)))

    def passes(self, budget: Budget) -> bool:
        """Whether a layout is found at all that the checks of the unit pass."""
        for count in self.counts()[:1]:
            search = self.search(count, frozenset({DOORWAY}), judged=True)
            pool = search.run(budget, enough=True)
            self.tried += search.tried
            if pool and pool[0].fault == 0:
                return True
        return False


def _kept(quarters: Quarters, keep: Sequence[str]) -> Quarters:
    stays = tuple(
        fitting
        for fitting in quarters.fitting
        if fitting.name in keep or not isinstance(fitting, Perch | Bath | Hatch)
    )
    return quarters.model_copy(update={"fitting": stays})


def room_for(
    yard: Yard,
    name: str,
    keep: Sequence[str],
    seed: int,
    standards: Sequence[str] | None,
    on: date | None,
) -> Room:
    """The unit to lay out, or a refusal.

    Raises:
        Problem: For unknown quarters, a pitch, quarters without birds, an unknown fitting,
            or a kept fitting that does harm or falls short wherever the others are.
    """
    quarters = yard.quarters_named(name)
    if quarters.kind == "pitch" or quarters.faces is None:
        raise Problem(
            f"{name!r} is a pitch and has no face: fittings are laid out in a loft, a shelter "
            "or an isolation; on a pitch set the perch where its free circle is clear"
        )
    known = [fitting.name for fitting in quarters.fitting]
    for wanted in keep:
        if wanted not in known:
            there = ", ".join(known) or "none at all"
            raise Problem(f"no fitting {wanted!r} in {name!r} to keep; there are: {there}")
    judge = Judge(yard, name, tuple(standards) if standards else None, on)
    room = Room(judge, quarters, keep, seed)
    if not room.case.residents:
        raise Problem(
            f"no bird lives in {name!r}, so there is nobody to lay it out for: give a stay"
        )
    for finding in judge.of_unit(room.bare):
        if finding.fitting in keep:
            raise Problem(
                f"{finding.fitting!r} cannot be kept, {finding.code} is against it already: "
                f"{finding}"
            )
    return room


def best_layouts(room: Room, clock: Clock | None, until_s: float) -> tuple[list[Laid], list[Found]]:
    """The best different layouts that the checks pass, and the nearest misses otherwise.

    Args:
        room: The unit.
        clock: Gives the seconds; None = no limit but the count of steps.
        until_s: When to stop, by that clock [s].
    """
    if not room.screen(room.counts()[0]).doorways:
        return _best(room, clock, until_s, frozenset())
    first_s = until_s if clock is None else clock() + FIRST_SHARE * (until_s - clock())
    laid, pool = _best(room, clock, first_s, frozenset())
    if not laid:  # the doorway gives way before the birds do
        laid, pool = _best(room, clock, until_s, frozenset({DOORWAY}))
    return laid, pool


def _best(
    room: Room, clock: Clock | None, until_s: float, ignored: frozenset[str]
) -> tuple[list[Laid], list[Found]]:
    pool: list[Found] = []
    budget = Budget(STEPS, STARTS, clock, until_s)
    for count in room.counts():
        search = room.search(count, ignored)
        pool += search.run(budget)
        room.tried += search.tried
        if not any(found.fault == 0 for found in pool):
            break  # more perches are no easier to place
    pool.sort(key=lambda found: -found.worth)
    laid = _judged(room, [found for found in pool if found.fault == 0])
    if not laid:
        again: list[Found] = []
        for count in room.counts()[:1]:
            search = room.search(count, ignored, judged=True)
            starts = [found.layout for found in pool if found.layout.count == count]
            again += search.run(Budget(JUDGED_STEPS, 2, clock, until_s), begin=starts[:2])
            room.tried += search.tried
        again.sort(key=lambda found: -found.worth)
        laid = _judged(room, [found for found in again if found.fault == 0])
        pool = again + pool
    return laid, pool


def _judged(room: Room, clean: Sequence[Found]) -> list[Laid]:
    """Put the best different layouts before all the checks; keep those that pass."""
    passed: list[Laid] = []
    span_mm = _span_mm(room)
    for found in _different([f.layout for f in clean], span_mm, SHORTLIST):
        if room.judge_unit(found):
            continue
        layout = named(room, found)
        unit = fitted(room.kept, layout)
        findings = room.judge.whole(unit)
        if any(is_ours(finding.code) for finding in bad(findings)):
            continue
        seen = room.screen(found.count).look(found)
        parts = room.scorer(found.count).parts(found, seen.longest_mm)
        blocks = DOORWAY in seen.faults
        passed.append(Laid(layout, unit, total(parts), parts, findings, blocks))
    passed.sort(key=lambda laid: (laid.left, -laid.score))
    return passed[:BEST]


def _span_mm(room: Room) -> float:
    return max(resident.span.value for resident in room.case.residents)


def _different(layouts: Sequence[Layout], span_mm: float, most: int) -> list[Layout]:
    """The first layouts of a list that differ from each other in more than small shifts."""
    chosen: list[Layout] = []
    for layout in layouts:
        if all(apart_mm(layout, other) >= DIFFERENT_SPANS * span_mm for other in chosen):
            chosen.append(layout)
            if len(chosen) == most:
                break
    return chosen


def apart_mm(one: Layout, other: Layout) -> float:
    """How far the perches of two layouts lie apart [mm]: each to the nearest, on average."""
    if len(one.perches) != len(other.perches):
        return float("inf")
    if not one.perches:
        return 0.0
    sums = 0.0
    for a, b in ((one, other), (other, one)):
        for perch in a.perches:
            sums += min(
                hypot(
                    perch.at_mm[0] - p.at_mm[0],
                    perch.at_mm[1] - p.at_mm[1],
                    perch.height_mm - p.height_mm,
                )
                for p in b.perches
            )
    return sums / (2 * len(one.perches))


def named(room: Room, layout: Layout) -> Layout:
    """The layout with perches of loose birds called after their heights."""
    tied = {r.stay.perch for r in room.case.tethered if r.stay.perch}
    wanted = room.screen(layout.count).specs
    tied |= {spec.template.name for spec in wanted.perches if spec.bird}
    free = sorted((p for p in layout.perches if p.name not in tied), key=lambda p: -p.height_mm)
    taken = {f.name for f in room.kept.fitting} | tied
    words = ["High perch", "Middle perch", "Low perch"] if len(free) == THREE_HEIGHTS else [
        "High perch", "Low perch"
    ]  # fmt: skip
    names: dict[str, str] = {}
    for i, perch in enumerate(free):
        word = words[i] if i < len(words) else f"Perch {i + 1}"
        fresh = (w for w in (word, *(f"{word} {k}" for k in range(2, 999))) if w not in taken)
        names[perch.name] = next(fresh)
        taken.add(names[perch.name])
    perches = tuple(
        p.model_copy(update={"name": names.get(p.name, p.name)}) for p in layout.perches
    )
    return replace(layout, perches=tuple(sorted(perches, key=lambda p: -p.height_mm)))
