"""Which weeks in which places a unit may live at all, and which moves it may make, by itself."""

from __future__ import annotations

from mewswright.year.instance import Instance, Unit


def settled_week(unit: Unit) -> int:
    """The first week after the isolation, or the arrival."""
    return unit.arrival + (unit.entry.weeks if unit.entry else 0)


def allowed(instance: Instance, u: int) -> list[frozenset[int]]:
    """The places in which a unit may live in each week; none where it is not there.

    Args:
        instance: The year.
        u: The unit.
    """
    unit, there = instance.units[u], instance.weeks_of(u)
    settled = settled_week(unit)
    weeks: list[set[int]] = []
    for week in range(instance.weeks):
        if week not in there:
            weeks.append(set())
            continue
        isolated = unit.entry is not None and week < settled
        own = unit.entry.places if unit.entry is not None and isolated else unit.suitable
        weeks.append({p for p in own if week not in instance.places[p].closed})
    for first, last, places in unit.barred:
        for week in range(max(0, first), min(last + 1, instance.weeks)):
            weeks[week] -= places
    for week, place in unit.fixed:
        if week in there:
            weeks[week] &= {place}
        else:
            weeks[there.start] = set()  # it is to be somewhere when it is not there
    if unit.before is not None and unit.entry is not None:
        # Left for the isolation in week 0, a cell cannot be clean again before these weeks are out.
        cell = instance.cell_of[unit.before.place]
        if cell not in {instance.cell_of[p] for p in unit.entry.places}:
            for week in range(min(instance.places[unit.before.place].clean_weeks, instance.weeks)):
                weeks[week] -= {p for p, c in enumerate(instance.cell_of) if c == cell}
    return [frozenset(places) for places in weeks]


def may_change(instance: Instance, u: int) -> list[bool]:
    """Whether a unit may be in another place than the week before, for each week."""
    unit = instance.units[u]
    free = [True] * instance.weeks
    for first, last in unit.undisturbed:
        for week in range(max(0, first + 1), min(last + 1, instance.weeks)):
            free[week] = False
    if unit.entry is not None:
        for week in range(unit.arrival + 1, min(settled_week(unit), instance.weeks)):
            free[week] = False
    return free
