"""Sun and shade of every perch, bath and floor of quarters over a year, told for people.

Hours are those of a clear sky; `expected_h` weighs each month by the share of its possible
sunshine that the yard's climate gives. A bird's spot is its breast, 100 mm over the perch.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from pydantic import BaseModel, ConfigDict

from mewswright.ground.light import Spot, hours, light
from mewswright.ground.solids import yard_solids
from mewswright.ground.sun_path import SunYear, sun_year
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

BREAST_MM = 100.0  # judgement: middle of a bird over its perch
CELL_MM = 500.0  # floor cells are at most so wide
FLOOR_MM = 50.0
WALL_STEP_MM = 600.0
WALL_GAP_MM = 10.0
HOT_HOURS = (13, 14, 15, 16)  # by the clock; judgement: ground and air are hottest then
HOT_MONTHS = 3  # the months of the highest mean maximum
SUNNY = 0.5  # of the direct sun: from here on a spot is in sun

Kind = Literal["perch", "bath", "floor", "back_wall"]


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class SunSpot(_Told):
    """One perch, bath, floor cell or place on the back wall. Hours of a clear sky."""

    name: str
    kind: Kind
    at_mm: tuple[float, float, float]
    hours_year: float
    hours_by_month: tuple[float, ...]
    hours_by_month_and_hour: tuple[tuple[float, ...], ...]
    expected_h_year: float | None
    hot_sun_share: float


class HourChoice(_Told):
    """Which perch has sun and which shade, at one hour of one month. Shares of that hour."""

    month: int
    hour: int
    sun: str | None
    sun_share: float
    shade: str | None
    shade_share: float


class QuartersSun(_Told):
    """Sun and shade in one quarters."""

    name: str
    spots: tuple[SunSpot, ...]
    floor_h_by_month: tuple[float, ...]
    back_wall_h_by_month: tuple[float, ...]
    choices: tuple[HourChoice, ...]
    words: tuple[str, ...]


class SunReport(_Told):
    """Sun and shade of a yard over one year."""

    yard: str
    step_min: float
    possible_h_by_month: tuple[float, ...]
    hot_months: tuple[int, ...]
    hot_hours: tuple[int, ...]
    quarters: tuple[QuartersSun, ...]
    method: str
    assumptions: tuple[str, ...]


METHOD = (
    "sun by NREL/TP-560-34302 at the middle of each step; one ray to each spot through every box "
    "and crown of the yard, in closed form"
)
ASSUMPTIONS = (
    "hours of direct sun under a clear sky; the light of the sky itself is not counted",
    "the ground is level and the horizon free; the ground beyond the yard throws no shade",
    "quarters are boxes with walls and roofs 100 mm thick; posts, doors and fittings throw none",
    "bars and wires as the yard file gives them, else of usual thickness; deep as they are thick",
    "crowns and hedges let a share through by season (table sun_transmittances: judgements); a "
    "hedge or fence with a porosity lets that share through all year",
    "a tree's crown reaches down two radii from its top, or halfway down where that is less",
)


def sun_report(yard: Yard, names: Sequence[str] = (), step_min: int = 10) -> SunReport:
    """Sun and shade of quarters over a year.

    Args:
        yard: The yard.
        names: Of which quarters; all where none is named.
        step_min: Minutes a step; a divisor of 60.

    Raises:
        Problem: For quarters that the yard has not.
        ValueError: For a step that does not divide an hour.
    """
    wanted = [yard.quarters_named(name) for name in names] if names else list(yard.quarters)
    place = yard.yard
    year = sun_year(
        place.latitude_deg, place.longitude_deg, place.altitude_m, place.time_zone, step_min
    )
    solids = yard_solids(yard)
    possible = _by_month(year)
    cover = _cloud(yard, possible)
    hot = _hot_months(yard)
    listed = [(q, tuple(_spots(q))) for q in wanted]
    flat = [(_on_ground(q, at)) for q, spots in listed for _, _, at in spots]
    shares = light(solids, flat, year)
    found, start = [], 0
    for quarters, spots in listed:
        part = shares[start : start + len(spots)]
        found.append(_told(quarters, spots, part, year, cover, hot))
        start += len(spots)
    return SunReport(
        yard=place.name,
        step_min=step_min,
        possible_h_by_month=tuple(round(float(h), 1) for h in possible),
        hot_months=hot,
        hot_hours=HOT_HOURS,
        quarters=tuple(found),
        method=METHOD,
        assumptions=ASSUMPTIONS,
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


Place = tuple[str, Kind, tuple[float, float, float]]


def _spots(q: Quarters) -> Iterator[Place]:
    for perch in q.perches:
        yield perch.name, "perch", (*perch.at_mm, perch.height_mm + BREAST_MM)
    for bath in q.baths:
        yield bath.name, "bath", (*bath.at_mm, bath.platform_mm + bath.rim_height_mm)
    for x in _middles(q.width_mm, CELL_MM):
        for y in _middles(q.depth_mm, CELL_MM):
            yield f"floor {x:.0f}, {y:.0f}", "floor", (x, y, FLOOR_MM)
    if q.faces is None:
        return
    for x in _middles(q.width_mm, WALL_STEP_MM):
        for z in _middles(q.ceiling_mm(q.depth_mm), WALL_STEP_MM):
            at = (x, q.depth_mm - WALL_GAP_MM, z)
            yield f"back wall {x:.0f}, {z:.0f} up", "back_wall", at


def _middles(size: float, step: float) -> list[float]:
    count = max(1, -int(-size // step))
    marks = [size * n / count for n in range(count + 1)]
    return [(a + b) / 2 for a, b in pairwise(marks)]


def _on_ground(q: Quarters, at: tuple[float, float, float]) -> Spot:
    east, north = q.on_ground_m(at[0], at[1])
    return east, north, m_from_mm(at[2])


def _told(
    q: Quarters,
    spots: Sequence[Place],
    shares: "NDArray[np.float32]",
    year: SunYear,
    cover: "NDArray[np.float64] | None",
    hot: tuple[int, ...],
) -> QuartersSun:
    import numpy as np

    by_hour = hours(shares, year)
    is_hot = np.isin(year.month, hot) & np.isin(year.hour, HOT_HOURS)
    told = []
    for row, (name, kind, at) in enumerate(spots):
        months = by_hour[row].sum(axis=1)
        hot_share = float(shares[row][is_hot].mean()) if is_hot.any() else 0.0
        told.append(
            SunSpot(
                name=name,
                kind=kind,
                at_mm=at,
                hours_year=round(float(months.sum()), 1),
                hours_by_month=_rounded(months),
                hours_by_month_and_hour=tuple(_rounded(line) for line in by_hour[row]),
                expected_h_year=None if cover is None else round(float((months * cover).sum()), 1),
                hot_sun_share=round(hot_share, 3),
            )
        )
    kinds = np.array([kind for _, kind, _ in spots])
    choices = tuple(_choices([s for s in told if s.kind == "perch"], year))
    mean = {
        kind: _rounded(by_hour[kinds == kind].sum(axis=2).mean(axis=0))
        if (kinds == kind).any()
        else (0.0,) * 12
        for kind in ("floor", "back_wall")
    }
    return QuartersSun(
        name=q.name,
        spots=tuple(told),
        floor_h_by_month=mean["floor"],
        back_wall_h_by_month=mean["back_wall"],
        choices=choices,
        words=tuple(_words(told, choices, hot)),
    )


def _rounded(values: "NDArray[np.float64]") -> tuple[float, ...]:
    return tuple(round(float(value), 2) for value in values)


def _choices(perches: Sequence[SunSpot], year: SunYear) -> Iterator[HourChoice]:
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


def _words(
    spots: Sequence[SunSpot], choices: Sequence[HourChoice], hot: tuple[int, ...]
) -> Iterator[str]:
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
