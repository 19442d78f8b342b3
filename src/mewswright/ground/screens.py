"""What stops sight: walls, fences and buildings, and hedges and crowns by their leaf months.

Metres. What lets 0.3 or more of the light through is looked through. Heights count from
level ground. `ground/sight.py` asks these for straight lines.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from mewswright.ground.distances import Edge, feature_edges
from mewswright.ground.solids import (
    USUAL_MM,
    Leaves,
    SolidCrown,
    feature_solids,
)
from mewswright.model.place import Feature
from mewswright.model.quarters import Face

Eye = tuple[float, float, float]  # east, north, height [m]
Box = tuple[float, float, float, float]  # west, south, east, north [m]

YEAR = frozenset(range(1, 13))
# What is ruled out by its box is ruled out by more than any float's hair.
HAIR_M = 1e-6
# A screen with this open share or more is looked through: a judgement.
SEEN_THROUGH = 0.3


@dataclass(frozen=True)
class Screen:
    """Something upright that stops sight up to a height."""

    edge: Edge
    top_m: tuple[float, float]  # at both ends of the edge
    of: str = ""  # whose it is

    @cached_property
    def box_m(self) -> Box:
        """West, south, east and north of it [m], with a hair to spare."""
        return box_m(self.edge)

    def stops(self, start: Eye, end: Eye) -> bool:
        """Whether it stands in the line from one eye to the other.

        As `crossing_share` has it, both ways in one go: a yard asks this very often.
        """
        (ax, ay), (bx, by) = self.edge
        x, y, up = start
        rx, ry, sx, sy = end[0] - x, end[1] - y, bx - ax, by - ay
        cross = rx * sy - ry * sx
        if cross == 0:  # they run along each other
            return False
        dx, dy = ax - x, ay - y
        share, along = (dx * sy - dy * sx) / cross, (dx * ry - dy * rx) / cross
        if not (0 <= share <= 1 and 0 <= along <= 1):
            return False
        low, high = self.top_m
        return up + (end[2] - up) * share < low + (high - low) * along


@dataclass(frozen=True)
class Crown:
    """A tree's crown that stops sight: a ball, or one drawn out upwards by `squash`."""

    at: Eye
    radius_m: float
    squash: float
    of: str = ""

    @cached_property
    def box_m(self) -> Box:
        """West, south, east and north of it [m], with a hair to spare."""
        return box_m((self.at,), self.radius_m + HAIR_M)

    def stops(self, start: Eye, end: Eye) -> bool:
        """Whether it stands in the line; an eye in the crown itself looks out of it."""
        a, b = self._from_middle(start), self._from_middle(end)
        reach = self.radius_m * self.radius_m
        if _dot(a, a) <= reach or _dot(b, b) <= reach:
            return False
        way = (b[0] - a[0], b[1] - a[1], b[2] - a[2])
        long = _dot(way, way)
        if long == 0:
            return False
        share = min(1.0, max(0.0, -_dot(a, way) / long))
        near = (a[0] + way[0] * share, a[1] + way[1] * share, a[2] + way[2] * share)
        return _dot(near, near) < reach

    def _from_middle(self, eye: Eye) -> Eye:
        at = self.at
        return eye[0] - at[0], eye[1] - at[1], (eye[2] - at[2]) / self.squash


def _dot(one: Eye, other: Eye) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


Blocker = Screen | Crown


def box_m(points: Iterable[Sequence[float]], wide_m: float = HAIR_M) -> Box:
    """The box round some places [m], made wider all round."""
    xs, ys = zip(*((point[0], point[1]) for point in points), strict=True)
    return min(xs) - wide_m, min(ys) - wide_m, max(xs) + wide_m, max(ys) + wide_m


def looked_through(face: Face) -> bool:
    """Whether what fills a face is looked through: all but boards and close slats."""
    if face.is_solid:
        return False
    if face.infill != "slatted" or face.gap_mm is None:
        return True
    slat_mm = face.bar_mm or USUAL_MM["slatted"]
    return face.gap_mm >= SEEN_THROUGH * (face.gap_mm + slat_mm)


def hidden_months(feature: Feature) -> frozenset[int]:
    """Months in which a feature stops sight: none, all, or those in leaf."""
    solids = feature_solids(feature)
    if feature.kind == "tree":
        solids = (one for one in solids if isinstance(one, SolidCrown))  # a trunk hides nothing
    solid = next(solids, None)
    if solid is None:
        return frozenset()
    if not isinstance(solid.thin, Leaves):
        return YEAR
    return frozenset(m for m, share in enumerate(solid.thin.share, 1) if share < SEEN_THROUGH)


def feature_screens(features: Iterable[Feature], month: int | None = None) -> tuple[Blocker, ...]:
    """What of the ground stops sight.

    Args:
        features: What stands on the ground.
        month: The month, 1 to 12; None = only what hides in every month of the year.
    """
    found: list[Blocker] = []
    for feature in features:
        months = hidden_months(feature)
        if months == YEAR if month is None else month in months:
            found += _blockers(feature)
    return tuple(found)


def upright_screens(features: Iterable[Feature]) -> tuple[Screen, ...]:
    """The upright ones alone, crowns left out: what sound has to go over."""
    return tuple(one for one in feature_screens(features) if isinstance(one, Screen))


def _blockers(feature: Feature) -> Iterable[Blocker]:
    if feature.kind == "tree":
        for solid in feature_solids(feature):
            if isinstance(solid, SolidCrown):
                yield Crown(solid.at_m, solid.radius_m, solid.squash, feature.name)
        return
    top = feature.height_m or 0
    for edge in feature_edges(feature):
        yield Screen(edge, (top, top), feature.name)
