"""Shortest walks round what stands in the way, and the round through many places.

Metres. People keep half a barrow's or a body's width off walls, and pass walls at gates. A
shortest walk among straight-sided obstacles turns only at their corners, so it is found on the
graph of corners that see each other (visibility graph, Lozano-Perez and Wesley 1979, from memory;
Dijkstra 1959).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, hypot, inf
from typing import TYPE_CHECKING, Any

from mewswright.ground.footprint import feature_points, footprint
from mewswright.model.place import Point
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

BODY_M = 0.35  # from a wall to the middle of who walks
GATE_M = 1.2
TRUNK_M = 0.15  # radius of a trunk, or of a thing of one point: a judgement
BLOCKS = (
    "wall", "hedge", "fence", "building", "weighing_room", "hay", "straw", "log_stack", "compost",
    "leaf_mould", "rotting_timber", "pond", "tree", "dog_run", "kennel",
)  # fmt: skip
GATES = ("gate", "flying_ground_gate")
PROVEN_TO = 10  # places of a round that is proven shortest by trying all


@dataclass(frozen=True)
class Walk:
    """A way on the ground, corner by corner."""

    points: tuple[Point, ...]

    @property
    def length_m(self) -> float:
        """Its length [m]."""
        return sum(dist(a, b) for a, b in pairwise(self.points))


@dataclass(frozen=True)
class Round:
    """A walk from a start to some places and back."""

    order: tuple[int, ...]  # of the places
    length_m: float
    proven: bool  # that no order is shorter


def obstacles(yard: Yard, keep_off_m: float = BODY_M) -> "BaseGeometry":
    """What nobody walks through, grown by how far the middle of a walker keeps off.

    A gate opens what it stands in.
    """
    from shapely import MultiPoint, Polygon, unary_union

    found = []
    for quarters in yard.quarters:
        if quarters.kind != "pitch":
            found.append(Polygon(quarters.corners_m).buffer(keep_off_m, join_style="mitre"))
    for feature in yard.feature:
        if feature.kind in BLOCKS:
            found.append(
                footprint(feature, TRUNK_M, 0.1).buffer(keep_off_m, quad_segs=2, join_style="mitre")
            )
    gaps = []
    for gate in yard.feature:
        if gate.kind in GATES:
            spread = GATE_M / 2 + keep_off_m
            shape = MultiPoint(feature_points(gate)).convex_hull
            gaps.append(shape.buffer(spread, quad_segs=2))
    return unary_union(found).difference(unary_union(gaps))


class Ways:
    """Shortest walks between some places of a yard.

    A place that lies in something solid, such as a room in a barn, is left by the nearest way
    out of it, in a straight line.
    """

    def __init__(self, yard: Yard, places: Sequence[Point], keep_off_m: float = BODY_M) -> None:
        import numpy as np
        import shapely

        blocked = obstacles(yard, keep_off_m)
        self.places = list(places)
        outside = [_outside(place, blocked) for place in places]
        nodes = outside + _corners(blocked)
        self.nodes = nodes
        count = len(nodes)
        self.lengths: NDArray[np.float64] = np.full((count, count), inf)
        xy = np.array(nodes, float).reshape(-1, 2)
        rows, columns = np.triu_indices(count, 1)
        if not len(rows):
            return
        lines = shapely.linestrings(np.stack((xy[rows], xy[columns]), axis=1))
        core = blocked.buffer(-0.002)  # a walk may brush past
        shapely.prepare(core)
        free = ~shapely.intersects(core, lines)
        away = np.hypot(*(xy[rows] - xy[columns]).T)
        self.lengths[rows[free], columns[free]] = away[free]
        self.lengths[columns[free], rows[free]] = away[free]

    def from_place(self, start: int) -> tuple["NDArray[np.float64]", list[int]]:
        """Lengths from one place to every node [m], and the node before each."""
        import numpy as np

        count = len(self.nodes)
        best = np.full(count, inf)
        before = [-1] * count
        done = np.zeros(count, bool)
        best[start] = 0.0
        for _ in range(count):
            here = int(np.argmin(np.where(done, inf, best)))
            if done[here] or best[here] == inf:
                break
            done[here] = True
            through = best[here] + self.lengths[here]
            for there in np.flatnonzero(through < best - 1e-12):
                best[there] = through[there]
                before[int(there)] = here
        return best, before

    def walk(self, start: int, end: int) -> Walk | None:
        """Shortest walk between two places; None where no way leads there."""
        best, before = self.from_place(start)
        if best[end] == inf:
            return None
        points, here = [self.nodes[end]], end
        while here != start:
            here = before[here]
            points.append(self.nodes[here])
        whole = (self.places[end], *points, self.places[start])[::-1]
        return Walk(tuple(p for i, p in enumerate(whole) if i == 0 or p != whole[i - 1]))

    def table(self) -> list[list[float]]:
        """Lengths of the walks between all places [m]; inf where there is none."""
        spare = [dist(p, q) for p, q in zip(self.places, self.nodes, strict=False)]
        told = []
        for i in range(len(self.places)):
            best, _ = self.from_place(i)
            told.append([
                0.0 if i == j else float(best[j]) + spare[i] + spare[j]
                for j in range(len(self.places))
            ])  # fmt: skip
        return told


def _outside(place: Point, blocked: "BaseGeometry") -> Point:
    from shapely import Point as Spot

    spot = Spot(place)
    if blocked.is_empty or not blocked.buffer(-0.002).contains(spot):
        return place
    edge = blocked.boundary
    near = edge.interpolate(edge.project(spot))
    return float(near.x), float(near.y)


def _corners(blocked: "BaseGeometry") -> list[Point]:
    found: list[Point] = []
    parts: Sequence[Any] = getattr(blocked, "geoms", (blocked,))
    for part in parts:
        if part.is_empty or not hasattr(part, "exterior"):
            continue
        for ring in (part.exterior, *part.interiors):
            found += [(float(x), float(y)) for x, y in ring.coords[:-1]]
    return list(dict.fromkeys(found))


def shortest_round(lengths: Sequence[Sequence[float]]) -> Round | None:
    """Shortest closed walk from place 0 through all others; None where some cannot be reached.

    Up to ten places it is proven by trying all (Held and Karp 1962); beyond, the best of
    nearest-neighbour starts mended by exchanging two and by moving one.
    """
    count = len(lengths)
    if any(lengths[0][j] == inf for j in range(count)):
        return None
    if count <= 1:
        return Round((), 0.0, True)
    if count - 1 <= PROVEN_TO:
        return _all_tried(lengths)
    return _mended(lengths)


def _all_tried(lengths: Sequence[Sequence[float]]) -> Round:
    rest = range(1, len(lengths))
    best: dict[tuple[int, int], tuple[float, int]] = {(1 << j, j): (lengths[0][j], 0) for j in rest}
    for size in range(2, len(lengths)):
        for mask in range(2, 1 << len(lengths), 2):
            if mask.bit_count() != size:
                continue
            for j in rest:
                if mask >> j & 1:
                    left = mask & ~(1 << j)
                    best[mask, j] = min(
                        (best[left, k][0] + lengths[k][j], k) for k in rest if left >> k & 1
                    )
    mask = (1 << len(lengths)) - 2
    total, last = min((best[mask, j][0] + lengths[j][0], j) for j in rest)
    order = []
    while mask:
        order.append(last)
        mask, last = mask & ~(1 << last), best[mask, last][1]
    return Round(tuple(order[::-1]), total, True)


def _mended(lengths: Sequence[Sequence[float]]) -> Round:
    count = len(lengths)

    def long(tour: Sequence[int]) -> float:
        return sum(lengths[a][b] for a, b in pairwise((*tour, tour[0])))

    left, tour = set(range(1, count)), [0]
    while left:
        tour.append(min(left, key=lambda j: (lengths[tour[-1]][j], j)))
        left.discard(tour[-1])
    better = True
    while better:
        better = False
        for i in range(1, count - 1):
            for j in range(i + 1, count):
                a, b, c, d = tour[i - 1], tour[i], tour[j], tour[(j + 1) % count]
                if lengths[a][c] + lengths[b][d] < lengths[a][b] + lengths[c][d] - 1e-9:
                    tour[i : j + 1] = tour[i : j + 1][::-1]
                    better = True
        for i in range(1, count):
            moved = tour[i]
            rest = tour[:i] + tour[i + 1 :]
            options = (
                (lengths[rest[k - 1]][moved] + lengths[moved][rest[k % (count - 1)]]
                 - lengths[rest[k - 1]][rest[k % (count - 1)]], k)
                for k in range(1, count)
            )  # fmt: skip
            _, k = min(options)
            other = [*rest[:k], moved, *rest[k:]]
            if long(other) < long(tour) - 1e-9:
                tour, better = other, True
    return Round(tuple(tour[1:]), long(tour), False)


def door_step_m(yard: Yard, quarters: Quarters, off_m: float = 0.6) -> Point:
    """Where somebody stands to go in: before a door that the file places, else before the front."""
    off_mm = mm_from_m(off_m)
    placed = [
        door
        for door in yard.door
        if quarters.name in door.between and door.face is not None and door.at_mm is not None
    ]
    placed.sort(key=lambda door: "outside" not in door.between)
    if placed and placed[0].face is not None and placed[0].at_mm is not None:
        at = placed[0].at_mm
        spots = {
            "front": (at, -off_mm), "back": (at, quarters.depth_mm + off_mm),
            "left": (-off_mm, at), "right": (quarters.width_mm + off_mm, at),
        }  # fmt: skip
        return quarters.on_ground_m(*spots[placed[0].face])
    if quarters.kind == "pitch":
        return quarters.on_ground_m(quarters.width_mm / 2, quarters.depth_mm / 2)
    return quarters.on_ground_m(quarters.width_mm / 2, -off_mm)


def straight_m(one: Point, other: Point) -> float:
    """Straight distance, which no walk undercuts [m]."""
    return hypot(one[0] - other[0], one[1] - other[1])
