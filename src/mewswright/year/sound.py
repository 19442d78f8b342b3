"""Whether the figures of an instance can be judged at all; each sentence names unit or place."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mewswright.year.instance import Instance, Unit


def check(instance: Instance) -> None:
    """Refuse an instance whose figures are out of range or contradict each other.

    Raises:
        ValueError: Says which unit or place, what was given, and what is allowed.
    """
    if instance.weeks < 1:
        raise ValueError(f"a plan has 1 week or more, got {instance.weeks}")
    _check_places(instance)
    for unit in instance.units:
        _check_stays(instance, unit)
        _check_entry(instance, unit)
        _check_before(instance, unit)
        _check_lists(instance, unit)
    _check_pairs(instance)
    _check_kin(instance)


def _known(instance: Instance, who: str, places: Iterable[int]) -> None:
    for p in places:
        if not 0 <= p < len(instance.places):
            raise ValueError(f"{who}: no place {p}; there are {len(instance.places)}")


def _known_units(instance: Instance, who: str, units: Iterable[int]) -> None:
    if not all(0 <= u < len(instance.units) for u in units):
        raise ValueError(f"{who} {sorted(units)}: there are {len(instance.units)}")


def _check_places(instance: Instance) -> None:
    for place in instance.places:
        if place.clean_weeks < 0 or place.rest_weeks < 0:
            raise ValueError(f"place {place.name!r}: weeks of cleaning and rest are 0 or more")
        if place.rest_weeks > instance.weeks:
            raise ValueError(
                f"place {place.name!r} rests {place.rest_weeks} weeks and the plan has "
                f"{instance.weeks}: plan more weeks or shorten the rest"
            )
        if place.most_weeks is not None and place.most_weeks < 1:
            raise ValueError(
                f"place {place.name!r}: a stay may last 1 week or more, got {place.most_weeks}"
            )
    first: dict[int, int] = {}
    for p, cell in enumerate(instance.cell_of):
        one, other = instance.places[first.setdefault(cell, p)], instance.places[p]
        for key in ("clean_weeks", "rest_weeks", "most_weeks"):
            if getattr(one, key) != getattr(other, key):
                raise ValueError(
                    f"places {one.name!r} and {other.name!r} share a cell: their {key} are "
                    f"{getattr(one, key)} and {getattr(other, key)}; give both the same"
                )


def _check_stays(instance: Instance, unit: Unit) -> None:
    who = f"unit {unit.name!r}"
    _known(instance, who, unit.suitable)
    if len(unit.weekly_cost) != len(instance.places):
        raise ValueError(
            f"{who} has {len(unit.weekly_cost)} weekly costs for {len(instance.places)} places"
        )
    if not 0 <= unit.arrival < instance.weeks:
        raise ValueError(
            f"{who} arrives in week {unit.arrival}; the plan has weeks 0 to {instance.weeks - 1}"
        )
    if unit.departure is not None and unit.departure <= unit.arrival:
        raise ValueError(
            f"{who} arrives in week {unit.arrival} and is gone from week {unit.departure}: "
            "leave it out, or let it go later"
        )
    if not 1 <= unit.min_stay <= unit.max_stay:
        raise ValueError(
            f"{who} stays {unit.min_stay} to {unit.max_stay} weeks: "
            "at least 1, and the most not below the least"
        )
    for p in sorted(unit.suitable):
        place = instance.places[p]
        if place.clean_weeks > unit.min_stay:
            raise ValueError(
                f"{who} may come back to {place.name!r} after {unit.min_stay} weeks, "
                f"before its {place.clean_weeks} weeks of cleaning are over: "
                "lengthen the shortest stay"
            )
    if unit.tether_most is not None and unit.tether_most < 0:
        raise ValueError(f"{who}: weeks on the tether are 0 or more, got {unit.tether_most}")
    if unit.free_least < 0:
        raise ValueError(f"{who}: free weeks are 0 or more, got {unit.free_least}")


def _check_entry(instance: Instance, unit: Unit) -> None:
    if unit.entry is None:
        return
    who = f"unit {unit.name!r}"
    _known(instance, who, unit.entry.places)
    if unit.entry.weeks < 1 or unit.entry.places & unit.suitable:
        raise ValueError(f"{who}: an entry lasts 1 week or more, in places that are not its own")


def _check_before(instance: Instance, unit: Unit) -> None:
    before = unit.before
    if before is None:
        return
    who = f"unit {unit.name!r}"
    _known(instance, who, (before.place,))
    if unit.arrival > 0:
        raise ValueError(
            f"{who} arrives in week {unit.arrival} and was here before week 0: "
            "leave out one of the two"
        )
    if before.weeks < 1:
        raise ValueError(f"{who}: its stay so far is 1 week or more, got {before.weeks}")
    if before.tethered_weeks < 0:
        raise ValueError(f"{who}: weeks on the tether are 0 or more, got {before.tethered_weeks}")
    cell, cells = instance.cell_of[before.place], instance.cell_of
    if unit.entry is not None and instance.places[before.place].clean_weeks > unit.entry.weeks:
        entries = {cells[p] for p in unit.entry.places}
        if len(entries) > 1 and cell in entries & {cells[p] for p in unit.suitable}:
            raise ValueError(
                f"{who} may leave {instance.places[before.place].name!r} for its isolation and be "
                "back before it is clean: isolate it in one cell, or longer"
            )


def _check_lists(instance: Instance, unit: Unit) -> None:
    from mewswright.year.instance import MOST_COST

    who = f"unit {unit.name!r}"
    _known(instance, who, (p for _, p in unit.fixed))
    _known(instance, who, (p for _, p, _ in unit.dearer))
    for first, last, places in unit.barred:
        _known(instance, who, places)
        if last < first:
            raise ValueError(f"{who} is barred from week {first} to {last}: turn the two about")
    costs = (*unit.weekly_cost, unit.move_cost, *(c for _, _, c in unit.dearer))
    if min(costs) < 0 or max(costs) > MOST_COST:
        raise ValueError(f"{who}: a cost is 0 to {MOST_COST}")


def _check_pairs(instance: Instance) -> None:
    for pair in instance.adjacent:
        _known(instance, f"adjacent places {pair}", pair)
        if pair[0] == pair[1]:
            raise ValueError(f"place {pair[0]} is adjacent to itself: name two places")
    for rule in instance.apart:
        _known_units(instance, "units apart", rule.units)
    for sight in instance.sights:
        _known_units(instance, "units of a sight", sight.afraid | sight.feared)
        for pair in sight.pairs:
            _known(instance, f"places in sight {pair}", pair)


def _check_kin(instance: Instance) -> None:
    from mewswright.year.instance import MOST_COST

    for pair in instance.kin:
        _known_units(instance, "kin", pair)
        one, other = sorted(pair, key=lambda u: instance.units[u].arrival)
        if one == other:
            raise ValueError(f"unit {instance.units[one].name!r} is its own kin: name two units")
        if instance.weeks_of(one).stop > instance.units[other].arrival:
            raise ValueError(
                f"units {instance.units[one].name!r} and {instance.units[other].name!r} share a "
                f"bird and are both there in week {instance.units[other].arrival}: "
                "let one go before the other comes"
            )
    extras = instance.extras
    _known_units(instance, "units that share free weeks", extras.sharing)
    if not all(0 <= c <= MOST_COST for c in (extras.unfair, extras.crowded, extras.strangers)):
        raise ValueError(f"the costs of the plan as a whole are 0 to {MOST_COST}")
