"""Whether a plan of a year keeps the rules, and what it costs, told without the solver.

Every rule of `instance.py` is asked of the bare rows, week by week, the slow and plain way. It
shares nothing with the solver, so that a slip in one shows in the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, groupby, pairwise
from typing import Literal

from mewswright.year.instance import Instance, Rows, Unit

Rule = Literal[
    "shape",
    "absent",
    "unsuitable",
    "entry",
    "closed",
    "shared",
    "cleaning",
    "short stay",
    "long stay",
    "disturbed",
    "fixed",
    "rest",
    "apart",
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


@dataclass(frozen=True)
class _Stay:
    place: int
    first: int
    after: int  # the first week after it


def _stays(row: tuple[int | None, ...]) -> list[_Stay]:
    stays = []
    week = 0
    for place, run in groupby(row):
        weeks = len(list(run))
        if place is not None:
            stays.append(_Stay(place, week, week + weeks))
        week += weeks
    return stays


def plan_cost(instance: Instance, rows: Rows) -> int:
    """Cost of a plan: every week in its place, and every move.

    Args:
        instance: What was to be planned.
        rows: The place of each unit in each week.
    """
    total = 0
    for unit, row in zip(instance.units, rows, strict=True):
        total += sum(unit.weekly_cost[p] for p in row if p is not None)
        total += sum(cost for week, place, cost in unit.dearer if row[week] == place)
        total += unit.move_cost * max(0, len(_stays(row)) - 1)
    return total


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
        found += _of_unit(instance, unit, row)
    found += _of_places(instance, rows)
    found += _apart(instance, rows)
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


def _of_unit(instance: Instance, unit: Unit, row: tuple[int | None, ...]) -> Iterator[Breach]:
    places = instance.places
    settled = unit.arrival + (unit.entry.weeks if unit.entry else 0)
    for week, place in enumerate(row):
        if (place is None) != (week < unit.arrival):
            yield Breach(
                "absent",
                week,
                f"{unit.name} arrives in week {unit.arrival} and is "
                f"{'nowhere' if place is None else 'housed'} in week {week}",
            )
        if place is None:
            continue
        where = places[place].name
        if week < settled and unit.entry is not None:
            if place not in unit.entry.places:
                yield Breach("entry", week, f"{unit.name} is in {where}, not isolated, in {week}")
        elif place not in unit.suitable:
            yield Breach("unsuitable", week, f"{where} does not suit {unit.name} (week {week})")
        if week in places[place].closed:
            yield Breach("closed", week, f"{where} is closed in week {week}")
    stays = _stays(row)
    for nth, stay in enumerate(stays):
        weeks, where = stay.after - stay.first, places[stay.place].name
        isolated = unit.entry is not None and stay.first < settled
        if isolated and stay.after < min(settled, instance.weeks):
            yield Breach("entry", stay.after, f"{unit.name} leaves its isolation early")
        if 0 < nth < len(stays) - 1 and weeks < unit.min_stay:
            yield Breach("short stay", stay.first, f"{unit.name}: {weeks} weeks in {where}")
        if weeks > unit.max_stay and not isolated:
            yield Breach("long stay", stay.first, f"{unit.name}: {weeks} weeks in {where}")
    for before, stay in pairwise(stays):
        if any(first < stay.first <= last for first, last in unit.undisturbed):
            yield Breach(
                "disturbed",
                stay.first,
                f"{unit.name} is moved from {places[before.place].name} in week {stay.first}",
            )
    for week, place in unit.fixed:
        if not 0 <= week < instance.weeks or row[week] != place:
            yield Breach(
                "fixed", week, f"{unit.name} is to be in {places[place].name} in week {week}"
            )


def _of_places(instance: Instance, rows: Rows) -> Iterator[Breach]:
    for p, place in enumerate(instance.places):
        living = [[u for u, row in enumerate(rows) if row[w] == p] for w in range(instance.weeks)]
        for week, units in enumerate(living):
            if len(units) > 1:
                names = " and ".join(instance.units[u].name for u in units)
                yield Breach("shared", week, f"{names} are both in {place.name} in week {week}")
        for row in rows:
            for stay in _stays(row):
                if stay.place != p:
                    continue
                # Two units that leave at once would both clean, which is shared above.
                for week in range(stay.after, min(stay.after + place.clean_weeks, instance.weeks)):
                    if living[week]:
                        yield Breach(
                            "cleaning",
                            week,
                            f"{instance.units[living[week][0]].name} is in {place.name} in week "
                            f"{week}, before it is clean",
                        )
        if place.rest_weeks and not any(
            not any(living[first : first + place.rest_weeks])
            for first in range(instance.weeks - place.rest_weeks + 1)
        ):
            yield Breach(
                "rest", None, f"{place.name} never lies empty {place.rest_weeks} weeks in a row"
            )


def _apart(instance: Instance, rows: Rows) -> Iterator[Breach]:
    near = instance.adjacent | {(q, p) for p, q in instance.adjacent}
    for rule in instance.apart:
        for one, other in combinations(sorted(rule.units), 2):
            for week in range(max(0, rule.first_week), min(rule.last_week + 1, instance.weeks)):
                here, there = rows[one][week], rows[other][week]
                if here is not None and there is not None and (here, there) in near:
                    names = f"{instance.units[one].name} and {instance.units[other].name}"
                    yield Breach("apart", week, f"{names} are side by side in week {week}")
