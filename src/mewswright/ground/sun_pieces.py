"""The sun's way through a year, cut into short straight pieces for `ray_times`.

A piece lies within one sector of bearing and lasts ten minutes at most. The sun's true way bends
off a straight piece (a great circle) by 0.005 deg at most, which is a second of time, and by
some seconds next to the horizon, where the air bends it.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from mewswright.ground.sun_path import Horizon, SunWay, horizon_at

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STEP_MIN = 10.0
_HALVINGS = 16  # of a step, for a rise or set: to a hundredth of a second


@dataclass(frozen=True, eq=False)
class SunPieces:
    """Pieces of the sun's way over the horizon, in order of time.

    Attributes:
        minute: When each begins and ends [min] since the start of the year (pieces, 2).
        ends: Unit vectors east, north, up at both (pieces, 2, 3).
        sector: Sector of bearing of each (pieces,).
        month: Month of the yard's clock, 1 to 12 (pieces,).
    """

    minute: "NDArray[np.float64]"
    ends: "NDArray[np.float64]"
    sector: "NDArray[np.int64]"
    month: "NDArray[np.int64]"

    def on(self, days: "NDArray[np.float64]") -> "SunPieces":
        """The pieces that touch some days, given by their first and last minute (days, 2)."""
        import numpy as np

        kept = np.zeros(len(self.sector), bool)
        for first, last in days:
            kept |= (self.minute[:, 1] > first) & (self.minute[:, 0] < last)
        return SunPieces(self.minute[kept], self.ends[kept], self.sector[kept], self.month[kept])


def sun_pieces(way: SunWay, time_zone: str, horizon: Horizon = ()) -> SunPieces:
    """Cut a year of the sun at each tenth minute, at rise and set, and at the edges of sectors.

    Args:
        way: The sun's way.
        time_zone: IANA name of the yard's clock, which months are told in.
        horizon: Height of the land round about, pairs of bearing and height [deg].
    """
    import numpy as np
    import pandas as pd

    minute = _nodes(way, horizon)
    height, bearing = way.at(minute)
    middle_height, middle_bearing = way.at((minute[:-1] + minute[1:]) / 2)
    up = middle_height > horizon_at(horizon, middle_bearing)
    h, b = np.radians(height), np.radians(bearing)
    ways = np.column_stack((np.cos(h) * np.sin(b), np.cos(h) * np.cos(b), np.sin(h)))
    spans = np.column_stack((minute[:-1], minute[1:]))[up]
    ends = np.stack((ways[:-1], ways[1:]), axis=1)[up]
    spans, ends, sector = _by_sector(spans, ends, bearing[:-1][up], bearing[1:][up])
    moments = pd.Timestamp(way.start) + pd.to_timedelta(spans.mean(axis=1), unit="min")
    month = np.asarray(moments.tz_convert(ZoneInfo(time_zone)).month).astype(np.int64)
    return SunPieces(spans, ends, sector, month)


def _nodes(way: SunWay, horizon: Horizon) -> "NDArray[np.float64]":
    """Every tenth minute, and the minutes at which the sun comes over the land and goes."""
    import numpy as np

    def is_up(minute: "NDArray[np.float64]") -> "NDArray[np.bool_]":
        height, bearing = way.at(minute)
        told: NDArray[np.bool_] = height > horizon_at(horizon, bearing)
        return told

    steps = np.arange(0, way.minutes + STEP_MIN / 2, STEP_MIN)
    up = is_up(steps)
    turns = np.flatnonzero(up[:-1] != up[1:])
    low, high, before = steps[turns], steps[turns + 1], up[turns]
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        same = is_up(middle) == before
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    told: NDArray[np.float64] = np.sort(np.concatenate((steps, (low + high) / 2)))
    return told


def _by_sector(
    spans: "NDArray[np.float64]",
    ends: "NDArray[np.float64]",
    first_deg: "NDArray[np.float64]",
    last_deg: "NDArray[np.float64]",
) -> "tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.int64]]":
    """Cut pieces where they cross from one sector into the next; a cut lies on the piece."""
    import numpy as np

    from mewswright.ground.ray_cones import SECTORS

    wide = 360 / SECTORS
    turn = (last_deg - first_deg + 180) % 360 - 180
    k0 = np.floor(first_deg / wide).astype(np.int64)
    k1 = np.floor((first_deg + turn) / wide).astype(np.int64)
    count = np.abs(k1 - k0)
    row = np.repeat(np.arange(len(count)), count)
    nth = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
    edge = np.where(k1[row] > k0[row], k0[row] + 1 + nth, k0[row] - nth)
    angle = np.radians(edge * wide)
    east, north = np.cos(angle), -np.sin(angle)  # of the plane through the edge, upright
    f0 = ends[row, 0, 0] * east + ends[row, 0, 1] * north
    f1 = ends[row, 1, 0] * east + ends[row, 1, 1] * north
    share = np.clip(np.divide(f0, f0 - f1, out=np.zeros_like(f0), where=f0 != f1), 0, 1)
    # Every piece begins at its own start and at each of its cuts.
    rows = np.concatenate((np.arange(len(count)), row))
    at = np.concatenate((np.zeros(len(count)), share))
    sector = np.concatenate((k0, np.where(k1[row] > k0[row], edge, edge - 1)))
    order = np.lexsort((at, rows))
    rows, at, sector = rows[order], at[order], sector[order]
    till = np.ones(len(at))
    inner = rows[1:] == rows[:-1]
    till[:-1][inner] = at[1:][inner]
    cut = np.stack((at, till), axis=1)
    begin, step = spans[rows, 0], spans[rows, 1] - spans[rows, 0]
    start, go = ends[rows, 0], ends[rows, 1] - ends[rows, 0]
    whole = till > at
    return (
        (begin[:, None] + cut * step[:, None])[whole],
        (start[:, None, :] + cut[:, :, None] * go[:, None, :])[whole],
        (sector % SECTORS)[whole],
    )
