"""Sun rays against solids, compiled: how much of each ray reaches a point.

A ray is a bearing and the tangent of its height. At one bearing the rays that a convex
solid stops lie between two tangents, in closed form (`_box_span`, `_crown_span`). For each
point the circle of bearings is cut into sectors. In each sector one span of tangents is
known to be dark all over, and above one tangent all is clear; only rays between are asked
solid by solid. So every ray gets the answer that asking every solid would give.

Why the bounds hold: the rays that a convex solid stops are a convex cone. Between two
bearings it holds every sum of a stopped ray of the one and of the other, and the tangent of
such a sum lies between their tangents or, at most, over the higher by 1 / cos(half the turn).
The highest stopped tangent of a box is a sine of the bearing between two of its corners, and
that of a crown falls to both sides of its middle.

Import this inside the function that needs it: compiling costs some seconds, once.

Rows of solids (float64, metres):
    box: x, y of the centre; cos, sin of its turn; half sizes along u, v; height of the bottom
        at the centre, its slopes along u, v; the same of the top; row of transmittance, -1 where
        it lets nothing through.
    crown: x, y, z of the centre; radius; height over width [-]; row of transmittance or -1.
"""

from typing import Any

import numpy as np
from numba import njit, prange

SECTORS = 240
_WIDE = 2 * np.pi / SECTORS
_STRETCH = 1 / np.cos(_WIDE / 2)
_HAIR = 1e-9  # room for rounding between a bound and the rays that it spares
_HIGH = 1e12  # tangent that stands for the zenith


@njit(cache=True)
def box_span(box: Any, px: float, py: float, pz: float, east: float, north: float) -> Any:
    """Lowest and highest tangent that a box stops at one bearing; (1, 0) if none."""
    dx, dy = px - box[0], py - box[1]
    qu, qv = dx * box[2] + dy * box[3], dy * box[2] - dx * box[3]
    du, dv = east * box[2] + north * box[3], north * box[2] - east * box[3]
    near, far = 0.0, _HIGH
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
    low = s0 + c0 / at if at > 0.0 else (s0 if c0 == 0.0 else -_HIGH)
    at = near if c1 >= 0.0 else far
    high = s1 + c1 / at if at > 0.0 else (s1 if c1 == 0.0 else _HIGH)
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
        return -_HIGH, _HIGH
    over2 = along * along - half2
    if over2 >= 0.0 and along <= 0.0:
        return 1.0, 0.0
    # Tangents from the eye to a circle of radius sqrt(half2) about (along, dz).
    root = np.sqrt(half2 * away2)
    if over2 > _HAIR * half2:
        return squash * (along * dz - root) / over2, squash * (along * dz + root) / over2
    rise = abs(dz)  # the circle reaches over the eye's own plumb line
    edge = (
        (dz * dz - half2) / (along * rise + root) if along >= 0.0 else (along * rise - root) / over2
    )
    if dz > 0.0:
        return squash * edge, _HIGH
    return -_HIGH, -squash * edge


@njit(cache=True)
def _spans(boxes: Any, crowns: Any, row: int, at: Any, east: float, north: float) -> Any:
    if row < len(boxes):
        return box_span(boxes[row], at[0], at[1], at[2], east, north)
    return crown_span(crowns[row - len(boxes)], at[0], at[1], at[2], east, north)


