"""Sun and shade at solar noon, when the sun stands highest.

Metres on the ground. At solar noon the sun stands due south or due north, so its
height alone says where shade falls. The ground is taken as level, the sun as a point.
Shade of roofs leaves out their overhang; a tree's crown is taken as a ball, and its shade
as no longer than the ball is wide: both say a little less shade than there is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, radians, sin, tan
from typing import Protocol

from mewswright.ground.distances import feature_edges
from mewswright.model.place import Feature, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters

Outline = tuple[Point, ...]

SOLSTICE_DEG = 23.44  # the sun's declination on 21 June, and less it on 21 December
EQUINOX_DEG = 0.0
CROWN_CORNERS = 16  # of the outline that stands for the round shade of a crown
OPAQUE = ("wall", "building")


class Shining(Protocol):
    """A sun that throws shade: at noon, or at an hour of `ground.sun`."""

    @property
    def altitude_deg(self) -> float:
        """Height over the horizon [deg]."""

    def thrown_m(self, height_m: float) -> Point:
        """How far a place so high throws its shade [m east, m north]."""


@dataclass(frozen=True)
class NoonSun:
    """The sun at solar noon: height over the horizon and bearing, 180 = south, 0 = north."""

    altitude_deg: float
    bearing_deg: float

    def shift_m(self, height_m: float) -> float:
        """How far north a place so high throws its shade [m]; less than 0 = south.

        Raises:
            ValueError: If the sun does not rise.
        """
        if self.altitude_deg <= 0:
            raise ValueError(f"the sun stands at {self.altitude_deg:g} deg: it throws no shade")
        length_m = height_m / tan(radians(self.altitude_deg))
        return length_m if self.bearing_deg == 180 else -length_m

    def thrown_m(self, height_m: float) -> Point:
        """How far a place so high throws its shade [m east, m north]."""
        return 0.0, self.shift_m(height_m)


def noon_sun(latitude_deg: float, declination_deg: float) -> NoonSun:
    """Where the sun stands at solar noon.

    Holds to half a degree: the air's refraction and the hours' change of declination are
    left out.

    Args:
        latitude_deg: Latitude [deg], north positive, -90 to 90.
        declination_deg: Declination of the sun [deg]: 23.44 on 21 June, 0 on 21 March.

    Returns:
        Altitude 90 - |latitude - declination| [deg], less than 0 where the sun does not
        rise, and the bearing: south where the latitude is the larger, else north.

    Raises:
        ValueError: If a latitude or a declination cannot be.

    Source:
        sin h = sin(latitude) sin(declination) + cos(latitude) cos(declination) cos(t), with
        the hour angle t = 0; Meeus, Astronomical Algorithms, ch. 13 (from memory).
    """
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude must be -90 to 90 deg, got {latitude_deg:g}")
    if not -SOLSTICE_DEG <= declination_deg <= SOLSTICE_DEG:
        raise ValueError(
            f"the sun's declination is {-SOLSTICE_DEG:g} to {SOLSTICE_DEG:g} deg, "
            f"got {declination_deg:g}"
        )
    altitude_deg = 90 - abs(latitude_deg - declination_deg)
    return NoonSun(altitude_deg, 180.0 if latitude_deg >= declination_deg else 0.0)


def midsummer(latitude_deg: float) -> tuple[float, int]:
    """Declination [deg] and month of the local midsummer: June in the north."""
    return (SOLSTICE_DEG, 6) if latitude_deg >= 0 else (-SOLSTICE_DEG, 12)


def quarters_shade_m(quarters: Quarters, sun: Shining) -> tuple[Outline, ...]:
    """Where the roof, the boarded faces and the upstands of quarters throw shade.

    A roof of clear sheets throws none.

    Args:
        quarters: The quarters; a pitch throws no shade.
        sun: The sun, above the horizon.

    Returns:
        Convex outlines on the ground, one for each surface.
    """
    q = quarters
    if q.faces is None or q.front_height_mm is None or q.back_height_mm is None:
        return ()
    found: list[Outline] = []
    roof = q.roof
    if roof and q.has_roof and roof.covered_share > 0 and roof.cover != "polycarbonate":
        edge = q.depth_mm * (1 - roof.covered_share)
        ridge = () if q.ridge_mm is None else (q.ridge_mm[0],)
        for near, far in pairwise((edge, *ridge, q.depth_mm)):
            places = ((0.0, near), (q.width_mm, near), (q.width_mm, far), (0.0, far))
            found.append(tuple(_thrown(q, x, y, q.ceiling_mm(y), sun) for x, y in places))
    for side in SIDES:
        face = q.faces.side(side)
        solid = face.is_solid or (face.outer is not None and face.outer.infill == "boarded")
        if not solid and face.upstand_mm == 0:
            continue
        for (ax, ay, top_a), (bx, by, top_b) in pairwise(q.wall_top_mm(side)):
            ah, bh = (top_a, top_b) if solid else (face.upstand_mm, face.upstand_mm)
            a, b = _thrown(q, ax, ay, 0, sun), _thrown(q, bx, by, 0, sun)
            found.append((a, b, _thrown(q, bx, by, bh, sun), _thrown(q, ax, ay, ah, sun)))
    return tuple(found)


def _thrown(q: Quarters, x_mm: float, y_mm: float, height_mm: float, sun: Shining) -> Point:
    east, north = q.on_ground_m(x_mm, y_mm)
    across, along = sun.thrown_m(m_from_mm(height_mm))
    return east + across, north + along


def feature_shade_m(feature: Feature, sun: Shining, month: int) -> tuple[Outline, ...]:
    """Where a wall, a building or a tree in leaf throws shade.

    Args:
        feature: The feature; others than these throw none here.
        sun: The sun, above the horizon.
        month: Month, 1 to 12: a tree shades while it is in leaf, and one without leaf
            months all the year.

    Returns:
        Convex outlines on the ground.
    """
    height_m = feature.height_m or 0
    if feature.kind in OPAQUE and height_m:
        east, north = sun.thrown_m(height_m)
        return tuple(
            (a, b, (b[0] + east, b[1] + north), (a[0] + east, a[1] + north))
            for a, b in feature_edges(feature)
        )
    if feature.kind != "tree" or not feature.crown_radius_m or feature.at_m is None:
        return ()
    if feature.leaf_months is not None and month not in feature.leaf_months:
        return ()
    radius = feature.crown_radius_m
    across, along = sun.thrown_m(max(radius, height_m - radius))
    east, north = feature.at_m[0] + across, feature.at_m[1] + along
    turns = (2 * pi * i / CROWN_CORNERS for i in range(CROWN_CORNERS))
    return (tuple((east + radius * cos(t), north + radius * sin(t)) for t in turns),)


def clipped(outline: Sequence[Point], box: tuple[float, float, float, float]) -> Outline:
    """The part of a convex outline that lies in an upright rectangle; () where none does.

    Args:
        outline: Corners, in any unit.
        box: x from, y from, x to, y to, in the same unit.

    Source:
        Sutherland and Hodgman 1974, one edge of the rectangle after the other.
    """
    corners = tuple(outline)
    for axis, limit, keeps_above in (
        (0, box[0], True), (1, box[1], True), (0, box[2], False), (1, box[3], False),
    ):  # fmt: skip
        sign = 1 if keeps_above else -1
        kept: list[Point] = []
        for a, b in zip(corners, (*corners[1:], *corners[:1]), strict=True):
            over_a, over_b = sign * (a[axis] - limit), sign * (b[axis] - limit)
            if over_a >= 0:
                kept.append(a)
            if over_a * over_b < 0:
                share = over_a / (over_a - over_b)
                kept.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
        corners = tuple(kept)
    return corners


def area(outline: Sequence[Point]) -> float:
    """Area of an outline, in its unit squared (shoelace)."""
    pairs = zip(outline, (*outline[1:], *outline[:1]), strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2
