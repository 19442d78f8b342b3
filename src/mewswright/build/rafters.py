"""Rafters, the blocking between them, and what they sit on."""

from collections.abc import Iterable
from itertools import pairwise

from mewswright.build.parts import Stick
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell, birdsmouth_mm, rafter_length_mm
from mewswright.build.walls import evenly_mm
from mewswright.model.quarters import Roof


def roof_of(shell: Shell) -> Roof:
    """The roof of a unit."""
    assert shell.quarters.roof is not None
    return shell.quarters.roof


def rafter_middles_mm(shell: Shell) -> list[float]:
    """Middles of the rafters along the front [mm]: the outer ones flush with the walls.

    In a row the rafter over a shared wall is the left unit's.
    """
    if shell.rafters_mm is not None:
        return list(shell.rafters_mm)
    half = shell.size_mm("rafter")[0] / 2
    spacing = shell.quarters.frame.rafter_spacing_mm
    end = shell.width_mm + shell.wall_mm - half
    left = shell.join("left")
    if left is not None and left.lent:
        return evenly_mm(-left.skin_mm - half, end, spacing)[1:]
    return evenly_mm(-shell.wall_mm + half, end, spacing)


def rafter_ends_mm(shell: Shell) -> tuple[float, float]:
    """Where rafters start and end, front to back [mm]: overhangs count from the frame."""
    roof = roof_of(shell)
    return (
        -shell.wall_mm - roof.overhang_front_mm,
        shell.depth_mm + shell.wall_mm + roof.overhang_back_mm,
    )


def rafters(shell: Shell) -> Iterable[Piece]:
    """Rafters with plumb cuts, undersides in the ceiling plane."""
    frame = shell.quarters.frame
    breadth, depth = shell.size_mm("rafter")
    front, back = rafter_ends_mm(shell)
    half = depth / 2 / shell.cos_pitch
    note = "plumb cuts, parallel; length long point to long point" if shell.cut_deg else ""
    if shell.seat_mm:
        heel, notch = birdsmouth_mm(shell.seat_mm, abs(shell.pitch_deg))
        note += (
            f"; birdsmouth over each plate: seat {shell.seat_mm:.0f} mm, heel {heel:.1f} mm, "
            f"depth {notch:.1f} mm"
        )
    for x in rafter_middles_mm(shell):
        yield Piece(
            kind="rafter",
            what="rafter",
            place="roof",
            material=frame.strength_class,
            section=frame.rafter,
            length_mm=rafter_length_mm(back - front, shell.pitch_deg, depth),
            cut_start_deg=shell.cut_deg,
            cut_end_deg=shell.cut_deg,
            sawn=True,
            note=note,
            stick=Stick(
                start_mm=(x, front, shell.ceiling_mm(front) + half),
                end_mm=(x, back, shell.ceiling_mm(back) + half),
                breadth_mm=breadth,
                depth_mm=depth,
                depth_axis=shell.up,
            ),
        )


def blocking(shell: Shell) -> Iterable[Piece]:
    """Blocking between the rafters over the front and the back plate, so no gap is left."""
    frame = shell.quarters.frame
    breadth, depth = shell.size_mm("rafter")
    middles = rafter_middles_mm(shell)
    neighbour = shell.join("left")
    if neighbour is not None and neighbour.lent:
        middles = [-neighbour.skin_mm - breadth / 2, *middles]
    for place, y in (("front", -shell.wall_mm / 2), ("back", shell.depth_mm + shell.wall_mm / 2)):
        centre = tuple(
            part + along * depth / 2
            for part, along in zip((0.0, y, shell.ceiling_mm(y)), shell.up, strict=True)
        )
        for left, right in pairwise(middles):
            start, end = left + breadth / 2, right - breadth / 2
            yield Piece(
                kind="nogging",
                what="blocking between rafters",
                place=f"roof, over the {place} plate",
                material=frame.strength_class,
                section=frame.rafter,
                length_mm=end - start,
                sawn=True,
                stick=Stick(
                    start_mm=(start, centre[1], centre[2]),
                    end_mm=(end, centre[1], centre[2]),
                    breadth_mm=breadth,
                    depth_mm=depth,
                    depth_axis=shell.up,
                ),
            )


def packings(shell: Shell) -> Iterable[Piece]:
    """Tapered packings between a level plate and the rafters, where none is notched."""
    thick = shell.wall_mm * abs(shell.rise)
    if shell.seat_mm or thick < 0.5:
        return
    breadth = shell.size_mm("rafter")[0]
    for place in ("front", "back"):
        for _ in rafter_middles_mm(shell):
            yield Piece(
                kind="trim",
                what="tapered packing under a rafter",
                place=f"on the {place} head plate",
                material=shell.quarters.frame.strength_class,
                length_mm=shell.wall_mm,
                width_mm=breadth,
                note=f"from offcuts, 0 to {thick:.1f} mm thick across the plate",
            )
