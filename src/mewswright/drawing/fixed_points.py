"""Two fixed points of a yard from which the corners of a unit are set out with tapes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import acos, degrees, hypot
from typing import Literal

from mewswright.drawing.scene import Point
from mewswright.model.yard import Yard

# What stands where it stands and has corners that a tape can be held to. A gate or a room
# that is one point in the yard file has none: which post, which corner?
_WITH_CORNERS = ("building", "weighing_room", "wall", "fence")
_POINTS = ("tap",)
_SHORTEST_M = 1.0  # nearer points give a poor direction
_LEAST_DEG = 30.0  # two tapes that cross at a flat angle fix no place


@dataclass(frozen=True)
class FixedPoint:
    """A point of the yard that stays."""

    name: str
    at_m: Point


def fixed_points(yard: Yard) -> list[FixedPoint]:
    """Give the corners of the boundary, of buildings, walls and fences, and the taps."""
    found = [
        FixedPoint(f"corner {i} of the boundary", p)
        for i, p in enumerate(yard.yard.boundary_m, start=1)
    ]
    for feature in yard.feature:
        if feature.kind in _POINTS and feature.at_m is not None:
            found.append(FixedPoint(feature.name, feature.at_m))
        if feature.kind in _WITH_CORNERS:
            corners = feature.line_m or feature.outline_m or ()
            found += [
                FixedPoint(f"corner {i} of {feature.name}", p)
                for i, p in enumerate(corners, start=1)
            ]
    return found


def two_points(yard: Yard, spots: Sequence[Point]) -> list[FixedPoint]:
    """Choose two fixed points from which tapes to all spots cross well.

    Args:
        yard: The yard.
        spots: Corners to set out [m east, m north].

    Returns:
        The pair whose tapes cross at the best angle at the worst spot, shorter tapes
        preferred; none where no pair crosses at 30 degrees or more at every spot, with all
        spots on one side of it: two tapes meet on both sides of the line between their points.

    Source:
        Surveying practice, memory: intersect at 30 to 150 degrees, best near 90.
    """
    best: tuple[float, list[FixedPoint]] | None = None
    for one, other in combinations(_apart(fixed_points(yard)), 2):
        lengths = [_long(p.at_m, s) for p in (one, other) for s in spots]
        if min(lengths) < _SHORTEST_M or not side_of(one, other, spots):
            continue
        flat = flattest_deg(one, other, spots)
        if flat < _LEAST_DEG:
            continue
        cost = max(lengths) * (2 - flat / 90)  # a longer tape is worth a better crossing
        if best is None or cost < best[0] - 1e-9:
            best = (cost, [one, other])
    return best[1] if best else []


def flattest_deg(one: FixedPoint, other: FixedPoint, spots: Sequence[Point]) -> float:
    """Give the flattest angle at which tapes from two points cross at any spot [deg]."""
    return min(_crossing_deg(one.at_m, other.at_m, spot) for spot in spots)


def side_of(
    one: FixedPoint, other: FixedPoint, spots: Sequence[Point]
) -> Literal["left", "right", ""]:
    """Say on which side all spots lie, seen from one point to the other; blank: on both."""
    (ax, ay), (bx, by) = one.at_m, other.at_m
    turns = [(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in spots]
    if all(turn > 0 for turn in turns):
        return "left"
    return "right" if all(turn < 0 for turn in turns) else ""


def _apart(points: Sequence[FixedPoint]) -> Iterator[FixedPoint]:
    """Give each place once, under its first name."""
    seen: list[Point] = []
    for point in points:
        if all(_long(point.at_m, other) > 0.01 for other in seen):
            seen.append(point.at_m)
            yield point


def _long(a: Point, b: Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def _crossing_deg(a: Point, b: Point, spot: Point) -> float:
    """Angle at which tapes from two points cross at a spot [deg], 0 to 90."""
    u = (a[0] - spot[0], a[1] - spot[1])
    v = (b[0] - spot[0], b[1] - spot[1])
    cosine = (u[0] * v[0] + u[1] * v[1]) / (hypot(*u) * hypot(*v))
    turn = degrees(acos(max(-1.0, min(1.0, cosine))))
    return min(turn, 180 - turn)
