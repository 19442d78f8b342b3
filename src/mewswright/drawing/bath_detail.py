"""A bath at a larger scale: plan and section, with its waste, and what filling by itself takes.

Both views are turned to the wall that the bath is slid under, or else to the wall nearest to
it: the plan has that wall below and the room above, the section has the outside at its left.
Lengths are millimetres; heights start at the finished floor.
"""

from dataclasses import dataclass

from mewswright.build.parts import BuiltFrame
from mewswright.build.water.answers import BathAnswer
from mewswright.build.water.wash import bath_answer
from mewswright.drawing.bath_water import FLOOR_MM, Levels, levels_of, supply_marks, water_notes
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.hatch_detail import FLAP_MM
from mewswright.drawing.outside import Opening, Outside, openings_seen, outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.rows import Rows
from mewswright.drawing.scene import (
    Box,
    Circle,
    Line,
    Mark,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)
from mewswright.drawing.timber import Piece
from mewswright.drawing.wall_detail import (
    caption,
    cut_level,
    cut_list,
    cut_upright,
    finished,
    floor_line,
    mark_names,
    rect,
    shifted,
    timber_marks,
)
from mewswright.model.fitting import Bath, Side
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

NEAR_MM = 900.0  # a wall nearer to the bath than this is drawn with it
BESIDE_MM = 250.0  # of floor beside the bath
ABOVE_MM = 350.0  # of the wall above the floor, over the bath's rim
WASTE_MM = 20.0  # judgement: top of the waste under the finished floor where it begins
_APART_MM = 40.0  # from plan to section, on paper


@dataclass(frozen=True)
class Place:
    """A bath as both views see it: along its wall, and how far inside of it [mm]."""

    bath: Bath
    view: Outside
    u_mm: float
    in_mm: float
    along_mm: float  # size along the wall
    deep_mm: float  # size into the room
    shows_wall: bool
    answer: BathAnswer
    levels: Levels


