"""Which of several solids hides which, and what is left to see of a line.

Holds for convex solids that do not reach into each other, seen in parallel from far off.
Of two such solids a plane lies between; the one on the viewer's side of it is never hidden
by the other. A plane is sought along the three axes of the frame, then along the faces and
pairs of edges of both. Two that do reach into each other (a rafter over its notch, a board
over the lap of the next) are told apart by the plane through which they reach the least.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from mewswright.build.parts import Place
from mewswright.build.solids import Vector
from mewswright.drawing.projection import hull
from mewswright.drawing.scene import Point

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Faces = tuple[tuple[int, ...], ...]
_TOUCH_MM = 0.01  # solids that reach no deeper than this into each other only touch
_EDGE_ON = 1e-6  # share of a plane's normal towards the viewer under which it is seen as a line
_SHRINK_MM = 0.2  # an outline hides what lies deeper inside it than this


class Body:
    """A convex solid with its outline as it is seen."""

    def __init__(self, places: Sequence[Place], faces: Faces, paper: Floats) -> None:
        """Take corners [mm], faces as indices, and the two axes of the paper (2 x 3)."""
        self.places: Floats = np.array(places, dtype=float)
        self.faces = faces
        self.flat: Floats = self.places @ paper.T
        self.outline = hull((float(x), float(y)) for x, y in self.flat)
        self.low, self.high = self.places.min(axis=0), self.places.max(axis=0)

    @cached_property
    def normals(self) -> Floats:
        """Normals of the faces, outwards, each of length one."""
        fans = _fans(self.faces)
        first = self.places[fans.first]
        u, v = self.places[fans.here] - first, self.places[fans.after] - first
        total = np.add.reduceat(_crossed(u, v), fans.starts)
        long = np.sqrt((total * total).sum(axis=1))
        found: Floats = total / np.maximum(long, 1e-12)[:, None]
        return found

    @cached_property
    def edges(self) -> Floats:
        """Directions of the edges; parallel ones once."""
        fans = _fans(self.faces)
        runs = self.places[fans.after] - self.places[fans.here]
        long = np.sqrt((runs * runs).sum(axis=1))
        units = runs[long > 1e-9] / long[long > 1e-9, None]
        # Of two opposite directions the one whose first coordinate beside nought is positive.
        there = np.abs(units) > 1e-9
        first = units[np.arange(len(units)), there.argmax(axis=1)]
        units *= np.sign(first)[:, None]
        found = dict(zip(map(tuple, np.round(units, 6).tolist()), units, strict=True))
        return np.array(list(found.values()))


@dataclass(frozen=True)
class _Fans:
    """Corners of all faces one after the other: first of its face, itself, the next round."""

    first: Indices
    here: Indices
    after: Indices
    starts: Indices  # where each face begins


@lru_cache(maxsize=256)
def _fans(faces: Faces) -> _Fans:
    return _Fans(
        first=np.array([face[0] for face in faces for _ in face]),
        here=np.array([i for face in faces for i in face]),
        after=np.array([i for face in faces for i in (*face[1:], face[0])]),
        starts=np.cumsum([0, *(len(face) for face in faces[:-1])]),
    )


def _crossed(u: Floats, v: Floats) -> Floats:
    """Cross products, row by row; numpy's own asks its shapes anew each time."""
    (a, b, c), (d, e, f) = np.moveaxis(u, -1, 0), np.moveaxis(v, -1, 0)
    return np.stack((b * f - c * e, c * d - a * f, a * e - b * d), axis=-1)


def hiders(bodies: Sequence[Body], to_viewer: Vector) -> list[list[int]]:
    """Give for each solid those that lie before it and share paper with it.

    Args:
        bodies: The solids.
        to_viewer: Direction to the viewer.
    """
    viewer = np.array(to_viewer, dtype=float)
    viewer /= np.linalg.norm(viewer)
    found: list[list[int]] = [[] for _ in bodies]
    for i, j in _pairs(bodies):
        which = hidden_first(bodies[i], bodies[j], viewer)
        if which:
            first, second = (i, j) if which > 0 else (j, i)
            found[first].append(second)
    return found


def painted_order(
    bodies: Sequence[Body], to_viewer: Vector, before: Sequence[Sequence[int]]
) -> list[int]:
    """Give the order in which to paint solids, the hidden before what hides them.

    Args:
        bodies: The solids.
        to_viewer: Direction to the viewer.
        before: What `hiders` gave for them.

    Returns:
        Indices. Where solids lie round each other in a ring, which no order can paint, the
        one farthest off goes first.
    """
    waits = [0] * len(bodies)
    for found in before:
        for j in found:
            waits[j] += 1
    depth = [float((body.places @ to_viewer).mean()) for body in bodies]
    ready = [(depth[i], i) for i in range(len(bodies)) if waits[i] == 0]
    heapify(ready)
    left, order = set(range(len(bodies))), []
    while left:
        if not ready:
            farthest = min(left, key=lambda k: (depth[k], k))
            ready = [(depth[farthest], farthest)]
        _, i = heappop(ready)
        if i not in left:
            continue
        left.discard(i)
        order.append(i)
        for j in before[i]:
            waits[j] -= 1
            if waits[j] == 0 and j in left:
                heappush(ready, (depth[j], j))
    return order


