"""The front elevation of one unit: its timber and infill, seen from outside."""

from collections.abc import Sequence

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.openings import door_title, doors_of, item_of_door
from mewswright.drawing.outside import Outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, middle, reach, seen
from mewswright.drawing.rain_marks import (
    rain_notes,
    rain_parts,
    rain_pieces,
    rims_mm,
    with_rain,
)
from mewswright.drawing.row_marks import clear_edges
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import (
    Hatch,
    Line,
    Mark,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)
from mewswright.drawing.slab_rim import rim_from_outside
from mewswright.drawing.timber import Piece, part_marks, piece_mark, pieces_of
from mewswright.model.fitting import Hatch as FoodHatch
from mewswright.model.problem import Problem
from mewswright.model.quarters import Face, Quarters
from mewswright.model.yard import Yard

_INTO_ROOF_MM = 20.0  # the roof is shown as a plane cuts it this far behind its front edge


def front_elevation(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, *, scale: int | None = None,
    paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a unit from in front; outer boarding is left off, so that the frame shows.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its timber; None draws faces and openings alone.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene with items "part:MARK", "face:front", "door:A|B", "hatch:NAME".

    Raises:
        Problem: For a pitch, which has no front to draw.
    """
    if quarters.front_height_mm is None or quarters.faces is None:
        raise Problem(f"{quarters.name!r} is a pitch and has no front: draw its plan alone")
    if frame is not None:
        frame = with_rain(yard, quarters, frame)
    least = (quarters.width_mm, quarters.front_height_mm)
    return at_scale(lambda n: _laid_out(yard, quarters, frame, n), scale, paper, least)


def _laid_out(yard: Yard, quarters: Quarters, frame: BuiltFrame | None, scale: int) -> Scene:
    assert quarters.faces is not None
    assert quarters.front_height_mm is not None
    letters = Lettering(scale, boxed=True)
    w, z = quarters.width_mm, quarters.front_height_mm
    face = quarters.faces.front
    wall_pieces, roof_pieces = _pieces(frame)
    marks: list[Mark] = [*_infill(face, w, z, has_bars(wall_pieces))]
    marks += [piece_mark(p) for p in roof_pieces]
    marks += [piece_mark(p) for p in sorted(wall_pieces, key=_nearness)]
    openings = _openings(yard, quarters)
    marks += [m for mark_list, _ in openings for m in mark_list]
    marks += rim_from_outside(Outside(quarters, "front"), frame)
    floor = _floor_line(quarters, frame)
    rows = Rows(letters, box_of(p for m in marks + floor for p in extent(m, scale)))
    _dimension(rows, quarters, frame, wall_pieces, roof_pieces, [s for _, s in openings])
    rows.finish()

    avoid_marks(letters, [m for m in marks if m.layer == "timber"] + rows.marks)
    names: list[Mark] = []
    for drawn, (low, high) in openings:
        title, item = drawn[0].title, drawn[0].item
        names += letters.label(
            ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2), title.partition(",")[0], item=item,
            title=title, centred=True,
        )  # fmt: skip
    names += part_marks(
        wall_pieces + roof_pieces, letters
    )  # fmt: skip
    box = rows.box
    notes = notes_below(letters, box.left, box.bottom, front_notes(face, frame))
    return Scene(
        name="front",
        title=f"Front elevation of {quarters.name}",
        description=(
            f"Seen from outside: {whole(w)} mm clear wide, {whole(z)} mm clear high at the front, "
            f"{infill_text(face)}."
        ),
        scale=scale,
        marks=(*floor, *rows.marks, *marks, *names, *notes),
    )


def infill_text(face: Face) -> str:
    """Say what fills a face: 'bars 12 upright, clear gap 35, centres 47'."""
    upright = "upright" if face.direction == "vertical" else "level"
    gap = face.gap_mm or 0
    match face.infill:
        case "barred" | "slatted":
            word = "bars" if face.infill == "barred" else "slats"
            if face.bar_mm is None:
                return f"{word} {upright}, clear gap {gap:g}"
            return (
                f"{word} {face.bar_mm:g} {upright}, clear gap {gap:g}, "
                f"centres {gap + face.bar_mm:g}"
            )
        case "meshed" | "netted":
            kind = (face.mesh_kind or "").replace("_", " ")
            return f"{kind}{'' if 'net' in kind else ' mesh'}, clear gap {gap:g}"
        case _:
            return face.infill


def front_notes(face: Face, frame: BuiltFrame | None) -> list[str]:
    """Give the sentences under the elevation."""
    lines = [
        f"Front face: {infill_text(face)}; solid up to {face.upstand_mm:g}. "
        "Heights are from the finished floor. Outer boarding is left off."
    ]
    if face.outer is not None:
        skin = face.outer
        gap = f", clear gap {skin.gap_mm:g}" if skin.gap_mm is not None else ""
        kind = f" ({skin.mesh_kind.replace('_', ' ')})" if skin.mesh_kind else ""
        lines.append(f"Outer skin: {skin.infill}{kind}{gap}, {skin.stand_off_mm:g} outside.")
    if frame is None:
        lines.append("No frame has been worked out for this unit.")
    else:
        lines += rain_notes(frame, "front")
    return lines


def has_bars(pieces: Sequence[Piece]) -> bool:
    """Say whether the frame shows its own bars or mesh."""
    return any(p.part.kind in ("bar", "mesh", "net") for p in pieces)


def _nearness(piece: Piece) -> float:
    return -reach(piece.corners, 1)[0]  # far ones first


def _pieces(frame: BuiltFrame | None) -> tuple[list[Piece], list[Piece]]:
    """Give the pieces of the front wall, and those of the roof as cut near its front edge."""
    if frame is None:
        return [], []
    wall: list[Piece] = []
    roof: list[Piece] = []
    edge = frame.roof_front_edge_mm[1] + _INTO_ROOF_MM
    for piece in pieces_of(frame.parts, "front"):
        if piece.part.kind in ("perch", "bath", "hatch", "membrane", "substrate", "board", "rain"):
            continue
        low, high = reach(piece.corners, 1)
        if piece.part.kind == "ridge":
            continue
        if piece.part.kind in ("rafter", "deck", "covering", "batten") and high > 0:
            points = cut(piece.corners, "front", edge)
            if points:
                roof.append(Piece(piece.part, piece.corners, points))
        elif high <= 1 and low >= edge - 2 * _INTO_ROOF_MM:
            wall.append(piece)
    rain = rain_pieces(rain_parts(frame), lambda place: seen(place, "front"))
    wall += [piece for piece in rain if reach(piece.corners, 1)[0] < 0]
    return wall, roof


def _infill(face: Face, w: float, z: float, drawn_by_frame: bool) -> list[Mark]:
    marks: list[Mark] = []
    item, title = "face:front", f"Front face: {infill_text(face)}"
    up = min(face.upstand_mm, z)
    if face.is_solid:
        up = z
    if up > 0:
        marks.append(
            Polygon(
                layer="walls", points=((0, 0), (w, 0), (w, up), (0, up)), fill="boards",
                hatch="none", item=item, title=title,
            )
        )  # fmt: skip
    if face.is_solid or face.infill == "open" or drawn_by_frame or up >= z:
        return marks
    true_mm = (face.gap_mm or 0) + (face.bar_mm or 0)
    hatch: Hatch = "mesh"
    if face.infill in ("barred", "slatted"):
        hatch = "bars" if face.direction == "vertical" else "slats"
    marks.append(
        Polygon(
            layer="walls", pen="hair", points=((0, up), (w, up), (w, z), (0, z)), item=item,
            title=title, hatch=hatch, hatch_mm=None if hatch == "mesh" else true_mm or None,
        )
    )  # fmt: skip
    return marks


Span = tuple[Point, Point]


def _openings(yard: Yard, quarters: Quarters) -> list[tuple[list[Mark], Span]]:
    """Draw doors and hatches of the front: the clear opening, and where it hangs."""
    found: list[tuple[list[Mark], Span]] = []
    for door in doors_of(yard, quarters):
        if door.face != "front" or door.at_mm is None:
            continue
        half = door.width_mm / 2
        low = (door.at_mm - half, door.sill_mm)
        high = (door.at_mm + half, door.sill_mm + door.height_mm)
        title = door_title(door, quarters)
        hung, shut = (low[0], high[0]) if door.hangs_low else (high[0], low[0])
        hinge = (hung, (low[1] + high[1]) / 2)
        lines = [
            Line(
                layer="openings", pen="hair", dash="dashed", a=(shut, y), b=hinge,
                item=item_of_door(door),
            )
            for y in (low[1], high[1])
        ]  # fmt: skip
        found.append(([opening(low, high, item_of_door(door), title), *lines], (low, high)))
    for fitting in quarters.fitting:
        if isinstance(fitting, FoodHatch) and fitting.face == "front":
            low = (fitting.at_mm - fitting.width_mm / 2, fitting.sill_mm)
            high = (fitting.at_mm + fitting.width_mm / 2, fitting.sill_mm + fitting.height_mm)
            title = f"{fitting.name}, {whole(fitting.width_mm)} × {whole(fitting.height_mm)}"
            found.append(([opening(low, high, f"hatch:{fitting.name}", title)], (low, high)))
    return found


def opening(low: Point, high: Point, item: str, title: str) -> Polygon:
    """Draw the clear outline of an opening seen from in front of it."""
    return Polygon(
        layer="openings", pen="medium", item=item, title=title,
        points=(low, (high[0], low[1]), high, (low[0], high[1])),
    )  # fmt: skip


def _floor_line(quarters: Quarters, frame: BuiltFrame | None) -> list[Mark]:
    out = 300.0 + (frame.wall_mm if frame is not None else 0)
    return [
        Line(
            layer="floor", pen="medium", a=(-out, 0), b=(quarters.width_mm + out, 0),
            item="floor:all", title="Finished floor",
        )
    ]  # fmt: skip


def _dimension(
    rows: Rows, quarters: Quarters, frame: BuiltFrame | None, wall: Sequence[Piece],
    roof: Sequence[Piece], openings: Sequence[Span],
) -> None:  # fmt: skip
    assert quarters.front_height_mm is not None
    assert quarters.roof is not None
    w, z = quarters.width_mm, quarters.front_height_mm
    jambs: list[Point] = [
        p for low, high in openings for p in ((low[0], low[1]), (high[0], low[1]))
    ]
    rows.running("bottom", "openings, from inside left", 0, jambs)
    heights: list[Point] = [(w, y) for low, high in openings for y in (low[1], high[1])]
    rows.running("right", "openings, from floor", 0, heights)
    rows.single("right", (w, 0), (w, z), prefix="clear ", item="face:front", title="Front height")
    if frame is not None:
        t = frame.wall_mm
        x0, x1 = (w - frame.outer_width_mm) / 2, (w + frame.outer_width_mm) / 2
        uprights = [p for p in wall if p.part.kind in ("post", "stud")]
        rows.running(
            "bottom", "uprights, from outer left", -t, [middle(p.points) for p in uprights],
            witness=False,
        )  # fmt: skip
        rafters = [middle(p.points) for p in roof if p.part.kind == "rafter"]
        rows.running("top", "rafters, from outer left", -t, rafters, witness=False)
        level = [p for p in wall if p.part.kind in ("sole", "head", "nogging", "trim", "base")]
        edges = [(x0, y) for p in level for y in reach(p.corners, 2)]
        edges += [(x0, reach(p.corners, 2)[1]) for p in roof[:1]]
        rows.running("left", "timber, from floor", 0, edges, witness=False)
        rims = [seen(place, "front") for place in rims_mm(rain_parts(frame)) if place[1] < 0]
        rows.running("right", "rim of the gutter, from floor", 0, rims, witness=False)
        side = quarters.roof.overhang_side_mm
        rows.roof("top", ((x0 - side, z), (x1 + side, z)), ((x0, z), (x1, z)), "roof ")
        rows.parts("bottom", clear_edges(quarters, frame), whole="clear ",
                   title="Clear widths and shared walls")  # fmt: skip
        rows.single("bottom", (x0, 0), (x1, 0), prefix="outer ", title="Outer width of the frame")
    else:
        rows.single("bottom", (0, 0), (w, 0), prefix="clear ", title="Clear width")
