"""Sun and shade of every perch, bath and floor of quarters over a year, told for people.

Hours are those of a clear sky; `expected_h` weighs each month by the share of its possible
sunshine that the yard's climate gives.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.ground.light import Caster, Spot, hours
from mewswright.ground.solids import yard_solids
from mewswright.ground.sun_path import MONTH_DAYS, SunWay, SunYear, sun_way, sun_year
from mewswright.ground.sun_pieces import sun_pieces
from mewswright.ground.sun_shapes import QuartersSun, SunError, SunReport, SunSpot
from mewswright.ground.sun_spots import Place, on_ground, spots_of
from mewswright.ground.sun_times import TimesCaster, by_day, clock_times, midnights
from mewswright.ground.sun_words import HOT_HOURS, choices_of, words_of
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HOT_MONTHS = 3  # the months of the highest mean maximum
TOLD_DAY = 21  # of each month, for spots of which not every day is told
_ASKED_SPOTS = 12  # spots, and of each of them every so-manieth ray, that are asked the slow way
_ASKED_EACH = 37
METHOD = (
    "sun by NREL/TP-560-34302 at the middle of each step; one ray to each spot through every box "
    "and crown of the yard, in closed form: cones between planes, settled by sectors of bearing. "
    "Times of sun by where the sun's way crosses those planes, without a step"
)
ASKED = (
    "in this run every {each}th ray of {spots} spots was asked of every solid in turn; hours by "
    "steps were set beside the hours between the times at which the sun comes and goes, of all "
    "perches and baths (things that let less than half through taken as dense in both)"
)
ASSUMPTIONS = (
    "hours of direct sun under a clear sky; the light of the sky itself is not counted",
    "the ground is level; the land beyond the yard throws shade only as horizon_deg says",
    "quarters are boxes with walls and roofs 100 mm thick; posts, doors and fittings throw none",
    "bars and wires as the yard file gives them, else of usual thickness; deep as they are thick",
    "crowns and hedges let a share through by season (table sun_transmittances: judgements); a "
    "hedge or fence with a porosity lets that share through all year",
    "a tree's crown reaches down two radii from its top, or halfway down where that is less",
    "times of sun: a thing that lets less than half of the sun through stops it, others do not",
)


@dataclass(frozen=True, eq=False)
class _Sky:
    """What all quarters of a yard share."""

    year: SunYear
    way: SunWay
    zone: str
    caster: Caster
    whole: Caster
    every_day: TimesCaster
    told_days: TimesCaster
    cover: "NDArray[np.float64] | None"
    hot: tuple[int, ...]


def sun_report(yard: Yard, names: Sequence[str] = (), step_min: int = 10) -> SunReport:
    """Sun and shade of quarters over a year.

    Args:
        yard: The yard.
        names: Of which quarters; all where none is named.
        step_min: Minutes a step; a divisor of 60.

    Raises:
        Problem: For quarters that the yard has not.
        ValueError: For a step that does not divide an hour, or a height no place on earth has.
    """
    wanted = [yard.quarters_named(name) for name in dict.fromkeys(names)] or list(yard.quarters)
    place = yard.yard
    where = (place.latitude_deg, place.longitude_deg, place.altitude_m, place.time_zone)
    year = sun_year(*where, step_min, horizon=place.horizon_deg)
    way = sun_way(*where)
    possible = _by_month(year)
    solids = yard_solids(yard)
    pieces = sun_pieces(way, place.time_zone, place.horizon_deg)
    starts = midnights(way, place.time_zone)
    some = pieces.on(_told_days(starts))
    caster = Caster(solids, year)
    sky = _Sky(
        year, way, place.time_zone, caster, caster.whole(), TimesCaster(solids, pieces),
        TimesCaster(solids, some), _cloud(yard, possible), _hot_months(yard),
    )  # fmt: skip
    found, apart, flat = [], [], []
    for quarters in wanted:
        spots = tuple(spots_of(quarters))
        on = [on_ground(quarters, at) for _, _, at in spots]
        told, far = _told(quarters, spots, on, sky)
        found.append(told)
        apart += far
        flat += on
    return SunReport(
        yard=place.name,
        step_min=step_min,
        possible_h_by_month=tuple(round(float(h), 1) for h in possible),
        hot_months=sky.hot,
        hot_hours=HOT_HOURS,
        horizon_deg=place.horizon_deg,
        quarters=tuple(found),
        method=METHOD,
        error=_error(sky.caster, flat, apart),
        assumptions=ASSUMPTIONS,
    )


def _error(caster: Caster, spots: Sequence[Spot], apart: Sequence[float]) -> SunError:
    """Ask some rays the slow way, and sum up what steps of time cost."""
    some = spots[:: max(1, -(-len(spots) // _ASKED_SPOTS))]
    differ = caster.differences(some, _ASKED_EACH)
    sizes = [abs(one) for one in apart]
    return SunError(
        rays_asked=differ.size,
        rays_differing=int((differ > 1e-6).sum()),
        share_most=float(differ.max(initial=0)),
        step_h_year_mean=round(sum(sizes) / len(sizes), 2) if sizes else None,
        step_h_year_most=round(max(sizes), 2) if sizes else None,
        how=ASKED.format(each=_ASKED_EACH, spots=len(some)),
    )


def _by_month(year: SunYear) -> "NDArray[np.float64]":
    import numpy as np

    return np.bincount(year.month - 1, minlength=12) * year.step_min / 60


def _cloud(yard: Yard, possible: "NDArray[np.float64]") -> "NDArray[np.float64] | None":
    """Share of its possible sunshine that each month has; None without a climate."""
    import numpy as np

    if yard.climate is None:
        return None
    told = np.array(yard.climate.sun_h, float)
    share: NDArray[np.float64] = np.divide(told, possible, out=np.zeros(12), where=possible > 0)
    return share.clip(max=1.0)


def _hot_months(yard: Yard) -> tuple[int, ...]:
    if yard.climate is None:
        return (6, 7, 8) if yard.yard.latitude_deg >= 0 else (12, 1, 2)
    warm = yard.climate.mean_daily_max_c
    return tuple(sorted(sorted(range(1, 13), key=lambda m: -warm[m - 1])[:HOT_MONTHS]))


def _told_days(starts: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """First and last minute of the days that are told of every spot (days, 2)."""
    import numpy as np

    days = np.array([n for n, (_, day) in enumerate(_DATES) if day == TOLD_DAY])
    return np.column_stack((starts[days], starts[days + 1]))


_DATES = tuple(
    (month, day) for month, count in enumerate(MONTH_DAYS, 1) for day in range(1, count + 1)
)


def _told(
    q: Quarters, spots: Sequence[Place], on: Sequence[Spot], sky: _Sky
) -> tuple[QuartersSun, list[float]]:
    """Sun in one quarters; and hours by steps less those by times of its perches and baths."""
    import numpy as np

    year = sky.year
    shares = sky.caster.light(on)
    by_hour = hours(shares, year)
    is_hot = np.isin(year.month, sky.hot) & np.isin(year.hour, HOT_HOURS)
    is_bird = np.array([kind in ("perch", "bath") for _, kind, _ in spots], bool)
    places = np.array(on, float).reshape(-1, 3)
    full = iter(sky.every_day.times(places[is_bird]))
    stepped = iter(sky.whole.cast(places[is_bird]).sum(axis=1) * year.step_min / 60)
    rest = iter(sky.told_days.times(places[~is_bird]))
    told, apart = [], []
    for row, (name, kind, at) in enumerate(spots):
        months = by_hour[row].sum(axis=1)
        hot_share = float(shares[row][is_hot].mean()) if is_hot.any() else 0.0
        times = next(full) if is_bird[row] else next(rest)
        if is_bird[row]:
            apart.append(float(next(stepped)) - float((times[:, 1] - times[:, 0]).sum()) / 60)
        told.append(
            SunSpot(
                name=name,
                kind=kind,
                at_mm=at,
                hours_year=round(float(months.sum()), 1),
                hours_by_month=_rounded(months),
                hours_by_month_and_hour=tuple(_rounded(line) for line in by_hour[row]),
                expected_h_year=None
                if sky.cover is None
                else round(float((months * sky.cover).sum()), 1),
                hot_sun_share=round(hot_share, 3),
                sun_times=dict(_days(times, sky, every=bool(is_bird[row]))),
            )
        )
    kinds = np.array([kind for _, kind, _ in spots])
    choices = tuple(choices_of([s for s in told if s.kind == "perch"], year))
    mean = {
        kind: _rounded(by_hour[kinds == kind].sum(axis=2).mean(axis=0))
        if (kinds == kind).any()
        else (0.0,) * 12
        for kind in ("floor", "back_wall")
    }
    report = QuartersSun(
        name=q.name,
        spots=tuple(told),
        floor_h_by_month=mean["floor"],
        back_wall_h_by_month=mean["back_wall"],
        choices=choices,
        words=tuple(words_of(told, choices, sky.hot)),
    )
    return report, apart


def _days(
    times: "NDArray[np.float64]", sky: _Sky, *, every: bool
) -> Iterator[tuple[str, tuple[tuple[str, str], ...]]]:
    wanted = [n for n, (_, day) in enumerate(_DATES) if every or day == TOLD_DAY]
    days = by_day(times, sky.way, sky.zone)
    for number, told in zip(wanted, clock_times(days, wanted, sky.way, sky.zone), strict=True):
        month, day = _DATES[number]
        yield f"{month:02}-{day:02}", told


def _rounded(values: "NDArray[np.float64]") -> tuple[float, ...]:
    return tuple(values.round(2).tolist())
