"""Sun and shade drawn on the ground: hours of sun on a grid, and the shade of one moment.

For layers of a plan. Metres on the ground, east and north. The ground is level.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, pi, radians, sin, tan
from typing import TYPE_CHECKING

from mewswright.ground.light import Caster, passing, points_of
from mewswright.ground.solids import Solid, SolidBox, SolidCrown, Thin, yard_solids
from mewswright.ground.sun_path import MONTH_DAYS, sun_year
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import MultiPolygon, Polygon

ROUND = 64  # corners of the outline of a crown's shade
MOST_CELLS = 20_000
ALL_MONTHS = tuple(range(1, 13))


@dataclass(frozen=True, eq=False)
class SunGrid:
    """Hours of direct sun under a clear sky on square cells of the ground.

    Attributes:
        corner_m: South-western corner of the grid, east and north.
        cell_m: Size of a cell.
        hours: Mean hours a day at each cell's middle, in the months asked (rows from the south,
            columns from the west).
        months: Those months.
    """

    corner_m: tuple[float, float]
    cell_m: float
    hours: "NDArray[np.float64]"
    months: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Shade:
    """What one solid throws on level ground at one moment.

    Attributes:
        of: Name of the quarters or the feature that it belongs to.
        outline: The shade.
        passes: Share of the sun that reaches the ground within it, 0 for a dense solid.
    """

    of: str
    outline: "Polygon"
    passes: float


def sun_grid(
    yard: Yard,
    cell_m: float = 1.0,
    height_m: float = 0.05,
    months: Sequence[int] = ALL_MONTHS,
    step_min: int = 20,
    box_m: tuple[float, float, float, float] | None = None,
) -> SunGrid:
    """Hours of sun on a grid over the yard.

    Args:
        yard: The yard.
        cell_m: Size of a cell, more than 0.
        height_m: How high over the ground.
        months: Which months, 1 to 12.
        step_min: Minutes a step, a divisor of 60.
        box_m: West, south, east, north; None = round the boundary, or round all that stands.

    Raises:
        ValueError: For a cell, months or a step that cannot be, or too many cells.
    """
    import numpy as np

    if not cell_m > 0:
        raise ValueError(f"a cell must be larger than 0 m, got {cell_m:g}")
    wanted = tuple(sorted(set(months)))
    if not wanted or not set(wanted) <= set(ALL_MONTHS):
        raise ValueError(f"months must be some of 1 to 12, got {list(months)}")
    solids = yard_solids(yard)
    west, south, east, north = box_m or _box(yard, solids)
    columns, rows = (max(1, ceil(size / cell_m)) for size in (east - west, north - south))
    if rows * columns > MOST_CELLS:
        raise ValueError(
            f"cells of {cell_m:g} m make {rows * columns} of them, more than {MOST_CELLS}: "
            "take larger ones"
        )
    place = yard.yard
    year = sun_year(
        place.latitude_deg, place.longitude_deg, place.altitude_m, place.time_zone, step_min,
        horizon=place.horizon_deg,
    ).in_months(wanted)  # fmt: skip
    x = west + (np.arange(columns) + 0.5) * cell_m
    y = south + (np.arange(rows) + 0.5) * cell_m
    spots = np.stack((*np.meshgrid(x, y), np.full((rows, columns), height_m)), axis=-1)
    caster = Caster(solids, year)
    days = sum(MONTH_DAYS[month - 1] for month in wanted)
    lines = [caster.cast(line).sum(axis=1, dtype=float) for line in spots]
    return SunGrid((west, south), cell_m, np.array(lines) * step_min / 60 / days, wanted)


def _box(yard: Yard, solids: Sequence[Solid]) -> tuple[float, float, float, float]:
    """Round the boundary, else round all solids and quarters with 2 m beyond them."""
    points = list(yard.yard.boundary_m)
    wide = 0.0
    if not points:
        wide = 2.0
        points = [(solid.at_m[0], solid.at_m[1]) for solid in solids]
        points += [corner for one in yard.quarters for corner in one.corners_m]
    if not points:
        points = [(0.0, 0.0)]
    xs, ys = zip(*points, strict=True)
    return min(xs) - wide, min(ys) - wide, max(xs) + wide, max(ys) + wide


def shades(
    solids: Sequence[Solid], height_deg: float, bearing_deg: float, month: int
) -> tuple[Shade, ...]:
    """The shade of every solid on level ground at one moment.

    No solid may reach under the ground: what is thrown from there would count as shade.

    Args:
        solids: What stands in the yard (`yard_solids`).
        height_deg: Height of the sun, more than 0.
        bearing_deg: Its bearing, clockwise from north.
        month: Month, 1 to 12, for leaves.

    Raises:
        ValueError: If the sun is not up.
    """
    if not 0 < height_deg <= 90:
        raise ValueError(f"the sun stands at {height_deg:g} deg: it throws no shade")
    way = _way(height_deg, bearing_deg)
    flat = 1 / tan(radians(min(height_deg, 89.999)))
    shift = (-flat * sin(radians(bearing_deg)), -flat * cos(radians(bearing_deg)))
    found = []
    for solid in solids:
        outline = (
            _box_shade(solid, shift)
            if isinstance(solid, SolidBox)
            else _crown_shade(solid, height_deg, bearing_deg, shift)
        )
        if outline is not None:
            found.append(Shade(solid.of, outline, _passes(solid.thin, way, month)))
    return tuple(found)


def dark_ground(found: Sequence[Shade], below: float = 0.5) -> "MultiPolygon":
    """The ground in shade: all that solids throw which let less than a share through."""
    from shapely import MultiPolygon, Polygon, unary_union

    union = unary_union([one.outline for one in found if one.passes < below])
    if isinstance(union, MultiPolygon):
        return union
    return MultiPolygon([union] if isinstance(union, Polygon) and not union.is_empty else [])


def _way(height_deg: float, bearing_deg: float) -> tuple[float, float, float]:
    h, b = radians(height_deg), radians(bearing_deg)
    return cos(h) * sin(b), cos(h) * cos(b), sin(h)


def _passes(thin: Thin | None, way: tuple[float, float, float], month: int) -> float:
    import numpy as np

    if thin is None:
        return 0.0
    return float(passing((thin,), points_of([way]), np.array([month]))[0, 0])


def _box_shade(box: SolidBox, shift: tuple[float, float]) -> "Polygon | None":
    """The hull of its eight corners thrown on the ground."""
    from shapely import MultiPoint, Polygon

    thrown = []
    for u in (-box.half_m[0], box.half_m[0]):
        for v in (-box.half_m[1], box.half_m[1]):
            x = box.at_m[0] + u * box.turn[0] - v * box.turn[1]
            y = box.at_m[1] + u * box.turn[1] + v * box.turn[0]
            for middle, along_u, along_v in (box.bottom, box.top):
                z = max(0.0, middle + along_u * u + along_v * v)
                thrown.append((x + z * shift[0], y + z * shift[1]))
    hull = MultiPoint(thrown).convex_hull
    return hull if isinstance(hull, Polygon) else None


def _crown_shade(
    crown: SolidCrown, height_deg: float, bearing_deg: float, shift: tuple[float, float]
) -> "Polygon":
    """An ellipse: as wide as the crown, and longer along the sun's bearing by 1 / sin(height).

    A crown drawn out upwards is a ball once heights are taken over its squash.
    """
    from shapely import Polygon

    x, y, z = crown.at_m
    middle = (x + z * shift[0], y + z * shift[1])
    steep = tan(radians(min(height_deg, 89.999))) / crown.squash
    long = crown.radius_m * (1 + 1 / steep**2) ** 0.5
    b = radians(bearing_deg)
    corners = []
    for i in range(ROUND):
        turn = 2 * pi * i / ROUND
        along, aside = long * cos(turn), crown.radius_m * sin(turn)
        corners.append(
            (
                middle[0] + along * sin(b) + aside * cos(b),
                middle[1] + along * cos(b) - aside * sin(b),
            )
        )
    return Polygon(corners)
