"""Where a soakaway may lie: far enough from buildings and boundary, near to the downpipe.

The search looks at one spot a metre; what the plan does not know (slopes, pipes, roots,
ground water) decides on the spot.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot

from mewswright.ground.distances import (
    Edge,
    feature_edges,
    is_inside,
    nearest_on_edge,
    outline_edges,
)
from mewswright.handbook.water import drain_figure
from mewswright.model.place import Point
from mewswright.model.yard import Yard

REACH_M = 25  # judgement: a drain longer than that needs a design of its own
CLEAR_M = 1.0  # judgement: from walls, paths and whatever else lies on the ground
TREE_M = 2.0  # judgement: from a stem, where its crown is not told
BUILDINGS = ("building", "weighing_room", "kennel")


@dataclass(frozen=True)
class Place:
    """A spot for a soakaway, with what is nearest to it [m]; None: nothing on record."""

    at_m: Point
    from_downpipe_m: float
    from_building_m: float | None
    from_boundary_m: float | None


def soakaway_place(yard: Yard, start_m: Point) -> Place | None:
    """The spot nearest to a downpipe where a soakaway may lie, or None within 25 m.

    Args:
        yard: Buildings, quarters, features and boundary.
        start_m: The downpipe.

    Source:
        5 m from buildings and 2.5 m from the boundary: BRE Digest 365. Everything that has
        a roof counts as a building, the unit itself too, which is safe.
    """
    ground = _Ground(yard)
    spots = [
        (start_m[0] + dx, start_m[1] + dy)
        for dx in range(-REACH_M, REACH_M + 1)
        for dy in range(-REACH_M, REACH_M + 1)
    ]
    spots.sort(key=lambda spot: (hypot(spot[0] - start_m[0], spot[1] - start_m[1]), spot))
    for spot in spots:
        away = hypot(spot[0] - start_m[0], spot[1] - start_m[1])
        if away > REACH_M:
            return None
        if ground.allows(spot):
            return Place(spot, away, ground.to_buildings(spot), ground.to_boundary(spot))
    return None


class _Ground:
    def __init__(self, yard: Yard) -> None:
        roofed = [q.corners_m for q in yard.quarters if q.kind != "pitch"]
        pitches = [q.corners_m for q in yard.quarters if q.kind == "pitch"]
        built = [f for f in yard.feature if f.kind in BUILDINGS]
        other = [f for f in yard.feature if f.kind not in BUILDINGS and f.kind != "tree"]
        self.building_edges = [edge for corners in roofed for edge in outline_edges(corners)]
        self.building_edges += [edge for f in built for edge in feature_edges(f)]
        self.other_edges = [
            (edge, CLEAR_M + (f.width_m or 0) / 2) for f in other for edge in feature_edges(f)
        ]
        self.other_edges += [(edge, CLEAR_M) for c in pitches for edge in outline_edges(c)]
        self.trees = [
            (f.at_m, max(TREE_M, f.crown_radius_m or 0))
            for f in yard.feature
            if f.kind == "tree" and f.at_m is not None
        ]
        self.outlines: list[Sequence[Point]] = [*roofed, *pitches]
        self.outlines += [f.outline_m for f in yard.feature if f.outline_m is not None]
        self.boundary = yard.yard.boundary_m if len(yard.yard.boundary_m) >= 3 else ()

    def allows(self, spot: Point) -> bool:
        near = self.to_buildings(spot)
        if near is not None and near < drain_figure("soakaway_building_m").value:
            return False
        edge = self.to_boundary(spot)
        if edge is not None and (
            edge < drain_figure("soakaway_boundary_m").value or not is_inside(spot, self.boundary)
        ):
            return False
        if any(is_inside(spot, corners) for corners in self.outlines):
            return False
        if any(hypot(spot[0] - x, spot[1] - y) < clear for (x, y), clear in self.trees):
            return False
        return all(_distance(spot, line) >= clear for line, clear in self.other_edges)

    def to_buildings(self, spot: Point) -> float | None:
        return _nearest(spot, self.building_edges)

    def to_boundary(self, spot: Point) -> float | None:
        return _nearest(spot, outline_edges(self.boundary))


def _distance(spot: Point, edge: Edge) -> float:
    at = nearest_on_edge(spot, edge)
    return hypot(spot[0] - at[0], spot[1] - at[1])


def _nearest(spot: Point, edges: Iterable[Edge]) -> float | None:
    return min((_distance(spot, edge) for edge in edges), default=None)
