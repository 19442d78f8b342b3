"""Whether a plan of a year keeps the rules, told without the solver.

Every rule of `instance.py` is asked of the bare rows, week by week, the slow and plain way. It
shares nothing with the solver, so that a slip in one shows in the other. What a plan costs is told
likewise in `cost.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal

from mewswright.year.cost import Row, Stay, free_weeks, plan_cost, stays
from mewswright.year.instance import Instance, Rows, Unit

__all__ = ["Breach", "Rule", "breaches", "plan_cost"]

Rule = Literal[
    "shape",
    "absent",
    "departed",
    "unsuitable",
    "entry",
    "closed",
    "barred",
    "shared",
    "cleaning",
    "short stay",
    "long stay",
    "due",
    "disturbed",
    "fixed",
    "tether clock",
    "free weeks",
    "rest",
    "apart",
    "sight",
]


@dataclass(frozen=True)
class Breach:
    """One rule that a plan breaks.

    Args:
        rule: Which.
        week: The first week in which it shows, or None where it is the whole year's.
        says: One sentence for people.
    """

    rule: Rule
    week: int | None
    says: str

    def __str__(self) -> str:
        return self.says


def breaches(instance: Instance, rows: Rows) -> tuple[Breach, ...]:
    """Every rule that a plan breaks; none for a plan that may be kept to.

    Args:
        instance: What was to be planned.
        rows: The place of each unit in each week, None where it is not there.
    """
    wrong = _shape(instance, rows)
    if wrong is not None:
        return (wrong,)
    found: list[Breach] = []
    for unit, row in zip(instance.units, rows, strict=True):
        found += _weeks(instance, unit, row)
        found += _lengths(instance, unit, row)
        found += _clocks(instance, unit, row)
    found += _of_cells(instance, rows)
    found += _apart(instance, rows)
    found += _sights(instance, rows)
    return tuple(found)


def _shape(instance: Instance, rows: Rows) -> Breach | None:
    if len(rows) != len(instance.units):
        return Breach("shape", None, f"{len(rows)} rows for {len(instance.units)} units")
    for unit, row in zip(instance.units, rows, strict=True):
        if len(row) != instance.weeks:
            return Breach("shape", None, f"{unit.name}: {len(row)} weeks of {instance.weeks}")
        if any(p is not None and not 0 <= p < len(instance.places) for p in row):
            return Breach("shape", None, f"{unit.name}: a place that does not exist")
    return None


def _settled(unit: Unit) -> int:
    """The first week after the isolation."""
    return unit.arrival + (unit.entry.weeks if unit.entry else 0)


def _weeks(instance: Instance, unit: Unit, row: Row) -> Iterator[Breach]:
    """What each week asks by itself."""
    for week, place in enumerate(row):
        gone = unit.departure is not None and week >= unit.departure
        if gone and place is not None:
            yield Breach("departed", week, f"{unit.name} is housed in {week} and is there no more")
        elif not gone and (place is None) != (week < unit.arrival):
            yield Breach(
                "absent",
                week,
                f"{unit.name} arrives in week {unit.arrival} and is "
                f"{'nowhere' if place is None else 'housed'} in week {week}",
            )
        if place is None:
            continue
        where = instance.places[place].name
        if unit.entry is not None and week < _settled(unit):
            if place not in unit.entry.places:
                yield Breach("entry", week, f"{unit.name} is in {where}, not isolated, in {week}")
        elif place not in unit.suitable:
            yield Breach("unsuitable", week, f"{where} does not suit {unit.name} (week {week})")
        if week in instance.places[place].closed:
            yield Breach("closed", week, f"{where} is closed in week {week}")
        if any(first <= week <= last and place in places for first, last, places in unit.barred):
            yield Breach("barred", week, f"{unit.name} is barred from {where} in week {week}")
    for week, place in unit.fixed:
        if not 0 <= week < instance.weeks or row[week] != place:
            where = instance.places[place].name
            yield Breach("fixed", week, f"{unit.name} is to be in {where} in week {week}")


def _lengths(instance: Instance, unit: Unit, row: Row) -> Iterator[Breach]:
    """What is asked of stays and of the moves between them."""
    places, settled = instance.places, _settled(unit)
    found = stays(instance, unit, row)
    for nth, stay in enumerate(found):
        weeks, where = stay.after - stay.first, places[stay.place].name
        isolated = unit.entry is not None and stay.first < settled and stay.after > unit.arrival
        sent = unit.entry is not None and stay.after <= unit.arrival  # left for the isolation
        may_be_short = (nth == 0 and unit.before is None) or nth == len(found) - 1
        if weeks < unit.min_stay and not (may_be_short or isolated or sent):
            yield Breach("short stay", stay.first, f"{unit.name}: {weeks} weeks in {where}")
        if stay.after <= 0:
            continue  # what is past cannot have lasted too long
        counted = stay.after - max(stay.first, settled) if isolated else weeks
        if counted > unit.max_stay:
            yield Breach("long stay", stay.first, f"{unit.name}: {counted} weeks in {where}")
        most = places[stay.place].most_weeks
        if most is not None and weeks > most:
            yield Breach(
                "due",
                stay.first + most,
                f"{where} is due for cleaning after {most} weeks; {unit.name} stays {weeks}",
            )
    before = () if unit.before is None else (unit.before.place,)
    held = (*before, *row)
    for week, (one, other) in enumerate(pairwise(held), 1 - len(before)):
        if one is None or other is None or one == other:
            continue
        if unit.entry is not None and unit.arrival < week < settled:
            yield Breach("entry", week, f"{unit.name} leaves its isolation early")
        if any(first < week <= last for first, last in unit.undisturbed):
            yield Breach(
                "disturbed", week, f"{unit.name} is moved from {places[one].name} in week {week}"
            )


def _clocks(instance: Instance, unit: Unit, row: Row) -> Iterator[Breach]:
    """What is asked of weeks on the tether and free."""
    if unit.tether_most is not None:
        run = 0 if unit.before is None else unit.before.tethered_weeks
        for week, place in enumerate(row):
            run = run + 1 if place is not None and instance.places[place].tethered else 0
            if run > unit.tether_most:
                yield Breach(
                    "tether clock",
                    week,
                    f"{unit.name} is tethered {run} weeks on end in week {week}; "
                    f"at most {unit.tether_most}",
                )
                break
    free = free_weeks(instance, row)
    if free < unit.free_least:
        yield Breach(
            "free weeks", None, f"{unit.name} is free {free} weeks of {unit.free_least} at least"
        )


def _of_cells(instance: Instance, rows: Rows) -> Iterator[Breach]:
    """Who shares a cell, and whether it is clean and rests."""
    cell_of, weeks = instance.cell_of, instance.weeks
    left: list[list[tuple[int, Stay]]] = [[] for _ in set(cell_of)]
    for u, (unit, row) in enumerate(zip(instance.units, rows, strict=True)):
        for stay in stays(instance, unit, row):
            left[cell_of[stay.place]].append((u, stay))
    for cell, stays_here in enumerate(left):
        place = instance.places[cell_of.index(cell)]
        living = [
            [u for u, row in enumerate(rows) if _cell(instance, row[w]) == cell]
            for w in range(weeks)
        ]
        for week, units in enumerate(living):
            if len(units) > 1:
                names = " and ".join(instance.units[u].name for u in units)
                yield Breach("shared", week, f"{names} are both in {place.name} in week {week}")
        for u, stay in stays_here:
            for week in range(stay.after, min(stay.after + place.clean_weeks, weeks)):
                for other in living[week]:
                    together = stay.after == 0 and other in instance.mates_of[u] - {u}
                    if other not in instance.kin_of[u] and not together:
                        yield Breach(
                            "cleaning",
                            week,
                            f"{instance.units[other].name} is in {place.name} in week {week}, "
                            "before it is clean",
                        )
        if place.rest_weeks and not any(
            not any(living[first : first + place.rest_weeks])
            for first in range(weeks - place.rest_weeks + 1)
        ):
            yield Breach(
                "rest", None, f"{place.name} never lies empty {place.rest_weeks} weeks in a row"
            )


def _cell(instance: Instance, place: int | None) -> int | None:
    return None if place is None else instance.cell_of[place]


def _apart(instance: Instance, rows: Rows) -> Iterator[Breach]:
    near = instance.adjacent | {(q, p) for p, q in instance.adjacent}
    for rule in instance.apart:
        for one, other in combinations(sorted(rule.units), 2):
            for week in range(max(0, rule.first_week), min(rule.last_week + 1, instance.weeks)):
                if (rows[one][week], rows[other][week]) in near:
                    names = f"{instance.units[one].name} and {instance.units[other].name}"
                    yield Breach("apart", week, f"{names} are side by side in week {week}")


def _sights(instance: Instance, rows: Rows) -> Iterator[Breach]:
    for rule in instance.sights:
        for week in range(max(0, rule.first_week), min(rule.last_week + 1, instance.weeks)):
            for one in sorted(rule.afraid):
                for other in sorted(rule.feared - {one}):
                    if (rows[one][week], rows[other][week]) in rule.pairs:
                        yield Breach(
                            "sight",
                            week,
                            f"{instance.units[one].name} sees {instance.units[other].name} "
                            f"in week {week}",
                        )
