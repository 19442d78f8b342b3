"""Zones of a duopitch roof in wind, each slope by its own pitch.

Metres. The wind is named as in `zones`: across the ridge (0 deg) or along it (90 deg).
"""

from collections.abc import Iterable
from dataclasses import dataclass

from mewswright.build.actions.wind import edge_strip_m
from mewswright.build.actions.zones import Zone, roof_zone

ROOF = "duopitch roof"


@dataclass(frozen=True)
class SlopeSize:
    """One slope: its pitch from level [deg] and its level size across the ridge [m]."""

    pitch_deg: float
    run_m: float


def zones_across(
    windward: SlopeSize, leeward: SlopeSize, ridge_m: float, height_m: float
) -> tuple[Zone, ...]:
    """Zones with the wind on an eave (theta 0); zones without area are left out.

    Args:
        windward: The slope that the wind meets.
        leeward: The slope behind the ridge.
        ridge_m: Length of the roof along the ridge (*b*) [m].
        height_m: Height of the ridge (*h*) [m].

    Returns:
        F, G and H of the windward slope, J behind the ridge and I beyond it.

    Raises:
        Problem: For a pitch above the last row of the table.

    Source:
        EN 1991-1-4:2005, 7.2.5, Figure 7.8, Table 7.4a, between pitches in a straight line.
        That each slope of a crooked roof goes by its own pitch: judgement.
    """
    e = edge_strip_m(ridge_m, height_m)
    strip = min(e / 10, windward.run_m)
    behind = min(e / 10, leeward.run_m)
    corner = min(e / 4, ridge_m / 2) * strip
    areas = (
        ("F", windward, 2 * corner),
        ("G", windward, ridge_m * strip - 2 * corner),
        ("H", windward, ridge_m * (windward.run_m - strip)),
        ("J", leeward, ridge_m * behind),
        ("I", leeward, ridge_m * (leeward.run_m - behind)),
    )
    return _zones(areas, 0)


def zones_along(
    one: SlopeSize, other: SlopeSize, ridge_m: float, height_m: float
) -> tuple[Zone, ...]:
    """Zones with the wind on a gable (theta 90); zones without area are left out.

    Args:
        one: One slope.
        other: The other.
        ridge_m: Length of the roof along the ridge, and along the wind (*d*) [m].
        height_m: Height of the ridge (*h*) [m].

    Returns:
        F at the eaves' ends, G beside the ridge's end, H and I behind; of each slope.

    Source:
        EN 1991-1-4:2005, 7.2.5, Figure 7.8, Table 7.4b; as for `zones_across`.
    """
    e = edge_strip_m(one.run_m + other.run_m, height_m)
    strip = min(e / 10, ridge_m)
    near = min(e / 2, ridge_m)
    areas: list[tuple[str, SlopeSize, float]] = []
    for slope in (one, other):
        corner = min(e / 4, slope.run_m) * strip
        areas += [
            ("F", slope, corner),
            ("G", slope, slope.run_m * strip - corner),
            ("H", slope, slope.run_m * (near - strip)),
            ("I", slope, slope.run_m * (ridge_m - near)),
        ]
    return _zones(areas, 90)


def _zones(areas: Iterable[tuple[str, SlopeSize, float]], theta_deg: int) -> tuple[Zone, ...]:
    listed = tuple(areas)
    hair = 1e-9 * sum(area for *_, area in listed)
    return tuple(
        roof_zone(ROOF, slope.pitch_deg, theta_deg, name, area)
        for name, slope, area in listed
        if area > hair
    )
