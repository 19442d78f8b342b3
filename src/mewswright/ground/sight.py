"""Who can see what: a straight line, and what stands in it.

A line of sight leaves quarters through a face or the top, and is stopped by boarded
faces, upstands, solid roofs, and by features that are high enough. Bars, mesh and net
are looked through, and slats that leave 0.3 open. Crowns and hedges hide in the months in
which they let less than 0.3 through, as the sun finds them. Heights count from level ground;
on an even slope straight lines stay straight, and the answers are the same.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import hypot

from mewswright.ground.distances import Edge, nearest_on_edge
from mewswright.ground.screens import (
    HAIR_M,
    Blocker,
    Box,
    Crown,
    Eye,
    Screen,
    box_m,
    feature_screens,
    looked_through,
)
from mewswright.model.fitting import Side
from mewswright.model.place import Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Face, Quarters

Spot = tuple[float, float]  # in a plan or in a section [m]
# What a line of sight is asked of stands in `screens`; most who ask want both.
__all__ = [
    "Blocker", "Body", "Crown", "Eye", "Screen", "feature_screens", "in_the_way", "sees",
]  # fmt: skip


def _meet(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


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
        found = []
        for side in SIDES:
            face: Face = q.faces.side(side)
            doubled = face.outer is not None and face.outer.infill == "boarded"
            for edge, tops in self.side_m(side):
                if doubled or not looked_through(face):
                    found.append(Screen(edge, tops, q.name))
                elif face.upstand_mm > 0:
                    up = m_from_mm(face.upstand_mm)
                    found.append(Screen(edge, (up, up), q.name))
        return tuple(found)

    def side_m(self, side: Side) -> tuple[tuple[Edge, tuple[float, float]], ...]:
        """A side on the ground in runs under one slope each, with the roof's height at both ends.

        Raises:
            ValueError: For a pitch, which has no sides.
        """
        q = self.quarters
        return tuple(
            (
                (q.on_ground_m(*one[:2]), q.on_ground_m(*other[:2])),
                (m_from_mm(one[2]), m_from_mm(other[2])),
            )
            for one, other in pairwise(q.wall_top_mm(side))
        )

    @cached_property
    def centre_m(self) -> Point:
        """Middle of the floor on the ground."""
        return self.quarters.on_ground_m(self.quarters.width_mm / 2, self.quarters.depth_mm / 2)

    @cached_property
    def reach_m(self) -> float:
        """Half the diagonal [m]: nothing of it lies farther from its middle."""
        return m_from_mm(hypot(self.quarters.width_mm, self.quarters.depth_mm)) / 2

    @cached_property
    def box_m(self) -> Box:
        """West, south, east and north of the circle round it [m], with a hair to spare."""
        return box_m((self.centre_m,), self.reach_m + HAIR_M)

    @cached_property
    def _frame(self) -> tuple[Point, Point, Point]:
        """Origin, and the ends of a metre along and inward, on the ground [m]."""
        q = self.quarters
        return q.at_m, q.on_ground_m(1000, 0), q.on_ground_m(0, 1000)

    @cached_property
    def _slopes(self) -> tuple[tuple[Spot, Spot], ...]:
        """Both ends of each slope that is covered: behind the front, and up [m]."""
        q = self.quarters
        if q.roof is None or not q.has_roof or q.roof.covered_share == 0:
            return ()
        line = [(m_from_mm(y), m_from_mm(z)) for y, z in q.ceiling_line_mm]
        return tuple(pairwise(line))

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
        return any(screen.stops(start, end) for screen in self.screens) or self._roof_stops(
            start, end
        )

    def _roof_stops(self, start: Eye, end: Eye) -> bool:
        """Whether the line goes through the solid part of the roof.

        Each slope is a plane over the floor: the line goes through it where its height
        over the plane changes sign, above the part that is covered.
        """
        q = self.quarters
        if not self._slopes or q.roof is None:
            return False
        (x0, y0), (x1, y1) = self._inside(start), self._inside(end)
        width = m_from_mm(q.width_mm)
        covered_from = m_from_mm(q.depth_mm) * (1 - q.roof.covered_share)
        for (near, low), (far, high) in self._slopes:
            rise = (high - low) / (far - near)
            over = start[2] - low - rise * (y0 - near)
            over_end = end[2] - low - rise * (y1 - near)
            if (over > 0) == (over_end > 0):
                continue
            share = over / (over - over_end)
            x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
            if 0 <= x <= width and max(near, covered_from) <= y <= far:
                return True
        return False

    def _inside(self, eye: Eye) -> Spot:
        """An eye in the frame of the quarters, seen from above [m]."""
        origin, along, inward = self._frame
        de, dn = eye[0] - origin[0], eye[1] - origin[1]
        return (
            de * (along[0] - origin[0]) + dn * (along[1] - origin[1]),
            de * (inward[0] - origin[0]) + dn * (inward[1] - origin[1]),
        )


def _distance(point: Point, edge: Edge) -> float:
    near = nearest_on_edge(point, edge)
    return hypot(point[0] - near[0], point[1] - near[1])


def in_the_way(
    starts: Sequence[Eye], ends: Sequence[Eye], bodies: Iterable[Body],
    screens: Iterable[Blocker], wide_m: float = 0.0,
) -> tuple[tuple[Body, ...], tuple[Blocker, ...]]:  # fmt: skip
    """What may stand in some line from one of some eyes to one of others, in the order given.

    For many lines between the same two places: all else need not be asked for each.

    Args:
        starts: The eyes at one end, at least one.
        ends: The eyes at the other, at least one.
        bodies: Quarters that may stand between.
        screens: What the features make, from `feature_screens`.
        wide_m: How far a line may begin or end from its eye [m].
    """
    box = box_m((*starts, *ends), wide_m + HAIR_M)
    return (
        tuple(body for body in bodies if _meet(box, body.box_m)),
        tuple(screen for screen in screens if _meet(box, screen.box_m)),
    )


def sees(start: Eye, end: Eye, bodies: Sequence[Body], screens: Sequence[Blocker]) -> bool:
    """Whether nothing stands in the straight line between two eyes.

    Args:
        start: One eye.
        end: The other.
        bodies: Every quarters that may stand in the line, those of both eyes included.
        screens: What the features make, from `feature_screens`.
    """
    west, east = (start[0], end[0]) if start[0] < end[0] else (end[0], start[0])
    south, north = (start[1], end[1]) if start[1] < end[1] else (end[1], start[1])
    for body in bodies:
        w, s, e, n = body.box_m
        if w <= east and s <= north and e >= west and n >= south and body.stops(start, end):
            return False
    for screen in screens:
        w, s, e, n = screen.box_m
        if w <= east and s <= north and e >= west and n >= south and screen.stops(start, end):
            return False
    return True
