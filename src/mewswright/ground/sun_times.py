"""The times at which the sun comes to spots in the yard and goes from them, over a year."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from mewswright.ground.light import Spot, passing, rows_of
from mewswright.ground.solids import Solid
from mewswright.ground.sun_path import SunWay
from mewswright.ground.sun_pieces import SunPieces

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_USUAL = 365 * 16  # times of sun in a year that a spot may have before room is made for more


def sun_times(
    solids: Sequence[Solid], spots: "Sequence[Spot] | NDArray[np.float64]", pieces: SunPieces
) -> "list[NDArray[np.float64]]":
    """When the sun comes and goes.

    A thing that lets less than half of the sun through stops it; one that lets more through does
    not.

    Args:
        solids: What stands in the yard.
        spots: Where [m east, m north, m up] (spots, 3).
        pieces: The sun's way.

    Returns:
        For each spot the minutes since the start of the year at which the sun comes and goes
        (times, 2), in order.
    """
    import numpy as np

    from mewswright.ground.ray_times import times_of

    points = np.ascontiguousarray(np.asarray(spots, float).reshape(-1, 3))
    if not len(points) or not len(pieces.sector):
        return [np.empty((0, 2)) for _ in points]
    rows = rows_of(solids)
    shares = passing(rows.thin, pieces.ends.reshape(-1, 3), np.repeat(pieces.month, 2))
    most = _USUAL
    while True:
        out = np.empty((len(points), most, 2))
        counts = times_of(
            rows.boxes, rows.crowns, shares, points, pieces.minute, pieces.ends, pieces.sector, out
        )
        if counts.max() <= most:
            return [one[:count].copy() for one, count in zip(out, counts, strict=True)]
        most = int(counts.max())


def by_day(
    times: "NDArray[np.float64]", way: SunWay, time_zone: str
) -> list[list[tuple[datetime, datetime]]]:
    """Times of sun of one spot for each day of the yard's clock, cut at midnight.

    Args:
        times: Minutes at which the sun comes and goes (times, 2).
        way: The sun's way, which says when the year starts.
        time_zone: IANA name of the yard's clock.
    """
    clock = ZoneInfo(time_zone)
    first = way.start.astimezone(clock).replace(tzinfo=None)
    days = (way.start + timedelta(minutes=way.minutes)).astimezone(clock).replace(tzinfo=None)
    midnights = [
        (first + timedelta(days=n)).replace(tzinfo=clock) for n in range((days - first).days + 1)
    ]
    told: list[list[tuple[datetime, datetime]]] = [[] for _ in midnights[:-1]]
    for come, gone in times:
        begin = (way.start + timedelta(minutes=float(come))).astimezone(clock)
        end = (way.start + timedelta(minutes=float(gone))).astimezone(clock)
        day = (begin.replace(tzinfo=None) - first).days
        while begin < end and 0 <= day < len(told):
            till = min(end, midnights[day + 1])
            told[day].append((begin, till))
            begin, day = till, day + 1
    return told
