"""How much of each of many rays reaches each of many points, compiled.

Rays stand in order of sector and of height, so that what `ray_cones` knows of a sector settles most
of them in runs; the rest are asked of the open forms of the solids there, many rays at a time.

Import this inside the function that needs it: compiling costs some seconds, once. Compiled code is
kept on disk and looks at its own file only: after a change in `ray_cones` or `ray_kernel`, empty
`ground/__pycache__`.
"""

from typing import Any

import numpy as np
from numba import njit, prange

from mewswright.ground.ray_cones import (
    ASK,
    FORMS,
    MARGIN,
    SECTORS,
    crown_margin,
    look_round,
    make_room,
    sector_rays,
)
from mewswright.ground.ray_kernel import HIGH, is_stopped


@njit(cache=True)
def first_over(tangents: Any, start: int, end: int, limit: float) -> int:
    """First of some sorted tangents that is more than a limit; `end` if none is."""
    while start < end:
        middle = (start + end) >> 1
        if tangents[middle] > limit:
            end = middle
        else:
            start = middle + 1
    return start


@njit(cache=True)
def _margins(forms: Any, mask: int, east: Any, north: Any, tangents: Any, margin: Any) -> None:
    """How far each ray is within the open forms of a box: the least of their values."""
    count = len(east)
    whole = True
    for i in range(FORMS):
        if not (mask >> i) & 1:
            continue
        a, b, c = forms[i, 0], forms[i, 1], forms[i, 2]
        if whole:
            for s in range(count):
                margin[s] = a * east[s] + b * north[s] + c * tangents[s]
            whole = False
        else:
            for s in range(count):
                value = a * east[s] + b * north[s] + c * tangents[s]
                margin[s] = value if value < margin[s] else margin[s]
    if whole:
        for s in range(count):
            margin[s] = 1.0


@njit(cache=True)
def _stop(margin: Any, out: Any) -> int:
    """Darken the rays that are surely stopped; count those in doubt."""
    doubts = 0
    for s in range(len(out)):
        out[s] = np.float32(0.0) if margin[s] > MARGIN else out[s]
        doubts += 1 if abs(margin[s]) <= MARGIN else 0
    return doubts


@njit(cache=True)
def _dim(margin: Any, share: Any, out: Any) -> int:
    """The same for a thin solid, which lets a share of each ray through."""
    doubts = 0
    for s in range(len(out)):
        out[s] = out[s] * share[s] if margin[s] > MARGIN else out[s]
        doubts += 1 if abs(margin[s]) <= MARGIN else 0
    return doubts


@njit(cache=True)
def _fill(out: Any, value: float) -> None:
    for s in range(len(out)):
        out[s] = value


@njit(cache=True)
def _ask(
    boxes: Any, crowns: Any, through: Any, at: Any, suns: Any, entry: int, span: Any, room: Any,
    margin: Any, out: Any,
) -> None:  # fmt: skip
    """Ask one solid of a run of rays."""
    entries, cones = room[2], room[4]
    row, mask = entries[entry, 1], entries[entry, 2]
    a, b = span
    east, north, tangents = suns[0, a:b], suns[1, a:b], suns[2, a:b]
    is_box = row < len(boxes)
    kind = int(boxes[row, 12] if is_box else crowns[row - len(boxes), 5])
    if mask == ASK:
        _fill(margin[: b - a], 0.0)
    elif is_box:
        _margins(cones[row], mask, east, north, tangents, margin)
    else:
        for s in range(b - a):
            margin[s] = crown_margin(cones[row], east[s], north[s], tangents[s])
    doubts = _stop(margin, out[a:b]) if kind < 0 else _dim(margin, through[kind, a:b], out[a:b])
    if doubts == 0:
        return
    for s in range(b - a):
        if abs(margin[s]) <= MARGIN and is_stopped(boxes, crowns, row, at, suns[:, a + s]):
            out[a + s] *= np.float32(0.0) if kind < 0 else through[kind, a + s]


@njit(cache=True)
def _one_point(
    boxes: Any, crowns: Any, through: Any, at: Any, suns: Any, starts: Any, room: Any,
    margin: Any, out: Any,
) -> None:  # fmt: skip
    table, heads, entries, uppers, _ = room
    tangents = suns[2]
    for k in range(SECTORS):
        start, end = starts[k], starts[k + 1]
        if start == end:
            continue
        first = first_over(tangents, start, end, table[k, 0])
        last = end
        if table[k, 1] < HIGH:
            last = max(first, first_over(tangents, start, end, table[k, 1]))
        _fill(out[start:first], 0.0)
        _fill(out[first:last], 1.0)
        _fill(out[last:end], 0.0)
        for thin in range(2):
            entry = heads[k, thin]
            while entry >= 0:
                stop = first_over(tangents, first, last, uppers[entry])
                if stop > first:
                    span = (first, stop)
                    _ask(boxes, crowns, through, at, suns, entry, span, room, margin, out)
                elif not thin:
                    break  # the solids after it are lower still
                entry = entries[entry, 0]


@njit(cache=True)
def sector_spans(tangents: Any, starts: Any) -> Any:
    """Least and most tangent of each sector (sectors, 2); HIGH and -1 where it has no ray."""
    span = np.empty((SECTORS, 2))
    for k in range(SECTORS):
        span[k, 0], span[k, 1] = HIGH, -1.0
        if starts[k + 1] > starts[k]:
            span[k, 0], span[k, 1] = tangents[starts[k]], tangents[starts[k + 1] - 1]
    return span


@njit(cache=True, parallel=True)
def light_of(
    boxes: Any, crowns: Any, through: Any, points: Any, suns: Any, starts: Any, out: Any
) -> None:
    """Share of each ray that reaches each point, into `out` (points, rays), float32.

    `suns` (3, rays): east and north of the bearing's unit vector, tangent of the height, in
    order of sector and then of tangent; `starts` (sectors + 1): the first ray of each sector;
    `through` (rows, rays): transmittances.
    """
    rays = sector_rays()
    span = sector_spans(suns[2], starts)
    chunks = min(len(points), 16)
    for chunk in prange(chunks):
        room = make_room(len(boxes) + len(crowns))
        margin = np.empty(np.max(starts[1:] - starts[:-1]))
        for p in range(chunk, len(points), chunks):
            look_round(boxes, crowns, points[p], rays, span, room)
            _one_point(boxes, crowns, through, points[p], suns, starts, room, margin, out[p])
