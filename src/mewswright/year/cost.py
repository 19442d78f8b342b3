"""What a plan of a year costs, told of the bare rows without the solver."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from mewswright.year.instance import Instance, Rows, Unit

Row = tuple[int | None, ...]


@dataclass(frozen=True)
class Stay:
    """Weeks on end of one unit in one cell.

    Args:
        place: The place in which it ends.
        first: Its first week; below 0 where it began before the plan.
        after: The first week after it.
    """

    place: int
    first: int
    after: int


def stays(instance: Instance, unit: Unit, row: Row) -> list[Stay]:
    """The stays of a unit, with the one in which the plan finds it.

    A stay that runs on to the end of the plan ends with it.
    """
    found: list[Stay] = []
    if unit.before is not None:
        found.append(Stay(unit.before.place, -unit.before.weeks, 0))
    for week, place in enumerate(row):
        if place is None:
            continue
        last = found[-1] if found else None
        same = last is not None and instance.cell_of[last.place] == instance.cell_of[place]
        if last is not None and same and last.after == week:
            found[-1] = Stay(place, last.first, week + 1)
        else:
            found.append(Stay(place, week, week + 1))
    return found


def free_weeks(instance: Instance, row: Row) -> int:
    """Weeks of the plan in places that are not tethered [weeks]."""
    return sum(p is not None and not instance.places[p].tethered for p in row)


def cleanings(instance: Instance, rows: Rows) -> tuple[frozenset[int], ...]:
    """The cells that are being cleaned in each week: somebody left, and nobody lives there."""
    found: list[set[int]] = [set() for _ in range(instance.weeks)]
    for unit, row in zip(instance.units, rows, strict=True):
        for stay in stays(instance, unit, row):
            clean = instance.places[stay.place].clean_weeks
            for week in range(stay.after, min(stay.after + clean, instance.weeks)):
                found[week].add(instance.cell_of[stay.place])
    return tuple(
        frozenset(cells - {instance.cell_of[p] for row in rows if (p := row[week]) is not None})
        for week, cells in enumerate(found)
    )


def new_neighbours(instance: Instance, rows: Rows) -> list[tuple[int, int, int]]:
    """Each time that two units come to live side by side: (week, unit, unit)."""
    near = instance.adjacent | {(q, p) for p, q in instance.adjacent}
    return [
        (week, one, other)
        for one, other in combinations(range(len(rows)), 2)
        for week in range(1, instance.weeks)
        if (rows[one][week], rows[other][week]) in near
        and (rows[one][week - 1], rows[other][week - 1]) not in near
    ]


def moves(instance: Instance, rows: Rows) -> list[tuple[int, int]]:
    """Each move from cell to cell: (week, unit)."""
    return [
        (stay.first, u)
        for u, (unit, row) in enumerate(zip(instance.units, rows, strict=True))
        for stay in stays(instance, unit, row)[1:]
    ]


@dataclass(frozen=True)
class Parts:
    """What a plan costs, part by part; costs of the instance, no unit.

    Args:
        weeks: Of living where each unit lives.
        moves: Of moving.
        unfair: Of free weeks that are shared unequally.
        crowded: Of cleanings that fall together.
        strangers: Of new neighbours.
    """

    weeks: int
    moves: int
    unfair: int
    crowded: int
    strangers: int

    @property
    def total(self) -> int:
        """All of it."""
        return self.weeks + self.moves + self.extra

    @property
    def extra(self) -> int:
        """What no unit's own year tells."""
        return self.unfair + self.crowded + self.strangers


def cost_parts(instance: Instance, rows: Rows) -> Parts:
    """What a plan costs, part by part.

    Args:
        instance: What was to be planned.
        rows: The place of each unit in each week.
    """
    weeks = 0
    for unit, row in zip(instance.units, rows, strict=True):
        weeks += sum(unit.weekly_cost[p] for p in row if p is not None)
        weeks += sum(
            cost
            for week, place, cost in unit.dearer
            if 0 <= week < instance.weeks and row[week] == place
        )
    extras = instance.extras
    free = [free_weeks(instance, rows[u]) for u in extras.sharing]
    crowded = sum(max(0, len(cells) - 1) for cells in cleanings(instance, rows))
    strangers = len(new_neighbours(instance, rows)) if extras.strangers else 0
    return Parts(
        weeks,
        sum(instance.units[u].move_cost for _, u in moves(instance, rows)),
        extras.unfair * (max(free) - min(free)) if free else 0,
        extras.crowded * crowded,
        extras.strangers * strangers,
    )


def plan_cost(instance: Instance, rows: Rows) -> int:
    """Cost of a plan: every week in its place, every move, and what the whole costs beside."""
    return cost_parts(instance, rows).total
