"""A side of one unit as it looks when it is done: boarding, mesh, doors, roof and base."""

from collections.abc import Sequence
from dataclasses import replace

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.bar_marks import bars_label, bars_notes, crowded_bars
from mewswright.drawing.corridor_marks import corridor_rows
from mewswright.drawing.fall_words import fall_text
from mewswright.drawing.footing_marks import BURIED, ground_mark
from mewswright.drawing.front import infill_text, opening
from mewswright.drawing.outside import FLUSH_MM, Opening, Outside, openings_seen, outside, placed
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, hull, reach
from mewswright.drawing.rain_marks import (
    rain_notes,
    rain_parts,
    rain_pieces,
    rims_mm,
    with_rain,
)
from mewswright.drawing.row_marks import clear_edges
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import Fill, Line, Mark, Point, Polygon, Scene, box_of, extent, whole
from mewswright.drawing.slab_rim import rim_from_outside
from mewswright.drawing.timber import Piece, part_marks, piece_mark
from mewswright.model.fitting import Side
from mewswright.model.quarters import Face, Quarters
from mewswright.model.yard import Yard

_UNSEEN = ("perch", "bath", "hatch", "membrane", "substrate", "fixing", "rain")
_ROOF = ("rafter", "ridge", "deck", "covering")
_INTO_ROOF_MM = 20.0  # a roof that falls away is shown as a plane cuts it so far behind its edge


