"""The foundation plan of one unit: its base, its outer corners, and how they are set out."""

from collections.abc import Sequence
from math import hypot

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.anchor_marks import anchor_marks
from mewswright.drawing.fixed_points import (
    FixedPoint,
    flattest_deg,
    side_of,
    two_points,
)
from mewswright.drawing.footing_marks import (
    above_ground,
    base_words,
    courses_notes,
    footing_names,
    footing_spots,
    ground_of,
    hole_marks,
    is_below,
    level_notes,
)
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.row_marks import clear_edges
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import Line, Mark, Point, Polygon, Scene, box_of, extent, whole
from mewswright.drawing.timber import Piece, part_marks, piece_mark, pieces_of
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

# Two lengths half a millimetre off miss by 0.5 / sin of half the angle at which they cross.
_WHOLE_FROM_DEG = 62.0
CORNERS = "ABCD"  # front left, front right, back right, back left, over the frame


def foundation_plan(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, *, scale: int | None = None,
    paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw what a unit stands on, front at the bottom, with all that sets it out.

    Args:
        yard: The yard, for the two fixed points that tapes are held to.
        quarters: The unit.
        frame: Its parts.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene with items "part:MARK" and "corner:A" to "corner:D".
    """
    least = (frame.outer_width_mm, frame.outer_depth_mm)
    return at_scale(lambda n: _laid_out(yard, quarters, frame, n), scale, paper, least)


def outer_corners_mm(quarters: Quarters, frame: BuiltFrame) -> tuple[Point, ...]:
    """Give the outer corners of the frame: front left, front right, back right, back left."""
    t, w, d = frame.wall_mm, quarters.width_mm, quarters.depth_mm
    return ((-t, -t), (w + t, -t), (w + t, d + t), (-t, d + t))


def _laid_out(yard: Yard, quarters: Quarters, frame: BuiltFrame, scale: int) -> Scene:
    letters = Lettering(scale)
    base = pieces_of((p for p in frame.parts if p.kind == "base"), "plan")
    corners = outer_corners_mm(quarters, frame)
    w, d = quarters.width_mm, quarters.depth_mm
    ground = ground_of(yard, quarters)
    marks: list[Mark] = list(hole_marks(frame))
    held, held_words = anchor_marks(yard, quarters, frame)
    marks += [piece_mark(p, layer="base") for p in above_ground(base)]
    marks += [
        Polygon(
            layer="setting-out", pen="medium", points=corners, item="frame:all",
            title="Outer face of the frame",
        ),
        Polygon(
            layer="setting-out", pen="hair", dash="dashed", item="floor:all",
            points=((0, 0), (w, 0), (w, d), (0, d)), title="Clear inside",
        ),
        Line(layer="setting-out", pen="hair", dash="centre", a=corners[0], b=corners[2]),
        Line(layer="setting-out", pen="hair", dash="centre", a=corners[1], b=corners[3]),
    ]  # fmt: skip
    marks += held
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    _dimension(rows, quarters, frame, base, corners)
    rows.finish()
    avoid_marks(letters, marks + rows.marks)
    names: list[Mark] = []
    for letter, corner in zip(CORNERS, corners, strict=True):
        names += letters.label(
            corner, letter, item=f"corner:{letter}", title=f"Corner {letter} of the frame",
            bold=True, height_mm=4.0, gap_mm=2.5, layer="setting-out",
        )  # fmt: skip
    diagonal = hypot(frame.outer_width_mm, frame.outer_depth_mm)
    names += letters.label(
        (w / 2, d / 2), f"A to C and B to D: {whole(diagonal)} each", bold=True, gap_mm=2.0,
        layer="setting-out", item="frame:all", title="Both diagonals of the outer frame",
        prefer=(90, 270),
    )  # fmt: skip
    names += part_marks([p for p in above_ground(base) if not is_below(p.part)], letters)
    names += footing_names(frame, base, ground, letters)
    box = rows.box
    notes = notes_below(
        letters, box.left, box.bottom,
        [*setting_out_notes(yard, quarters, frame, base), *held_words],
    )  # fmt: skip
    return Scene(
        name="foundation",
        title=f"Foundation and setting-out of {quarters.name}",
        description=(
            f"Base of {base_words(quarters)}, front at the bottom; both diagonals over the frame "
            f"{whole(diagonal)} mm."
        ),
        scale=scale,
        marks=(*marks, *rows.marks, *names, *notes),
        north_deg=(180 - quarters.facing_deg) % 360,
    )


def tapes_mm(
    yard: Yard, quarters: Quarters, frame: BuiltFrame
) -> list[tuple[FixedPoint, list[float]]]:
    """Give two fixed points, each with its distances to corners A, B, C, D [mm]."""
    corners = [quarters.on_ground_m(*p) for p in outer_corners_mm(quarters, frame)]
    return [
        (
            point,
            [mm_from_m(hypot(x - point.at_m[0], y - point.at_m[1])) for x, y in corners],
        )
        for point in two_points(yard, corners)
    ]


def setting_out_notes(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, base: Sequence[Piece]
) -> list[str]:
    """Give the sentences under the plan: tapes from fixed points, levels, the base."""
    lines = [
        "A, B, C, D are the outer corners of the frame. Swing two tapes to each, then check both "
        "diagonals; they may differ by 5."
    ]
    tapes = tapes_mm(yard, quarters, frame)
    if tapes:
        corners = [quarters.on_ground_m(*p) for p in outer_corners_mm(quarters, frame)]
        lines += _tape_words(tapes, corners)
        lines.append(
            "These follow from the yard file's positions: measure once more on the ground."
        )
    else:
        lines.append(
            "The yard file has no two fixed points whose tapes cross well here: corners of "
            "boundary, buildings, walls and fences and taps would serve."
        )
    lines += level_notes(ground_of(yard, quarters), CORNERS)
    kinds = dict.fromkeys((p.part.what, p.part.note) for p in base if not is_below(p.part))
    lines += courses_notes(base)
    lines += [f"Base: {what}{f'; {note}' if note else ''}." for what, note in kinds]
    floor = quarters.floor
    if floor.depth_mm > 0:
        lines.append(
            f"Floor inside: {floor.substrate.replace('_', ' ')}, {floor.depth_mm:g} deep, its top "
            f"at the underside of the sole plates; {'on' if floor.membrane else 'no'} membrane."
        )
    return lines


def _tape_words(
    tapes: Sequence[tuple[FixedPoint, list[float]]], corners: Sequence[Point]
) -> list[str]:
    """Give the tapes in words; in tenths where whole millimetres would miss a corner by more."""
    (one, _), (other, _) = tapes
    fine = flattest_deg(one, other, corners) < _WHOLE_FROM_DEG
    lines = [
        f"From {point.name} ({_metres(point.at_m[0])} m east, {_metres(point.at_m[1])} m north): "
        + ", ".join(
            f"{c} {mm:.1f}" if fine else f"{c} {whole(mm)}"
            for c, mm in zip(CORNERS, lengths, strict=True)
        )
        + "."
        for point, lengths in tapes
    ]
    side = side_of(one, other, corners)
    return [*lines, f"Seen from {one.name} to {other.name}, all four lie to the {side}."]


def _metres(value_m: float) -> str:
    """Write a place to the millimetre, without noughts at its end."""
    return f"{value_m:z.3f}".rstrip("0").rstrip(".")


def _dimension(
    rows: Rows, quarters: Quarters, frame: BuiltFrame, base: Sequence[Piece],
    corners: Sequence[Point],
) -> None:  # fmt: skip
    w, d, t = quarters.width_mm, quarters.depth_mm, frame.wall_mm
    spots = footing_spots(base)
    if spots:
        name = "hole middles" if quarters.frame.base == "posts_in_concrete" else "pad middles"
        rows.running("bottom", f"{name}, from A", -t, spots, witness=False)
        rows.running("left", f"{name}, from A", -t, spots, witness=False)
    edges = box_of(q for p in base for q in p.points) if base else box_of(corners)
    if frame.between_mm:
        rows.parts("bottom", clear_edges(quarters, frame), whole="clear ",
                   title="Clear widths and shared walls")  # fmt: skip
    else:
        rows.single("bottom", (0, 0), (w, 0), prefix="clear ", title="Clear width")
    rows.single("left", (0, 0), (0, d), prefix="clear ", title="Clear depth")
    a, b, _, e = corners
    rows.single("bottom", a, b, prefix="A to B ", title="Outer width of the frame")
    rows.single("left", a, e, prefix="A to D ", title="Outer depth of the frame")
    if base and not spots:
        rows.parts(
            "top", [(edges.left, e[1]), e, (b[0], e[1]), (edges.right, e[1])], whole="base ",
            title="Base beyond the frame, frame, base beyond it",
        )  # fmt: skip
        rows.parts(
            "right", [(b[0], edges.bottom), b, (b[0], e[1]), (b[0], edges.top)], whole="base ",
            title="Base beyond the frame, frame, base beyond it",
        )  # fmt: skip
