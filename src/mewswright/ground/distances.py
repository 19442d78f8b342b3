"""Distances on the ground, in metres.

A figure is a tuple of points: one point, the corners of a line, or the corners of an
outline, which is closed by itself. The ground is taken as level.
"""

from collections.abc import Iterable, Sequence
from math import atan2, degrees, hypot

from mewswright.model.place import Feature, Point, WindSector

Edge = tuple[Point, Point]


def feature_edges(feature: Feature) -> tuple[Edge, ...]:
    """Edges of a feature: a point gives one of no length, an outline comes back to its start."""
    if feature.at_m is not None:
        return ((feature.at_m, feature.at_m),)
    if feature.line_m is not None:
        return tuple(zip(feature.line_m, feature.line_m[1:], strict=False))
    return outline_edges(feature.outline_m or ())


def outline_edges(corners: Sequence[Point]) -> tuple[Edge, ...]:
    """Edges of a closed outline."""
    return tuple(zip(corners, (*corners[1:], corners[0]), strict=True)) if corners else ()


def is_inside(point: Point, corners: Sequence[Point]) -> bool:
    """Whether a point lies inside an outline (even-odd rule)."""
    inside = False
    x, y = point
    for (ax, ay), (bx, by) in outline_edges(corners):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def nearest_on_edge(point: Point, edge: Edge) -> Point:
    """The place on an edge that is nearest to a point."""
    (ax, ay), (bx, by) = edge
    dx, dy = bx - ax, by - ay
    length2 = dx * dx + dy * dy
    if length2 == 0:
        return ax, ay
    share = min(1.0, max(0.0, ((point[0] - ax) * dx + (point[1] - ay) * dy) / length2))
    return ax + share * dx, ay + share * dy


def crossing_share(one: Edge, other: Edge) -> float | None:
    """Where along the first edge the second crosses it, 0 to 1, or None.

    Edges that run along each other do not cross.
    """
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    rx, ry, sx, sy = bx - ax, by - ay, dx - cx, dy - cy
    cross = rx * sy - ry * sx
    if cross == 0:
        return None
    share = ((cx - ax) * sy - (cy - ay) * sx) / cross
    along = ((cx - ax) * ry - (cy - ay) * rx) / cross
    return share if 0 <= share <= 1 and 0 <= along <= 1 else None


def edge_distance_m(one: Edge, other: Edge) -> float:
    """Least distance between two edges [m]; 0 where they cross."""
    if crossing_share(one, other) is not None:
        return 0.0
    pairs = ((one[0], other), (one[1], other), (other[0], one), (other[1], one))
    return min(hypot(p[0] - q[0], p[1] - q[1]) for p, e in pairs for q in (nearest_on_edge(p, e),))


def outline_distance_m(corners: Sequence[Point], feature: Feature) -> float:
    """Least distance from an outline to a feature [m]; 0 where they touch or overlap.

    A line with a width is measured from its edge.
    """
    edges = feature_edges(feature)
    if any(is_inside(edge[0], corners) for edge in edges):
        return 0.0
    if feature.outline_m is not None and is_inside(corners[0], feature.outline_m):
        return 0.0
    gap = min(edge_distance_m(e, f) for e in outline_edges(corners) for f in edges)
    half_width = (feature.width_m or 0) / 2 if feature.line_m is not None else 0.0
    return max(0.0, gap - half_width)


def nearest_point_m(to: Point, feature: Feature) -> Point:
    """The place of a feature that is nearest to a point."""
    spots = [nearest_on_edge(to, edge) for edge in feature_edges(feature)]
    return min(spots, key=lambda spot: hypot(spot[0] - to[0], spot[1] - to[1]))


def centre_m(corners: Sequence[Point]) -> Point:
    """Mean of the corners."""
    return (
        sum(x for x, _ in corners) / len(corners),
        sum(y for _, y in corners) / len(corners),
    )


def bearing_deg(start: Point, end: Point) -> float:
    """Bearing from one point to another, clockwise from north, 0 to 360."""
    return degrees(atan2(end[0] - start[0], end[1] - start[1])) % 360


def turn_between_deg(one: float, other: float) -> float:
    """Smaller angle between two bearings, 0 to 180."""
    turn = abs(one - other) % 360
    return min(turn, 360 - turn)


def wind_share_pct(
    rose: Iterable[WindSector], towards_source_deg: float, half_width_deg: float = 45
) -> float:
    """Share of all hours in which the wind comes from about a bearing [%].

    Args:
        rose: The wind rose.
        towards_source_deg: Bearing of what the wind may carry something from.
        half_width_deg: Sectors whose middle is at most so far off count whole.
    """
    return sum(
        sector.share_pct
        for sector in rose
        if turn_between_deg(sector.from_deg, towards_source_deg) <= half_width_deg
    )


def outlines_overlap_m(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How deep two convex outlines lie in each other [m]; 0 or less where they do not.

    The least shift that would part them (separating axes).
    """
    deepest = float("inf")
    for (ax, ay), (bx, by) in (*outline_edges(one), *outline_edges(other)):
        length = hypot(bx - ax, by - ay)
        if length == 0:
            continue
        nx, ny = (by - ay) / length, (ax - bx) / length
        mine = [x * nx + y * ny for x, y in one]
        theirs = [x * nx + y * ny for x, y in other]
        deepest = min(deepest, max(mine) - min(theirs), max(theirs) - min(mine))
    return deepest


def box_squares(corners: Sequence[Point], side_m: float) -> list[tuple[int, int]]:
    """Squares of the ground that the box round an outline touches, to find what is near.

    Args:
        corners: The outline.
        side_m: Side of a square [m].
    """
    xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
    return [
        (column, row)
        for column in range(int(min(xs) // side_m), int(max(xs) // side_m) + 1)
        for row in range(int(min(ys) // side_m), int(max(ys) // side_m) + 1)
    ]
