"""Layers of sun and shade: the shade of one moment, and hours of sun over a month or the year."""

from calendar import month_name
from datetime import datetime
from math import ceil

from mewswright.ground.layer import Layer, Shape, Tone, areas
from mewswright.ground.solids import yard_solids
from mewswright.ground.sun_map import ALL_MONTHS, SunGrid, dark_ground, shades, sun_grid
from mewswright.ground.sun_path import sun_now
from mewswright.model.yard import Yard

LEVEL = "on level ground, as high as the soil; a slope lengthens or shortens shade"
STEPS: tuple[Tone, ...] = ("step1", "step2", "step3", "step4", "step5")
CELLS = 60  # along the longer side of the grid
LEAST_CELL_M = 0.5


def shade_layer(yard: Yard, at: datetime) -> Layer:
    """Shade on the ground at one moment.

    Args:
        yard: The yard.
        at: The moment, with its offset.

    Raises:
        ValueError: If the moment has no offset.
    """
    place = yard.yard
    sun = sun_now(at, place.latitude_deg, place.longitude_deg, place.altitude_m)
    when = f"{at.day} {month_name[at.month]}, {at:%H:%M}"
    how = (
        f"sun {sun.height_deg:.1f} degrees high at bearing {sun.azimuth_deg:.0f}; every roof, "
        "wall, board, hedge and crown thrown on the ground"
    )
    if sun.height_deg <= 0:
        return Layer(
            name="shade", title=f"Shade, {when}: the sun is down", shapes=(),
            legend=(), how=how, sure=f"{LEVEL}; a clear sky",
        )  # fmt: skip
    found = shades(yard_solids(yard), sun.height_deg, sun.azimuth_deg, at.month)
    dark = dark_ground(found)
    thin = dark_ground(found, below=0.95).difference(dark)
    return Layer(
        name="shade",
        title=f"Shade, {when}",
        shapes=(
            *areas(thin, "halfshade", "thin shade"),
            *areas(dark, "shade", "shade"),
            _sun_arrow(yard, sun.azimuth_deg),
        ),
        legend=(
            ("shade", "shade: less than half of the sun comes through"),
            ("halfshade", "thin shade: bars, mesh, slats or bare crowns"),
            ("quiet", "the way that the light goes"),
        ),
        how=how,
        sure=f"{LEVEL}; a clear sky. Hills hide the sun only where horizon_deg tells of them",
    )


def _sun_arrow(yard: Yard, bearing_deg: float) -> Shape:
    """An arrow with the light, at the edge of the plan from which it comes."""
    from math import cos, radians, sin

    points = [*yard.yard.boundary_m, *(c for q in yard.quarters for c in q.corners_m)]
    points = points or [(0.0, 0.0)]
    xs, ys = zip(*points, strict=True)
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    out = max(max(xs) - min(xs), max(ys) - min(ys)) / 2
    east, north = sin(radians(bearing_deg)), cos(radians(bearing_deg))
    start, end = (
        (round(middle[0] + east * far, 2), round(middle[1] + north * far, 2))
        for far in (out * 1.05, out * 0.85)
    )
    return Shape(kind="arrow", points_m=(start, end), tone="quiet", title="from the sun")


def sun_hours_layer(yard: Yard, month: int | None = None) -> Layer:
    """Hours of sun on the ground, as bands.

    Args:
        yard: The yard.
        month: 1 to 12, or None for the whole year.

    Raises:
        ValueError: For a month that cannot be.
    """
    from shapely import box, unary_union

    grid = sun_grid(yard, cell_m=_cell_m(yard), months=ALL_MONTHS if month is None else (month,))
    shapes: list[Shape] = []
    bands = _bands(float(grid.hours.max()))
    for least, upper, tone in bands:
        cells = [
            box(*_corner(grid, row, column), *_corner(grid, row + 1, column + 1))
            for row, line in enumerate(grid.hours)
            for column, hours in enumerate(line)
            if least <= hours < upper
        ]
        if cells:
            shapes += areas(unary_union(cells), tone, _band(least, upper))
    over = "the year" if month is None else month_name[month]
    return Layer(
        name="sun-hours",
        title=f"Hours of sun a day, {over}",
        shapes=tuple(shapes),
        legend=tuple((tone, _band(least, upper)) for least, upper, tone in bands),
        how=f"rays to the sun each 20 minutes from the middle of every cell of {grid.cell_m:g} m",
        sure=f"{LEVEL}; a clear sky, so an upper bound: cloud takes its share",
    )


def _bands(most: float) -> list[tuple[float, float, Tone]]:
    """Five bands of whole or half hours up to the sunniest cell."""
    wide = max(0.5, ceil(2 * most / len(STEPS)) / 2)
    tops = [wide * (n + 1) for n in range(len(STEPS) - 1)] + [25.0]
    return list(zip([0.0, *tops[:-1]], tops, STEPS, strict=True))


def _band(least: float, upper: float) -> str:
    if upper > 24:
        return f"{least:g} hours and more"
    return f"less than {upper:g} hours" if least == 0 else f"{least:g} to {upper:g} hours"


def _cell_m(yard: Yard) -> float:
    points = [*yard.yard.boundary_m, *(c for q in yard.quarters for c in q.corners_m)]
    if not points:
        return LEAST_CELL_M
    xs, ys = zip(*points, strict=True)
    wide = float(max(max(xs) - min(xs), max(ys) - min(ys)))
    return max(LEAST_CELL_M, round(wide / CELLS, 1))


def _corner(grid: SunGrid, row: int, column: int) -> tuple[float, float]:
    return (
        round(grid.corner_m[0] + column * grid.cell_m, 3),
        round(grid.corner_m[1] + row * grid.cell_m, 3),
    )
