"""From a yard to the abstract year: units, places, rules with names, and what a plan costs.

Every rule that a plan keeps has a name, so that the instance can be made without some of them:
that is how it is found out which of them stand in each other's way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from mewswright.ground.distances import outline_distance_m
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.year.instance import Instance
from mewswright.year.laid import Laid, Rule
from mewswright.year.lay import lay
from mewswright.year.lines import Lines
from mewswright.year.pins import Pin, locked_stays, read_pin, refuse_odd_locks
from mewswright.year.spots import Spot
from mewswright.year.steps import Steps
from mewswright.year.suits import Suitability
from mewswright.year.sunny import Sunny, sunny

__all__ = ["Laid", "Rule", "YearProblem", "year_problem"]

NEAR_M = 1.0  # quarters nearer than this to each other are neighbours: a judgement
FIRST_YEAR, LAST_YEAR = 1900, 2200
MOST_STEPS = 1100  # three years by days; more is a slip


@dataclass(frozen=True)
class YearProblem:
    """A yard and the days to plan."""

    yard: Yard
    calendar: Steps
    locks: tuple[Pin, ...]
    forbids: tuple[Pin, ...]
    suitability: Suitability = field(repr=False)
    lines: Lines = field(repr=False)
    _known: dict[frozenset[str], Laid] = field(default_factory=dict, repr=False)
    _seen: dict[object, frozenset[tuple[int, int]]] = field(default_factory=dict, repr=False)

    @property
    def start(self) -> date:
        """First day."""
        return self.calendar.start

    @property
    def steps(self) -> int:
        """How many steps."""
        return self.calendar.count

    @property
    def step_days(self) -> int:
        """Length of a step [days]: 7, or 1."""
        return self.calendar.days

    @property
    def units(self) -> tuple[tuple[str, ...], ...]:
        """Names of the birds of each unit."""
        return tuple(member.birds for member in self.laid().members)

    @property
    def places(self) -> tuple[Spot, ...]:
        """The places, in the order of the instance."""
        return self.laid().places

    @property
    def rules(self) -> tuple[Rule, ...]:
        """Every rule."""
        return self.laid().rules

    def fear(self, one: str, other: str) -> str | None:
        """Why one bird must not see another; None where nothing says so."""
        return self.lines.afraid_of(self.yard.bird_named(one), self.yard.bird_named(other))

    def seen(self, places: Sequence[Spot]) -> frozenset[tuple[int, int]]:
        """Pairs of places between which birds see each other."""
        return self._pairs("seen", places)

    def fed(self, places: Sequence[Spot]) -> frozenset[tuple[int, int]]:
        """Pairs of places from the first of which a bird sees one fed in the second."""
        return self._pairs("fed", places)

    def _pairs(self, what: str, places: Sequence[Spot]) -> frozenset[tuple[int, int]]:
        where = [(s.quarters, s.mode, s.stand) for s in places]
        alike = tuple(dict.fromkeys(where))
        key = what, alike
        if key not in self._seen:
            ask = self.lines.in_sight if what == "seen" else self.lines.fed_in_sight
            self._seen[key] = ask(alike)
        of: dict[int, list[int]] = {}
        at = {one: i for i, one in enumerate(alike)}
        for p, one in enumerate(where):
            of.setdefault(at[one], []).append(p)
        return frozenset((p, q) for a, b in self._seen[key] for p in of[a] for q in of[b])

    @cached_property
    def walks(self) -> dict[str, float]:
        """Way from the weighing room to each quarters, along a straight line [m]; none without."""
        rooms = [f for f in self.yard.feature if f.kind == "weighing_room"]
        return {
            q.name: min(outline_distance_m(q.corners_m, room) for room in rooms)
            for q in self.yard.quarters
            if rooms and q.built and q.kind != "pitch"
        }

    @cached_property
    def sun(self) -> Mapping[str, Sunny]:
        """Sun of each quarters in winter and in summer."""
        return sunny(self.yard)

    @cached_property
    def neighbours(self) -> frozenset[tuple[str, str]]:
        """Quarters that stand within a few steps of each other, both ways."""
        from shapely import Polygon

        homes = [q for q in self.yard.quarters if q.built and q.kind != "pitch"]
        areas = [Polygon(q.corners_m) for q in homes]
        return frozenset(
            (one.name, other.name)
            for i, one in enumerate(homes)
            for j, other in enumerate(homes)
            if i != j and areas[i].distance(areas[j]) <= NEAR_M
        )

    def laid(self, without: frozenset[str] = frozenset()) -> Laid:
        """Give the abstract year without some rules, and what its numbers stand for.

        Args:
            without: Keys of rules that do not hold; a bird left out needs no place.
        """
        if without not in self._known:
            self._known[without] = lay(self, without)
        return self._known[without]

    def instance(self, without: frozenset[str] = frozenset()) -> Instance:
        """Give the abstract year without some rules."""
        return self.laid(without).instance


def year_problem(
    yard: Yard,
    start: date,
    steps: int = 52,
    step_days: int = 7,
    locks: Sequence[str] = (),
    forbids: Sequence[str] = (),
) -> YearProblem:
    """Make the problem of a yard's year.

    Args:
        yard: The yard.
        start: First day of the plan.
        steps: Weeks of the plan, or days.
        step_days: 7 for weeks, 1 for days.
        locks: Stays to keep, as `--lock` takes them.
        forbids: Stays that must not be, as `--forbid` takes them.

    Raises:
        Problem: For an unknown species, a bad lock, or a length out of range.
    """
    if not 1 <= steps <= MOST_STEPS:
        what = "weeks" if step_days == 7 else "days"
        raise Problem(f"a plan of {steps} {what}: give 1 to {MOST_STEPS}")
    if not FIRST_YEAR <= start.year <= LAST_YEAR:
        raise Problem(
            f"a plan from {start}: begin between {FIRST_YEAR} and {LAST_YEAR}, as birds are hatched"
        )
    calendar = Steps(start, steps, step_days)
    kept = [*locked_stays(yard, calendar)]
    kept += [read_pin("--lock", text, yard, calendar) for text in locks]
    refuse_odd_locks(yard, calendar, kept)
    barred = [read_pin("--forbid", text, yard, calendar) for text in forbids]
    return YearProblem(
        yard, calendar, tuple(kept), tuple(barred), Suitability(yard, step_days), Lines(yard)
    )
