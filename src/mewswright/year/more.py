"""An instance with more rooms than it has: rooms like those there are, or of another make.

New rooms are in sight of nobody and nobody is in sight of them: where they are to stand is for
`place` to find.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mewswright.year.instance import Entry, Instance, Place, Unit


@dataclass(frozen=True)
class NewPlace:
    """One way to live in a new room.

    Args:
        place: What it is; its cell is given anew, and its closed weeks.
        suits: Units that may live there.
        isolates: Units that may be isolated there.
        barred: Units that may not be there in some weeks: (unit, first, last).
        cost: Cost of a week there, of each unit.
    """

    place: Place
    suits: frozenset[int]
    isolates: frozenset[int] = frozenset()
    barred: tuple[tuple[int, int, int], ...] = ()
    cost: tuple[int, ...] = ()


NewRoom = tuple[NewPlace, ...]


def like(instance: Instance, places: Sequence[int]) -> NewRoom:
    """A new room in everything like one that there is, but not closed in any week.

    Args:
        instance: The year.
        places: The places of the room.
    """
    return tuple(
        NewPlace(
            replace(instance.places[p], closed=frozenset()),
            frozenset(u for u, unit in enumerate(instance.units) if p in unit.suitable),
            frozenset(
                u for u, unit in enumerate(instance.units)
                if unit.entry is not None and p in unit.entry.places
            ),
            tuple(
                (u, first, last)
                for u, unit in enumerate(instance.units)
                for first, last, barred in unit.barred
                if p in barred
            ),
            tuple(unit.weekly_cost[p] for unit in instance.units),
        )
        for p in places
    )  # fmt: skip


def with_rooms(
    instance: Instance, rooms: Sequence[NewRoom], stands_from: Sequence[int] = ()
) -> Instance:
    """The year with new rooms, behind those that it has.

    Args:
        instance: The year.
        rooms: The new rooms; one may be given several times.
        stands_from: First week in which each is there; from the start where it is not given.
    """
    cell = max((place.cell for place in instance.places if place.cell is not None), default=-1)
    places, units = list(instance.places), list(instance.units)
    for k, room in enumerate(rooms):
        cell += 1
        away = frozenset(range(stands_from[k])) if k < len(stands_from) else frozenset[int]()
        for new in room:
            units = [_with_place(unit, u, new, len(places)) for u, unit in enumerate(units)]
            name = f"{new.place.name}, new {k + 1}"
            places.append(replace(new.place, name=name, cell=cell, closed=away))
    return replace(instance, places=tuple(places), units=tuple(units))


def _with_place(unit: Unit, u: int, new: NewPlace, index: int) -> Unit:
    entry = unit.entry
    if entry is not None and u in new.isolates:
        entry = Entry(entry.places | {index}, entry.weeks)
    suits = u in new.suits and not (entry is not None and u in new.isolates)
    return replace(
        unit,
        suitable=unit.suitable | {index} if suits else unit.suitable,
        weekly_cost=(*unit.weekly_cost, new.cost[u] if new.cost else 0),
        entry=entry,
        barred=(
            *unit.barred,
            *((first, last, frozenset({index})) for v, first, last in new.barred if v == u),
        ),
    )
