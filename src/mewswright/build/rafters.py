"""Rafters, the blocking between them, and what they sit on."""

from collections.abc import Iterable
from itertools import pairwise

from mewswright.build.parts import Stick
from mewswright.build.pieces import Piece
from mewswright.build.ridge import ridge_of
from mewswright.build.shell import (
    PACKING_UP_TO_DEG,
    Shell,
    Slope,
    birdsmouth_mm,
    rafter_length_mm,
)
from mewswright.build.tube import stuff_of, tube_of
from mewswright.build.walls import evenly_mm
from mewswright.model.problem import Problem
from mewswright.model.quarters import Roof

LEDGER = "ledger"


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
    """Where rafters start and end, front to back [mm]: overhangs count from the frame.

    Those of a lean-to start at the ledger that they hang on.
    """
    roof = roof_of(shell)
    return (
        shell.size_mm("rafter")[0] if shell.leans else -shell.wall_mm - roof.overhang_front_mm,
        shell.depth_mm + shell.wall_mm + roof.overhang_back_mm,
    )


def slope_ends_mm(shell: Shell, slope: Slope) -> tuple[float, float]:
    """Where the rafters of a slope start and end, front to back [mm]: at the eave or the ridge."""
    front, back = rafter_ends_mm(shell)
    ridge = ridge_of(shell)
    if ridge is None:
        return front, back
    return (front, ridge.face_mm(slope)) if slope.rise > 0 else (ridge.face_mm(slope), back)


def rafters(shell: Shell) -> Iterable[Piece]:
    """Rafters with plumb cuts, undersides in the ceiling plane; at a ridge they hang on it."""
    _refuse_hung_tubes(shell)
    if shell.leans:
        yield _ledger(shell)
    for slope in shell.slopes:
        yield from _rafters_of(shell, slope)


def _refuse_hung_tubes(shell: Shell) -> None:
    """Rafters of steel tube lie on two plates, un-notched.

    Raises:
        Problem: Where they would be notched or hung.
    """
    section = shell.quarters.frame.rafter
    if tube_of(section) is None:
        return
    why = ""
    if shell.ridge_mm is not None or shell.leans:
        why = f"hang on the {'ledger' if shell.leans else 'ridge beam'}, and no hanger is for them"
    elif any(shell.seat_mm(slope) for slope in shell.slopes):
        why = (
            f"need a notch over each plate, for the pitch is over {PACKING_UP_TO_DEG:g} deg, and a "
            "tube is not notched"
        )
    if why:
        raise Problem(
            f"rafters of {shell.quarters.name!r} of steel tube {section} would {why}: give "
            "frame.rafter a timber section, or the roof one slope of "
            f"{PACKING_UP_TO_DEG:g} deg at most"
        )


def _ledger(shell: Shell) -> Piece:
    """The ledger of a lean-to, along the wall that it leans on; its underside is the ceiling."""
    frame = shell.quarters.frame
    breadth, depth = shell.size_mm("rafter")
    start, end = -shell.wall_mm, shell.width_mm + shell.wall_mm
    middle = shell.front_mm + depth / 2
    return Piece(
        kind="trim",
        what=LEDGER,
        place="along the wall that the roof leans on",
        material=frame.strength_class,
        section=frame.rafter,
        length_mm=end - start,
        sawn=True,
        note="on edge, its top bevelled to the pitch; joined over an upright of the wall",
        stick=Stick(
            start_mm=(start, breadth / 2, middle),
            end_mm=(end, breadth / 2, middle),
            breadth_mm=breadth,
            depth_mm=depth,
            depth_axis=(0.0, 0.0, 1.0),
        ),
    )


def _rafters_of(shell: Shell, slope: Slope) -> Iterable[Piece]:
    frame = shell.quarters.frame
    breadth, depth = shell.size_mm("rafter")
    front, back = slope_ends_mm(shell, slope)
    half = depth / 2 / slope.cos_pitch
    note = "plumb cuts, parallel; length long point to long point" if slope.cut_deg else ""
    seat = shell.seat_mm(slope)
    if seat:
        which = "each" if shell.ridge_mm is None and not shell.leans else "the"
        heel, notch = birdsmouth_mm(seat, abs(slope.pitch_deg))
        note += (
            f"; birdsmouth over {which} plate: "
            f"seat {seat:.0f} mm, heel {heel:.1f} mm, depth {notch:.1f} mm"
        )
    if shell.ridge_mm is not None:
        note += "; hung on the ridge beam"
    if shell.leans:
        note += "; hung on the ledger"
    for x in rafter_middles_mm(shell):
        yield Piece(
            kind="rafter",
            what="rafter",
            place=slope.name or "roof",
            material=stuff_of(frame.rafter, frame.strength_class),
            section=frame.rafter,
            length_mm=rafter_length_mm(back - front, slope.pitch_deg, depth),
            cut_start_deg=slope.cut_deg,
            cut_end_deg=slope.cut_deg,
            sawn=True,
            note=note,
            stick=Stick(
                start_mm=(x, front, slope.ceiling_mm(front) + half),
                end_mm=(x, back, slope.ceiling_mm(back) + half),
                breadth_mm=breadth,
                depth_mm=depth,
                depth_axis=slope.up,
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
    half = shell.wall_mm / 2
    plates = (("front", -half), ("back", shell.depth_mm + half))
    for place, y in plates[1:] if shell.leans else plates:
        slope = shell.slope_at(y)
        centre = tuple(
            part + along * depth / 2
            for part, along in zip((0.0, y, slope.ceiling_mm(y)), slope.up, strict=True)
        )
        for left, right in pairwise(middles):
            start, end = left + breadth / 2, right - breadth / 2
            yield Piece(
                kind="nogging",
                what="blocking between rafters",
                place=f"roof, over the {place} plate",
                material=frame.strength_class,
                section=f"{breadth:g}x{depth:g}",  # timber between tubes too
                length_mm=end - start,
                sawn=True,
                stick=Stick(
                    start_mm=(start, centre[1], centre[2]),
                    end_mm=(end, centre[1], centre[2]),
                    breadth_mm=breadth,
                    depth_mm=depth,
                    depth_axis=slope.up,
                ),
            )


def packings(shell: Shell) -> Iterable[Piece]:
    """Tapered packings between a level plate and the rafters, where none is notched."""
    breadth = shell.size_mm("rafter")[0]
    plates = (("front", 0.0), ("back", shell.depth_mm))
    for place, y in plates[1:] if shell.leans else plates:
        slope = shell.slope_at(y)
        thick = shell.wall_mm * abs(slope.rise)
        if shell.seat_mm(slope) or thick < 0.5:
            continue
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
