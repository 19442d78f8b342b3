"""A bath at a larger scale: plan and section, with its waste, and what filling by itself takes.

Both views are turned to the wall that the bath is slid under, or else to the wall nearest to
it: the plan has that wall below and the room above, the section has the outside at its left.
Lengths are millimetres; heights start at the finished floor.
"""

from mewswright.build.parts import BuiltFrame
from mewswright.build.water.wash import bath_answer
from mewswright.drawing.bath_section import BathPlace, section_marks
from mewswright.drawing.bath_water import FLOOR_MM, levels_of, water_notes
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.outside import Opening, openings_seen, outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.rows import Rows
from mewswright.drawing.scene import (
    Box,
    Circle,
    Line,
    Mark,
    Point,
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
_APART_MM = 40.0  # from plan to section, on paper


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


def _place(yard: Yard, quarters: Quarters, bath: Bath) -> BathPlace:
    far = {s: -outside(quarters, s).out_mm((*bath.at_mm, 0)) for s in SIDES}
    nearest: Side = min(SIDES, key=lambda s: (far[s], SIDES.index(s)))
    side = bath.slides_under or nearest
    view = outside(quarters, side)
    x, y = bath.size_mm
    along, deep = (x, y) if side in ("front", "back") else (y, x)
    return BathPlace(
        bath, view, view.u_mm(*bath.at_mm), far[side], along, deep,
        bath.slides_under is not None or far[side] - deep / 2 <= NEAR_MM,
        bath_answer(yard, quarters, bath), levels_of(bath),
    )  # fmt: skip


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, place: BathPlace, number: int, scale: int
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
    cut, more = section_marks(quarters, frame, place, through, hole, low, high, x0, letters)
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


def _outline(place: BathPlace, inset: float, title: str, *, water: bool = False) -> Mark:
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


def _plan_marks(
    place: BathPlace, wall: list[Piece], hole: Opening | None, low: float
) -> list[Mark]:
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


def _plan_rows(
    place: BathPlace, marks: list[Mark], hole: Opening | None, letters: Lettering
) -> Rows:
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


def _notes(
    quarters: Quarters, place: BathPlace, hole: Opening | None,
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
