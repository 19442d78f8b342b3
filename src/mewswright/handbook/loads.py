"""Numbers of snow, wind and other loads, as the Eurocodes' first generation has them.

A first sizing under stated loads stands on these; the local annex, the local code and a
licensed engineer decide.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class SnowBand:
    """Share of ground snow on a single-pitch roof, straight between two pitches."""

    pitch_from_deg: float
    pitch_to_deg: float
    mu1_from: float
    mu1_to: float
    note: str
    source: SourceRef


@dataclass(frozen=True)
class Terrain:
    """Roughness of terrain [m]; `ce_low` is the exposure up to 3.5 m, where it is known."""

    category: str
    z0_m: float
    zmin_m: float
    ce_low: float | None
    note: str
    source: SourceRef


@dataclass(frozen=True)
class WindPressure:
    """External pressure coefficients of one zone of a wall or roof [-]."""

    surface: str
    case: str
    zone: str
    cpe_10: float
    cpe_1: float
    cpe_up: float | None
    source: SourceRef


@dataclass(frozen=True)
class CanopyPressure:
    """Net coefficients of a canopy, overall and in zones A, B and C [-]; D at a ridge."""

    pitch_deg: float
    case: str
    cf: float
    zone_a: float
    zone_b: float
    zone_c: float
    zone_d: float | None
    source: SourceRef


@dataclass(frozen=True)
class FreeStandingPressure:
    """Net coefficient of one zone of a solid free-standing wall [-]."""

    length_over_height: float
    corner: str
    zone: str
    cp_net: float
    source: SourceRef


@cache
def snow_shapes() -> tuple[SnowBand, ...]:
    """Bands of pitch with the share of ground snow at both their ends."""
    return tuple(
        SnowBand(
            float(row["pitch_from_deg"]),
            float(row["pitch_to_deg"]),
            float(row["mu1_from"]),
            float(row["mu1_to"]),
            row["note"],
            reference(row, f"snow_shapes.csv, {row['pitch_from_deg']}"),
        )
        for row in rows("snow_shapes")
    )


@cache
def _load_factors() -> Mapping[str, Figure]:
    return {
        row["name"]: figure(row, f"load_factors.csv, {row['name']}") for row in rows("load_factors")
    }


def load_factor(name: str) -> Figure:
    """One number of snow, wind, imposed load or their combination.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _load_factors():
        raise unknown("load factor", name, _load_factors(), "see load_factors.csv")
    return _load_factors()[name]


def snow_exposure(name: str) -> Figure:
    """Exposure coefficient Ce [-] of a place: `windswept`, `normal` or `sheltered`.

    Raises:
        Problem: If it is none of the three.
    """
    places = {"windswept", "normal", "sheltered"}
    if name not in places:
        raise unknown("exposure", name, places)
    return load_factor(f"ce_{name}")


@cache
def terrains() -> Mapping[str, Terrain]:
    """Terrain categories by name, 0 to IV."""
    return {
        row["category"]: Terrain(
            row["category"],
            float(row["z0_m"]),
            float(row["zmin_m"]),
            number(row["ce_low"]),
            row["note"],
            reference(row, f"terrains.csv, {row['category']}"),
        )
        for row in rows("terrains")
    }


def terrain(category: str) -> Terrain:
    """The terrain category: `0`, `I`, `II`, `III` or `IV`.

    Raises:
        Problem: If it is none of those.
    """
    if category not in terrains():
        raise unknown("terrain category", category, terrains())
    return terrains()[category]


@cache
def wind_pressures(surface: str | None = None) -> tuple[WindPressure, ...]:
    """External pressure coefficients of a `wall`, of a `flat`, `monopitch` or `duopitch roof`."""
    return tuple(
        WindPressure(
            row["surface"],
            row["case"],
            row["zone"],
            float(row["cpe_10"]),
            float(row["cpe_1"]),
            number(row["cpe_up"]),
            reference(row, f"wind_pressures.csv, {row['surface']} {row['case']} {row['zone']}"),
        )
        for row in rows("wind_pressures")
        if surface in (None, row["surface"])
    )


@cache
def canopy_pressures(form: str = "monopitch") -> tuple[CanopyPressure, ...]:
    """Net coefficients of `monopitch` or `duopitch` canopies by pitch and case."""
    table = {"monopitch": "canopy_pressures", "duopitch": "canopy_pressures_duopitch"}[form]
    return tuple(
        CanopyPressure(
            float(row["pitch_deg"]),
            row["case"],
            float(row["cf"]),
            float(row["zone_a"]),
            float(row["zone_b"]),
            float(row["zone_c"]),
            number(row.get("zone_d", "")),
            reference(row, f"{table}.csv, {row['pitch_deg']} {row['case']}"),
        )
        for row in rows(table)
    )


@cache
def free_standing_pressures() -> tuple[FreeStandingPressure, ...]:
    """Net coefficients of solid free-standing walls by length, corner and zone."""
    return tuple(
        FreeStandingPressure(
            float(row["length_over_height"]),
            row["corner"],
            row["zone"],
            float(row["cp_net"]),
            reference(row, f"free_standing_walls.csv, {row['length_over_height']} {row['zone']}"),
        )
        for row in rows("free_standing_walls")
    )
