"""What fills the open faces: bars, slats or mesh, their battens and a second skin."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil, floor

from mewswright import handbook
from mewswright.build.boarding import bars_filled
from mewswright.build.materials import known_material, welded_mesh
from mewswright.build.parts import Panel, Stick
from mewswright.build.pieces import Piece
from mewswright.build.shell import Wall, breadth_depth_mm
from mewswright.build.walls import Upright, WallFrame, infill_foot_mm, rails_mm

SEAT_MM = 15.0  # judgement: how far each end of a bar sits in its hole
BAR_MM = 12.0  # where the keeper gives no thickness; the handbook's bar panel has 12 mm bars
HAIR = 1e-9


def bars_in(clear_mm: float, bar_mm: float, gap_mm: float) -> tuple[int, float]:
    """How many bars fill a clear width, and the even gap that they leave.

    Args:
        clear_mm: Clear width to fill [mm].
        bar_mm: Thickness of a bar [mm].
        gap_mm: Widest clear gap allowed [mm].

    Returns:
        The fewest bars whose gaps, all equal, are no wider than `gap_mm`; the gap [mm].

    Source:
        Geometry: n bars leave n + 1 gaps.
    """
    count = max(0, ceil((clear_mm - gap_mm) / (gap_mm + bar_mm) - HAIR))
    return count, (clear_mm - count * bar_mm) / (count + 1)


def infill(frame: WallFrame) -> Iterable[Piece]:
    """Fill the bays of a face that is not boarded."""
    wall = frame.wall
    kind = wall.face.infill
    for from_mm, to_mm in _open_bays(frame):
        if kind == "barred":
            yield from _bars(frame, from_mm, to_mm)
        elif kind == "slatted":
            yield from _slats(frame, from_mm, to_mm)
        elif kind in ("meshed", "netted"):
            yield _mesh(frame, from_mm, to_mm)
    if kind in ("meshed", "netted"):
        yield from _battens(frame, wall.shell.wall_mm)
    if wall.face.outer is not None and kind != "boarded":
        yield from _second_skin(frame)


def _open_bays(frame: WallFrame) -> Iterable[tuple[float, float]]:
    """Bays with room for an infill: over a door under a low eave there may be none."""
    for bay in frame.bays():
        corners = bay_corners_mm(frame, *bay)
        if max(z for _, z in corners) - corners[0][1] > 1:
            yield bay


def bay_corners_mm(
    frame: WallFrame, from_mm: float, to_mm: float
) -> tuple[tuple[float, float], ...]:
    """Corners (s, z) of the infill of a bay: foot left, foot right, head right, head left."""
    wall = frame.wall
    low = infill_foot_mm(wall, frame.opening_over(from_mm, to_mm))
    left, right = wall.head_under_mm(from_mm), wall.head_under_mm(to_mm)
    return ((from_mm, low), (to_mm, low), (to_mm, max(low, right)), (from_mm, max(low, left)))


def _along(wall: Wall) -> tuple[float, float, float]:
    return (1.0, 0.0, 0.0) if wall.is_level else (0.0, 1.0, 0.0)


def _middle_out_mm(wall: Wall) -> float:
    return wall.shell.size_mm("post")[1] / 2


def _bars(frame: WallFrame, from_mm: float, to_mm: float) -> Iterable[Piece]:
    wall = frame.wall
    thick = wall.face.bar_mm or BAR_MM
    assert wall.face.gap_mm is not None
    out = _middle_out_mm(wall)
    for start, end in _runs(frame, from_mm, to_mm, thick, wall.face.gap_mm):
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        yield Piece(
            kind="bar",
            what=f"round bar, {thick:g} mm",
            place=wall.side,
            material="bar_panel",
            length_mm=length + 2 * SEAT_MM,
            width_mm=thick,
            amount=length * _pitch_mm(frame, from_mm, to_mm, thick) / 1e6,
            unit="m2",
            note=f"each end sits {SEAT_MM:g} mm deep in its hole; drill rails in its way through",
            stick=Stick(
                start_mm=wall.at(start[0], out, start[1]),
                end_mm=wall.at(end[0], out, end[1]),
                breadth_mm=thick,
                depth_mm=thick,
                depth_axis=wall.across,
            ),
        )


def _pitch_mm(frame: WallFrame, from_mm: float, to_mm: float, thick: float) -> float:
    """Bay width (or height) for each bar, so that the bars' areas add up to the bay's [mm]."""
    wall = frame.wall
    assert wall.face.gap_mm is not None
    clear = to_mm - from_mm
    if wall.face.direction == "horizontal":
        corners = bay_corners_mm(frame, from_mm, to_mm)
        clear = max(z for _, z in corners) - corners[0][1]
    count, _ = bars_in(clear, thick, wall.face.gap_mm)
    return clear / count if count else 0.0


def _runs(
    frame: WallFrame, from_mm: float, to_mm: float, thick: float, gap_mm: float
) -> Iterable[tuple[tuple[float, float], tuple[float, float]]]:
    """Middle lines (s, z) of the bars or slats of a bay, foot to head or left to right."""
    wall = frame.wall
    corners = bay_corners_mm(frame, from_mm, to_mm)
    low = corners[0][1]
    highest = max(z for _, z in corners)
    if wall.face.direction == "vertical":
        count, gap = bars_in(to_mm - from_mm, thick, gap_mm)
        for i in range(count):
            s = from_mm + gap + (gap + thick) * i + thick / 2
            if wall.head_under_mm(s) > low:
                yield (s, low), (s, wall.head_under_mm(s))
        return
    count, gap = bars_in(highest - low, thick, gap_mm)
    for i in range(count):
        z = low + gap + (gap + thick) * i + thick / 2
        ends = _under_head(wall, from_mm, to_mm, z + thick / 2)
        if ends is not None:
            yield (ends[0], z), (ends[1], z)


def _under_head(
    wall: Wall, from_mm: float, to_mm: float, z_mm: float
) -> tuple[float, float] | None:
    """The part of a bay in which a height lies under the head plate."""
    left, right = wall.head_under_mm(from_mm), wall.head_under_mm(to_mm)
    if z_mm > max(left, right) + HAIR:
        return None
    if z_mm <= min(left, right) + HAIR:
        return from_mm, to_mm
    meets = from_mm + (to_mm - from_mm) * (z_mm - left) / (right - left)
    return (from_mm, meets) if left > right else (meets, to_mm)


def _slats(frame: WallFrame, from_mm: float, to_mm: float) -> Iterable[Piece]:
    wall = frame.wall
    sizes = wall.shell.quarters.frame
    breadth, depth = breadth_depth_mm(sizes.batten)
    face = wall.face.bar_mm or depth
    assert wall.face.gap_mm is not None
    section = sizes.batten if face == depth else f"{breadth:g}x{face:g}"
    out = wall.shell.wall_mm + breadth / 2
    for start, end in _runs(frame, from_mm, to_mm, face, wall.face.gap_mm):
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        upright = start[0] == end[0]
        yield Piece(
            kind="batten",
            what="slat",
            place=wall.side,
            material=sizes.strength_class,
            section=section,
            # Slats lie on the frame: each end laps it by half its own width.
            length_mm=length + depth,
            sawn=True,
            stick=Stick(
                start_mm=wall.at(start[0], out, start[1]),
                end_mm=wall.at(end[0], out, end[1]),
                breadth_mm=breadth,
                depth_mm=face,
                depth_axis=_along(wall) if upright else (0.0, 0.0, 1.0),
            ),
        )


def area_m2(corners: tuple[tuple[float, float], ...]) -> float:
    """Area of a polygon of (s, z) in millimetres [m2]. Source: the shoelace formula."""
    twice = sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    )
    return abs(twice) / 2e6


def mesh_material(kind: str | None, gap_mm: float) -> tuple[str, str]:
    """Material id of a mesh and a note on its gap."""
    if kind == "welded":
        mesh = welded_mesh(gap_mm)
        if mesh is not None:
            return mesh.id, (
                f"{mesh.name}, clear gap {mesh.clear_gap_mm:.1f} mm; asked: {gap_mm:g} mm"
            )
        return "welded_mesh", (
            f"the handbook has no welded mesh with a clear gap of {gap_mm:g} mm or less"
        )
    return kind or "mesh", f"clear gap {gap_mm:g} mm; not in the handbook, ask for its roll size"


def _mesh(frame: WallFrame, from_mm: float, to_mm: float) -> Piece:
    wall = frame.wall
    assert wall.face.gap_mm is not None
    material, note = mesh_material(wall.face.mesh_kind, wall.face.gap_mm)
    lap = handbook.fixing_rule("mesh_overlap").figure.value
    corners = bay_corners_mm(frame, from_mm, to_mm)
    width, height = to_mm - from_mm, max(z for _, z in corners) - corners[0][1]
    laps_m2 = (2 * lap * (width + height) + 4 * lap * lap) / 1e6
    return Piece(
        kind="net" if wall.face.infill == "netted" else "mesh",
        what="net" if wall.face.infill == "netted" else "mesh panel",
        place=wall.side,
        material=material,
        length_mm=height + 2 * lap,
        width_mm=width + 2 * lap,
        amount=area_m2(corners) + laps_m2,
        unit="m2",
        note=note,
        panel=Panel(
            corners_mm=tuple(wall.at(s, wall.shell.wall_mm, z) for s, z in corners),
            thickness_mm=wall.face.bar_mm or 2,
        ),
    )


def _battens(frame: WallFrame, out_mm: float) -> Iterable[Piece]:
    """Battens over the edges of mesh: one on each upright, one on each rail and plate."""
    wall = frame.wall
    breadth, depth = breadth_depth_mm(wall.shell.quarters.frame.batten)
    thickness = wall.shell.size_mm("nogging")[0]
    out = out_mm + breadth / 2
    low = infill_foot_mm(wall, None)
    for upright in frame.uprights:
        at = _batten_at_mm(frame, upright, depth)
        top = wall.head_under_mm(at)
        yield _batten(wall, (at, low), (at, top), out, _along(wall))
    for left, right in pairwise(frame.uprights):
        if right.from_mm - left.to_mm < depth:
            continue
        opening = frame.opening_over(left.to_mm, right.from_mm)
        rails = rails_mm(wall, left.to_mm, right.from_mm, opening)
        # Level battens end at the upright ones.
        start = _batten_at_mm(frame, left, depth) + depth / 2
        end = _batten_at_mm(frame, right, depth) - depth / 2
        foot = infill_foot_mm(wall, opening)
        for z in (foot - thickness / 2, *(rail + thickness / 2 for rail in rails)):
            yield _batten(wall, (start, z), (end, z), out, (0.0, 0.0, 1.0))
        slope = wall.shell.slope_at((start + end) / 2)
        plumb = depth / 2 / (1 if wall.is_level else slope.cos_pitch)
        yield _batten(
            wall,
            (start, wall.head_top_mm(start) - plumb),
            (end, wall.head_top_mm(end) - plumb),
            out,
            (0.0, 0.0, 1.0) if wall.is_level else slope.up,
        )


def _batten_at_mm(frame: WallFrame, upright: Upright, wide_mm: float) -> float:
    """Middle of the batten on an upright: at a joint of panels it stays on its own panel."""
    middle = upright.middle_mm
    for joint in frame.joints_mm:
        if abs(upright.to_mm - joint) < 1e-6:
            return min(middle, joint - wide_mm / 2)
        if abs(upright.from_mm - joint) < 1e-6:
            return max(middle, joint + wide_mm / 2)
    return middle


def _batten(
    wall: Wall,
    start: tuple[float, float],
    end: tuple[float, float],
    out_mm: float,
    axis: tuple[float, float, float],
    what: str = "batten over mesh",
) -> Piece:
    frame = wall.shell.quarters.frame
    breadth, depth = breadth_depth_mm(frame.batten)
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    slopes = start[0] != end[0] and abs(end[1] - start[1]) > HAIR
    slope = wall.shell.slope_at((start[0] + end[0]) / 2)
    return Piece(
        kind="batten",
        what=what,
        place=wall.side,
        material=frame.strength_class,
        section=frame.batten,
        length_mm=length + (depth * abs(slope.rise) if slopes else 0),
        cut_start_deg=slope.cut_deg if slopes else 0,
        cut_end_deg=slope.cut_deg if slopes else 0,
        sawn=True,
        stick=Stick(
            start_mm=wall.at(start[0], out_mm, start[1]),
            end_mm=wall.at(end[0], out_mm, end[1]),
            breadth_mm=breadth,
            depth_mm=depth,
            depth_axis=axis,
        ),
    )


def _second_skin(frame: WallFrame) -> Iterable[Piece]:
    """The outer mesh, on battens that blocks hold off the uprights."""
    wall = frame.wall
    shell = wall.shell
    layer = wall.face.outer
    assert layer is not None
    inner = _middle_out_mm(wall) + (wall.face.bar_mm or BAR_MM) / 2
    if wall.face.infill in ("meshed", "netted", "slatted"):
        inner = shell.wall_mm + breadth_depth_mm(shell.quarters.frame.batten)[0]
    breadth = breadth_depth_mm(shell.quarters.frame.batten)[0]
    mesh_out = max(inner + layer.stand_off_mm, shell.wall_mm + breadth)
    gap = layer.gap_mm if layer.gap_mm is not None else wall.face.gap_mm or 0
    material, note = mesh_material(layer.mesh_kind, gap)
    lap = handbook.fixing_rule("mesh_overlap").figure.value
    for from_mm, to_mm in _open_bays(frame):
        corners = bay_corners_mm(frame, from_mm, to_mm)
        width, height = to_mm - from_mm, max(z for _, z in corners) - corners[0][1]
        yield Piece(
            kind="net" if layer.infill == "netted" else "mesh",
            what="outer mesh panel",
            place=f"{wall.side}, {layer.stand_off_mm:g} mm clear of the inner infill",
            material=material,
            length_mm=height + 2 * lap,
            width_mm=width + 2 * lap,
            amount=area_m2(corners) + (2 * lap * (width + height) + 4 * lap * lap) / 1e6,
            unit="m2",
            note=note,
            panel=Panel(
                corners_mm=tuple(wall.at(s, mesh_out, z) for s, z in corners), thickness_mm=2
            ),
        )
    block = mesh_out - breadth - shell.wall_mm
    low = infill_foot_mm(wall, None)
    for upright in frame.uprights:
        s = _batten_at_mm(frame, upright, breadth_depth_mm(wall.shell.quarters.frame.batten)[1])
        top = wall.head_under_mm(s)
        yield _batten(
            wall, (s, low), (s, top), mesh_out - breadth / 2, _along(wall), "batten of outer mesh"
        )
        if block < 1:
            continue
        section = shell.quarters.frame.stud
        stud, depth = breadth_depth_mm(section)
        for z in (low + depth / 2, (low + top) / 2, top - depth / 2):
            yield Piece(
                kind="trim",
                what="stand-off block of outer mesh",
                place=wall.side,
                material=shell.quarters.frame.strength_class,
                section=section,
                length_mm=block,
                sawn=True,
                stick=Stick(
                    start_mm=wall.at(s, shell.wall_mm, z),
                    end_mm=wall.at(s, shell.wall_mm + block, z),
                    breadth_mm=stud,
                    depth_mm=depth,
                    depth_axis=(0.0, 0.0, 1.0),
                ),
            )


def with_rolls(pieces: Sequence[Piece]) -> list[Piece]:
    """Count the rolls that the mesh of a unit is cut from; the first piece carries them.

    A panel wider than the roll is joined of strips with a lap; strips run whichever way
    takes less. Never too few, at times one too many.
    """
    strips: dict[str, list[float]] = {}
    for piece in pieces:
        roll = known_material(piece.material)
        if piece.kind not in ("mesh", "net") or roll is None or not roll.roll_width_mm:
            continue
        strips.setdefault(piece.material, []).extend(
            _strips_mm(piece.length_mm, piece.width_mm, roll.roll_width_mm)
        )
    counted = []
    for piece in pieces:
        roll = known_material(piece.material)
        if piece.material in strips and roll is not None and roll.roll_length_mm:
            rolls = bars_filled(strips.pop(piece.material), roll.roll_length_mm)
            counted.append(replace(piece, packs=rolls))
        else:
            counted.append(piece)
    return counted


def _strips_mm(length: float, width: float, roll_mm: float) -> list[float]:
    """Lengths of roll that a panel takes [mm]."""
    lap = handbook.fixing_rule("mesh_overlap").figure.value
    long, short = max(length, width), min(length, width)
    beside = floor(roll_mm / short)
    if beside > 1 and long > 4 * roll_mm:  # a long band is made of lengths slit side by side
        return [long / beside]
    ways = [
        [along] * max(1, ceil((across - lap) / (roll_mm - lap) - HAIR))
        for along, across in ((length, width), (width, length))
    ]
    return min(ways, key=sum)
