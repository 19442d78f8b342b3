"""What can fall or run onto quarters: trees, branches, overhead lines, water down the slope.

Metres. The ground is one even slope, as the yard file gives it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from mewswright.ground.distances import (
    bearing_deg,
    centre_m,
    nearest_point_m,
    outline_distance_m,
    turn_between_deg,
)
from mewswright.model.place import Feature, Point
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

LEANS_DEG = 45.0
UP_SLOPE_M = 60.0  # water from farther is taken to have soaked away where no boundary ends it
SHEDS = (
    "road", "lane", "path", "compost", "leaf_mould", "dog_run", "kennel", "pond", "building",
    "hay", "straw", "tap",
)  # fmt: skip


def leans_here(tree: Feature, quarters: Quarters) -> bool:
    """Whether a tree leans towards quarters, within 45 degrees."""
    if tree.lean_deg is None or tree.at_m is None:
        return False
    here = bearing_deg(tree.at_m, centre_m(quarters.corners_m))
    return turn_between_deg(tree.lean_deg, here) <= LEANS_DEG


@dataclass(frozen=True)
class FallReach:
    """Whether a tree, or a branch of it, reaches quarters. Metres."""

    distance_m: float
    fall_m: float  # reach of the whole tree
    warn_m: float  # and of what breaks off its crown and is thrown
    crown_m: float
    leans_here: bool

    @property
    def reaches(self) -> bool:
        """The tree strikes the quarters if it falls this way."""
        return self.distance_m < self.fall_m

    @property
    def warns(self) -> bool:
        """Its broken crown may strike them."""
        return self.distance_m < self.warn_m

    @property
    def overhangs(self) -> bool:
        """A branch that drops straight down lands on them."""
        return self.distance_m < self.crown_m


def fall_reach(
    tree: Feature, quarters: Quarters, fall_heights: float, warn_heights: float
) -> FallReach | None:
    """How a tree reaches quarters; None for what is no tree.

    Args:
        tree: The tree.
        quarters: The quarters.
        fall_heights: Reach of a falling tree, in its own heights.
        warn_heights: Reach of its broken crown, in its own heights.
    """
    if tree.kind != "tree" or tree.height_m is None or tree.at_m is None:
        return None
    return FallReach(
        distance_m=outline_distance_m(quarters.corners_m, tree),
        fall_m=fall_heights * tree.height_m,
        warn_m=warn_heights * tree.height_m,
        crown_m=tree.crown_radius_m or 0.0,
        leans_here=leans_here(tree, quarters),
    )


def down_slope(yard: Yard) -> tuple[float, float]:
    """Unit vector down the slope, east and north."""
    turn = radians(yard.yard.ground_falls_to_deg)
    return sin(turn), cos(turn)


def lies_higher_m(yard: Yard, one: Point, other: Point) -> float:
    """How much higher one place lies than another on the even slope [m]."""
    east, north = down_slope(yard)
    along = (other[0] - one[0]) * east + (other[1] - one[1]) * north
    return along * yard.yard.ground_fall_pct / 100


def runs_onto(yard: Yard, quarters: Quarters, up: bool = True) -> tuple[str, ...]:
    """Names of what lies up the slope of quarters and sheds water on them, or down it.

    Args:
        yard: The yard; on level ground the answer is nothing.
        quarters: The quarters.
        up: True for what lies above; False for what takes their own water.
    """
    from shapely import MultiPoint

    if yard.yard.ground_fall_pct == 0:
        return ()
    east, north = down_slope(yard)
    far = -UP_SLOPE_M if up else UP_SLOPE_M
    corners = quarters.corners_m
    moved = [(x + far * east, y + far * north) for x, y in corners]
    strip = MultiPoint([*corners, *moved]).convex_hull
    outline = tuple((float(x), float(y)) for x, y in strip.exterior.coords[:-1])  # type: ignore[attr-defined]
    return tuple(_in_strip(yard, quarters, outline))


def _in_strip(yard: Yard, quarters: Quarters, strip: Sequence[Point]) -> Iterator[str]:
    from shapely import Polygon

    for feature in yard.feature:
        if feature.kind in SHEDS and outline_distance_m(strip, feature) == 0:
            yield feature.name
    area = Polygon(strip)
    for other in yard.quarters:
        if other.name != quarters.name and area.intersection(Polygon(other.corners_m)).area > 0.01:
            yield other.name


def over_pond_m(yard: Yard, quarters: Quarters, pond: Feature) -> tuple[float, float]:
    """How far quarters are from a pond, and how high their lowest corner lies over its bank [m]."""
    away = outline_distance_m(quarters.corners_m, pond)
    near = nearest_point_m(centre_m(quarters.corners_m), pond)
    return away, min(lies_higher_m(yard, corner, near) for corner in quarters.corners_m)
