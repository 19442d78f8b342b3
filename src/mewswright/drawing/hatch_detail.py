"""A hatch at a larger scale: its opening, trimming, flap, hinges and bolts, ledge and heights.

Drawn from outside, and beside it the wall cut through the hatch, the outside at the left.
Lengths are millimetres; heights start at the finished floor.
"""

from collections.abc import Sequence

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.outside import Opening, Outside, openings_seen, outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.rows import Rows
from mewswright.drawing.scene import Arc, Box, Mark, Scene, box_of, extent, whole
from mewswright.drawing.timber import Piece
from mewswright.drawing.wall_detail import (
    caption,
    cut_list,
    cut_upright,
    finished,
    floor_line,
    mark_names,
    rect,
    seen_near,
    shifted,
    timber_marks,
)
from mewswright.model.fitting import Hatch
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

FLAP_GAP_MM = 3.0  # judgement: clear between flap and opening, all round
FLAP_MM = 18.0  # judgement: thickness of a flap
BESIDE_MM = 200.0  # of the wall beside and above the hatch, as far as it is drawn
_LEDGE_MM = 18.0  # thickness that the ledge is drawn with; the yard file has none
_HINGE_MM = 60.0  # judgement: length of a hinge
_FROM_END_MM = 60.0  # judgement: middle of a hinge from the flap's end
_APART_MM = 40.0  # from elevation to section, on paper


def hatch_detail(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, hatch: Hatch, number: int = 1, *,
    scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw one hatch of a unit.

    Args:
        yard: The yard, for the openings of the wall.
        quarters: The unit.
        frame: Its parts.
        hatch: The hatch.
        number: Its number among the unit's sheets of hatches.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "hatch-NUMBER" with items "hatch:NAME" and "part:MARK".

    Raises:
        Problem: For a pitch, which has no walls.
    """
    view = outside(quarters, hatch.face)
    seen = next(o for o in openings_seen(yard, view) if o.item == item_of(hatch))
    return at_scale(
        lambda n: _laid_out(quarters, frame, hatch, view, seen, number, n), scale, paper,
        size_mm(hatch),
    )  # fmt: skip


def size_mm(hatch: Hatch) -> tuple[float, float]:
    """Give what both views cover at least, without dimensions [mm]."""
    return 2 * hatch.width_mm + 2 * BESIDE_MM, hatch.sill_mm + hatch.height_mm + BESIDE_MM


def _laid_out(
    quarters: Quarters, frame: BuiltFrame, hatch: Hatch, view: Outside, seen: Opening, number: int,
    scale: int,
) -> Scene:  # fmt: skip
    letters = Lettering(scale, boxed=True)
    (left, low), (right, high) = seen.low, seen.high
    near = seen_near(
        frame, view, Box(left - BESIDE_MM, -BESIDE_MM, right + BESIDE_MM, high + BESIDE_MM)
    )
    marks = _elevation(hatch, near, seen)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    item = seen.item
    rows.single("bottom", (left, low), (right, low), prefix="clear ", item=item, title="Width")
    jambs = [u for p in near if p.part.what == "jamb" for u, _ in p.points]
    if hatch.closes:
        a, b = left + FLAP_GAP_MM, right - FLAP_GAP_MM
        rows.single("bottom", (a, low), (b, low), prefix="flap ", item=item, title="Width of flap")
        a, b = low + FLAP_GAP_MM, high - FLAP_GAP_MM
        rows.single("left", (left, a), (left, b), prefix="flap ", item=item, title="Height of flap")
    if jambs and min(jambs) < left and max(jambs) > right:
        rows.single(
            "bottom", (min(jambs), low), (max(jambs), low), prefix="over jambs ",
            title="Over the jambs",
        )  # fmt: skip
    rows.parts("right", [(right, 0), (right, low), (right, high)], item=item,
               title="Sill over the floor, clear height, and head over the floor")  # fmt: skip
    rows.finish()
    x0 = rows.box.right + (_APART_MM * scale) + frame.wall_mm + BESIDE_MM
    through = _through(frame, view, seen, hatch)
    beside, across = _section(frame, hatch, seen, shifted(through, x0), x0, letters)
    avoid_marks(letters, [m for m in (*marks, *beside) if m.layer in ("timber", "openings")])
    names = caption(marks, "from outside", letters)
    names += caption(beside, "cut through, outside at the left", letters)
    names += mark_names(near, letters)
    names += mark_names(shifted([p for p in through if p.part.section], x0), letters)
    return finished(
        letters, f"hatch-{number}", f"{hatch.name}, {quarters.name}",
        f"Seen from outside, with the wall cut through it: {fitting_title(hatch)}.",
        dims=[*rows.marks, *across], drawn=[*marks, *beside], names=names,
        lines=_notes(quarters, hatch, seen, view, [*near, *through]),
    )  # fmt: skip


def _elevation(hatch: Hatch, near: Sequence[Piece], seen: Opening) -> list[Mark]:
    (left, low), (right, high) = seen.low, seen.high
    item, title = seen.item, fitting_title(hatch)
    marks = [floor_line(left - BESIDE_MM, right + BESIDE_MM), *timber_marks(near)]
    marks.append(rect(seen.low, seen.high, item, title, pen="medium", layer="openings"))
    if not hatch.closes:
        return marks
    a, b = left + FLAP_GAP_MM, right - FLAP_GAP_MM
    foot, top = low + FLAP_GAP_MM, high - FLAP_GAP_MM
    marks.append(rect((a, foot), (b, top), item, "Flap", fill="boards", layer="openings"))
    half, inset = _HINGE_MM / 2, min(_FROM_END_MM, (b - a) / 4)
    marks += [
        rect((u - half, top - 12), (u + half, high + 12), item, "Hinge", fill="ink",
             layer="openings")
        for u in (a + inset, b - inset)
    ]  # fmt: skip
    middle = (left + right) / 2
    marks.append(
        rect((middle - 10, low - 20), (middle + 10, foot + 40), item, "Bolt", fill="cut",
             layer="openings")
    )  # fmt: skip
    return marks


def _through(frame: BuiltFrame, view: Outside, seen: Opening, hatch: Hatch) -> list[Piece]:
    """What the wall's cut shows: from outside its boards to past the ledge."""
    inside = max(hatch.ledge_mm, BESIDE_MM)
    box = Box(-frame.wall_mm - BESIDE_MM, -BESIDE_MM, inside, seen.high[1] + BESIDE_MM)
    return cut_upright(frame, view, (seen.low[0] + seen.high[0]) / 2, box)


def _section(
    frame: BuiltFrame, hatch: Hatch, seen: Opening, through: Sequence[Piece], x0: float,
    letters: Lettering,
) -> tuple[list[Mark], list[Mark]]:  # fmt: skip
    """Draw the wall cut through the hatch; its marks, and its dimensions."""
    low, high, t = seen.low[1], seen.high[1], frame.wall_mm
    item, title = seen.item, fitting_title(hatch)
    marks: list[Mark] = [
        floor_line(x0 - t - BESIDE_MM, x0 + max(hatch.ledge_mm, BESIDE_MM)),
        *timber_marks(through, is_cut=True),
        rect((x0 - t, low), (x0, high), item, title, pen="hair", layer="openings"),
    ]
    foot, top = low + FLAP_GAP_MM, high - FLAP_GAP_MM
    flaps = [x0 - t] if hatch.closes else []
    if hatch.closes and hatch.blind:
        flaps.append(x0 - FLAP_MM)
    for i, x in enumerate(flaps):
        marks.append(
            rect((x, foot), (x + FLAP_MM, top), item, "Flap", fill="cut", layer="openings")
        )
        pivot = (x, top) if i == 0 else (x + FLAP_MM, top)
        start = 180 if i == 0 else 270
        marks.append(
            Arc(layer="openings", pen="hair", dash="dashed", centre=pivot, radius=top - foot,
                start_deg=start, end_deg=start + 90, item=item, title="Swing of the flap")
        )  # fmt: skip
    if hatch.ledge_mm > 0:
        marks.append(
            rect((x0, low - _LEDGE_MM), (x0 + hatch.ledge_mm, low), item, "Ledge", fill="timber",
                 layer="fittings", pen="medium")
        )  # fmt: skip
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, letters.scale)))
    edges = [(x0 - t, low), (x0, low), (x0 + hatch.ledge_mm, low)]
    rows.parts("bottom", edges, item=item, title="Thickness of the frame, and depth of the ledge")
    heights = [
        (x0, v) for p in through if p.part.kind == "trim"
        for v in (min(z for _, z in p.points), max(z for _, z in p.points))
    ]  # fmt: skip
    rows.running("right", "sill and lintel, from floor", 0, heights)
    rows.finish()
    return marks, rows.marks


