"""Zones of a roof and of walls in wind, with their areas and outer pressure coefficients.

Metres; coefficients are shares of the peak pressure, positive towards the surface.
The wind is named after what it meets first: 0 the low eave, 90 a verge, 180 the high eave.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from mewswright.build.actions.wind import edge_strip_m
from mewswright.handbook import WindPressure, wind_pressures
from mewswright.model.problem import Problem

FLATTEST_DEG = 5.0  # the table of monopitch roofs begins here; below it the flat roof's joins
DIRECTIONS = (0, 90, 180)
FLAT = {"J": "H"}  # zones of a pitched roof that go by another name on a flat one


@dataclass(frozen=True)
class Zone:
    """One zone: its area and coefficients. `cpe_up` is the second, pressing one, or 0."""

    name: str
    area_m2: float
    cpe_10: float
    cpe_1: float
    cpe_up: float = 0


def mean_cpe(zones: Iterable[Zone]) -> float:
    """Mean of the coefficients for large areas, weighted with the areas [-].

    Raises:
        ValueError: If the zones have no area.
    """
    listed = tuple(zones)
    area = sum(zone.area_m2 for zone in listed)
    if not area > 0:
        raise ValueError("zones without an area have no mean")
    return sum(zone.area_m2 * zone.cpe_10 for zone in listed) / area


def roof_zones(
    pitch_deg: float, theta_deg: int, across_m: float, along_m: float, height_m: float
) -> tuple[Zone, ...]:
    """Zones of a monopitch roof for one direction of wind; zones without area are left out.

    Below 5 deg each zone takes the worse of the row for 5 deg and of the flat roof.

    Args:
        pitch_deg: Pitch from level [deg], 0 to 60.
        theta_deg: 0, wind on the low eave; 90, on a verge; 180, on the high eave.
        across_m: Plan size of the roof across the wind (*b*) [m].
        along_m: Plan size along the wind (*d*) [m].
        height_m: Height of the building (*h*) [m].

    Returns:
        Zones F, G, H, or Fup, Flow, G, H, I for 90. Their areas make up the roof's plan.

    Raises:
        Problem: For a pitch above 60 deg, of which the handbook has no coefficients.
        ValueError: For another direction or a negative pitch.

    Source:
        EN 1991-1-4:2005, Figure 7.7, Tables 7.3a and 7.3b, between pitches in a straight
        line; Table 7.2, sharp eaves.
    """
    if theta_deg not in DIRECTIONS:
        raise ValueError(f"wind on a monopitch roof is 0, 90 or 180 deg, got {theta_deg}")
    if not pitch_deg >= 0:
        raise ValueError(f"roof pitch must be 0 deg or more, got {pitch_deg:g}")
    e = edge_strip_m(across_m, height_m)
    strip = min(e / 10, along_m)
    corner = min(e / 4, across_m / 2) * strip
    edge = across_m * strip
    whole = across_m * along_m
    if theta_deg == 90:
        near = across_m * (min(e / 2, along_m) - strip)
        areas = {
            "Fup": corner, "Flow": corner, "G": edge - 2 * corner,
            "H": near, "I": whole - edge - near,
        }  # fmt: skip
    else:
        areas = {"F": 2 * corner, "G": edge - 2 * corner, "H": whole - edge}
    hair = 1e-9 * whole
    return tuple(
        roof_zone("monopitch roof", pitch_deg, theta_deg, name, area)
        for name, area in areas.items()
        if area > hair
    )


def roof_zone(surface: str, pitch_deg: float, theta_deg: int, name: str, area_m2: float) -> Zone:
    """One zone of a pitched roof, read between the rows of its table.

    Args:
        surface: `monopitch roof` or `duopitch roof`.
        pitch_deg: Pitch from level [deg].
        theta_deg: Direction of the wind, as the table has it.
        name: Name of the zone there.
        area_m2: Its area [m2].

    Raises:
        Problem: For a pitch above the last of the table.
    """
    rows = {
        _number(row): row
        for row in wind_pressures(surface)
        if row.zone == name and row.case.endswith(f" theta {theta_deg}")
    }
    if pitch_deg > max(rows):
        raise Problem(
            f"a roof of {pitch_deg:.2f} deg: wind coefficients are known up to {max(rows):g} deg; "
            "an engineer must set them, or make the roof flatter"
        )
    steepened = max(pitch_deg, FLATTEST_DEG)
    cpe_10 = _between(steepened, {at: row.cpe_10 for at, row in rows.items()})
    cpe_1 = _between(steepened, {at: row.cpe_1 for at, row in rows.items()})
    up = _between(steepened, {at: row.cpe_up or 0 for at, row in rows.items()})
    if pitch_deg < FLATTEST_DEG:
        flat = next(
            row for row in wind_pressures("flat roof") if row.zone == FLAT.get(name, name[0])
        )
        cpe_10, cpe_1 = min(cpe_10, flat.cpe_10), min(cpe_1, flat.cpe_1)
        up = max(up, flat.cpe_up or 0)
    return Zone(name, area_m2, cpe_10, cpe_1, up)


@dataclass(frozen=True)
class WallZones:
    """Walls in one wind: the windward D, the leeward E, and A, B, C along a side wall."""

    windward: Zone
    leeward: Zone
    side: tuple[Zone, ...]


def wall_zones(across_m: float, along_m: float, height_m: float) -> WallZones:
    """Zones of the upright walls for one direction of wind.

    Args:
        across_m: Size across the wind (*b*) [m].
        along_m: Size along the wind (*d*) [m].
        height_m: Height of the walls (*h*) [m].

    Source:
        EN 1991-1-4:2005, 7.2.2, Figure 7.5, Table 7.1, between h/d in a straight line.
    """
    e = edge_strip_m(across_m, height_m)
    slender = height_m / along_m

    def zone(name: str, area_m2: float) -> Zone:
        rows = {_number(row): row for row in wind_pressures("wall") if row.zone == name}
        return Zone(
            name,
            area_m2,
            _between(slender, {at: row.cpe_10 for at, row in rows.items()}),
            _between(slender, {at: row.cpe_1 for at, row in rows.items()}),
        )

    a_end, b_end = min(e / 5, along_m), min(e, along_m)
    runs = (("A", a_end), ("B", b_end - a_end), ("C", along_m - b_end))
    return WallZones(
        windward=zone("D", across_m * height_m),
        leeward=zone("E", across_m * height_m),
        side=tuple(zone(name, run * height_m) for name, run in runs if run > 1e-9 * along_m),
    )


def _number(row: WindPressure) -> float:
    """The pitch or the h/d that a row is for: the second word of its case."""
    return float(row.case.split()[1])


def _between(at: float, values: Mapping[float, float]) -> float:
    """Read a table in a straight line between its rows; at its ends it stays level."""
    known = sorted(values)
    if at <= known[0]:
        return values[known[0]]
    for low, high in pairwise(known):
        if at <= high:
            return values[low] + (values[high] - values[low]) * (at - low) / (high - low)
    return values[known[-1]]
