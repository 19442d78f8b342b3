"""A take-off with its cut plan and cost, as plain values for JSON."""

from decimal import Decimal
from typing import Any

from mewswright.build.cost import Costing, cost_of
from mewswright.build.order import BuildOrder
from mewswright.build.sawing import Sawing, sawing_of
from mewswright.build.sheeting import Sheeting
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def worked_out(yard: Yard, quarters: Quarters) -> tuple[TakeOff, Sawing, Costing]:
    """Take off a unit, plan its sawing and cost it.

    Raises:
        Problem: For a pitch, which has no frame, or a material that is not on record.
    """
    takeoff = take_off(yard, quarters)
    sawing = sawing_of(yard, takeoff.parts)
    return takeoff, sawing, cost_of(yard, takeoff, sawing)


def report(
    takeoff: TakeOff,
    sawing: Sawing,
    costing: Costing,
    sheets: Sheeting | None = None,
    order: BuildOrder | None = None,
) -> dict[str, Any]:
    """Give all three as plain values; decimals become numbers.

    `cut_plan` is null where nothing could be planned; `cut_plan_refused` says why, section
    by section. `cut_plan_unpriced` saws what the yard has no priced stock for.
    """
    costs = costing.model_dump()
    return {
        "yard": takeoff.yard,
        "quarters": takeoff.quarters,
        "parts": [part.model_dump(exclude={"sticks", "panels"}) for part in takeoff.parts],
        "panels": [panel.model_dump() for panel in takeoff.panels],
        "setting_out": takeoff.setting_out.model_dump(),
        "floor_load": takeoff.floor_load.model_dump() if takeoff.floor_load else None,
        "cut_plan": sawing.plan.to_json() if sawing.plan else None,
        "cut_plan_unpriced": sawing.unpriced.to_json() if sawing.unpriced else None,
        "cut_plan_refused": list(sawing.refused),
        "sheet_plan": [
            {"material": one.material, "buy": one.buy, **one.plan.to_json()}
            for one in (sheets.plans if sheets else ())
        ],
        "sheet_plan_refused": list(sheets.refused) if sheets else [],
        "rack": [
            use.model_dump()
            for use in (
                *sawing.rack,
                *(u for s in (sheets.plans if sheets else ()) for u in s.rack),
            )
        ],
        "order": order.model_dump() if order else None,
        "cost": _numbers(costs),
        "assumptions": list(takeoff.assumptions),
        "cautions": list(takeoff.cautions),
    }


def _numbers(value: Any) -> Any:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, dict):
        return {key: _numbers(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_numbers(item) for item in value]
    return value
