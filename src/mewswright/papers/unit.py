"""One unit of a pack: its timber, take-off, cut plan, costs and drawings, worked out once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from mewswright.build.cost import Costing, cost_of
from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.materials import known_material
from mewswright.build.sawing import Sawing, sawing_of
from mewswright.build.sheeting import sheeting_of
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.checks.case import cases
from mewswright.checks.free_circle import free_circle, tether_perches
from mewswright.drawing.elevation import elevation
from mewswright.drawing.foundation import foundation_plan
from mewswright.drawing.framing import wall_framing
from mewswright.drawing.front import front_elevation
from mewswright.drawing.nest_page import nest_page, page_size_mm
from mewswright.drawing.paper import fits, room_mm
from mewswright.drawing.plan import FreeCircle, quarters_plan
from mewswright.drawing.roof_plan import roof_plan
from mewswright.drawing.scene import SCALES, Scene
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import sheet
from mewswright.model.problem import Problem
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

DIMENSIONS_MM = 30.0  # what rows of dimensions or lettering take at the least, on paper
ALL_SCALES = (*SCALES, 10_000, 20_000, 50_000)  # a ground may be a whole estate


@dataclass(frozen=True)
class Unit:
    """All that a pack says of one quarters to build. `sheets` are A3 sheets."""

    quarters: Quarters
    take_off: TakeOff
    sawing: Sawing
    costing: Costing
    sheets: tuple[Scene, ...]
    frame: FrameReport | None  # None where the yard gives no loads, or nothing carries a roof
    frame_why: str  # why there is none


def units_of(yard: Yard, chosen: Sequence[Quarters]) -> tuple[Unit, ...]:
    """Work out units.

    Raises:
        Problem: For a pitch, or for a material that the handbook does not know.
    """
    # Planning the cuts takes longest, and twins need the same ones.
    planned: dict[tuple[tuple[str, str, float, int], ...], Sawing] = {}
    units = []
    for quarters in chosen:
        taken = take_off(yard, quarters)
        sawn = tuple((p.mark, p.section, p.length_mm, p.count) for p in taken.parts if p.sawn)
        if sawn not in planned:
            planned[sawn] = sawing_of(yard, taken.parts)
        units.append(_unit(yard, quarters, taken, planned[sawn]))
    return tuple(units)


def _unit(yard: Yard, quarters: Quarters, taken: TakeOff, sawing: Sawing) -> Unit:
    report, why = checked_frame(yard, quarters)
    return Unit(
        frame=report,
        frame_why=why,
        quarters=quarters,
        take_off=taken,
        sawing=sawing,
        costing=cost_of(yard, taken, sawing),
        sheets=(*sheets_of(yard, quarters, taken), *sheet_plans_of(yard, quarters, taken)),
    )


def sheet_plans_of(yard: Yard, quarters: Quarters, taken: TakeOff) -> tuple[Scene, ...]:
    """Draw how decks and linings are sawn, one page a material, cuts in their order."""
    pages = []
    for one in sheeting_of(yard, taken.parts).plans:
        row = known_material(one.material)
        draw = partial(nest_page, one.plan, one.material, row.name if row else one.material)
        what = f"the sheet plan of {one.material} for {quarters.name!r}"
        scene = at_largest(what, _at(draw), *page_size_mm(one.plan))
        pages.append(sheet(scene, f"{yard.yard.name}, {quarters.name}", scene.title))
    return tuple(pages)


def checked_frame(yard: Yard, quarters: Quarters) -> tuple[FrameReport | None, str]:
    """The check of a frame, or the reason why there is none."""
    try:
        return frame_report(yard, quarters), ""
    except Problem as problem:
        return None, str(problem)


def sheets_of(yard: Yard, quarters: Quarters, taken: TakeOff) -> tuple[Scene, ...]:
    """Draw every sheet of a unit, each on A3 at the largest scale that fits.

    Plan, four elevations, section, roof, foundation with setting-out, and the framing of
    each wall. The front elevation shows its frame, the other sides stand boarded.
    """
    frame, circles = taken.frame, free_circles(yard, quarters)
    wide, deep = frame.outer_width_mm, frame.outer_depth_mm
    high = max(quarters.front_height_mm or 0, quarters.back_height_mm or 0)
    lay_outs: list[tuple[str, Callable[[int], Scene], float, float]] = [
        ("plan", lambda n: quarters_plan(yard, quarters, frame, circles, scale=n), wide, deep),
        ("front", lambda n: front_elevation(yard, quarters, frame, scale=n), wide, high),
    ]
    for side in ("back", "left", "right"):
        draw = partial(elevation, yard, quarters, frame, side)
        lay_outs.append((side, _at(draw), wide if side == "back" else deep, high))
    lay_outs.append(("section", lambda n: side_section(yard, quarters, frame, scale=n), deep, high))
    if quarters.has_roof:
        lay_outs.append(("roof", _at(partial(roof_plan, quarters, frame)), wide, deep))
    draw = partial(foundation_plan, yard, quarters, frame)
    lay_outs.append(("foundation", _at(draw), wide, deep))
    for side in SIDES:
        draw = partial(wall_framing, yard, quarters, frame, side)
        long = wide if side in ("front", "back") else deep
        lay_outs.append((f"framing of the {side}", _at(draw), long, high))
    scenes = (
        at_largest(f"the {what} of {quarters.name!r}", lay_out, across, up)
        for what, lay_out, across, up in lay_outs
    )
    return tuple(sheet(s, f"{yard.yard.name}, {quarters.name}", s.title) for s in scenes)


def _at(draw: Callable[..., Scene]) -> Callable[[int], Scene]:
    """Let a drawing be asked for by its scale alone."""
    return lambda n: draw(scale=n)


def scales_from(wide_mm: float, high_mm: float) -> tuple[int, ...]:
    """Scales, largest first, that leave room on A3 for something of a size [mm].

    Laying a drawing out is slow, so a scale that cannot fit is not tried.
    """
    width, height = (room - DIMENSIONS_MM for room in room_mm("A3"))
    return tuple(n for n in ALL_SCALES if wide_mm / n <= width and high_mm / n <= height)


def at_largest(what: str, lay_out: Callable[[int], Scene], wide_mm: float, high_mm: float) -> Scene:
    """Lay a drawing out at the largest scale that fits on A3.

    Args:
        what: What is drawn, for the sentence that refuses it.
        lay_out: Makes the drawing for N of 1:N.
        wide_mm: Width of what is drawn, without its dimensions.
        high_mm: Height of it.

    Raises:
        Problem: If it fits at no scale.
    """
    for scale in scales_from(wide_mm, high_mm):
        scene = lay_out(scale)
        if fits(scene, "A3"):
            return scene
    raise Problem(
        f"{what} is {wide_mm:.0f} x {high_mm:.0f} mm and does not fit on A3 with its dimensions, "
        f"even at 1:{ALL_SCALES[-1]}: look for a slip in its sizes"
    )


def free_circles(yard: Yard, quarters: Quarters) -> tuple[FreeCircle, ...]:
    """Free circles of the birds that are tethered in quarters; the largest at each perch."""
    largest: dict[tuple[float, float], FreeCircle] = {}
    for case in cases(yard, quarters=quarters.name):
        for resident in case.tethered:
            circle = free_circle(yard, resident)
            for perch in tether_perches(quarters, resident):
                known = largest.get(perch.at_mm)
                if known is None or known.radius_mm < circle.radius_mm:
                    largest[perch.at_mm] = FreeCircle(
                        at_mm=perch.at_mm, radius_mm=circle.radius_mm, bird=resident.bird.name
                    )
    return tuple(largest.values())
