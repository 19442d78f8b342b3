"""When the sun comes to a point and goes from it, compiled.

The sun's way is cut into straight pieces (`sun_pieces`). On a straight piece a solid's cone stops
one stretch, whose ends are where linear forms change their sign (a square form for a crown). What
the stretches of all solids leave is sun, however short: no step of time is involved. A thin solid
stops the sun while it lets less than half of it through.

Import this inside the function that needs it; after a change in `ray_cones` or `ray_kernel`,
empty `ground/__pycache__`.
"""

from typing import Any

import numpy as np
from numba import njit, prange

from mewswright.ground.ray_cones import (
    ASK,
    FORMS,
    SECTORS,
    STRETCH,
    look_round,
    make_room,
    sector_rays,
)
from mewswright.ground.ray_kernel import HAIR, HIGH, is_stopped

HALF = 0.5
_HALVINGS = 20
_TOUCH_MIN = 1e-7  # stretches that leave no more than this between them are one


@njit(cache=True)
def _narrowed(f0: float, f1: float, low: float, high: float) -> Any:
    """The part of a stretch in which a linear form from f0 to f1 is not less than 0."""
    if f0 < 0:
        if f1 <= 0:
            return 1.0, 0.0
        return max(low, f0 / (f0 - f1)), high
    if f1 < 0:
        return low, min(high, f0 / (f0 - f1))
    return low, high


@njit(cache=True)
def _box_stretch(forms: Any, mask: int, ends: Any) -> Any:
    low, high = 0.0, 1.0
    for i in range(FORMS):
        if (mask >> i) & 1:
            a, b, c = forms[i, 0], forms[i, 1], forms[i, 2]
            f0 = a * ends[0, 0] + b * ends[0, 1] + c * ends[0, 2]
            f1 = a * ends[1, 0] + b * ends[1, 1] + c * ends[1, 2]
            low, high = _narrowed(f0, f1, low, high)
            if low >= high:
                return 1.0, 0.0
    return low, high


@njit(cache=True)
def _crown_stretch(forms: Any, ends: Any) -> Any:
    """Where (m.d)^2 - rim |d|^2 >= 0 and m.d > 0 on a piece, d its way with heights over squash."""
    rim, shrink = forms[0, 3], forms[1, 0]
    if rim < 0:
        return 0.0, 1.0
    p0 = forms[0, 0] * ends[0, 0] + forms[0, 1] * ends[0, 1] + forms[0, 2] * ends[0, 2]
    p1 = forms[0, 0] * ends[1, 0] + forms[0, 1] * ends[1, 1] + forms[0, 2] * ends[1, 2]
    if p0 <= 0 and p1 <= 0:
        return 1.0, 0.0
    gx, gy, gz = ends[1, 0] - ends[0, 0], ends[1, 1] - ends[0, 1], ends[1, 2] - ends[0, 2]
    go = p1 - p0
    x, y, z = ends[0, 0], ends[0, 1], ends[0, 2]
    a = go * go - rim * (gx * gx + gy * gy + gz * gz * shrink)
    b = 2 * (p0 * go - rim * (x * gx + y * gy + z * gz * shrink))
    c = p0 * p0 - rim * (x * x + y * y + z * z * shrink)
    root = b * b - 4 * a * c
    if root <= 0:  # no change on this piece
        return (0.0, 1.0) if c > 0 and p0 > 0 else (1.0, 0.0)
    half = -0.5 * (b + (np.sqrt(root) if b >= 0 else -np.sqrt(root)))
    first = half / a if a != 0 else HIGH
    other = c / half if half != 0 else HIGH
    if first > other:
        first, other = other, first
    if a < 0:
        return max(0.0, first), min(1.0, other)
    if p0 + first * go > 0:
        return 0.0, min(1.0, first)
    return max(0.0, other), 1.0


@njit(cache=True)
def _ray(ends: Any, at: float, sun: Any) -> None:
    x = ends[0, 0] + at * (ends[1, 0] - ends[0, 0])
    y = ends[0, 1] + at * (ends[1, 1] - ends[0, 1])
    z = ends[0, 2] + at * (ends[1, 2] - ends[0, 2])
    flat = max(np.sqrt(x * x + y * y), 1e-12)
    sun[0], sun[1], sun[2] = x / flat, y / flat, z / flat


@njit(cache=True)
def _asked_stretch(boxes: Any, crowns: Any, row: int, at: Any, ends: Any, sun: Any) -> Any:
    """The slow way, for an eye next to a plane: both ends, and halving where they differ."""
    _ray(ends, 0.0, sun)
    before = is_stopped(boxes, crowns, row, at, sun)
    _ray(ends, 1.0, sun)
    after = is_stopped(boxes, crowns, row, at, sun)
    if before == after:
        return (0.0, 1.0) if before else (1.0, 0.0)
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        _ray(ends, middle, sun)
        if is_stopped(boxes, crowns, row, at, sun) == before:
            low = middle
        else:
            high = middle
    return (0.0, low) if before else (low, 1.0)


