"""The free circle of a tethered bird, and what lies how far from its middle.

Plain geometry in plan. Lengths come back in the unit that they were given in:
millimetres inside quarters, metres on the ground.
"""

from collections.abc import Callable, Sequence
from math import hypot, inf

from mewswright.model.fitting import Side
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Quarters

Spot = tuple[float, float]


def free_radius_mm(
    leash_working_mm: float, swivel_jess_mm: float, wing_span_mm: float, margin_mm: float
) -> float:
    """Radius of the circle that a tethered bird can reach, with a margin round it.

    Holds for a leash tied to the middle of the perch. A ring that slides along a bow
    moves the circle with it.

    Args:
        leash_working_mm: Leash from the ring to the swivel, as tied [mm].
        swivel_jess_mm: Swivel and jesses, stretched [mm].
        wing_span_mm: Span of the open wings [mm].
        margin_mm: Air beyond the wing tip [mm].

    Returns:
        Leash + swivel and jesses + half the span + margin [mm].

    Raises:
        ValueError: If a length is negative or not a number.

    Source:
        Derived; facts on tethering, free radius.
    """
    lengths = (leash_working_mm, swivel_jess_mm, wing_span_mm, margin_mm)
    if not all(0 <= length < inf for length in lengths):
        raise ValueError(f"lengths of a tether must be 0 or more, got {lengths}")
    return leash_working_mm + swivel_jess_mm + wing_span_mm / 2 + margin_mm


def wall_distances_mm(width_mm: float, depth_mm: float, spot: Spot) -> dict[Side, float]:
    """Level distance from a spot in quarters to each of the four sides [mm]."""
    x, y = spot
    return {"front": y, "back": depth_mm - y, "left": x, "right": width_mm - x}


def point_distance(a: Spot, b: Spot) -> float:
    """Distance between two points, in their unit."""
    return hypot(a[0] - b[0], a[1] - b[1])


def segment_distance(spot: Spot, start: Spot, end: Spot) -> float:
    """Distance from a point to a straight piece between two ends, in their unit."""
    return point_distance(spot, nearest_on_segment(spot, start, end))


def nearest_on_segment(spot: Spot, start: Spot, end: Spot) -> Spot:
    """Point of a straight piece that is nearest to a point."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length2 = dx * dx + dy * dy
    if length2 == 0:
        return start
    along = ((spot[0] - start[0]) * dx + (spot[1] - start[1]) * dy) / length2
    along = min(1.0, max(0.0, along))
    return start[0] + along * dx, start[1] + along * dy


def box_distance(spot: Spot, middle: Spot, size: tuple[float, float]) -> float:
    """Distance from a point to an upright rectangle, 0 inside it."""
    dx = max(0.0, abs(spot[0] - middle[0]) - size[0] / 2)
    dy = max(0.0, abs(spot[1] - middle[1]) - size[1] / 2)
    return hypot(dx, dy)


def nearest_on_line(spot: Spot, corners: Sequence[Spot], closed: bool) -> Spot:
    """Point of a line through corners that is nearest to a point.

    Args:
        spot: The point.
        corners: Two or more corners.
        closed: True if the last corner joins the first.

    Raises:
        ValueError: With fewer than two corners.
    """
    if len(corners) < 2:
        raise ValueError(f"a line needs 2 corners or more, got {len(corners)}")
    ends = [*corners[1:], corners[0]] if closed else list(corners[1:])
    near = (nearest_on_segment(spot, a, b) for a, b in zip(corners, ends, strict=False))
    return min(near, key=lambda point: point_distance(spot, point))


def is_inside(spot: Spot, corners: Sequence[Spot]) -> bool:
    """Say whether a point lies inside an outline (its edge counts as neither)."""
    inside = False
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (ay > spot[1]) != (by > spot[1]) and spot[0] < (bx - ax) * (spot[1] - ay) / (
            by - ay
        ) + ax:
            inside = not inside
    return inside


def segments_cross(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Say whether the straight pieces a-b and c-d cut each other; touching does not count."""

    def turn(p: Spot, q: Spot, r: Spot) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def side_crossed(width_mm: float, depth_mm: float, inside: Spot, outside: Spot) -> Side | None:
    """Side of quarters that a straight line leaves through, or None if it stays inside.

    Args:
        width_mm: Width of the quarters [mm].
        depth_mm: Depth of the quarters [mm].
        inside: Start, in the quarters [mm].
        outside: End, in the same frame [mm].
    """
    dx, dy = outside[0] - inside[0], outside[1] - inside[1]
    reached: list[tuple[float, Side]] = []
    if outside[0] < 0:
        reached.append((-inside[0] / dx, "left"))
    if outside[0] > width_mm:
        reached.append(((width_mm - inside[0]) / dx, "right"))
    if outside[1] < 0:
        reached.append((-inside[1] / dy, "front"))
    if outside[1] > depth_mm:
        reached.append(((depth_mm - inside[1]) / dy, "back"))
    return min(reached)[1] if reached else None


def in_quarters_mm(quarters: Quarters, point_m: Spot) -> Spot:
    """Place of a point of the ground in the frame of quarters: undoes `on_ground_m`.

    Args:
        quarters: The quarters.
        point_m: Point on the ground [m east, m north].

    Returns:
        Place [mm], outside 0 to width or depth where the point lies outside.
    """
    return in_frame_of(quarters)(point_m)


def in_frame_of(quarters: Quarters) -> Callable[[Spot], Spot]:
    """What `in_quarters_mm` does, made ready for many points of one quarters."""
    origin = quarters.on_ground_m(0, 0)
    along = quarters.on_ground_m(1000, 0)  # one metre along the front
    into = quarters.on_ground_m(0, 1000)  # one metre into the depth
    ax, ay = along[0] - origin[0], along[1] - origin[1]
    ix, iy = into[0] - origin[0], into[1] - origin[1]

    def place(point_m: Spot) -> Spot:
        dx, dy = point_m[0] - origin[0], point_m[1] - origin[1]
        return mm_from_m(dx * ax + dy * ay), mm_from_m(dx * ix + dy * iy)

    return place
