"""The wind rose of a yard: shares of all hours and mean speeds, on bearings each 5 deg.

A sector blows from half way to its neighbours, at most 22.5 deg to either side, and evenly over
that. Hours that no sector takes are calm. Bearings are those that the wind comes from.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, pi
from typing import TYPE_CHECKING, Literal

from mewswright.model.place import WindSector
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

BIN_DEG = 5
BINS = 360 // BIN_DEG
HALF_SECTOR_DEG = 22.5  # of a rose of eight; a lone sector blows no wider: a judgement

Known = Literal["wind_rose", "climate", "unknown"]


@dataclass(frozen=True, eq=False)
class Rose:
    """Wind by bearing.

    Attributes:
        share: Share of all hours of each bearing, calm hours left out (bins,).
        speed_m_s: Mean speed in those hours (bins,); 1 throughout where `known` is `unknown`,
            so that only shares of it mean something.
        known: Where it comes from.
    """

    share: "NDArray[np.float64]"
    speed_m_s: "NDArray[np.float64]"
    known: Known

    @property
    def calm(self) -> float:
        """Share of hours without wind [-]."""
        return max(0.0, 1 - float(self.share.sum()))

    @property
    def mean_m_s(self) -> float:
        """Mean over all hours, the calm ones included [m/s]."""
        return float((self.share * self.speed_m_s).sum())

    @property
    def words(self) -> str:
        """Where it comes from, as a sentence."""
        return {
            "wind_rose": "the wind is that of [[wind_rose]]",
            "climate": "the file has no [[wind_rose]]: the climate's mean wind is taken as equally "
            "likely from all sides",
            "unknown": "the file has neither [[wind_rose]] nor [climate]: wind is taken as equally "
            "likely from all sides, and speeds are not told",
        }[self.known]


def bearings_deg() -> "NDArray[np.float64]":
    """Bearings of a rose [deg] (bins,)."""
    import numpy as np

    return np.arange(0.0, 360.0, BIN_DEG, dtype=np.float64)


def rose_of(yard: Yard) -> Rose:
    """The rose of a yard: its own, else its climate's mean wind from all sides."""
    import numpy as np

    sectors = [one for one in yard.wind_rose if one.share_pct > 0]
    if sectors:
        share, speed = _spread(sectors)
        return Rose(share, speed, "wind_rose")
    if yard.climate is not None:
        mean = sum(yard.climate.wind_m_s) / 12
        return Rose(np.full(BINS, 1 / BINS), np.full(BINS, mean), "climate")
    return Rose(np.full(BINS, 1 / BINS), np.ones(BINS), "unknown")


def _spread(
    sectors: Sequence[WindSector],
) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """Share of all hours and mean speed of each bearing."""
    import numpy as np

    share, way = np.zeros(BINS), np.zeros(BINS)
    total = sum(one.share_pct for one in sectors)
    whole = max(100.0, total)  # a file may round up to 100.5
    at = sorted({one.from_deg for one in sectors})
    for one in sectors:
        i = at.index(one.from_deg)
        turns = [(at[(i + 1) % len(at)] - one.from_deg) % 360, (one.from_deg - at[i - 1]) % 360]
        after, before = (min(HALF_SECTOR_DEG, (turn or 360) / 2) for turn in turns)
        part = _overlap(one.from_deg - before, one.from_deg + after) * one.share_pct / whole
        share += part
        way += part * one.speed_m_s
    return share, np.divide(way, share, out=np.zeros(BINS), where=share > 0)


def _overlap(start_deg: float, end_deg: float) -> "NDArray[np.float64]":
    """Share of a span of bearings that lies in each bin (bins,)."""
    import numpy as np

    found = np.zeros(BINS)
    for turn in (-360, 0, 360):
        low = bearings_deg() - BIN_DEG / 2 + turn
        found += np.clip(np.minimum(low + BIN_DEG, end_deg) - np.maximum(low, start_deg), 0, None)
    told: NDArray[np.float64] = found / found.sum()
    return told


def over_share(limit_m_s: float, mean_m_s: float) -> float:
    """Share of the hours of a wind that blow faster than a limit [-].

    Source:
        Rayleigh's distribution about the mean, usual for wind (Weibull of shape 2; from memory).
    """
    if mean_m_s <= 0:
        return 0.0
    return exp(-pi / 4 * (limit_m_s / mean_m_s) ** 2)