def _pairs(bodies: Sequence[Body]) -> Iterable[tuple[int, int]]:
    """Give pairs whose outlines share some paper."""
    if not bodies:
        return
    low = np.array([b.flat.min(axis=0) for b in bodies])
    high = np.array([b.flat.max(axis=0) for b in bodies])
    for i in range(len(bodies) - 1):
        near = np.all((low[i + 1 :] < high[i]) & (low[i] < high[i + 1 :]), axis=1)
        for k in np.flatnonzero(near):
            j = i + 1 + int(k)
            if outlines_share(bodies[i].outline, bodies[j].outline):
                yield i, j


def outlines_share(a: Sequence[Point], b: Sequence[Point]) -> bool:
    """Say whether two convex outlines cover some place both; touching is not sharing."""
    for one, other in ((a, b), (b, a)):
        for (px, py), (qx, qy) in zip(one, (*one[1:], one[0]), strict=True):
            nx, ny = qy - py, px - qx  # outwards of a counter-clockwise outline
            least = (nx * nx + ny * ny) ** 0.5 * _TOUCH_MM
            if all((x - px) * nx + (y - py) * ny > -least for x, y in other):
                return False
    return True


def hidden_first(a: Body, b: Body, viewer: Floats) -> int:
    """Say which of two solids the other may hide: 1 the first, -1 the second, 0 neither.

    Args:
        a: One solid.
        b: Another, whose outline shares paper with the first's.
        viewer: Unit vector to the viewer.
    """
    signs: set[int] = set()
    for k in range(3):
        if abs(viewer[k]) > _EDGE_ON:
            if a.high[k] - b.low[k] <= _TOUCH_MM:
                signs.add(1 if viewer[k] > 0 else -1)
            elif b.high[k] - a.low[k] <= _TOUCH_MM:
                signs.add(-1 if viewer[k] > 0 else 1)
    if signs:
        return signs.pop() if len(signs) == 1 else 0
    best = _widest_gap(a, b, np.vstack([np.eye(3), a.normals, b.normals]), viewer)
    if best[0] < -_TOUCH_MM:
        across = _crossed(a.edges[:, None, :], b.edges[None, :, :]).reshape(-1, 3)
        long = np.sqrt((across * across).sum(axis=1))
        across = across[long > 1e-6] / long[long > 1e-6, None]
        best = max(best, _widest_gap(a, b, across, viewer), key=lambda found: found[0])
    return best[1]


def _widest_gap(a: Body, b: Body, axes: Floats, viewer: Floats) -> tuple[float, int]:
    """Give the widest gap between two solids along any axis, and which lies beyond it."""
    towards = axes @ viewer
    axes, towards = axes[np.abs(towards) > _EDGE_ON], towards[np.abs(towards) > _EDGE_ON]
    if len(axes) == 0:
        return -np.inf, 0
    in_a, in_b = a.places @ axes.T, b.places @ axes.T
    gaps = np.concatenate(
        [in_b.min(axis=0) - in_a.max(axis=0), in_a.min(axis=0) - in_b.max(axis=0)]
    )
    k = int(gaps.argmax())
    first = k < len(axes)
    return float(gaps[k]), 1 if first == (towards[k % len(axes)] > 0) else -1


def seen(a: Point, b: Point, outlines: Iterable[Sequence[Point]]) -> list[tuple[Point, Point]]:
    """Give the stretches of a line that none of some convex outlines covers.

    Args:
        a: One end.
        b: The other.
        outlines: Outlines of what lies before the line, counter-clockwise.
    """
    hidden = [share for outline in outlines if (share := inside(a, b, outline)) is not None]
    shown: list[tuple[Point, Point]] = []
    at = 0.0
    for start, end in sorted(hidden):
        if start > at:
            shown.append((_between(a, b, at), _between(a, b, start)))
        at = max(at, end)
    if at < 1:
        shown.append((_between(a, b, at), b))
    return shown


def inside(a: Point, b: Point, outline: Sequence[Point]) -> tuple[float, float] | None:
    """Give the part of a line that lies inside a convex outline, as shares of its length.

    Source: Cyrus and Beck's clipping.
    """
    if len(outline) < 3:
        return None
    enter, leave = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for (px, py), (qx, qy) in zip(outline, (*outline[1:], outline[0]), strict=True):
        nx, ny = py - qy, qx - px  # inwards of a counter-clockwise outline
        long = (nx * nx + ny * ny) ** 0.5
        away = ((a[0] - px) * nx + (a[1] - py) * ny) / long - _SHRINK_MM
        run = (dx * nx + dy * ny) / long
        if abs(run) < 1e-9:
            if away < 0:
                return None
        elif run > 0:
            enter = max(enter, -away / run)
        else:
            leave = min(leave, -away / run)
        if enter >= leave:
            return None
    return enter, leave


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