@njit(cache=True)
def _stretches(
    boxes: Any, crowns: Any, through: Any, at: Any, piece: int, ends: Any, entry: int,
    tangent: float, room: Any, found: Any, count: int, sun: Any,
) -> int:  # fmt: skip
    """Stretches of a piece that solids stop, into `found`; -1 if one of them stops all."""
    _, _, entries, uppers, cones = room
    while entry >= 0:
        row, mask = entries[entry, 1], entries[entry, 2]
        if uppers[entry] < tangent:
            if row < len(boxes) and boxes[row, 12] < 0:
                return count  # the solids after it are lower still
        else:
            if mask == ASK:
                low, high = _asked_stretch(boxes, crowns, row, at, ends, sun)
            elif row < len(boxes):
                low, high = _box_stretch(cones[row], mask, ends)
            else:
                low, high = _crown_stretch(cones[row], ends)
            kind = boxes[row, 12] if row < len(boxes) else crowns[row - len(boxes), 5]
            if kind >= 0 and low < high:
                f0, f1 = (
                    HALF - through[int(kind), 2 * piece],
                    HALF - through[int(kind), 2 * piece + 1],
                )
                low, high = _narrowed(f0, f1, low, high)
            if low <= 0.0 and high >= 1.0:
                return -1
            if low < high:
                # Kept in order of their start.
                i = count
                while i > 0 and found[i - 1, 0] > low:
                    found[i, 0], found[i, 1] = found[i - 1, 0], found[i - 1, 1]
                    i -= 1
                found[i, 0], found[i, 1] = low, high
                count += 1
        entry = entries[entry, 0]
    return count


@njit(cache=True)
def _one_point(
    boxes: Any, crowns: Any, through: Any, at: Any, minute: Any, ends: Any, sector: Any,
    tangents: Any, room: Any, found: Any, sun: Any, out: Any,
) -> int:  # fmt: skip
    """Times of sun at one point into `out` as far as it reaches; returns how many there are."""
    table, heads = room[0], room[1]
    told, till, since = 0, -1.0, -1.0
    for p in range(len(sector)):
        s = sector[p]
        low_t, high_t = tangents[p, 0], tangents[p, 1]
        if high_t <= table[s, 0] or low_t >= table[s, 1]:
            continue
        count = 0
        if low_t <= table[s, 2]:
            count = _stretches(
                boxes, crowns, through, at, p, ends[p], heads[s, 0], low_t, room, found, 0, sun
            )
        if count >= 0 and low_t <= table[s, 3]:
            count = _stretches(
                boxes, crowns, through, at, p, ends[p], heads[s, 1], low_t, room, found, count, sun
            )
        if count < 0:
            continue
        start, long = minute[p, 0], minute[p, 1] - minute[p, 0]
        free = 0.0
        for i in range(count + 1):
            stop = found[i, 0] if i < count else 1.0
            if (stop - free) * long > _TOUCH_MIN:
                begin, end = start + free * long, start + stop * long
                if begin - till > _TOUCH_MIN:
                    if till >= 0:
                        if told < len(out):
                            out[told, 0], out[told, 1] = since, till
                        told += 1
                    since = begin
                till = end
            if i < count:
                free = max(free, found[i, 1])
    if till >= 0:
        if told < len(out):
            out[told, 0], out[told, 1] = since, till
        told += 1
    return told


@njit(cache=True, parallel=True)
def times_of(
    boxes: Any,
    crowns: Any,
    through: Any,
    points: Any,
    minute: Any,
    ends: Any,
    sector: Any,
    out: Any,
) -> Any:
    """Minutes at which the sun comes and goes at each point, into `out` (points, most, 2).

    `minute` (pieces, 2), `ends` (pieces, 2, 3), `sector` (pieces,): the sun's way; `through`
    (rows, 2 pieces): transmittances at both ends of each piece.

    Returns:
        How many times of sun each point has; more than `out` has room for are counted only.
    """
    rays = sector_rays()
    tangents = np.empty((len(sector), 2))
    span = np.empty((SECTORS, 2))
    span[:, 0], span[:, 1] = HIGH, -1.0
    for p in range(len(sector)):
        t0 = ends[p, 0, 2] / max(np.hypot(ends[p, 0, 0], ends[p, 0, 1]), 1e-12)
        t1 = ends[p, 1, 2] / max(np.hypot(ends[p, 1, 0], ends[p, 1, 1]), 1e-12)
        low = min(t0, t1)
        tangents[p, 0] = low * (1 - HAIR) if low > 0 else low * STRETCH
        tangents[p, 1] = max(t0, t1) * STRETCH * (1 + HAIR)
        span[sector[p], 0] = min(span[sector[p], 0], max(0.0, tangents[p, 0]))
        span[sector[p], 1] = max(span[sector[p], 1], tangents[p, 1])
    counts = np.zeros(len(points), np.int64)
    chunks = min(len(points), 16)
    for chunk in prange(chunks):
        room = make_room(len(boxes) + len(crowns))
        found = np.empty((len(boxes) + len(crowns) + 1, 2))
        sun = np.empty(3)
        for p in range(chunk, len(points), chunks):
            look_round(boxes, crowns, points[p], rays, span, room)
            counts[p] = _one_point(
                boxes, crowns, through, points[p], minute, ends, sector, tangents, room, found, sun,
                out[p],
            )  # fmt: skip
    return counts
