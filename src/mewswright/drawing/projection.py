"""Timber in three dimensions, seen from one side or cut by a plane.

A view drops one of the three axes of the quarters' frame: a plan drops z, a front
elevation drops y, a side section drops x. Places are millimetres.
"""

from collections.abc import Iterable
from itertools import combinations
from math import hypot, sqrt
from typing import Literal

from mewswright.build.parts import Panel, Place, Stick
from mewswright.drawing.scene import Point

View = Literal["plan", "front", "side"]
DROPPED: dict[View, int] = {"plan": 2, "front": 1, "side": 0}
_KEPT: dict[View, tuple[int, int]] = {"plan": (0, 1), "front": (0, 2), "side": (1, 2)}


def seen(place: Place, view: View) -> Point:
    """Give where a place lies on the drawing."""
    i, j = _KEPT[view]
    return place[i], place[j]


def stick_corners(stick: Stick) -> tuple[Place, ...]:
    """Give the eight corners of a stick: four at its start, four at its end.

    Raises:
        ValueError: If it has no length.
    """
    run = tuple(b - a for a, b in zip(stick.start_mm, stick.end_mm, strict=True))
    length = sqrt(sum(r * r for r in run))
    if length == 0:
        raise ValueError(f"a stick at {stick.start_mm} has no length")
    along = tuple(r / length for r in run)
    d = stick.depth_axis
    across = (
        along[1] * d[2] - along[2] * d[1],
        along[2] * d[0] - along[0] * d[2],
        along[0] * d[1] - along[1] * d[0],
    )
    half_d, half_b = stick.depth_mm / 2, stick.breadth_mm / 2
    return tuple(
        (
            end[0] + u * half_d * d[0] + v * half_b * across[0],
            end[1] + u * half_d * d[1] + v * half_b * across[1],
            end[2] + u * half_d * d[2] + v * half_b * across[2],
        )
        for end in (stick.start_mm, stick.end_mm)
        for u, v in ((1, 1), (1, -1), (-1, -1), (-1, 1))
    )


def panel_corners(panel: Panel) -> tuple[Place, ...]:
    """Give the corners of a panel's two faces.

    Raises:
        ValueError: If its corners span no plane.
    """
    a, b, c = panel.corners_mm[:3]
    u = tuple(q - p for p, q in zip(a, b, strict=True))
    v = tuple(q - p for p, q in zip(b, c, strict=True))
    normal = (
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    )
    long = sqrt(sum(x * x for x in normal))
    if long == 0:
        raise ValueError(f"a panel at {a} spans no plane")
    half = panel.thickness_mm / 2 / long
    return tuple(
        (p[0] + s * half * normal[0], p[1] + s * half * normal[1], p[2] + s * half * normal[2])
        for s in (1, -1)
        for p in panel.corners_mm
    )


def outline(corners: Iterable[Place], view: View) -> tuple[Point, ...]:
    """Give the outline of a convex piece as it is seen."""
    return hull(seen(corner, view) for corner in corners)


def cut(corners: tuple[Place, ...], view: View, at: float) -> tuple[Point, ...]:
    """Give the face that a plane cuts through a convex piece, or nothing if it misses.

    Args:
        corners: Corners of the piece.
        view: The view whose dropped axis the plane stands across.
        at: Where the plane lies on that axis.

    Returns:
        Outline of the cut.
    """
    k = DROPPED[view]
    low, high = min(p[k] for p in corners), max(p[k] for p in corners)
    if not low < at < high:
        return ()
    # Every edge of a convex piece joins two corners; the other joins lie inside the hull.
    points: list[Point] = []
    for p, q in combinations(corners, 2):
        if (p[k] - at) * (q[k] - at) < 0:
            share = (at - p[k]) / (q[k] - p[k])
            points.append(
                seen(
                    (
                        p[0] + share * (q[0] - p[0]),
                        p[1] + share * (q[1] - p[1]),
                        p[2] + share * (q[2] - p[2]),
                    ),
                    view,
                )
            )
    return hull(points) if len(points) > 2 else ()


def reach(corners: Iterable[Place], axis: int) -> tuple[float, float]:
    """Give the least and greatest place along an axis."""
    values = [c[axis] for c in corners]
    return min(values), max(values)


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """Give the convex outline of points, counter-clockwise (Andrew's monotone chain)."""
    listed = sorted({(round(x, 3), round(y, 3)) for x, y in points})
    if len(listed) < 3:
        return tuple(listed)

    def half(run: list[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-6:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return tuple(half(listed) + half(listed[::-1]))


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def middle(points: Iterable[Point]) -> Point:
    """Give the mean of points."""
    listed = list(points)
    return sum(p[0] for p in listed) / len(listed), sum(p[1] for p in listed) / len(listed)


def long_enough(a: Point, b: Point) -> bool:
    """Say whether two points are apart at all."""
    return hypot(b[0] - a[0], b[1] - a[1]) > 0.5
