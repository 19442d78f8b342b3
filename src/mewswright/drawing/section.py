"""The side section of one unit: cut front to back through its middle, looking left."""

from collections.abc import Sequence

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.corridor_marks import corridor_rows
from mewswright.drawing.fall_words import fall_text
from mewswright.drawing.fitting_marks import fitting_title, item_of
from mewswright.drawing.footing_marks import base_words
from mewswright.drawing.knees import with_knees
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import cut, reach, seen, stick_corners
from mewswright.drawing.rain_marks import rain_parts, rain_pieces, with_rain
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import (
    Mark,
    Polygon,
    Scene,
    box_of,
    extent,
)
from mewswright.drawing.section_fittings import headroom, section_marks, section_spot
from mewswright.drawing.section_room import clear_cut_mm, doors_in, floor_marks
from mewswright.drawing.section_rows import section_rows
from mewswright.drawing.slab_rim import rim_in_section
from mewswright.drawing.timber import Piece, distinct, part_marks, part_title, piece_mark, pieces_of
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
    section_rows(rows, quarters, frame, behind, [s for _, s in openings])
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
    return clear_cut_mm(quarters.width_mm, blocked)


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
