"""Boarding: level courses of boards outside the frame, cut to the roof line."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import atan, ceil, degrees

from mewswright.build.materials import material_of
from mewswright.build.parts import Panel
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell, Wall
from mewswright.build.walls import WallFrame, lengths_mm
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem

HAIR = 1e-6
Corners = tuple[tuple[float, float], ...]


def board_of(shell: Shell) -> Material:
    """The boarding of a unit.

    Raises:
        Problem: If the handbook does not know it, or not how wide it covers.
    """
    quarters = shell.quarters
    board = material_of(quarters.frame.boarding, f"boarding of {quarters.name!r}")
    if board.cover_width_mm is None or board.thickness_mm is None or not board.stock_lengths_mm:
        raise Problem(
            f"boarding of {quarters.name!r} is {quarters.frame.boarding!r}, whose cover width "
            "is not on record; choose shiplap_12x125 or featheredge_22x150"
        )
    return board


def boarding(walls: Sequence[WallFrame]) -> list[Piece]:
    """Board all walls; the first piece carries how many boards to buy for all of them."""
    board = board_of(walls[0].wall.shell)
    pieces = [
        piece for wall in walls for piece in (*_boards(wall, board), *under_sills(wall, board))
    ]
    if pieces:
        stock = max(board.stock_lengths_mm)
        count = bars_filled([piece.length_mm for piece in pieces], stock)
        pieces[0] = replace(pieces[0], packs=count)
    return pieces


def bars_filled(lengths: Iterable[float], stock_mm: float) -> int:
    """How many lengths to buy, each piece into the first length that has room [mm].

    First fit, longest first: never too few, at times one too many.
    """
    room: list[float] = []
    for length in sorted(lengths, reverse=True):
        for i, left in enumerate(room):
            if length <= left + HAIR:
                room[i] = left - length
                break
        else:
            room += [stock_mm] * (ceil(length / stock_mm - HAIR) - 1)  # for lengths past the stock
            room.append(stock_mm - (length % stock_mm if length > stock_mm else length))
    return len(room)


def wall_outline_mm(wall: Wall) -> tuple[float, float]:
    """Where the boarding of a wall starts and ends along it: over the whole frame [mm]."""
    shell = wall.shell
    if wall.is_level:
        return -shell.edge_mm("left"), shell.width_mm + shell.edge_mm("right")
    if shell.join(wall.side) is not None:  # the next unit's front and back begin there
        return 0.0, shell.depth_mm
    return 0.0 if shell.leans else -shell.wall_mm, shell.depth_mm + shell.wall_mm


def _top_mm(wall: Wall, s_mm: float) -> float:
    if wall.face.infill == "boarded":
        return wall.roof_line_mm(s_mm)
    if wall.face.infill in ("meshed", "netted") and wall.face.upstand_mm:
        # The batten of the mesh lies on the rail, above the boards.
        rail = wall.shell.size_mm("nogging")[0] / 2 + wall.shell.size_mm("batten")[1] / 2
        return max(0.0, wall.face.upstand_mm - rail)
    return wall.face.upstand_mm


def _tops(wall: Wall) -> tuple[tuple[float, float], ...]:
    """Corners (s, z) of the upper edge of the boarding, along the wall."""
    start, end = wall_outline_mm(wall)
    ridge = wall.shell.ridge_mm
    gable = ridge is not None and not wall.is_level and wall.face.infill == "boarded"
    middle = (ridge[0],) if ridge is not None and gable else ()
    return tuple((s, _top_mm(wall, s)) for s in (start, *middle, end))


def _boards(frame: WallFrame, board: Material) -> Iterable[Piece]:
    wall = frame.wall
    assert board.cover_width_mm is not None
    cover = board.cover_width_mm
    start, end = wall_outline_mm(wall)
    tops = _tops(wall)
    highest = max(z for _, z in tops)
    joints = [upright.middle_mm for upright in frame.uprights]
    for course in range(ceil(highest / cover - HAIR)):
        z = course * cover
        outline: Corners = ((start, z), (end, z), (end, z + cover), (start, z + cover))
        for left_top, right_top in pairwise(tops):
            outline = below_line(outline, left_top, right_top)
        if len(outline) < 3:
            continue
        left, right = min(s for s, _ in outline), max(s for s, _ in outline)
        beside = _beside_openings(frame, left, right, z, z + cover)
        for free in (run for one in beside for run in frame.carried(*one)):
            for from_mm, to_mm in lengths_mm(*free, max(board.stock_lengths_mm), joints):
                corners = between(outline, from_mm, to_mm)
                if len(corners) >= 3:
                    yield _board(wall, board, corners)


def under_sills(frame: WallFrame, board: Material) -> Iterable[Piece]:
    """Boards of an open face below a hatch, where no bar or mesh is set: over both jambs."""
    wall = frame.wall
    if wall.face.infill == "boarded":
        return
    assert board.cover_width_mm is not None
    nogging = wall.shell.size_mm("nogging")[0]
    jamb = wall.shell.size_mm("stud")[0]
    for opening in frame.openings:
        low = max(0.0, _top_mm(wall, opening.from_mm))
        if opening.is_door or opening.sill_mm <= wall.face.upstand_mm + nogging:
            continue
        start, end = opening.from_mm - jamb, opening.to_mm + jamb
        while low < opening.sill_mm - HAIR:
            high = min(low + board.cover_width_mm, opening.sill_mm)
            yield _board(wall, board, ((start, low), (end, low), (end, high), (start, high)))
            low = high


def _board(wall: Wall, board: Material, corners: Corners) -> Piece:
    assert board.thickness_mm is not None
    low = min(s for s, _ in corners), max(s for s, _ in corners)
    # A raked course loses a top corner, or is ripped along the roof line.
    raked = abs(_slope(corners)) > HAIR
    out = wall.shell.wall_mm + board.thickness_mm / 2
    pitch = degrees(atan(abs(_slope(corners)))) if raked else 0.0
    both = len({1 if rise > 0 else -1 for rise in _slopes(corners)}) > 1
    return Piece(
        kind="board",
        what="board" if wall.face.infill == "boarded" else "upstand board",
        place=wall.side,
        material=board.id,
        length_mm=low[1] - low[0],
        width_mm=board.breadth_mm or 0,
        cut_end_deg=round(90 - pitch, 2) if raked else 0,
        amount=(low[1] - low[0]) / 1000,
        unit="m",
        cut_start_deg=round(90 - pitch, 2) if both else 0,
        note=(
            f"top corner{'s' if both else ''} cut to the roof line; length of its lower edge"
            if raked
            else ""
        ),
        panel=Panel(
            corners_mm=tuple(wall.at(s, out, z) for s, z in corners),
            thickness_mm=board.thickness_mm,
        ),
    )


def _slope(corners: Corners) -> float:
    """Rise of the steepest edge that is not plumb; 0 where all are level."""
    return max(_slopes(corners), key=abs, default=0.0)


def _slopes(corners: Corners) -> list[float]:
    """Rise of the edges that are neither level nor plumb."""
    rises = [
        (b[1] - a[1]) / (b[0] - a[0])
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
        if abs(b[0] - a[0]) > HAIR
    ]
    return [rise for rise in rises if abs(rise) > HAIR]


def _beside_openings(
    frame: WallFrame, left: float, right: float, low: float, high: float
) -> list[tuple[float, float]]:
    """What is left of a course beside the openings that reach through its whole height."""
    free = [(left, right)]
    for opening in frame.openings:
        if not (opening.sill_mm <= low + HAIR and opening.top_mm >= high - HAIR):
            continue  # a board is notched, not parted
        parted = []
        for from_mm, to_mm in free:
            if opening.from_mm > from_mm:
                parted.append((from_mm, min(to_mm, opening.from_mm)))
            if opening.to_mm < to_mm:
                parted.append((max(from_mm, opening.to_mm), to_mm))
        free = [(a, b) for a, b in parted if b - a > HAIR]
    return free


def below_line(corners: Corners, left: tuple[float, float], right: tuple[float, float]) -> Corners:
    """Keep what of a polygon (s, z) lies on or below the line through two points."""
    rise = (right[1] - left[1]) / (right[0] - left[0])
    return _kept(corners, lambda point: left[1] + rise * (point[0] - left[0]) - point[1])


def between(corners: Corners, from_mm: float, to_mm: float) -> Corners:
    """Keep what of a polygon (s, z) lies between two places along the wall."""
    right_of = _kept(corners, lambda point: point[0] - from_mm)
    return _kept(right_of, lambda point: to_mm - point[0])


def _kept(corners: Corners, inside: Callable[[tuple[float, float]], float]) -> Corners:
    """Clip a convex polygon to where `inside` is 0 or more. Source: Sutherland, Hodgman 1974."""
    kept: list[tuple[float, float]] = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        at_a, at_b = inside(a), inside(b)
        if at_a >= 0:
            kept.append(a)
        if (at_a > HAIR and at_b < -HAIR) or (at_a < -HAIR and at_b > HAIR):
            share = at_a / (at_a - at_b)
            kept.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    return tuple(kept)