@njit(cache=True)
def _reach(boxes: Any, crowns: Any, row: int, at: Any, marks: Any) -> Any:
    """Bearings between which a solid is seen; tangents at its own corners go into `marks`.

    Returns first and last bearing [rad] (the last up to one turn larger), the count of marks.
    """
    if row >= len(boxes):
        crown = crowns[row - len(boxes)]
        dx, dy = crown[0] - at[0], crown[1] - at[1]
        away = np.sqrt(dx * dx + dy * dy)
        if away <= crown[3] * (1 + _HAIR):
            return 0.0, 2 * np.pi, -1
        middle, half = np.arctan2(dx, dy), np.arcsin(crown[3] / away)
        _, high = crown_span(crown, at[0], at[1], at[2], dx / away, dy / away)
        marks[0, 0], marks[0, 1] = middle, high
        return middle - half, middle + half, 1
    box = boxes[row]
    dx, dy = at[0] - box[0], at[1] - box[1]
    qu, qv = dx * box[2] + dy * box[3], dy * box[2] - dx * box[3]
    if abs(qu) <= box[4] * (1 + _HAIR) + _HAIR and abs(qv) <= box[5] * (1 + _HAIR) + _HAIR:
        return 0.0, 2 * np.pi, -1
    middle = np.arctan2(-dx, -dy)
    first, last, count = middle, middle, 0
    for i in range(4):
        u = box[4] if i & 1 else -box[4]
        v = box[5] if i & 2 else -box[5]
        x, y = u * box[2] - v * box[3] - dx, u * box[3] + v * box[2] - dy
        turn = np.arctan2(x, y) - middle
        turn -= 2 * np.pi * np.round(turn / (2 * np.pi))
        first, last = min(first, middle + turn), max(last, middle + turn)
        top = box[9] + box[10] * u + box[11] * v - at[2]
        marks[count, 0], marks[count, 1] = middle + turn, top / np.sqrt(x * x + y * y)
        count += 1
    return first, last, count


@njit(cache=True)
def _room(rows: int) -> Any:
    """Tables and lists that `_fill` fills for one point after the other."""
    most = rows * (SECTORS + 2)
    return (
        np.empty((SECTORS, 5)),
        np.empty((SECTORS, 2), np.int32),
        np.empty((most, 2), np.int32),
        np.empty((most, 3)),
    )


@njit(cache=True)
def _fill(boxes: Any, crowns: Any, at: Any, rays: Any, least: Any, room: Any, marks: Any) -> None:
    """Bounds and lists of solids of every sector as seen from one point.

    Of a sector: tangents from and to which it is dark, below which it is dark, above which no
    solid and no thin one stands; then the first entry of its solids and of its thin ones. Of an
    entry: the next one and its solid; the tangent over which it stops nothing, and those from and
    to which it stops all.
    """
    table, heads, entries, bounds = room
    for k in range(SECTORS):
        table[k, 0], table[k, 1] = 1.0, 0.0
        table[k, 2] = table[k, 3] = table[k, 4] = -1.0
        heads[k, 0] = heads[k, 1] = -1
    count = 0
    for row in range(len(boxes) + len(crowns) - 1, -1, -1):
        kind = boxes[row, 12] if row < len(boxes) else crowns[row - len(boxes), 5]
        thin = 1 if kind >= 0 else 0
        first, last, marked = _reach(boxes, crowns, row, at, marks)
        k0, k1 = int(np.floor(first / _WIDE - _HAIR)), int(np.floor(last / _WIDE + _HAIR))
        if marked < 0:
            k0, k1 = 0, SECTORS - 1
        low0, high0 = _spans(boxes, crowns, row, at, rays[k0 % SECTORS, 0], rays[k0 % SECTORS, 1])
        for k in range(k0, k1 + 1):
            j = (k + 1) % SECTORS
            low1, high1 = _spans(boxes, crowns, row, at, rays[j, 0], rays[j, 1])
            most = -_HIGH
            if low0 <= high0:
                most = max(most, high0)
            if low1 <= high1:
                most = max(most, high1)
            for i in range(max(marked, 0)):
                if k * _WIDE - _HAIR <= marks[i, 0] <= (k + 1) * _WIDE + _HAIR:
                    most = max(most, marks[i, 1])
            sure_low, sure_high = 1.0, 0.0
            if low0 <= high0 and low1 <= high1:
                sure_low = max(low0, low1)
                sure_low = sure_low * _STRETCH * (1 + _HAIR) + _HAIR if sure_low > 0 else 0.0
                sure_high = min(high0, high1) * (1 - _HAIR) - _HAIR
            most = most * _STRETCH * (1 + _HAIR) + _HAIR
            s = k % SECTORS
            if most >= least[s]:
                bounds[count, 0], bounds[count, 1], bounds[count, 2] = most, sure_low, sure_high
                entries[count, 0], entries[count, 1] = heads[s, thin], row
                heads[s, thin] = count
                table[s, 3 + thin] = max(table[s, 3 + thin], most)
                if not thin:
                    if sure_low <= 0.0:
                        table[s, 2] = max(table[s, 2], sure_high)
                    elif sure_high - sure_low > table[s, 1] - table[s, 0]:
                        table[s, 0], table[s, 1] = sure_low, sure_high
                count += 1
            low0, high0 = low1, high1


