"""The side section of one unit: cut front to back through its middle, looking left."""

from collections.abc import Sequence
from math import atan2, degrees

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.corridor_marks import corridor_rows
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.footing_marks import base_words
from mewswright.drawing.front import Span
from mewswright.drawing.knees import with_knees
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, middle, reach, seen, stick_corners
from mewswright.drawing.rain_marks import rain_parts, rain_pieces, with_rain
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import (
    Mark,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)
from mewswright.drawing.section_fittings import headroom, section_marks, section_spot
from mewswright.drawing.section_room import doors_in, floor_marks
from mewswright.drawing.slab_rim import rim_in_section
from mewswright.drawing.timber import Piece, distinct, part_marks, part_title, piece_mark, pieces_of
from mewswright.model.fitting import Hatch
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

_FURNISHING = ("perch", "bath", "hatch", "membrane", "substrate")  # drawn from the yard file


def side_section(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, *, scale: int | None = None,
    paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw a unit cut from front to back, front at the left.

    Timber that the plane cuts is dark; the left wall and the next rafter stand behind it.
    All perches are shown, wherever they are across the width.

    Args:
        yard: The yard, for the doors.
        quarters: The unit.
        frame: Its timber; None draws the room alone.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene with items "part:MARK", "perch:NAME", "bath:NAME", "hatch:NAME", "roof:all".

    Raises:
        Problem: For a pitch, which has no height to cut through.
    """
    if quarters.front_height_mm is None or quarters.back_height_mm is None:
        raise Problem(f"{quarters.name!r} is a pitch and has no height: draw its plan alone")
    if frame is not None:
        frame = with_rain(yard, quarters, with_knees(yard, quarters, frame))
    least = (quarters.depth_mm, quarters.highest_mm)
    return at_scale(lambda n: _laid_out(yard, quarters, frame, n), scale, paper, least)


def fall_text(quarters: Quarters) -> str:
    """Say the fall of the roof as a ratio, an angle and a height."""
    if quarters.ridge_mm is not None:
        at = whole(quarters.ridge_mm[0])
        return f"has its ridge {at} behind the front; {'; '.join(slope_texts(quarters))}"
    assert quarters.front_height_mm is not None
    assert quarters.back_height_mm is not None
    fall = quarters.front_height_mm - quarters.back_height_mm
    if fall == 0:
        return "roof level: no fall"
    return _fall("back" if fall > 0 else "front", quarters.depth_mm, fall)


def slope_texts(quarters: Quarters) -> tuple[str, ...]:
    """Say the fall of each slope, the front one first."""
    if quarters.ridge_mm is None:
        return (fall_text(quarters),)
    (y0, front), (at, ridge), (y1, back) = quarters.ceiling_line_mm
    return _fall("front", at - y0, ridge - front), _fall("back", y1 - at, ridge - back)


def _fall(to: str, run: float, fall: float) -> str:
    return (
        f"falls to the {to} 1:{run / abs(fall):.1f}, {degrees(atan2(abs(fall), run)):.1f}°, "
        f"{whole(abs(fall))} in {whole(run)}"
    )


def _laid_out(yard: Yard, quarters: Quarters, frame: BuiltFrame | None, scale: int) -> Scene:
    letters = Lettering(scale, boxed=True)
    behind, cut_through = _pieces(quarters, frame)
    room = _room(quarters)
    marks: list[Mark] = [piece_mark(p, layer="behind", pen="hair") for p in behind]
    marks += [piece_mark(p, cut=True) for p in cut_through]
    marks += rim_in_section(quarters, frame, "side")
    openings = doors_in(yard, quarters, "left")
    marks += [m for m, _ in openings]
    for fitting in quarters.fitting:
        marks += section_marks(fitting, quarters, frame, scale, "side")
    rows = Rows(letters, box_of(p for m in room + marks for p in extent(m, scale)))
    _dimension(rows, quarters, frame, behind, [s for _, s in openings])
    corridor_rows(rows, yard, quarters)
    rows.finish()

    lines = [m for m in [*room, *marks] if m.layer in ("fittings", "timber", "room")]
    avoid_marks(letters, lines + rows.marks)
    names = headroom(quarters, letters, "side")
    for fitting in quarters.fitting:
        target = section_spot(fitting, quarters, "side")
        title = fitting_title(fitting)
        names += letters.label(
            target, title, item=item_of(fitting), title=title, gap_mm=2.5, prefer=(90, 0, 180)
        )
    names += _roof_names(quarters, cut_through, behind, letters)
    names += part_marks(
        [p for p in [*cut_through, *behind] if p.part.kind not in ("bar", "mesh", "net")], letters
    )
    box = rows.box
    notes = notes_below(letters, box.left, box.bottom, section_notes(quarters, frame))
    return Scene(
        name="section",
        title=f"Side section of {quarters.name}",
        description=(
            "Cut front to back through the middle, looking left, front at the left: "
            f"{fall_text(quarters)}."
        ),
        scale=scale,
        marks=(*room, *rows.marks, *marks, *names, *notes),
    )


def section_notes(quarters: Quarters, frame: BuiltFrame | None) -> list[str]:
    """Give the sentences under the section."""
    floor = quarters.floor
    lines = [
        "Heights are from the finished floor. Perches are shown wherever they stand across the "
        "width; a perch's height is its top, and the figure over it is its clear height up to "
        "the rafters, or to a ridge beam that hangs lower.",
        f"Floor: {floor.substrate.replace('_', ' ')}, {floor.depth_mm:g} deep, "
        f"{'on a membrane' if floor.membrane else 'no membrane'}. Base: {base_words(quarters)}. "
        + (
            "No dig barrier."
            if floor.dig_barrier == "none"
            else f"Dig barrier: {floor.dig_barrier}, {floor.dig_barrier_mm:g}."
        ),
    ]
    rafters = [p for p in frame.parts if p.kind == "rafter"] if frame is not None else []
    lines += [f"{part_title(p)}; {p.count} of them." for p in rafters]
    return lines


def _pieces(quarters: Quarters, frame: BuiltFrame | None) -> tuple[list[Piece], list[Piece]]:
    """Give the pieces behind the plane, far ones first, and those that it cuts."""
    if frame is None:
        return [], []
    at = cut_at_mm(quarters, frame)
    behind: list[Piece] = []
    through: list[Piece] = []
    for piece in pieces_of(frame.parts, "side"):
        if piece.part.kind in _FURNISHING:
            continue
        points = cut(piece.corners, "side", at)
        if points:
            through.append(Piece(piece.part, piece.corners, points, piece.stick))
        elif reach(piece.corners, 0)[1] <= at and piece.part.kind not in ("board", "bar"):
            behind.append(piece)
    # A run of gutter or pipe behind the plane is one outline; what is cut shows its wall.
    behind = [piece for piece in behind if piece.part.kind != "rain"]
    behind += [
        piece
        for piece in rain_pieces(rain_parts(frame), lambda place: seen(place, "side"))
        if reach(piece.corners, 0)[1] <= at
    ]
    behind.sort(key=lambda p: reach(p.corners, 0)[1])
    return distinct(behind), through


def cut_at_mm(quarters: Quarters, frame: BuiltFrame) -> float:
    """Give where the section is cut across the width [mm from the left inner wall].

    The middle, or the nearest place to it where the plane does not run lengthwise
    through a rafter, stud or post: those belong beside a section, not in it.
    """
    blocked = [
        reach(stick_corners(stick), 0)
        for part in frame.parts
        if part.kind in ("rafter", "stud", "post", "batten", "trim", "bar")
        for stick in part.sticks
        if abs(stick.end_mm[0] - stick.start_mm[0]) < 1
    ]
    middle_mm = quarters.width_mm / 2
    edges = [edge for low, high in blocked for edge in (low - 1, high + 1)]
    places = sorted(
        (p for p in [middle_mm, *edges] if 0 < p < quarters.width_mm),
        key=lambda p: (abs(p - middle_mm), p),
    )
    for place in places:
        if not any(low <= place <= high for low, high in blocked):
            return place
    return middle_mm


def _room(quarters: Quarters) -> list[Mark]:
    d = quarters.depth_mm
    face = quarters.faces.left if quarters.faces is not None else None
    marks: list[Mark] = [
        Polygon(
            layer="room", pen="hair", points=((0, 0), (d, 0), *reversed(quarters.ceiling_line_mm)),
            item="face:left",
            fill="boards" if face is not None and face.is_solid else "paper",
            title=f"Left face: {face.infill}" if face is not None else "",
        )
    ]  # fmt: skip
    marks += floor_marks(d, quarters)
    return marks


def _roof_names(
    quarters: Quarters, through: Sequence[Piece], behind: Sequence[Piece], letters: Lettering
) -> list[Mark]:
    if quarters.roof is None or quarters.roof.form == "none":
        return []
    y = quarters.depth_mm / 2
    tops = [reach(p.corners, 2)[1] for p in [*through, *behind]]
    top = max([quarters.ceiling_mm(y), *tops])
    return letters.label(
        (y, top), f"Roof {fall_text(quarters)}", item="roof:all", prefer=(90,), bold=True,
        title=f"Roof {fall_text(quarters)}",
    )  # fmt: skip


def _dimension(
    rows: Rows, quarters: Quarters, frame: BuiltFrame | None, behind: Sequence[Piece],
    openings: Sequence[Span],
) -> None:  # fmt: skip
    assert quarters.front_height_mm is not None
    assert quarters.back_height_mm is not None
    d, zf, zb = quarters.depth_mm, quarters.front_height_mm, quarters.back_height_mm
    inside = [f for f in quarters.fitting if not isinstance(f, Hatch)]
    spots = [section_spot(f, quarters, "side") for f in inside]
    items, titles = [item_of(f) for f in inside], [fitting_title(f) for f in inside]
    rows.running("bottom", "fittings, from front", 0, spots, items=items, titles=titles)
    jambs: list[Point] = [(p[0], low[1]) for low, high in openings for p in (low, high)]
    rows.running("bottom", "door, from front", 0, jambs)
    rows.running("right", "fittings, from floor", 0, spots, items=items, titles=titles)
    sills: list[Point] = []
    for f in quarters.fitting:
        if isinstance(f, Hatch):
            y = section_spot(f, quarters, "side")[0]
            sills += [(y, f.sill_mm), (y, f.sill_mm + f.height_mm)]
    sills += [(low[0], z[1]) for low, high in openings for z in (low, high)]
    rows.running("right", "openings, from floor", 0, sills)
    rows.single("right", (d, 0), (d, zb), prefix="clear ", title="Back height")
    rows.single("left", (0, 0), (0, zf), prefix="clear ", title="Front height")
    if (ridge := quarters.ridge_mm) is not None:
        rows.single("right", (ridge[0], 0), ridge, prefix="ridge ", title="Height of the ridge")
        if frame is not None:
            beam = min(s.start_mm[2] - s.depth_mm / 2 for p in frame.parts if p.kind == "ridge"
                       for s in p.sticks)  # fmt: skip
            rows.single("right", (ridge[0], 0), (ridge[0], beam), prefix="under beam ",
                        title="Clear height under the ridge beam")  # fmt: skip
        rows.single("bottom", (0, 0), (ridge[0], 0), prefix="to the ridge ", title="Ridge")
    deep = quarters.floor.depth_mm
    if deep > 0:
        rows.single("right", (d, -deep), (d, 0), item="floor:all", title="Depth of the substrate")
    if frame is None:
        rows.single("bottom", (0, 0), (d, 0), prefix="clear ", title="Clear depth")
        return
    t = frame.wall_mm
    y0, y1 = -t, frame.outer_depth_mm - t
    studs = [p for p in behind if p.part.kind in ("stud", "post")]
    rows.running(
        "bottom", "timber, from outer front", -t, [middle(p.points) for p in studs], witness=False
    )
    rows.single("bottom", (0, 0), (d, 0), prefix="clear ", title="Clear depth")
    rows.single("bottom", (y0, 0), (y1, 0), prefix="outer ", title="Outer depth of the frame")
    front, back = frame.roof_front_edge_mm, frame.roof_back_edge_mm
    rows.roof(
        "top", ((front[1], front[2]), (back[1], back[2])), ((y0, zf), (y1, zb)), "roof, level "
    )
    level: list[Point] = [
        (y0, z)
        for p in behind
        if p.part.kind in ("sole", "nogging") and p.stick is not None
        if abs(p.stick.start_mm[2] - p.stick.end_mm[2]) < 1 and reach(p.corners, 1)[1] > 1
        for z in reach(p.corners, 2)
    ]
    rows.running("left", "left wall timber, from floor", 0, level, witness=False)
    rows.running(
        "left", "roof underside, from floor", 0, [(front[1], front[2]), (back[1], back[2])],
        witness=False,
    )  # fmt: skip
