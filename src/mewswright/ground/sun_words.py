"""Which perch has sun and which shade at each hour, and what that means, in words."""

from collections.abc import Iterator, Sequence

from mewswright.ground.sun_path import SunYear
from mewswright.ground.sun_shapes import HourChoice, SunSpot

HOT_HOURS = (13, 14, 15, 16)  # by the clock; judgement: ground and air are hottest then
SUNNY = 0.5  # of the direct sun: from here on a spot is in sun


def choices_of(perches: Sequence[SunSpot], year: SunYear) -> Iterator[HourChoice]:
    """The sunniest and the shadiest perch at each hour in which the sun is up."""
    import numpy as np

    if not perches:
        return
    slot = np.bincount((year.month - 1) * 24 + year.hour, minlength=288) * year.step_min / 60
    for month in range(1, 13):
        for hour in range(24):
            up_h = float(slot[(month - 1) * 24 + hour])
            if up_h <= 0:
                continue
            share = [
                min(1.0, spot.hours_by_month_and_hour[month - 1][hour] / up_h) for spot in perches
            ]
            most, least = share.index(max(share)), share.index(min(share))
            yield HourChoice(
                month=month,
                hour=hour,
                sun=perches[most].name if share[most] >= SUNNY else None,
                sun_share=round(share[most], 3),
                shade=perches[least].name if share[least] < SUNNY else None,
                shade_share=round(1 - share[least], 3),
            )


def words_of(
    spots: Sequence[SunSpot], choices: Sequence[HourChoice], hot: tuple[int, ...]
) -> Iterator[str]:
    """What a keeper should know of the sun at the perches."""
    perches = [spot for spot in spots if spot.kind == "perch"]
    if not perches:
        yield "no perch, so no bird's sun was asked for"
        return
    most = max(perches, key=lambda spot: spot.hours_year)
    least = min(perches, key=lambda spot: spot.hours_year)
    yield f"most sun at {most.name}: {most.hours_year:.0f} h a year under a clear sky"
    if least is not most:
        yield f"least at {least.name}: {least.hours_year:.0f} h"
    months = ", ".join(str(month) for month in hot)
    bare = [
        one for one in choices if one.month in hot and one.hour in HOT_HOURS and one.shade is None
    ]
    if bare:
        times = ", ".join(f"{one.hour}:00 in month {one.month}" for one in bare)
        yield f"no perch in shade at {times}: give one shade from the afternoon sun"
    else:
        yield f"in the hottest hours (months {months}) some perch is always in shade"
    winter = [
        month for month in range(1, 13) if all(s.hours_by_month[month - 1] < 1 for s in perches)
    ]
    if winter:
        yield "no perch gets sun in month " + ", ".join(str(month) for month in winter)
