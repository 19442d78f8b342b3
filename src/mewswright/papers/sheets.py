"""Every sheet of a unit, each at the largest scale that its paper has room for."""

from collections.abc import Callable
from functools import partial

from mewswright.build.materials import known_material
from mewswright.build.sheeting import sheeting_of
from mewswright.build.takeoff import TakeOff
from mewswright.checks.case import cases
from mewswright.checks.free_circle import free_circle, tether_perches
from mewswright.checks.perches import needs_most, span_mm
from mewswright.drawing.bath_detail import bath_detail
from mewswright.drawing.bath_detail import size_mm as bath_detail_size_mm
from mewswright.drawing.cross_section import cross_section
from mewswright.drawing.door_detail import door_detail
from mewswright.drawing.elevation import elevation
from mewswright.drawing.exploded import exploded_view, size_on_paper_mm, take_apart
from mewswright.drawing.foundation import foundation_plan
from mewswright.drawing.framing import wall_framing, wall_pieces
from mewswright.drawing.front import front_elevation
from mewswright.drawing.hatch_detail import hatch_detail
from mewswright.drawing.hatch_detail import size_mm as hatch_detail_size_mm
from mewswright.drawing.nest_page import nest_page, page_size_mm
from mewswright.drawing.openings import doors_of
from mewswright.drawing.outside import outside
from mewswright.drawing.paper import Paper, fits, room_mm
from mewswright.drawing.perch_plan import WingCircle, perch_plan
from mewswright.drawing.plan import FreeCircle, quarters_plan
from mewswright.drawing.rain_marks import with_rain
from mewswright.drawing.roof_plan import roof_plan
from mewswright.drawing.scene import SCALES, Scene
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import sheet
from mewswright.model.problem import Problem
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

DIMENSIONS_MM = 30.0  # what rows of dimensions or lettering take at the least, on paper
ALL_SCALES = (*SCALES, 10_000, 20_000, 50_000)  # a ground may be a whole estate
Sizes = tuple[float, float]  # of what is drawn, without its dimensions [mm]


def sheets_of(
    yard: Yard, quarters: Quarters, taken: TakeOff, paper: Paper = "A3"
) -> tuple[Scene, ...]:
    """Draw every sheet of a unit, each at the largest scale that fits.

    Plan, four elevations, two sections, roof, foundation with setting-out, perches, and the
    framing of each wall that is its own. The front elevation shows its frame, the other sides
    stand boarded.
    """
    frame, circles = taken.frame, free_circles(yard, quarters)
    whole = with_rain(yard, quarters, frame)
    wide, deep = frame.outer_width_mm, frame.outer_depth_mm
    high = max(quarters.front_height_mm or 0, quarters.back_height_mm or 0)
    drawn: list[tuple[str, Callable[..., Scene], Sizes]] = [
        ("plan", partial(quarters_plan, yard, quarters, frame, circles), (wide, deep)),
    ]
    leans = "front" in frame.shared  # a corridor: what stands in front is the row's back wall
    if not leans:
        drawn.append(("front", partial(front_elevation, yard, quarters, frame), (wide, high)))
    for side in ("back", "left", "right"):
        long = wide if side == "back" else deep
        drawn.append((side, partial(elevation, yard, quarters, frame, side), (long, high)))
    drawn += [
        ("side section", partial(side_section, yard, quarters, frame), (deep, high)),
        ("cross section", partial(cross_section, yard, quarters, frame), (wide, high)),
    ]
    if quarters.has_roof:
        drawn.append(("roof", partial(roof_plan, quarters, whole), (wide, deep)))
    drawn.append(("foundation", partial(foundation_plan, yard, quarters, frame), (wide, deep)))
    if quarters.perches:
        wings = wing_circles(yard, quarters)
        draw = partial(perch_plan, yard, quarters, frame, wings, circles)
        drawn.append(("perches", draw, (wide, deep)))
    for wall in SIDES:
        if not wall_pieces(frame, outside(quarters, wall)):
            continue  # a wall that the next unit of its row builds
        draw = partial(wall_framing, yard, quarters, frame, wall)
        long = wide if wall in ("front", "back") else deep
        drawn.append((f"framing of the {wall}", draw, (long, high)))
    placed = [d for d in doors_of(yard, quarters) if d.face is not None and d.at_mm is not None]
    for number, door in enumerate(placed, 1):
        draw = partial(door_detail, yard, quarters, frame, door, number)
        size = (2 * door.width_mm, door.sill_mm + door.height_mm)
        drawn.append((f"door {number}", draw, size))
    for number, hatch in enumerate(quarters.hatches, 1):
        draw = partial(hatch_detail, yard, quarters, frame, hatch, number)
        drawn.append((f"hatch {number}", draw, hatch_detail_size_mm(hatch)))
    for number, bath in enumerate(quarters.baths, 1):
        draw = partial(bath_detail, yard, quarters, frame, bath, number)
        drawn.append((f"bath {number}", draw, bath_detail_size_mm(bath)))
    apart = take_apart(quarters, whole)
    draw = partial(exploded_view, quarters, whole, apart)
    drawn.append(("exploded view", draw, size_on_paper_mm(apart)))
    scenes = (
        at_largest(f"the {what} of {quarters.name!r}", draw, *size, paper)
        for what, draw, size in drawn
    )
    return tuple(
        sheet(s, f"{yard.yard.name}, {quarters.name}", s.title, paper=paper) for s in scenes
    )


