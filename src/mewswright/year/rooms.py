"""In which rooms each unit may be in each week, by its own rules alone.

A room is a cell of the instance: one unit a week lives in it, in whichever of its places. What is
given here is never too little: a unit that lives elsewhere breaks a rule.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from mewswright.year.instance import Instance, Unit

Choice = frozenset[int]


@dataclass(frozen=True)
class Rooms:
    """Rooms of an instance.

    Args:
        of_place: The room of each place.
        places: The places of each room.
        choices: Places in which each unit may be in each week; None while it is not there.
        closings: Weeks in which each place is closed.
    """

    of_place: tuple[int, ...]
    places: tuple[tuple[int, ...], ...]
    choices: tuple[tuple[Choice | None, ...], ...]
    closings: tuple[Choice, ...]

    @cached_property
    def _rooms(self) -> tuple[tuple[Choice, ...], ...]:
        """The rooms in which each unit may be in each week."""
        known: dict[Choice, Choice] = {}
        for row in self.choices:
            for found in row:
                if found is not None and found not in known:
                    known[found] = frozenset(self.of_place[p] for p in found)
        none: Choice = frozenset()
        return tuple(
            tuple(none if found is None else known[found] for found in row) for row in self.choices
        )

    def within(self, unit: int, weeks: range) -> Choice:
        """The rooms in which a unit may be at some time in some weeks."""
        return frozenset[int]().union(*set(self._rooms[unit][weeks.start : weeks.stop]))

    @cached_property
    def closed(self) -> tuple[Choice, ...]:
        """The weeks in which nobody may live in each room."""
        return tuple(
            frozenset.intersection(*(self.closings[p] for p in places)) for places in self.places
        )


def rooms_of(instance: Instance) -> Rooms:
    """Give the rooms of an instance, and who may be in which when."""
    of_place = instance.cell_of
    places = tuple(
        tuple(p for p, room in enumerate(of_place) if room == r)
        for r in range(max(of_place, default=-1) + 1)
    )
    choices = tuple(_choices(instance, u, of_place) for u in range(len(instance.units)))
    return Rooms(of_place, places, choices, tuple(place.closed for place in instance.places))


def weeks_in_words(weeks: Iterable[int]) -> str:
    """Weeks, as weeks 3 to 5, 9."""
    spans: list[list[int]] = []
    for week in sorted(weeks):
        if spans and week == spans[-1][1] + 1:
            spans[-1][1] = week
        else:
            spans.append([week, week])
    said = ", ".join(str(a) if a == b else f"{a} to {b}" for a, b in spans)
    return f"week {said}" if len(spans) == 1 and spans[0][0] == spans[0][1] else f"weeks {said}"


def settled_from(unit: Unit) -> int:
    """The first week after its isolation, or of its arrival."""
    return unit.arrival + (unit.entry.weeks if unit.entry else 0)


def _choices(instance: Instance, u: int, of_place: tuple[int, ...]) -> tuple[Choice | None, ...]:
    unit = instance.units[u]
    there, settled = instance.weeks_of(u), settled_from(unit)

    fixed = dict(unit.fixed)
    found: list[Choice | None] = [None] * instance.weeks
    for week in there:
        isolated = unit.entry is not None and week < settled
        allowed = set(unit.entry.places if unit.entry and isolated else unit.suitable)
        for first, last, barred in unit.barred:
            if first <= week <= last:
                allowed -= barred
        if week in fixed:
            allowed &= {fixed[week]}
        found[week] = frozenset(p for p in allowed if week not in instance.places[p].closed)
    calm = [(first, last) for first, last in unit.undisturbed if last >= unit.arrival]
    if unit.entry is not None:  # its isolation is one stay
        calm.append((unit.arrival, settled - 1))
    for first, last in calm:
        if first < settled <= last:
            continue  # the end of isolation is a move, which its own rule tells of
        _stay_put(found, range(max(first, there.start), min(last + 1, there.stop)), of_place)
    return tuple(found)


def _stay_put(found: list[Choice | None], weeks: range, of_place: tuple[int, ...]) -> None:
    """Leave only rooms in which a unit may be in all of some weeks."""
    rooms = [{of_place[p] for p in found[w] or ()} for w in weeks]
    if not rooms:
        return
    kept = set.intersection(*rooms)
    for week in weeks:
        found[week] = frozenset(p for p in found[week] or () if of_place[p] in kept)
