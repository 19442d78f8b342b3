"""What a plan costs, as a sum over the truths of the weekly model."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mewswright.year.weekly_model import Model


def total_cost(model: Model) -> Any:
    """The whole cost: weeks, moves, and what the plan as a whole costs beside."""
    return (
        sum(_weeks(model))
        + sum(_moves(model))
        + _unfair(model)
        + _crowded(model)
        + _strangers(model)
    )


def _weeks(model: Model) -> list[Any]:
    units = model.instance.units
    dearer: dict[tuple[int, int, int], int] = {}
    for u, unit in enumerate(units):
        for week, p, cost in unit.dearer:
            dearer[u, p, week] = dearer.get((u, p, week), 0) + cost
    return [
        cost * x
        for (u, p, w), x in model.at.items()
        if (cost := units[u].weekly_cost[p] + dearer.get((u, p, w), 0))
    ]


def _moves(model: Model) -> list[Any]:
    return [
        model.instance.units[u].move_cost * gone
        for (u, _, w), gone in model.gone.items()
        if w < model.instance.weeks_of(u).stop
    ]


def _unfair(model: Model) -> Any:
    extras, weeks = model.instance.extras, model.instance.weeks
    if not extras.unfair or len(extras.sharing) < 2:
        return 0
    most, fewest = model.cp.new_int_var(0, weeks, ""), model.cp.new_int_var(0, weeks, "")
    for u in sorted(extras.sharing):
        free = sum(model.free_weeks(u))
        model.cp.add(most >= free)
        model.cp.add(fewest <= free)
    return extras.unfair * (most - fewest)


def _crowded(model: Model) -> Any:
    if not model.instance.extras.crowded:
        return 0
    units, kin = range(len(model.instance.units)), model.instance.kin_of
    mates = model.instance.mates_of
    over = []
    for w in range(model.instance.weeks):
        cleaned = []
        for cell in range(len(model.places_of)):
            left = [(u, v, x) for u in units for v, x in model.left(u, cell, w)]
            if not left:
                continue
            is_cleaned = model.cp.new_bool_var("")
            for u, v, x in left:
                heirs = kin[u] | (mates[u] if v == 0 else kin[u])
                lived = [
                    y for other in heirs if (y := model.inside.get((other, cell, w))) is not None
                ]
                model.cp.add(is_cleaned >= x - sum(lived))
            cleaned.append(is_cleaned)
        if len(cleaned) > 1:
            over.append(model.cp.new_int_var(0, len(cleaned), ""))
            model.cp.add(over[-1] >= sum(cleaned) - 1)
    return model.instance.extras.crowded * sum(over)


def _strangers(model: Model) -> Any:
    if not model.instance.extras.strangers:
        return 0
    came = []
    for one, other in combinations(range(len(model.instance.units)), 2):
        was: Any = model.side_by_side(one, other, 0)
        for w in range(1, model.instance.weeks):
            now = model.side_by_side(one, other, w)
            if not isinstance(now, int):
                came.append(model.cp.new_bool_var(""))
                model.cp.add(came[-1] >= now - was)
            was = now
    return model.instance.extras.strangers * sum(came)