def sheet_plans_of(
    yard: Yard, quarters: Quarters, taken: TakeOff, paper: Paper = "A3"
) -> tuple[Scene, ...]:
    """Draw how decks and linings are sawn, one page a material, cuts in their order."""
    pages = []
    for one in sheeting_of(yard, taken.parts).plans:
        row = known_material(one.material)
        draw = partial(nest_page, one.plan, one.material, row.name if row else one.material)
        what = f"the sheet plan of {one.material} for {quarters.name!r}"
        scene = at_largest(what, draw, *page_size_mm(one.plan), paper)
        pages.append(sheet(scene, f"{yard.yard.name}, {quarters.name}", scene.title, paper=paper))
    return tuple(pages)


def scales_from(wide_mm: float, high_mm: float, paper: Paper = "A3") -> tuple[int, ...]:
    """Scales, largest first, that leave room on paper for something of a size [mm].

    Laying a drawing out is slow, so a scale that cannot fit is not tried.
    """
    width, height = (room - DIMENSIONS_MM for room in room_mm(paper))
    return tuple(n for n in ALL_SCALES if wide_mm / n <= width and high_mm / n <= height)


def at_largest(
    what: str, draw: Callable[..., Scene], wide_mm: float, high_mm: float, paper: Paper = "A3"
) -> Scene:
    """Lay a drawing out at the largest scale that fits on its paper.

    Args:
        what: What is drawn, for the sentence that refuses it.
        draw: Makes the drawing, asked for by `scale=N`.
        wide_mm: Width of what is drawn, without its dimensions.
        high_mm: Height of it.
        paper: The paper.

    Raises:
        Problem: If it fits at no scale.
    """
    for scale in scales_from(wide_mm, high_mm, paper):
        scene = draw(scale=scale)
        if fits(scene, paper):
            return scene
    raise Problem(
        f"{what} is {wide_mm:.0f} x {high_mm:.0f} mm and does not fit on {paper} with its "
        f"dimensions, even at 1:{ALL_SCALES[-1]}: look for a slip in its sizes"
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


def wing_circles(yard: Yard, quarters: Quarters) -> tuple[WingCircle, ...]:
    """Circles of the open wings over each perch of quarters, its widest user's."""
    widest: dict[str, WingCircle] = {}
    for case in cases(yard, quarters=quarters.name):
        for perch in quarters.perches:
            bird = needs_most(case, perch, span_mm)
            if bird is not None:
                circle = WingCircle(perch.name, span_mm(bird) / 2, bird.bird.name)
                known = widest.get(perch.name)
                if known is None or known.radius_mm < circle.radius_mm:
                    widest[perch.name] = circle
    return tuple(widest.values())
