"""The roof plan of one unit: rafters, blocking and deck from above, and the way water runs."""

from math import hypot

from mewswright.build.gutter_parts import PIPE
from mewswright.build.gutter_shapes import SIDES
from mewswright.build.parts import BuiltFrame
from mewswright.drawing.fall_words import fall_text, slope_texts
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import middle, seen
from mewswright.drawing.rain_marks import rain_notes, rain_parts, rain_pieces
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import Line, Mark, Point, Polygon, Scene, box_of, extent, whole
from mewswright.drawing.timber import Piece, part_marks, part_title, piece_mark, pieces_of
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters

_TIMBER = ("ridge", "rafter", "nogging", "batten")


def roof_plan(
    quarters: Quarters, frame: BuiltFrame, *, scale: int | None = None, paper: Paper = "A3"
) -> Scene:
    """Draw the roof from above, front at the bottom; covering left off, joints of the deck shown.

    Rafters and overhangs are measured level, as on every drawing; along the slope they
    are longer, which the notes give.

    Args:
        quarters: The unit.
        frame: Its parts.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene with items "part:MARK", "roof:all" and "frame:all".

    Raises:
        Problem: For quarters without a roof.
    """
    if quarters.roof is None or not quarters.has_roof:
        raise Problem(f"{quarters.name!r} has no roof to draw")
    least = (frame.outer_width_mm, frame.outer_depth_mm)
    return at_scale(lambda n: _laid_out(quarters, frame, n), scale, paper, least)


def roof_outline_mm(quarters: Quarters, frame: BuiltFrame) -> tuple[Point, Point]:
    """Give the lower left and upper right corner of the roof, measured level [mm]."""
    assert quarters.roof is not None
    over = frame.wall_mm + quarters.roof.overhang_side_mm
    return (
        (-over, frame.roof_front_edge_mm[1]),
        (quarters.width_mm + over, frame.roof_back_edge_mm[1]),
    )


def _laid_out(quarters: Quarters, frame: BuiltFrame, scale: int) -> Scene:
    letters = Lettering(scale, boxed=True)
    (left, front), (right, back) = roof_outline_mm(quarters, frame)
    parts = [
        p
        for p in frame.parts
        if p.kind in ("ridge", "rafter") or p.what in ("blocking between rafters", "roof batten")
    ]
    timber = pieces_of(parts, "plan")
    deck = pieces_of((p for p in frame.parts if p.kind == "deck"), "plan")
    t, w, d = frame.wall_mm, quarters.width_mm, quarters.depth_mm
    marks: list[Mark] = [
        Polygon(
            layer="roof", pen="medium", item="roof:all", title="Edge of the roof",
            points=((left, front), (right, front), (right, back), (left, back)),
        ),
        *(piece_mark(p) for p in timber),
        *(
            Polygon(
                layer="deck", pen="thin", dash="dashed", points=p.points,
                item=f"part:{p.part.mark}", title=part_title(p.part),
            )
            for p in deck
        ),
        Polygon(
            layer="walls", pen="thin", dash="centre", item="frame:all",
            points=((-t, -t), (w + t, -t), (w + t, d + t), (-t, d + t)),
            title="Outer face of the frame, below",
        ),
    ]  # fmt: skip
    rain = rain_pieces(rain_parts(frame), lambda place: seen(place, "plan"))
    marks += [piece_mark(piece, layer="rain") for piece in rain]
    arrow = _fall_arrow(quarters, frame, scale)
    marks += arrow
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    _dimension(rows, quarters, frame, timber)
    rows.finish()
    avoid_marks(letters, [m for m in marks if m.layer == "timber"] + rows.marks)
    names: list[Mark] = []
    for line, says in zip(arrow, slope_texts(quarters), strict=False):
        assert isinstance(line, Line)
        names += letters.label(
            line.a, f"Roof {says}", item="roof:all", bold=True,
            gap_mm=1.5, title=f"Roof {says}",
            prefer=(270,) if line.a[1] < line.b[1] else (90,),
        )  # fmt: skip
    names += part_marks(timber, letters)
    names += part_marks(rain, letters)
    names += _deck_marks(deck, letters)
    box = rows.box
    notes = notes_below(letters, box.left, box.bottom, _notes(quarters, frame))
    return Scene(
        name="roof",
        title=f"Roof plan of {quarters.name}",
        description=(
            f"From above, front at the bottom, measured level: {whole(right - left)} by "
            f"{whole(back - front)} mm; {fall_text(quarters)}."
        ),
        scale=scale,
        marks=(*marks, *rows.marks, *names, *notes),
        north_deg=(180 - quarters.facing_deg) % 360,
    )