def _notes(
    quarters: Quarters, hatch: Hatch, seen: Opening, view: Outside, pieces: Sequence[Piece]
) -> list[str]:
    ends = f"{whole(seen.low[0])} and {whole(seen.high[0])}"
    lines = [
        f"{fitting_title(hatch)}. In the {hatch.face} of {quarters.name}: jambs {ends} from the "
        f"clear inside {view.left_hand}, seen from outside. The wall is drawn {whole(BESIDE_MM)} "
        "beside and above it; boards are notched round the opening."
    ]
    if hatch.closes:
        second = (
            " The bird does not see who fills it: two flaps, hung alike; a sleeve serves as well."
            if hatch.blind else ""
        )  # fmt: skip
        lines.append(
            f"Flap {whole(FLAP_MM)} thick, {whole(FLAP_GAP_MM)} clear all round, hung at its top "
            "edge so that it falls shut, bolted at its foot; thickness, gap, hinges and bolt are "
            f"judgement, for the joiner to settle.{second}"
        )
    else:
        lines.append("No flap: the yard file says that it does not shut.")
    if hatch.ledge_mm == 0:
        lines.append("No ledge inside.")
    served = [f"Filled from: {hatch.served_from}."] if hatch.served_from else []
    parts = cut_list(pieces)
    if not any(p.part.kind == "trim" for p in pieces):
        parts.append("No timber trims it here: see the framing of this wall.")
    return [*lines, *served, *parts]
