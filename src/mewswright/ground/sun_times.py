"""The times at which the sun comes to spots in the yard and goes from them, over a year."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from mewswright.ground.light import Spot, passing, points_of, rows_of
from mewswright.ground.solids import Solid
from mewswright.ground.sun_path import SunWay
from mewswright.ground.sun_pieces import SunPieces

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_USUAL = 365 * 16  # times of sun in a year that a spot may have before room is made for more
_BLOCK = 500  # spots at once, so that room for their times stays below 50 MB

Day = list[tuple[float, float]]


class TimesCaster:
    """Solids and the sun's way, made ready to tell when the sun comes to spots and goes.

    A thing that lets less than half of the sun through stops it; one that lets more through does
    not.
    """

    def __init__(self, solids: Sequence[Solid], pieces: SunPieces) -> None:
        """Turn both into rows of numbers."""
        import numpy as np

        self.pieces = pieces
        self.rows = rows_of(solids)
        ends = pieces.ends.reshape(-1, 3)
        self.passes = passing(self.rows.thin, ends, np.repeat(pieces.month, 2))

    def times(self, spots: "Sequence[Spot] | NDArray[np.float64]") -> "list[NDArray[np.float64]]":
        """For each spot the minutes since the start of the year at which sun comes and goes.

        Args:
            spots: Where [m east, m north, m up] (spots, 3).

        Returns:
            An array (times, 2) for each spot, in order.
        """
        points = points_of(spots)
        return [
            one
            for start in range(0, len(points), _BLOCK)
            for one in self._block(points[start : start + _BLOCK])
        ]

    def _block(self, points: "NDArray[np.float64]") -> "list[NDArray[np.float64]]":
        import numpy as np

        from mewswright.ground.ray_times import times_of

        pieces = self.pieces
        if not len(pieces.sector):
            return [np.empty((0, 2)) for _ in points]
        most = _USUAL
        while True:
            out = np.empty((len(points), most, 2))
            counts = times_of(
                self.rows.boxes, self.rows.crowns, self.passes, points, pieces.minute,
                pieces.ends, pieces.sector, out,
            )  # fmt: skip
            if counts.max() <= most:
                return [one[:count].copy() for one, count in zip(out, counts, strict=True)]
            most = int(counts.max())


def sun_times(
    solids: Sequence[Solid], spots: "Sequence[Spot] | NDArray[np.float64]", pieces: SunPieces
) -> "list[NDArray[np.float64]]":
    """When the sun comes to spots and goes: `TimesCaster` for one question."""
    return TimesCaster(solids, pieces).times(spots)


@lru_cache(maxsize=4)
def midnights(way: SunWay, time_zone: str) -> "NDArray[np.float64]":
    """Minutes since the start of the year of each midnight of the yard's clock, the last's too."""
    import numpy as np

    clock = ZoneInfo(time_zone)
    first = way.start.astimezone(clock).replace(tzinfo=None)
    days = round(way.minutes / 1440)
    told = [
        ((first + timedelta(days=n)).replace(tzinfo=clock).astimezone(UTC) - way.start)
        for n in range(days + 1)
    ]
    return np.array([one.total_seconds() / 60 for one in told])


def by_day(times: "NDArray[np.float64]", way: SunWay, time_zone: str) -> list[Day]:
    """Times of sun of one spot for each day of the yard's clock, cut at midnight [min].

    Args:
        times: Minutes since the start of the year at which the sun comes and goes (times, 2).
        way: The sun's way, which says when the year starts.
        time_zone: IANA name of the yard's clock.
    """
    import numpy as np

    starts = midnights(way, time_zone)
    told: list[Day] = [[] for _ in starts[:-1]]
    days = np.searchsorted(starts, times[:, 0], side="right") - 1
    for (come, gone), first in zip(times.tolist(), days.tolist(), strict=True):
        begin, day = come, first
        while begin < gone and day < len(told):
            till = min(gone, float(starts[day + 1]))
            told[day].append((begin, till))
            begin, day = till, day + 1
    return told


def clock_times(
    days: Sequence[Day], numbers: Iterable[int], way: SunWay, time_zone: str
) -> Iterator[tuple[tuple[str, str], ...]]:
    """The same as the yard's clock shows them, such as 06:12:40; 24:00:00 at a day's end.

    Args:
        days: Times of sun of every day.
        numbers: Which days are told, 0 the first of the year.
        way: The sun's way.
        time_zone: IANA name of the yard's clock.
    """
    clock = ZoneInfo(time_zone)
    starts = midnights(way, time_zone)
    for number in numbers:
        if not days[number]:
            yield ()
            continue
        start, end = float(starts[number]), float(starts[number + 1])

        def shown(minute: float, start: float = start, end: float = end) -> str:
            if minute >= end:
                return "24:00:00"
            if end - start == 1440:  # a day on which the clock is not put forward or back
                seconds = min(round((minute - start) * 60), 86399)
                return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"
            moment = (way.start + timedelta(minutes=minute)).astimezone(clock)
            return moment.strftime("%H:%M:%S")

        yield tuple((shown(come), shown(gone)) for come, gone in days[number])