def elevation(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, side: Side, *,
    scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a side from outside, boarded as it will stand.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its parts; None draws outline and openings alone.
        side: Which side.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named after the side, with items "part:MARK", "face:SIDE", "door:A|B",
        "hatch:NAME".

    Raises:
        Problem: For a pitch, which has no sides to draw.
    """
    view = outside(quarters, side)
    if frame is not None:
        frame = with_rain(yard, quarters, frame)
    least = (view.run_mm, quarters.highest_mm)
    return at_scale(lambda n: _laid_out(yard, view, frame, n), scale, paper, least)


def _laid_out(yard: Yard, view: Outside, frame: BuiltFrame | None, scale: int) -> Scene:
    letters = Lettering(scale, boxed=True)
    quarters, face = view.quarters, _face(view)
    pieces = [] if frame is None else _pieces(frame, view)
    marks: list[Mark] = [_wall(view), *rim_from_outside(view, frame)]
    marks += [piece_mark(p, pen="hair" if p.part.kind == "board" else "thin") for p in pieces]
    openings = openings_seen(yard, view)
    marks += [m for o in openings for m in opening_marks(o, fill="paper")]
    ground = _floor_line(view, frame)
    if frame is not None:
        marks.append(ground_mark(yard, view, frame.wall_mm))  # over what stands in it
    rows = Rows(letters, box_of(p for m in marks + ground for p in extent(m, scale)))
    _dimension(rows, view, frame, pieces, openings)
    if view.side in ("left", "right"):
        corridor_rows(rows, yard, quarters, lambda y: view.u_mm(0, y))
    rows.finish()

    lines = [m for m in marks if m.layer == "openings"]
    avoid_marks(letters, lines + rows.marks)
    names: list[Mark] = []
    for one in openings:
        names += letters.label(
            _middle(one), one.words, item=one.item, title=one.title, centred=True
        )
    shown = ("rain", "board", "mesh", "net", "covering", "base", "bar", "batten", "rafter")
    bars = crowded_bars(pieces)
    names += part_marks(
        [p for p in pieces if not (bars and p.part.kind == "bar")], letters, only=shown
    )
    names += bars_label(bars, letters)
    box = rows.box
    notes = notes_below(letters, box.left, box.bottom, _notes(view, frame) + bars_notes(bars))
    return Scene(
        name=view.side,
        title=f"{view.side.capitalize()} elevation of {quarters.name}",
        description=(
            f"Seen from outside, the {view.left_hand} at the left: {whole(view.run_mm)} mm clear, "
            f"{infill_text(face)}."
        ),
        scale=scale,
        marks=(*ground, *rows.marks, *marks, *names, *notes),
    )


def opening_marks(seen: Opening, fill: Fill = "none") -> list[Mark]:
    """Draw the clear outline of an opening; dashes meet at the middle of a door's hinges."""
    outline = opening(seen.low, seen.high, seen.item, seen.title)
    marks: list[Mark] = [replace(outline, fill=fill)]
    if seen.hinge_u_mm is not None:
        other = seen.high[0] if seen.hinge_u_mm == seen.low[0] else seen.low[0]
        hinge = (seen.hinge_u_mm, (seen.low[1] + seen.high[1]) / 2)
        marks += [
            Line(layer="openings", pen="hair", dash="dashed", a=(other, z), b=hinge, item=seen.item)
            for z in (seen.low[1], seen.high[1])
        ]
    return marks


def _face(view: Outside) -> Face:
    assert view.quarters.faces is not None
    return view.quarters.faces.side(view.side)


def _wall(view: Outside) -> Mark:
    """The clear inside of the wall, behind all else."""
    run = view.run_mm
    face = _face(view)
    return Polygon(
        layer="walls", pen="hair", item=f"face:{view.side}",
        title=f"{view.side.capitalize()} face: {infill_text(face)}",
        fill="boards" if face.is_solid else "none",
        points=((0, 0), (run, 0), *reversed(view.top_line_mm)),
    )  # fmt: skip


def _pieces(frame: BuiltFrame, view: Outside) -> list[Piece]:
    """Give the pieces that are seen, the farthest first."""
    wall: list[tuple[float, float, Piece]] = []
    roof: list[Piece] = []
    seen_parts = [p for p in frame.parts if p.kind not in _UNSEEN and p.what not in BURIED]
    for one in placed(seen_parts, frame, view):
        kind = one.piece.part.kind
        if kind in _ROOF or one.piece.part.what == "roof batten":
            seen = _roof_piece(one.piece, view, one.near_mm, frame)
            roof += [seen] if seen is not None else []
        elif one.piece.part.what.startswith("blocking") and view.side in ("left", "right"):
            continue  # behind the outermost rafter
        elif one.far_mm >= -FLUSH_MM or (kind == "base" and one.near_mm > 0):
            wall.append((one.near_mm, one.low_mm, one.piece))
    wall.sort(key=lambda found: found[:2])
    return [*roof, *(piece for *_, piece in wall), *_rain(frame, view)]


def _rain(frame: BuiltFrame, view: Outside) -> list[Piece]:
    """Gutters and pipes that reach out of this side, the farthest first."""
    reaches = [
        (max(view.out_mm(c) for c in piece.corners), piece)
        for piece in rain_pieces(rain_parts(frame), view.spot)
    ]
    seen = [one for one in reaches if one[0] > 0]
    return [piece for _, piece in sorted(seen, key=lambda one: one[0])]


def _roof_piece(piece: Piece, view: Outside, near_mm: float, frame: BuiltFrame) -> Piece | None:
    """Give a piece of the roof: its end where the roof falls away, its whole slope where not."""
    if view.side in ("left", "right"):
        # Of the rafters only the outermost is seen.
        return piece if piece.part.kind != "rafter" or near_mm > 0 else None
    if frame.roof_ridge_mm is not None:
        # The slope that falls to this side hides the other, and the ridge beam.
        ys = [y for _, y, _ in piece.corners]
        behind = (sum(ys) / len(ys) > frame.roof_ridge_mm[1]) == (view.side == "front")
        if piece.part.kind == "ridge" or behind:
            return None
        falls_here = True
    else:
        falls_here = (frame.roof_pitch_deg > 0) == (view.side == "back")
        falls_here = falls_here and frame.roof_pitch_deg != 0
    if falls_here and piece.part.kind in ("deck", "covering"):
        return piece
    edges = frame.roof_front_edge_mm[1], frame.roof_back_edge_mm[1]
    at = edges[0] + _INTO_ROOF_MM if view.side == "front" else edges[1] - _INTO_ROOF_MM
    points = cut(piece.corners, "front", at)
    if not points:
        return None
    return Piece(piece.part, piece.corners, hull((view.u_mm(x, 0), z) for x, z in points))


def _floor_line(view: Outside, frame: BuiltFrame | None) -> list[Mark]:
    out = 300.0 + (frame.wall_mm if frame is not None else 0)
    return [
        Line(
            layer="floor", pen="medium", a=(-out, 0), b=(view.run_mm + out, 0), item="floor:all",
            title="Finished floor",
        )
    ]  # fmt: skip


def _middle(seen: Opening) -> Point:
    return (seen.low[0] + seen.high[0]) / 2, (seen.low[1] + seen.high[1]) / 2


def _dimension(
    rows: Rows, view: Outside, frame: BuiltFrame | None, pieces: Sequence[Piece],
    openings: Sequence[Opening],
) -> None:  # fmt: skip
    run = view.run_mm
    jambs: list[Point] = [(u, o.low[1]) for o in openings for u in (o.low[0], o.high[0])]
    rows.running("bottom", f"openings, from inside {view.left_hand}", 0, jambs)
    heights: list[Point] = [(run, z) for o in openings for z in (o.low[1], o.high[1])]
    rows.running("right", "openings, from floor", 0, heights)
    ends = ((0.0, view.ceiling_mm(0)), (run, view.ceiling_mm(run)))
    rows.single("left", (0, 0), ends[0], prefix="clear ", title="Clear height at this end")
    rows.single("right", (run, 0), ends[1], prefix="clear ", title="Clear height at this end")
    if frame is not None and frame.between_mm and view.side == "back":
        edges = [(view.u_mm(x, 0), z) for x, z in clear_edges(view.quarters, frame)]
        rows.parts("bottom", edges, whole="clear ", title="Clear widths and shared walls")
    else:
        rows.single("bottom", (0, 0), (run, 0), prefix="clear ", title="Clear inside")
    if frame is None:
        return
    t = frame.wall_mm
    rows.single("bottom", (-t, 0), (run + t, 0), prefix="outer ", title="Over the frame")
    front, back = frame.roof_front_edge_mm, frame.roof_back_edge_mm
    eaves = {"front": (front,), "back": (back,)}.get(view.side, (front, back))
    if (ridge := frame.roof_ridge_mm) is not None and view.side in ("left", "right"):
        eaves = (*eaves, ridge)
        u = view.u_mm(0, ridge[1])
        rows.single("right", (u, 0), (u, ridge[2]), prefix="ridge ", title="Height of the ridge")
    levels = [z for *_, z in eaves]
    levels += [max(reach(p.corners, 2)[1] for p in pieces)] if pieces else []
    levels += [reach(p.corners, 2)[0] for p in pieces if p.part.kind == "base"]
    rows.running(
        "left", "roof and base, from floor", 0, [(-t, z) for z in levels],
        witness=False,
    )  # fmt: skip
    if view.side in ("front", "back"):
        rims = [p for p in rims_mm(rain_parts(frame)) if view.out_mm(p) > 0]
        rows.running(
            "right", "rim of the gutter, from floor", 0, [view.spot(p) for p in rims],
            witness=False,
        )  # fmt: skip
        over = (view.quarters.roof.overhang_side_mm if view.quarters.roof else 0.0) + t
        left, right = -over, run + over
    else:
        left, right = sorted(view.u_mm(0, y) for _, y, _ in (front, back))
    z0, z1 = ends[0][1], ends[1][1]
    rows.roof("top", ((left, z0), (right, z1)), ((-t, z0), (run + t, z1)), "roof, level ")


def _notes(view: Outside, frame: BuiltFrame | None) -> list[str]:
    lines = [
        f"{view.side.capitalize()} face: {infill_text(_face(view))}. Heights are from the finished "
        f"floor. Roof {fall_text(view.quarters)}."
    ]
    if frame is None:
        lines.append("No frame has been worked out for this unit.")
    else:
        lines += rain_notes(frame, view.side)
    return lines