def bath_detail(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, bath: Bath, number: int = 1, *,
    scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw one bath of a unit.

    Args:
        yard: The yard, for its taps and frost.
        quarters: The unit.
        frame: Its parts.
        bath: The bath.
        number: Its number among the unit's sheets of baths.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "bath-NUMBER" with items "bath:NAME" and "part:MARK".

    Raises:
        Problem: For a pitch, which has no walls.
    """
    place = _place(yard, quarters, bath)
    return at_scale(
        lambda n: _laid_out(yard, quarters, frame, place, number, n), scale, paper, size_mm(bath)
    )


def size_mm(bath: Bath) -> tuple[float, float]:
    """Give what both views cover at least, without dimensions [mm]."""
    return 2 * min(bath.size_mm) + 2 * BESIDE_MM, max(bath.rim_height_mm, min(bath.size_mm))


def _place(yard: Yard, quarters: Quarters, bath: Bath) -> Place:
    far = {s: -outside(quarters, s).out_mm((*bath.at_mm, 0)) for s in SIDES}
    nearest: Side = min(SIDES, key=lambda s: (far[s], SIDES.index(s)))
    side = bath.slides_under or nearest
    view = outside(quarters, side)
    x, y = bath.size_mm
    along, deep = (x, y) if side in ("front", "back") else (y, x)
    return Place(
        bath, view, view.u_mm(*bath.at_mm), far[side], along, deep,
        bath.slides_under is not None or far[side] - deep / 2 <= NEAR_MM,
        bath_answer(yard, quarters, bath), levels_of(bath),
    )  # fmt: skip


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, place: Place, number: int, scale: int
) -> Scene:
    letters = Lettering(scale, boxed=True)
    bath, view = place.bath, place.view
    hole = next((o for o in openings_seen(yard, view) if o.item == item_of(bath)), None)
    over = max(place.levels.rim, 0.0)
    left = place.u_mm - place.along_mm / 2 - BESIDE_MM
    right = place.u_mm + place.along_mm / 2 + BESIDE_MM
    low = -frame.wall_mm - BESIDE_MM if place.shows_wall else place.in_mm - place.deep_mm
    high = place.in_mm + place.deep_mm / 2 + BESIDE_MM
    level = max(0.0, (hole.low[1] + hole.high[1]) / 2 if hole else over + 10)
    walls: tuple[list[Piece], list[Piece]] = ([], [])
    if place.shows_wall:
        walls = (
            cut_level(frame, view, level, Box(left, low, right, high)),
            cut_upright(frame, view, place.u_mm, Box(low, -BESIDE_MM, high, over + ABOVE_MM)),
        )
    plan = _plan_marks(place, walls[0], hole, low)
    rows = _plan_rows(place, plan, hole, letters)
    x0 = rows.box.right + _APART_MM * scale - low
    through = shifted(walls[1], x0)
    cut, more = _section_marks(quarters, frame, place, through, hole, low, high, x0, letters)
    drawn = [*plan, *cut]
    avoid_marks(letters, [m for m in drawn if m.layer in ("timber", "openings", "fittings")])
    names = caption(plan, f"plan, the {view.side} below", letters)
    names += caption(cut, f"cut through, the {view.side} at the left", letters)
    names += mark_names([*walls[0], *through], letters)
    return finished(
        letters, f"bath-{number}", f"{bath.name}, {quarters.name}",
        f"Plan and section: {fitting_title(bath)}.", dims=[*rows.marks, *more], drawn=drawn,
        names=names, lines=_notes(quarters, place, hole, walls),
    )  # fmt: skip


def _outline(place: Place, inset: float, title: str, *, water: bool = False) -> Mark:
    u, y, item = place.u_mm, place.in_mm, item_of(place.bath)
    if place.bath.diameter_mm is not None:
        return Circle(
            layer="fittings", pen="medium" if inset == 0 else "hair", centre=(u, y),
            radius=place.bath.diameter_mm / 2 - inset, fill="water" if water else "paper",
            item=item, title=title,
        )  # fmt: skip
    a, b = place.along_mm / 2 - inset, place.deep_mm / 2 - inset
    return rect((u - a, y - b), (u + a, y + b), item, title, fill="water" if water else "paper",
                layer="fittings", pen="medium" if inset == 0 else "hair")  # fmt: skip


def _plan_marks(place: Place, wall: list[Piece], hole: Opening | None, low: float) -> list[Mark]:
    bath, u, y = place.bath, place.u_mm, place.in_mm
    item, title = item_of(bath), fitting_title(bath)
    marks: list[Mark] = [*timber_marks(wall, is_cut=True)]
    if place.shows_wall:
        half = place.along_mm / 2 + BESIDE_MM
        marks.append(
            Line(layer="walls", pen="medium", a=(u - half, 0), b=(u + half, 0),
                 item=f"face:{place.view.side}", title="Clear inside face")
        )  # fmt: skip
    if hole is not None:
        marks += [
            Line(layer="openings", pen="hair", dash="dashed", a=(x, low), b=(x, y), item=item,
                 title="The way that it is slid")
            for x in (u - place.along_mm / 2, u + place.along_mm / 2)
        ]  # fmt: skip
    inset = min(FLOOR_MM, place.along_mm / 4, place.deep_mm / 4)
    marks += [_outline(place, 0, title), _outline(place, inset, "Water", water=True)]
    arm = min(place.along_mm, place.deep_mm) / 8
    marks += [
        Line(layer="fittings", pen="hair", dash="centre", a=(u - arm, y), b=(u + arm, y)),
        Line(layer="fittings", pen="hair", dash="centre", a=(u, y - arm), b=(u, y + arm)),
    ]
    if bath.drains:
        outlet = place.answer.outlet_mm
        marks += [
            Circle(layer="fittings", centre=(u, y), radius=outlet / 2, fill="ink", item=item,
                   title=f"Waste, {whole(outlet)} wide"),
            Line(layer="fittings", pen="medium", dash="dashed", a=(u, y), b=(u, low), arrow=True,
                 item=item, title="Waste pipe under the floor, falling this way"),
        ]  # fmt: skip
    return marks


def _plan_rows(place: Place, marks: list[Mark], hole: Opening | None, letters: Lettering) -> Rows:
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, letters.scale)))
    u, y, item = place.u_mm, place.in_mm, item_of(place.bath)
    a, b = place.along_mm / 2, place.deep_mm / 2
    size = "Ø" if place.bath.diameter_mm is not None else ""
    rows.single("top", (u - a, y), (u + a, y), prefix=size, item=item, title="Size of the bath")
    if not size:
        rows.single("right", (u, y - b), (u, y + b), item=item, title="Size of the bath")
    if place.shows_wall:
        edge = u + a
        places: list[Point] = [(edge, v) for v in (0.0, y - b, y) if v >= 0]
        rows.parts("right", places, whole="middle ", item=item, title="From the clear inside face")
    if hole is not None:
        rows.single("bottom", (hole.low[0], 0), (hole.high[0], 0), prefix="clear ", item=item,
                    title="Clear width of the opening that it is slid through")  # fmt: skip
    rows.finish()
    return rows


def _section_marks(
    quarters: Quarters, frame: BuiltFrame, place: Place, through: list[Piece],
    hole: Opening | None, low: float, high: float, x0: float, letters: Lettering,
) -> tuple[list[Mark], list[Mark]]:  # fmt: skip
    """Draw the section with its left edge at `low`, moved by `x0`; marks and dimensions."""
    bath, levels = place.bath, place.levels
    item, title = item_of(bath), fitting_title(bath)
    deep = quarters.floor.depth_mm
    a, b = x0 + place.in_mm - place.deep_mm / 2, x0 + place.in_mm + place.deep_mm / 2
    inside = max(x0, x0 + low)
    marks: list[Mark] = []
    if deep > 0:
        marks.append(
            Polygon(
                layer="floor", pen="hair", fill="ground", hatch="gravel", item="floor:all",
                points=((inside, -deep), (x0 + high, -deep), (x0 + high, 0), (inside, 0)),
                title=f"{quarters.floor.substrate}, {deep:g} mm deep",
            )
        )  # fmt: skip
    marks += [floor_line(x0 + low, x0 + high), *timber_marks(through, is_cut=True)]
    if bath.platform_mm > 0:
        marks.append(rect((a, 0), (b, bath.platform_mm), item, "Platform", fill="timber",
                          layer="fittings", pen="medium"))  # fmt: skip
    inset = min(FLOOR_MM, (b - a) / 4)
    marks += [
        rect((a, levels.foot), (b, levels.rim), item, title, fill="paper", layer="fittings",
             pen="medium"),
        rect((a + inset, levels.bottom), (b - inset, levels.water), item, "Water", fill="water",
             layer="fittings", pen="hair"),
    ]  # fmt: skip
    if hole is not None:
        face, foot, head = x0 - frame.wall_mm, hole.low[1], hole.high[1]
        marks += [
            rect((face, foot), (x0, head), item, hole.title, layer="openings", pen="hair"),
            rect((face, foot), (face + FLAP_MM, head), item, "Flap", fill="cut", layer="openings"),
        ]
    if bath.drains:
        run = place.in_mm - low
        fall = place.answer.waste_fall_mm_per_m[0] * run / 1000
        x, top = x0 + place.in_mm, min(-WASTE_MM, levels.foot - WASTE_MM)
        wide = place.answer.outlet_mm
        marks += [
            Line(layer="fittings", a=(x + wide / 2, top), b=(x0 + low, top - fall), item=item,
                 title="Waste pipe"),
            Line(layer="fittings", a=(x + wide / 2, top - wide), b=(x0 + low, top - wide - fall),
                 item=item, title="Waste pipe", arrow=True),
            rect((x - wide / 2, top - wide), (x + wide / 2, levels.bottom), item, "Waste",
                 layer="fittings"),
        ]  # fmt: skip
    fill = place.answer.automatic
    if fill is not None:
        marks += supply_marks(fill, levels, a, b, item)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, letters.scale)))
    wall = [(x0, 0.0)] if place.shows_wall and a > x0 else []
    rows.parts("bottom", [*wall, (a, 0), (b, 0)], item=item, title="From the clear inside face")
    rows.single("right", (b, levels.bottom), (b, levels.water), prefix="water ", item=item,
                title="Depth of water when full")  # fmt: skip
    if fill is not None:
        rows.single("right", (b, levels.water), (b, levels.water + fill.air_gap_mm),
                    prefix="air gap ", item=item,
                    title="From the highest water to the inlet")  # fmt: skip
    heights = sorted({levels.rim, *([bath.platform_mm] if bath.platform_mm > 0 else [])})
    rows.running("right", "platform and rim, from floor", 0, [(b, z) for z in heights])
    if hole is not None:
        rows.running("left", "opening, from floor", 0,
                     [(x0 - frame.wall_mm, z) for z in (hole.low[1], hole.high[1])])  # fmt: skip
    if deep > 0:
        rows.single("left", (inside, -deep), (inside, 0), item="floor:all",
                    title="Depth of the substrate")  # fmt: skip
    rows.finish()
    return marks, rows.marks


def _notes(
    quarters: Quarters, place: Place, hole: Opening | None,
    walls: tuple[list[Piece], list[Piece]],
) -> list[str]:  # fmt: skip
    bath = place.bath
    x, y = (whole(v) for v in bath.at_mm)
    lines = [
        f"{fitting_title(bath)}. Its middle lies {x} from the clear left and {y} behind the clear "
        f"front; filled from {'the corridor' if bath.filled_from == 'corridor' else 'inside'}."
    ]
    if hole is not None:
        lines.append(
            f"It is slid in from outside under the {bath.slides_under}: {hole.title}; a flap over "
            "the opening, hung at its top edge, shut and latched when the bath is in and when it "
            "is out."
        )
        lines += _in_the_way(hole, walls[1])
    lines += water_notes(bath, place.levels, place.answer)
    floor = quarters.floor
    if floor.fall_pct > 0:
        lines.append(f"The floor falls {floor.fall_pct:g} % towards its drain.")
    return lines + cut_list([*walls[0], *walls[1]])


def _in_the_way(hole: Opening, through: list[Piece]) -> list[str]:
    """Say what timber reaches into the opening of a bath, which the frame does not cut away."""
    foot = hole.low[1]
    tops = {
        p.part.mark: (p.part.what, max(z for _, z in p.points)) for p in through
        if p.part.kind == "sole"
    }  # fmt: skip
    return [
        f"{mark} ({what}) reaches {whole(top - foot)} into the opening: bear the bath on a "
        f"platform {whole(top)} high, or cut it out between the jambs and strap it to the base."
        for mark, (what, top) in tops.items()
        if top > foot + 0.5
    ]
