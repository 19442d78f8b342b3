"""What a year's plan must keep to and what it costs, in the abstract: units, places, weeks.

A unit is a bird, a pair or a cast that moves as one. Units, places and weeks are counted from 0.
Costs are whole numbers, so that a bound on them may be rounded up. Nothing here knows how a plan
is found; `verify.py` says whether one keeps these rules.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

# Larger sums than this would be confused with what is forbidden.
MOST_COST = 1_000_000

Rows = tuple[tuple[int | None, ...], ...]  # the place of each unit in each week; None: not there


@dataclass(frozen=True)
class Place:
    """A way to live in quarters that hold one unit at a time: loose there, or tethered there.

    Args:
        name: What to call it.
        clean_weeks: Weeks that its cell stays empty once a unit has left it [weeks].
        rest_weeks: Weeks in a row that its cell must lie unoccupied once a year, 0 for none
            [weeks]. Weeks of cleaning count: nobody stands on the soil.
        closed: Weeks in which nobody may live there.
        cell: The room itself, counted by the keeper of the instance; None for a place that shares
            with no other. One unit a week lives in a cell, in any one of its places. A unit that
            passes from one place to another of the same cell leaves nothing to clean, makes no
            move, and its stay in the cell runs on. Places of a cell are cleaned, rest and come
            due alike.
        tethered: Whether a unit is tied there.
        most_weeks: Most weeks of one stay in its cell, for a cleaning that is due, None for no end
            [weeks].
    """

    name: str
    clean_weeks: int = 1
    rest_weeks: int = 0
    closed: frozenset[int] = frozenset()
    cell: int | None = None
    tethered: bool = False
    most_weeks: int | None = None


@dataclass(frozen=True)
class Entry:
    """Where a newcomer spends its first weeks, alone: in one of these places, for so long.

    Args:
        places: Places of isolation.
        weeks: Weeks there, no more and no fewer [weeks]; the end of the plan or the unit's
            departure may cut them off. Then it goes to a place of its own, be it of the same cell.
    """

    places: frozenset[int]
    weeks: int


@dataclass(frozen=True)
class Before:
    """Where a unit was when the plan begins.

    Args:
        place: The place; leaving it in week 0 is a move, and its cell is cleaned from week 0,
            unless somebody who lived there together with it stays.
        weeks: Weeks of its stay in that cell so far [weeks].
        tethered_weeks: Weeks on end that it has been tethered by now [weeks].
    """

    place: int
    weeks: int
    tethered_weeks: int = 0


@dataclass(frozen=True)
class Unit:
    """A bird, or several that move as one.

    Args:
        name: What to call it.
        suitable: Places in which it may live (after its entry, where it has one).
        weekly_cost: Cost of a week in each place, for every place.
        arrival: First week in which it is there.
        departure: First week in which it is there no more, None for never.
        min_stay: Fewest weeks in one cell [weeks]. Its first stay (where nothing is known of the
            time before), its entry, the stay that an entry ends and its last may be shorter.
        max_stay: Most weeks in one cell [weeks]; an entry does not count.
        move_cost: Cost of one move.
        entry: Isolation at the start, or None.
        undisturbed: First and last week, inclusive, of times spent in one place.
        fixed: Weeks whose place is given: (week, place).
        dearer: Cost on top in one week in one place: (week, place, cost).
        barred: Weeks, first and last inclusive, in which it may not live in some places.
        before: Where it was before week 0, None for a unit of which nothing is known.
        tether_most: Most weeks on end in tethered places, None for no end [weeks].
        free_least: Fewest weeks of the plan in places that are not tethered [weeks].
    """

    name: str
    suitable: frozenset[int]
    weekly_cost: tuple[int, ...]
    arrival: int = 0
    min_stay: int = 1
    max_stay: int = 52
    move_cost: int = 0
    entry: Entry | None = None
    undisturbed: tuple[tuple[int, int], ...] = ()
    fixed: tuple[tuple[int, int], ...] = ()
    dearer: tuple[tuple[int, int, int], ...] = ()
    departure: int | None = None
    barred: tuple[tuple[int, int, frozenset[int]], ...] = ()
    before: Before | None = None
    tether_most: int | None = None
    free_least: int = 0


@dataclass(frozen=True)
class Sight:
    """Who may not be seen by whom: no unit of `afraid` lives in p while one of `feared` is in q.

    Args:
        afraid: Units that must not see the others.
        feared: Units that must not be seen by them; a unit may be on both sides.
        pairs: (p, q): from place p a unit sees one in place q.
        first_week: First week of the rule.
        last_week: Last week of the rule, inclusive.
    """

    afraid: frozenset[int]
    feared: frozenset[int]
    pairs: frozenset[tuple[int, int]]
    first_week: int
    last_week: int


@dataclass(frozen=True)
class Extras:
    """What a plan costs as a whole, beside what each unit's own year costs.

    Args:
        unfair: Cost of each week between the most and the fewest free weeks of the units in
            `sharing`.
        crowded: Cost of each cell over one that is being cleaned in the same week.
        strangers: Cost of each time that two units come to live in adjacent places who did not in
            the week before (from week 1).
        sharing: Units that share the free time.
    """

    unfair: int = 0
    crowded: int = 0
    strangers: int = 0
    sharing: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Apart:
    """Units of which no two may live in adjacent places at the same time.

    Args:
        units: The units.
        first_week: First week of the rule.
        last_week: Last week of the rule, inclusive.
    """

    units: frozenset[int]
    first_week: int
    last_week: int


@dataclass(frozen=True)
class Instance:
    """A whole year to plan.

    Args:
        weeks: Length of the plan [weeks].
        places: All places; each holds at most one unit a week, and none while it is cleaned.
        units: All units.
        adjacent: Pairs of places from which units see each other.
        apart: Who may not be adjacent when.
        sights: Who may not see whom when.
        kin: Units that share a bird and are never there in the same week: a pair, and each of the
            two alone. A cell that one leaves need not be cleaned before the other comes, and the
            change from one to the other costs nothing.
        extras: Costs of the plan as a whole.

    Raises:
        ValueError: If a figure is out of range, or no plan could be judged by these rules. The
            sentence names the unit or the place.
    """

    weeks: int
    places: tuple[Place, ...]
    units: tuple[Unit, ...]
    adjacent: frozenset[tuple[int, int]] = frozenset()
    apart: tuple[Apart, ...] = ()
    sights: tuple[Sight, ...] = ()
    kin: frozenset[tuple[int, int]] = frozenset()
    extras: Extras = Extras()

    def __post_init__(self) -> None:
        from mewswright.year.sound import check

        check(self)

    @cached_property
    def cell_of(self) -> tuple[int, ...]:
        """The cell of each place, counted from 0."""
        numbers: dict[tuple[str, int], int] = {}
        return tuple(
            numbers.setdefault(
                ("alone", p) if place.cell is None else ("cell", place.cell), len(numbers)
            )
            for p, place in enumerate(self.places)
        )

    @cached_property
    def kin_of(self) -> tuple[frozenset[int], ...]:
        """The kin of each unit."""
        near: list[set[int]] = [set() for _ in self.units]
        for one, other in self.kin:
            near[one].add(other)
            near[other].add(one)
        return tuple(frozenset(units) for units in near)

    @cached_property
    def mates_of(self) -> tuple[frozenset[int], ...]:
        """Units that were in the same cell as each unit before week 0, itself included."""
        found: dict[int, set[int]] = {}
        for u, unit in enumerate(self.units):
            if unit.before is not None:
                found.setdefault(self.cell_of[unit.before.place], set()).add(u)
        return tuple(
            frozenset(found[self.cell_of[unit.before.place]] if unit.before is not None else ())
            for unit in self.units
        )

    @cached_property
    def beside(self) -> frozenset[tuple[int, int]]:
        """Adjacent places, each pair both ways."""
        return self.adjacent | {(q, p) for p, q in self.adjacent}

    def weeks_of(self, u: int) -> range:
        """The weeks in which a unit is there."""
        unit = self.units[u]
        after = self.weeks if unit.departure is None else min(unit.departure, self.weeks)
        return range(unit.arrival, after)
