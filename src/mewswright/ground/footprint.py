"""What a feature covers of the ground, as a shape to measure and to cut with. Metres."""

from typing import TYPE_CHECKING

from mewswright.model.place import Feature, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def feature_points(feature: Feature) -> tuple[Point, ...]:
    """Every corner of a feature; a point alone for a thing of one point."""
    if feature.at_m is not None:
        return (feature.at_m,)
    return feature.line_m or feature.outline_m or ()


def footprint(feature: Feature, spot_m: float, line_m: float) -> "BaseGeometry":
    """The ground under a feature.

    Args:
        feature: The feature.
        spot_m: Radius of a thing of one point.
        line_m: Width of a line that gives none.
    """
    from shapely import LineString, Polygon
    from shapely import Point as Spot

    if feature.outline_m is not None:
        return Polygon(feature.outline_m).buffer(0)
    if feature.line_m is not None:
        return LineString(feature.line_m).buffer((feature.width_m or line_m) / 2, cap_style="flat")
    return Spot(feature.at_m or (0.0, 0.0)).buffer(spot_m, quad_segs=2)
