"""One unit of a pack: its timber, take-off, cut plan, costs and drawings, worked out once."""

from collections.abc import Sequence
from dataclasses import dataclass

from mewswright.build.cost import Costing, cost_of
from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.order import BuildOrder, build_order
from mewswright.build.sawing import Sawing, sawing_of
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.drawing.paper import Paper
from mewswright.drawing.scene import Scene
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.papers.chosen import Choice
from mewswright.papers.sheets import sheet_plans_of, sheets_of


@dataclass(frozen=True)
class Unit:
    """All that a pack says of one quarters to build. `sheets` are on one kind of paper."""

    quarters: Quarters
    take_off: TakeOff
    sawing: Sawing
    costing: Costing
    order: BuildOrder
    sheets: tuple[Scene, ...]
    frame: FrameReport | None  # None where the yard gives no loads, or nothing carries a roof
    frame_why: str  # why there is none


def units_of(choices: Sequence[Choice], paper: Paper = "A3") -> tuple[Unit, ...]:
    """Work out units.

    Raises:
        Problem: For a pitch, or for a material that the handbook does not know.
    """
    # Planning the cuts takes longest, and twins need the same ones.
    planned: dict[tuple[tuple[str, str, float, int], ...], Sawing] = {}
    units = []
    for choice in choices:
        taken = take_off(choice.yard, choice.quarters)
        if choice.twice:
            taken = taken.model_copy(update={"cautions": (choice.twice, *taken.cautions)})
        sawn = tuple((p.mark, p.section, p.length_mm, p.count) for p in taken.parts if p.sawn)
        if sawn not in planned:
            planned[sawn] = sawing_of(choice.yard, taken.parts)
        units.append(_unit(choice.yard, choice.quarters, taken, planned[sawn], paper))
    return tuple(units)


def _unit(yard: Yard, quarters: Quarters, taken: TakeOff, sawing: Sawing, paper: Paper) -> Unit:
    report, why = checked_frame(yard, quarters)
    return Unit(
        frame=report,
        frame_why=why,
        quarters=quarters,
        take_off=taken,
        sawing=sawing,
        costing=cost_of(yard, taken, sawing),
        order=build_order(quarters, taken),
        sheets=(
            *sheets_of(yard, quarters, taken, paper),
            *sheet_plans_of(yard, quarters, taken, paper),
        ),
    )


def checked_frame(yard: Yard, quarters: Quarters) -> tuple[FrameReport | None, str]:
    """The check of a frame, or the reason why there is none."""
    try:
        return frame_report(yard, quarters), ""
    except Problem as problem:
        return None, str(problem)
