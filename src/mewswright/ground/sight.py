"""Who can see what: a straight line over level ground, and what stands in it.

A line of sight leaves quarters through a face or the top, and is stopped by boarded
faces, upstands, solid roofs, and by features that are high enough. Bars, mesh and net
are looked through. Trees stop nothing here; the ground is taken as level.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from mewswright.ground.distances import Edge, crossing_share, feature_edges, nearest_on_edge
from mewswright.model.fitting import Side
from mewswright.model.place import Feature, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Face, Quarters

Eye = tuple[float, float, float]  # east, north, height [m]

HIDES = ("wall", "hedge", "fence", "building", "hay", "straw", "log_stack")
# A screen with this open share or more is looked through: a judgement.
SEEN_THROUGH = 0.3


@dataclass(frozen=True)
class Screen:
    """Something upright that stops sight up to a height."""

    edge: Edge
    top_m: tuple[float, float]  # at both ends of the edge

    def stops(self, start: Eye, end: Eye) -> bool:
        """Whether it stands in the line from one eye to the other."""
        share = crossing_share((start[:2], end[:2]), self.edge)
        if share is None:
            return False
        along = crossing_share(self.edge, (start[:2], end[:2]))
        line_m = start[2] + (end[2] - start[2]) * share
        low, high = self.top_m
        return line_m < low + (high - low) * (along or 0.0)


@dataclass(frozen=True)
class Body:
    """Quarters as something to look out of, into and past."""

    quarters: Quarters

    @cached_property
    def screens(self) -> tuple[Screen, ...]:
        """What of its faces stops sight: boarded ones whole, others by their upstand."""
        q = self.quarters
        if q.faces is None:
            return ()
        left, right, back_right, back_left = q.corners_m
        front, back = m_from_mm(q.front_height_mm or 0), m_from_mm(q.back_height_mm or 0)
        edges: dict[Side, tuple[Edge, tuple[float, float]]] = {
            "front": ((left, right), (front, front)),
            "right": ((right, back_right), (front, back)),
            "back": ((back_right, back_left), (back, back)),
            "left": ((back_left, left), (back, front)),
        }
        found = []
        for side in SIDES:
            face: Face = q.faces.side(side)
            edge, tops = edges[side]
            if face.is_solid or (face.outer is not None and face.outer.infill == "boarded"):
                found.append(Screen(edge, tops))
            elif face.upstand_mm > 0:
                up = m_from_mm(face.upstand_mm)
                found.append(Screen(edge, (up, up)))
        return tuple(found)

    @cached_property
    def centre_m(self) -> Point:
        """Middle of the floor on the ground."""
        return self.quarters.on_ground_m(self.quarters.width_mm / 2, self.quarters.depth_mm / 2)

    @cached_property
    def reach_m(self) -> float:
        """Half the diagonal [m]: nothing of it lies farther from its middle."""
        return m_from_mm(hypot(self.quarters.width_mm, self.quarters.depth_mm)) / 2

    def eye(self, x_mm: float, y_mm: float, height_mm: float) -> Eye:
        """A place in the quarters as an eye on the ground."""
        east, north = self.quarters.on_ground_m(x_mm, y_mm)
        return east, north, m_from_mm(height_mm)

    def stops(self, start: Eye, end: Eye) -> bool:
        """Whether its walls or its roof stand in the line."""
        if self.quarters.faces is None:
            return False
        if _distance(self.centre_m, (start[:2], end[:2])) > self.reach_m:
            return False
        if any(screen.stops(start, end) for screen in self.screens):
            return True
        return self._roof_stops(start, end)

    def _roof_stops(self, start: Eye, end: Eye) -> bool:
        """Whether the line goes through the solid part of the roof.

        The roof is a plane over the floor: the line goes through it where its height
        over the plane changes sign, above the part that is covered.
        """
        q = self.quarters
        if q.roof is None or not q.has_roof or q.roof.covered_share == 0:
            return False
        over = [self._over_roof(eye) for eye in (start, end)]
        if (over[0][2] > 0) == (over[1][2] > 0):
            return False
        share = over[0][2] / (over[0][2] - over[1][2])
        x = over[0][0] + (over[1][0] - over[0][0]) * share
        y = over[0][1] + (over[1][1] - over[0][1]) * share
        depth = m_from_mm(q.depth_mm)
        return 0 <= x <= m_from_mm(q.width_mm) and depth * (1 - q.roof.covered_share) <= y <= depth

    def _over_roof(self, eye: Eye) -> tuple[float, float, float]:
        """An eye in the frame of the quarters, its height counted from the roof's plane [m]."""
        q = self.quarters
        origin, along, inward = q.at_m, q.on_ground_m(1000, 0), q.on_ground_m(0, 1000)
        de, dn = eye[0] - origin[0], eye[1] - origin[1]
        x = de * (along[0] - origin[0]) + dn * (along[1] - origin[1])
        y = de * (inward[0] - origin[0]) + dn * (inward[1] - origin[1])
        front, back = m_from_mm(q.front_height_mm or 0), m_from_mm(q.back_height_mm or 0)
        return x, y, eye[2] - (front + (back - front) * y / m_from_mm(q.depth_mm))


def _distance(point: Point, edge: Edge) -> float:
    near = nearest_on_edge(point, edge)
    return hypot(point[0] - near[0], point[1] - near[1])


def hides(feature: Feature) -> bool:
    """Whether a feature stops sight at all."""
    if feature.kind not in HIDES or not feature.height_m:
        return False
    return feature.porosity is None or feature.porosity < SEEN_THROUGH


def feature_screens(features: Iterable[Feature]) -> tuple[Screen, ...]:
    """The screens that features on the ground make."""
    return tuple(
        Screen(edge, (feature.height_m or 0, feature.height_m or 0))
        for feature in features
        if hides(feature)
        for edge in feature_edges(feature)
    )


def sees(start: Eye, end: Eye, bodies: Sequence[Body], screens: Sequence[Screen]) -> bool:
    """Whether nothing stands in the straight line between two eyes.

    Args:
        start: One eye.
        end: The other.
        bodies: Every quarters that may stand in the line, those of both eyes included.
        screens: What the features make, from `feature_screens`.
    """
    if any(screen.stops(start, end) for screen in screens):
        return False
    return not any(body.stops(start, end) for body in bodies)
