"""Rays against solids one by one, compiled: which of them stop a ray on its way to a point.

A ray is a bearing and the tangent of its height. At one bearing the rays that a convex solid stops
lie between two tangents, in closed form (`box_span`, `crown_span`). `light_of_each` asks every
solid for every ray: it is slow, and what `ray_light` and `ray_times` are checked against.

Import this inside the function that needs it: compiling costs some seconds, once. Compiled code is
kept on disk and looks at its own file only: after a change here, empty `ground/__pycache__`.

Rows of solids (float64, metres):
    box: x, y of the centre; cos, sin of its turn; half sizes along u, v; height of the bottom
        at the centre, its slopes along u, v; the same of the top; row of transmittance, -1 where
        it lets nothing through.
    crown: x, y, z of the centre; radius; height over width [-]; row of transmittance or -1.
"""

from typing import Any

import numpy as np
from numba import njit, prange

HAIR = 1e-9  # room for rounding
HIGH = 1e12  # tangent that stands for the zenith


@njit(cache=True)
def box_span(box: Any, px: float, py: float, pz: float, east: float, north: float) -> Any:
    """Lowest and highest tangent that a box stops at one bearing; (1, 0) if none."""
    dx, dy = px - box[0], py - box[1]
    qu, qv = dx * box[2] + dy * box[3], dy * box[2] - dx * box[3]
    du, dv = east * box[2] + north * box[3], north * box[2] - east * box[3]
    near, far = 0.0, HIGH
    if abs(du) < 1e-14:
        if abs(qu) > box[4]:
            return 1.0, 0.0
    else:
        a, b = (-box[4] - qu) / du, (box[4] - qu) / du
        near, far = max(near, min(a, b)), min(far, max(a, b))
    if abs(dv) < 1e-14:
        if abs(qv) > box[5]:
            return 1.0, 0.0
    else:
        a, b = (-box[5] - qv) / dv, (box[5] - qv) / dv
        near, far = max(near, min(a, b)), min(far, max(a, b))
    if near > far or far <= 0.0:
        return 1.0, 0.0
    # Each plane is c + s r over the eye at a distance r: the tangents are s + c / r.
    c0 = box[6] + box[7] * qu + box[8] * qv - pz
    s0 = box[7] * du + box[8] * dv
    c1 = box[9] + box[10] * qu + box[11] * qv - pz
    s1 = box[10] * du + box[11] * dv
    at = far if c0 > 0.0 else near
    low = s0 + c0 / at if at > 0.0 else (s0 if c0 == 0.0 else -HIGH)
    at = near if c1 >= 0.0 else far
    high = s1 + c1 / at if at > 0.0 else (s1 if c1 == 0.0 else HIGH)
    return low, high


@njit(cache=True)
def crown_span(crown: Any, px: float, py: float, pz: float, east: float, north: float) -> Any:
    """Lowest and highest tangent that a crown stops at one bearing; (1, 0) if none."""
    squash = crown[4]
    dx, dy, dz = crown[0] - px, crown[1] - py, (crown[2] - pz) / squash
    aside = dx * north - dy * east
    half2 = crown[3] * crown[3] - aside * aside
    if half2 <= 0.0:
        return 1.0, 0.0
    along = dx * east + dy * north
    away2 = along * along + dz * dz - half2
    if away2 <= 0.0:
        return -HIGH, HIGH
    over2 = along * along - half2
    if over2 >= 0.0 and along <= 0.0:
        return 1.0, 0.0
    # Tangents from the eye to a circle of radius sqrt(half2) about (along, dz).
    root = np.sqrt(half2 * away2)
    if over2 > HAIR * half2:
        return squash * (along * dz - root) / over2, squash * (along * dz + root) / over2
    rise = abs(dz)  # the circle reaches over the eye's own plumb line
    edge = (
        (dz * dz - half2) / (along * rise + root) if along >= 0.0 else (along * rise - root) / over2
    )
    if dz > 0.0:
        return squash * edge, HIGH
    return -HIGH, -squash * edge


@njit(cache=True)
def spans(boxes: Any, crowns: Any, row: int, at: Any, east: float, north: float) -> Any:
    """Lowest and highest tangent that the solid of a row stops: boxes first, then crowns."""
    if row < len(boxes):
        return box_span(boxes[row], at[0], at[1], at[2], east, north)
    return crown_span(crowns[row - len(boxes)], at[0], at[1], at[2], east, north)


@njit(cache=True)
def is_stopped(boxes: Any, crowns: Any, row: int, at: Any, sun: Any) -> bool:
    """Whether a solid stops a ray (east, north, tangent) to a point."""
    low, high = spans(boxes, crowns, row, at, sun[0], sun[1])
    return bool(low <= sun[2] <= high)


@njit(cache=True, parallel=True)
def light_of_each(boxes: Any, crowns: Any, through: Any, points: Any, suns: Any, out: Any) -> None:
    """The same by asking every solid for every ray: what `light_of` is checked against."""
    for p in prange(len(points)):
        for s in range(suns.shape[1]):
            light = np.float32(1.0)
            for row in range(len(boxes) + len(crowns)):
                if is_stopped(boxes, crowns, row, points[p], suns[:, s]):
                    kind = boxes[row, 12] if row < len(boxes) else crowns[row - len(boxes), 5]
                    if kind < 0:
                        light = np.float32(0.0)
                        break
                    light *= through[int(kind), s]
            out[p, s] = light