def _fall_arrow(quarters: Quarters, frame: BuiltFrame, scale: int) -> list[Mark]:
    if not frame.roof_pitch_deg:
        return []
    # Beside the middle, clear of the middle rafter.
    x, long = quarters.width_mm * 0.53, min(quarters.depth_mm * 0.5, 60 * scale)
    ends = [(x, quarters.depth_mm / 2 + s * long / 2) for s in (-1, 1)]
    if frame.roof_ridge_mm is not None:
        at = frame.roof_ridge_mm[1]
        return [
            Line(layer="roof", pen="medium", arrow=True, item="roof:all",
                 a=(x, at + (eave - at) * 0.3), b=(x, at + (eave - at) * 0.75))
            for eave in (0.0, quarters.depth_mm)
        ]  # fmt: skip
    a, b = ends if frame.roof_pitch_deg > 0 else ends[::-1]
    return [Line(layer="roof", pen="medium", a=a, b=b, arrow=True, item="roof:all")]


def _deck_marks(deck: list[Piece], letters: Lettering) -> list[Mark]:
    """Mark every sheet: their places differ where their sizes do not."""
    marks: list[Mark] = []
    for piece in deck:
        marks += letters.label(
            middle(piece.points), piece.part.mark, item=f"part:{piece.part.mark}",
            title=part_title(piece.part), layer="part-marks", css="part-mark", gap_mm=1.0,
        )  # fmt: skip
    return marks


def _notes(quarters: Quarters, frame: BuiltFrame) -> list[str]:
    assert quarters.roof is not None
    front, back = frame.roof_front_edge_mm, frame.roof_back_edge_mm
    ridge = frame.roof_ridge_mm or back
    slope = hypot(ridge[1] - front[1], ridge[2] - front[2])
    long = whole(slope)
    if frame.roof_ridge_mm is not None:
        long = f"{long} and {whole(hypot(back[1] - ridge[1], back[2] - ridge[2]))}, eave to ridge"
    lines = [
        f"Roof {fall_text(quarters)}. Measured level; along the slope, edge to edge of a rafter, "
        f"{long}. Rafters are measured from the outer left face of the frame, to their "
        "middles.",
    ]
    lines += [
        f"{part_title(p)}; {p.count} of them." for p in frame.parts if p.kind in ("ridge", "rafter")
    ]
    deck = [p for p in frame.parts if p.kind == "deck"]
    if deck:
        lines.append(f"Deck {deck[0].material}: {deck[0].note}. Its edges follow the slope.")
        lines += ["; ".join(f"{p.count} × {p.mark} {p.length_mm:.0f} × {p.width_mm:.0f}"
                            for p in deck) + "."]  # fmt: skip
    lines += [
        f"Covering {p.mark}: {p.count} × {p.what}, {p.note}."
        for p in frame.parts
        if p.kind == "covering"
    ]
    lines += rain_notes(frame)
    return lines


def _dimension(rows: Rows, quarters: Quarters, frame: BuiltFrame, timber: list[Piece]) -> None:
    (left, front), (right, back) = roof_outline_mm(quarters, frame)
    t, w, d = frame.wall_mm, quarters.width_mm, quarters.depth_mm
    rafters: list[Point] = [middle(p.points) for p in timber if p.part.kind == "rafter"]
    rows.running("bottom", "rafters, from outer left", -t, rafters, witness=False)
    rows.roof("bottom", ((left, front), (right, front)), ((-t, front), (w + t, front)), "roof ")
    rows.roof("left", ((left, front), (left, back)), ((left, -t), (left, d + t)), "roof, level ")
    if (ridge := frame.roof_ridge_mm) is not None:
        rows.parts("left", [(left, -t), (left, ridge[1]), (left, d + t)], whole="frame ",
                   item="roof:all", title="Ridge, from the outer face of the frame")  # fmt: skip
    outlets = [
        middle(seen(panel.corners_mm[0], "plan") for panel in part.panels[:SIDES])
        for part in rain_parts(frame)
        if part.what == PIPE
    ]
    rows.running("top", "outlets, from outer left", -t, outlets, witness=False)
    battens: list[Point] = [middle(p.points) for p in timber if p.part.kind == "batten"]
    rows.running("right", "roof battens, from outer front, level", -t, battens, witness=False)