@njit(cache=True)
def _asked(boxes: Any, crowns: Any, row: int, at: Any, sun: Any) -> bool:
    low, high = _spans(boxes, crowns, row, at, sun[0], sun[1])
    return bool(low <= sun[2] <= high)


@njit(cache=True)
def _one_point(
    boxes: Any, crowns: Any, through: Any, at: Any, suns: Any, tangents: Any, starts: Any,
    room: Any, out: Any,
) -> None:  # fmt: skip
    table, heads, entries, bounds = room
    for k in range(SECTORS):
        s, end = starts[k], starts[k + 1]
        while s < end and tangents[s] <= table[k, 2]:
            out[s] = 0.0
            s += 1
        first = s
        while s < end and tangents[s] <= table[k, 3]:
            tangent = tangents[s]
            out[s] = 1.0
            if table[k, 0] <= tangent <= table[k, 1]:
                out[s] = 0.0
            else:
                entry = heads[k, 0]
                while entry >= 0:
                    if tangent <= bounds[entry, 0] and (
                        bounds[entry, 1] <= tangent <= bounds[entry, 2]
                        or _asked(boxes, crowns, entries[entry, 1], at, suns[s])
                    ):
                        out[s] = 0.0
                        break
                    entry = entries[entry, 0]
            s += 1
        while s < end:
            out[s] = 1.0
            s += 1
        entry = heads[k, 1]
        while entry >= 0:
            row = entries[entry, 1]
            kind = int(boxes[row, 12] if row < len(boxes) else crowns[row - len(boxes), 5])
            s = first
            while s < end and tangents[s] <= bounds[entry, 0]:
                if out[s] > 0 and (
                    bounds[entry, 1] <= tangents[s] <= bounds[entry, 2]
                    or _asked(boxes, crowns, row, at, suns[s])
                ):
                    out[s] *= through[kind, s]
                s += 1
            entry = entries[entry, 0]


@njit(cache=True)
def _sector_rays() -> Any:
    rays = np.empty((SECTORS, 2))
    for k in range(SECTORS):
        rays[k, 0], rays[k, 1] = np.sin(k * _WIDE), np.cos(k * _WIDE)
    return rays


@njit(cache=True, parallel=True)
def light_of(
    boxes: Any, crowns: Any, through: Any, points: Any, suns: Any, starts: Any, out: Any
) -> None:
    """Share of each ray that reaches each point, into `out` (points, rays), float32.

    `suns` (rays, 3): east and north of the bearing's unit vector, tangent of the height, in
    order of sector and then of tangent; `starts` (sectors + 1): the first ray of each sector;
    `through` (rows, rays): transmittances.
    """
    rays = _sector_rays()
    tangents = suns[:, 2].copy()
    least = np.full(SECTORS, _HIGH)
    for k in range(SECTORS):
        if starts[k + 1] > starts[k]:
            least[k] = tangents[starts[k]]
    chunks = min(len(points), 16)
    for chunk in prange(chunks):
        room = _room(len(boxes) + len(crowns))
        marks = np.empty((4, 2))
        for p in range(chunk, len(points), chunks):
            _fill(boxes, crowns, points[p], rays, least, room, marks)
            _one_point(boxes, crowns, through, points[p], suns, tangents, starts, room, out[p])


@njit(cache=True, parallel=True)
def light_of_each(boxes: Any, crowns: Any, through: Any, points: Any, suns: Any, out: Any) -> None:
    """The same by asking every solid for every ray: what `light_of` is checked against."""
    for p in prange(len(points)):
        for s in range(len(suns)):
            light = np.float32(1.0)
            for row in range(len(boxes) + len(crowns)):
                if _asked(boxes, crowns, row, points[p], suns[s]):
                    kind = boxes[row, 12] if row < len(boxes) else crowns[row - len(boxes), 5]
                    if kind < 0:
                        light = np.float32(0.0)
                        break
                    light *= through[int(kind), s]
            out[p, s] = light
