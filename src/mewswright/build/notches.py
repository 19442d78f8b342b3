"""Rafters with their birdsmouths cut out, for the parts in three dimensions.

A notched rafter is no longer convex, and drawings that sort solids by planes need convex ones;
they take build/solids.py. Millimetres in the quarters' own frame.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from mewswright.build.parts import BuiltFrame, Part, Stick
from mewswright.build.solids import Solid, in_axes, solids_of

_LEAST_MM = 0.05  # what reaches no further than this into a plate only touches it


def cut_solids_of(part: Part, frame: BuiltFrame) -> tuple[Solid, ...]:
    """Give every piece of a part as `solids_of` does, rafters notched over level plates.

    A notched piece is closed and its faces are convex, but it is not.

    Args:
        part: One line of a take-off.
        frame: Its unit, for the plates.

    Raises:
        ValueError: As `solids_of`.
    """
    solids = solids_of(part, frame)
    if part.kind != "rafter":
        return solids
    plates = [
        stick
        for head in frame.parts
        if head.kind == "head"
        for stick in head.sticks
        if abs(stick.end_mm[1] - stick.start_mm[1]) < 1e-6
        and abs(stick.end_mm[2] - stick.start_mm[2]) < 1e-6
    ]
    return tuple(
        _notched(solid, stick, plates) for solid, stick in zip(solids, part.sticks, strict=True)
    )


@dataclass(frozen=True)
class _Slope:
    """A rafter in the upright plane that it lies in: plumb ends, underside and top there."""

    start: float
    end: float
    rise: float
    under_mm: float  # at its start
    top_mm: float  # at its start

    def under(self, y: float) -> float:
        return self.under_mm + self.rise * (y - self.start)

    def top(self, y: float) -> float:
        return self.top_mm + self.rise * (y - self.start)


@dataclass(frozen=True)
class _Strip:
    """A stretch of a rafter between two plumb lines, with its underside at both."""

    start: float
    end: float
    left: float
    right: float


def _notched(solid: Solid, stick: Stick, plates: Sequence[Stick]) -> Solid:
    slope = _slope_of(solid)
    if slope is None:
        return solid
    half, x = stick.breadth_mm / 2, stick.start_mm[0]
    seats: dict[tuple[int, int], _Strip] = {}
    for plate in plates:
        ends = sorted((plate.start_mm[0], plate.end_mm[0]))
        if ends[0] < x + half - _LEAST_MM and ends[1] > x - half + _LEAST_MM:
            seat = _seat(slope, plate)
            if seat is not None:  # two plates that are joined under a rafter give one seat
                seats[round(seat.start), round(seat.end)] = seat
    cut = sorted(seats.values(), key=lambda seat: seat.start)
    if not cut or any(one.end > other.start for one, other in pairwise(cut)):
        return solid
    return _extruded(solid, slope, tuple(_strips(slope, cut)), half)


def _slope_of(solid: Solid) -> _Slope | None:
    """None for what is level or does not run from front to back between two plumb cuts."""
    ends: dict[float, list[float]] = {}
    for _, y, z in solid.places_mm:
        ends.setdefault(round(y, 6), []).append(z)
    if len(ends) != 2 or len(solid.corners) != 8 or solid.axes.z[0] < 1 - 1e-9:
        return None
    (start, here), (end, there) = sorted(ends.items())
    rise = (min(there) - min(here)) / (end - start)
    return _Slope(start, end, rise, min(here), max(here)) if abs(rise) > 1e-9 else None


def _seat(slope: _Slope, plate: Stick) -> _Strip | None:
    """Where the top of a plate reaches into a rafter; None where it does not."""
    y, top = plate.start_mm[1], plate.start_mm[2] + plate.breadth_mm / 2
    start = max(slope.start, y - plate.depth_mm / 2)
    end = min(slope.end, y + plate.depth_mm / 2)
    meets = slope.start + (top - slope.under_mm) / slope.rise
    start, end = (start, min(end, meets)) if slope.rise > 0 else (max(start, meets), end)
    deepest = top - slope.under(start if slope.rise > 0 else end)
    if end - start < _LEAST_MM or not _LEAST_MM < deepest < (slope.top_mm - slope.under_mm) / 2:
        return None
    return _Strip(start, end, top, top)


def _strips(slope: _Slope, seats: Sequence[_Strip]) -> Iterator[_Strip]:
    """Part a rafter at the ends of its seats."""
    at = slope.start
    for seat in seats:
        if seat.start - at > 1e-6:
            yield _Strip(at, seat.start, slope.under(at), slope.under(seat.start))
        yield seat
        at = seat.end
    if slope.end - at > 1e-6:
        yield _Strip(at, slope.end, slope.under(at), slope.under(slope.end))


def _extruded(solid: Solid, slope: _Slope, strips: Sequence[_Strip], half_mm: float) -> Solid:
    """Draw the strips out to the rafter's breadth: its sides strip by strip, its edge all round."""
    spots: dict[tuple[float, float], int] = {}

    def spot(y: float, z: float) -> int:
        return spots.setdefault((round(y, 6), round(z, 6)), len(spots))

    below = [(spot(s.start, s.left), spot(s.end, s.right)) for s in strips]
    above = [spot(y, slope.top(y)) for y in (strips[0].start, *(s.end for s in strips))]
    sides = []
    for k, (left, right) in enumerate(below):
        # A heel beside the strip ends on the strip's own plumb edge: a corner of it too. The
        # face begins at the far end, so that its first triangles are none without area.
        face = [left, right]
        after = below[k + 1][0] if k + 1 < len(below) else right
        before = below[k - 1][1] if k else left
        if after != right and strips[k + 1].left > strips[k].right:
            face.append(after)
        face += [above[k + 1], above[k]]
        if before != left and strips[k - 1].right > strips[k].left:
            face = [*face[1:], before, left]
        sides.append(tuple(face))
    ring = [i for pair in below for i in pair] + above[::-1]
    ring = [i for i, after in zip(ring, (*ring[1:], ring[0]), strict=True) if i != after]
    n = len(spots)
    places = [(solid.axes.origin[0], y, z) for y, z in spots]
    flat = [in_axes(solid.axes, place)[:2] for place in places]
    return replace(
        solid,
        corners=(*((u, v, half_mm) for u, v in flat), *((u, v, -half_mm) for u, v in flat)),
        faces=(
            *sides,
            *(tuple(i + n for i in reversed(face)) for face in sides),
            *((i + n, j + n, j, i) for i, j in zip(ring, (*ring[1:], ring[0]), strict=True)),
        ),
    )
