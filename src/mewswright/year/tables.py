"""An instance as arrays, in the form that the compiled kernels read.

What a unit may never do is folded into its costs: a week in a place that is forbidden costs
`BLOCKED`. Only what units have to do with each other is left for the kernels to keep apart.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from mewswright.year.instance import Instance, Rows, Unit

BLOCKED = 1e12  # above every sum of costs and prices that can be paid


class Tables(NamedTuple):
    """Everything that stays the same while a plan is looked for.

    A list of lists is two arrays: the items of x are many[at[x] : at[x + 1]].
    """

    base: Any  # cost of a week (unit, place, week)
    may_leave: Any  # a move may take effect (unit, week)
    first: Any  # first week of each unit
    least: Any  # weeks of a stay
    most: Any
    move_cost: Any
    own_at: Any  # suitable places
    own: Any
    entry_at: Any  # places of entry
    entry: Any
    entry_weeks: Any  # 0: none
    clean: Any  # weeks, of each place
    rest: Any
    near_at: Any  # adjacent places
    near: Any
    rule_at: Any  # rules that keep a unit apart
    rule: Any
    rule_first: Any
    rule_last: Any


def _lists(lists: list[list[int]]) -> tuple[Any, Any]:
    at = np.cumsum([0, *map(len, lists)]).astype(np.int64)
    return at, np.array([item for items in lists for item in items], dtype=np.int64)


def _unit_costs(instance: Instance, unit: Unit) -> Any:
    """Cost of each week in each place for one unit, `BLOCKED` where it may not be."""
    weeks = instance.weeks
    base = np.full((len(instance.places), weeks), BLOCKED)
    settled = unit.arrival
    if unit.entry is not None:
        settled = min(weeks, unit.arrival + unit.entry.weeks)
        for p in unit.entry.places:
            base[p, unit.arrival : settled] = unit.weekly_cost[p]
    for p in unit.suitable:
        base[p, settled:] = unit.weekly_cost[p]
    for week, p, cost in unit.dearer:
        if 0 <= week < weeks:
            base[p, week] += cost
    for p, place in enumerate(instance.places):
        for week in place.closed:
            if 0 <= week < weeks:
                base[p, week] = BLOCKED
    for week, p in unit.fixed:
        if not unit.arrival <= week < weeks:
            base[:] = BLOCKED
        else:
            base[np.arange(len(base)) != p, week] = BLOCKED
    return base


def tables(instance: Instance) -> Tables:
    """The arrays of an instance."""
    units, places, weeks = instance.units, instance.places, instance.weeks
    near: list[list[int]] = [[] for _ in places]
    for p, q in sorted({(min(pair), max(pair)) for pair in instance.adjacent}):
        near[p].append(q)
        near[q].append(p)
    may_leave = np.ones((len(units), weeks + 1), dtype=np.bool_)
    for u, unit in enumerate(units):
        for first, last in unit.undisturbed:
            may_leave[u, max(0, first + 1) : max(0, last + 1)] = False
    base = np.empty((len(units), len(places), weeks))
    for u, unit in enumerate(units):
        base[u] = _unit_costs(instance, unit)
    rules = [
        [k for k, rule in enumerate(instance.apart) if u in rule.units] for u in range(len(units))
    ]
    entries = [sorted(unit.entry.places) if unit.entry else [] for unit in units]

    def whole(numbers: list[int]) -> Any:
        return np.array(numbers, dtype=np.int64)

    return Tables(
        base,
        may_leave,
        whole([unit.arrival for unit in units]),
        whole([unit.min_stay for unit in units]),
        whole([unit.max_stay for unit in units]),
        np.array([unit.move_cost for unit in units], dtype=float),
        *_lists([sorted(unit.suitable) for unit in units]),
        *_lists(entries),
        whole([unit.entry.weeks if unit.entry else 0 for unit in units]),
        whole([place.clean_weeks for place in places]),
        whole([place.rest_weeks for place in places]),
        *_lists(near),
        *_lists(rules),
        whole([rule.first_week for rule in instance.apart]),
        whole([rule.last_week for rule in instance.apart]),
    )


def rows_of(where: Any) -> Rows:
    """The plan that an array (unit, week) of places holds; below 0 is not there."""
    return tuple(tuple(int(p) if p >= 0 else None for p in row) for row in where)
