"""How much of the ground is in sight of a place: the area, swept bearing by bearing.

Metres. Along each bearing places are asked from near to far, and the edge between seen and
hidden is halved down to `EDGE_M`. Bearings are `TURN_DEG` apart, so a gap narrower than that
from the eye may be missed.
"""

from collections.abc import Callable, Iterator, Sequence
from math import cos, radians, sin
from typing import TYPE_CHECKING

from mewswright.ground.footprint import feature_points
from mewswright.ground.screens import Blocker, Eye
from mewswright.ground.sight import Body, in_the_way, sees
from mewswright.model.place import Point
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

TURN_DEG = 2.0
STEP_M = 0.75
EDGE_M = 0.05
ROUND_M = 5.0  # how far past the outermost thing the ground is looked at

Seen = Callable[[Point], bool]


def swept(
    at: Point, reach_m: float, looks_deg: float, view_deg: float, seen: Callable[[float], Seen]
) -> "BaseGeometry":
    """Area of the ground that is seen from a place.

    Args:
        at: The place.
        reach_m: How far to look.
        looks_deg: Bearing of the middle of the view.
        view_deg: Width of the view; 360 = all round.
        seen: Gives for a bearing the question whether a spot on it is seen.
    """
    from shapely import Polygon, unary_union

    count = max(1, round(view_deg / TURN_DEG))
    wide = view_deg / count
    wedges = []
    for i in range(count):
        middle = looks_deg - view_deg / 2 + (i + 0.5) * wide
        # Corners a hair past the wedge, so that neighbours join.
        edges = [radians(middle + side * (wide / 2 + 1e-6)) for side in (-1, 1)]
        for near, far in _runs(at, middle, reach_m, seen(middle)):
            rays = [(sin(turn), cos(turn)) for turn in edges]
            corners = [(at[0] + far * e, at[1] + far * n) for e, n in rays]
            corners += [(at[0] + near * e, at[1] + near * n) for e, n in rays[::-1]]
            wedges.append(Polygon(corners).buffer(0))
    return unary_union(wedges)


def _runs(
    at: Point, bearing_deg: float, reach_m: float, seen: Seen
) -> Iterator[tuple[float, float]]:
    """Where along a bearing the ground is seen: from and to [m]."""
    turn = radians(bearing_deg)
    east, north = sin(turn), cos(turn)

    def asked(away_m: float) -> bool:
        return seen((at[0] + away_m * east, at[1] + away_m * north))

    def edge(low: float, high: float, before: bool) -> float:
        while high - low > EDGE_M:
            middle = (low + high) / 2
            if asked(middle) == before:
                low = middle
            else:
                high = middle
        return (low + high) / 2

    count = max(1, round(reach_m / STEP_M))
    was, last = asked(1e-3), 0.0
    start = 0.0 if was else None
    for i in range(1, count + 1):
        here = reach_m * i / count
        now = asked(here)
        if now != was:
            place = edge(last, here, was)
            if now:
                start = place
            elif start is not None:
                yield start, place
                start = None
        was, last = now, here
    if start is not None and start < reach_m:
        yield start, reach_m


def visible_ground(
    eyes: Sequence[Eye],
    bodies: Sequence[Body],
    screens: Sequence[Blocker],
    height_m: float,
    reach_m: float,
) -> "BaseGeometry":
    """Ground over which a thing so high is seen from one eye or another.

    Args:
        eyes: The eyes.
        bodies: Every quarters that may stand in the way.
        screens: What the ground puts there, from `feature_screens`.
        height_m: Height of the thing over the ground.
        reach_m: How far to look.
    """
    from shapely import unary_union

    def asks(eye: Eye) -> Callable[[float], Seen]:
        def on(bearing_deg: float) -> Seen:
            turn = radians(bearing_deg)
            end = (eye[0] + reach_m * sin(turn), eye[1] + reach_m * cos(turn), height_m)
            near = in_the_way((eye,), (end,), bodies, screens)
            return lambda spot: sees(eye, (*spot, height_m), *near)

        return on

    return unary_union([swept(eye[:2], reach_m, 0, 360, asks(eye)) for eye in eyes])


def ground_of(yard: Yard) -> "BaseGeometry":
    """The ground that a yard covers: inside its boundary, or round what stands on it."""
    from shapely import GeometryCollection, MultiPoint, Polygon

    if len(yard.yard.boundary_m) >= 3:
        return Polygon(yard.yard.boundary_m).buffer(0)
    corners = [corner for q in yard.quarters for corner in q.corners_m]
    corners = corners or [p for f in yard.feature for p in feature_points(f)]
    if not corners:
        return GeometryCollection()
    return MultiPoint(corners).convex_hull.buffer(ROUND_M)
