"""How mould spores reach quarters: by distance, by the wind, and by the season.

Metres on the ground. A source counts as near within the distance of the handbook's table, and
as carried here where a quarter of the hours or more blow from it, within twice that distance.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.ground.distances import (
    bearing_deg,
    centre_m,
    nearest_point_m,
    outline_distance_m,
    wind_share_pct,
)
from mewswright.handbook import SporeSource, spore_sources
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

WINDY_PCT = 25.0  # a quarter of the hours from one quarter of the compass: a judgement
GROWS_FROM_C = 12.0  # Aspergillus fumigatus, from about 12 C: source m-myc, from memory
SELF_HEATING = ("compost", "leaf_mould", "hay", "straw")  # warm inside in any month
TAPE_M = m_from_mm(0.5)


@dataclass(frozen=True)
class SporeReach:
    """One source and one quarters. Distances in metres.

    `wind_pct` is the share of all hours in which the wind blows from the source to the quarters;
    0 where the file has no wind rose. `months` are those in which mould grows in the source;
    None where the climate is not given.
    """

    kind: SporeSource
    distance_m: float
    limit_m: float
    wind_pct: float
    months: tuple[int, ...] | None

    @property
    def downwind(self) -> bool:
        """The wind often blows from there to here."""
        return self.wind_pct >= WINDY_PCT

    @property
    def near(self) -> bool:
        """It lies nearer than the table asks."""
        return self.limit_m - self.distance_m > TAPE_M

    @property
    def carried(self) -> bool:
        """The wind brings spores from farther than that."""
        return self.downwind and self.distance_m < 2 * self.limit_m - TAPE_M


@cache
def spore_kinds() -> Mapping[str, SporeSource]:
    """The handbook's sources by the kind of feature."""
    return {one.id: one for one in spore_sources()}


def spore_reach(yard: Yard, quarters: Quarters, feature: Feature) -> SporeReach | None:
    """How spores of a feature reach quarters; None for a feature that gives off none."""
    kind = spore_kinds().get(feature.kind)
    if kind is None:
        return None
    own = yard.house.spore_distance_m
    centre = centre_m(quarters.corners_m)
    towards = bearing_deg(centre, nearest_point_m(centre, feature))
    return SporeReach(
        kind=kind,
        distance_m=outline_distance_m(quarters.corners_m, feature),
        limit_m=kind.distance_m.value if own is None else own,
        wind_pct=wind_share_pct(yard.wind_rose, towards),
        months=growing_months(yard, feature),
    )


def growing_months(yard: Yard, feature: Feature) -> tuple[int, ...] | None:
    """Months in which mould grows in a source: all in one that heats itself, else the warm ones."""
    if feature.kind in SELF_HEATING:
        return tuple(range(1, 13))
    if yard.climate is None:
        return None
    warm = enumerate(yard.climate.mean_temp_c, 1)
    return tuple(month for month, mean_c in warm if mean_c >= GROWS_FROM_C)
