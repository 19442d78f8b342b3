"""Where the sun stands at a moment and over a year, by the solar position algorithm.

Heights include the air's refraction: what a bird sees. Bearings are degrees clockwise from
north. Positions come from pvlib, the field's own library; it is imported inside the functions,
for it takes a second.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# Earth time less universal time [s]: 63.8 in 2000, 69.2 in 2024; a second of it turns the sun by
# 0.004 deg a day's 86400, far below what is told here. Source: NREL/TP-560-34302, its example.
DELTA_T_S = 67.0
YEAR_OF_NO_LEAP = 2023  # a year of 365 days stands for every year: the sun differs by 0.2 deg
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
REFRACTION_AT_RISE_DEG = 0.5667  # Source: NREL/TP-560-34302, its example
# Years of which a moment is told: the clock drifts from the turning earth (DELTA_T_S) by less
# than 0.02 deg in this time; the tables of time of the library reach no farther.
FIRST_YEAR, LAST_YEAR = 1700, 2250
AIR_C = 12.0  # warmth of the air for its refraction; 10 K change a height of 5 deg by 0.006 deg


@dataclass(frozen=True)
class SunNow:
    """The sun at one moment [deg], and when it rises and sets that day; None = it does not."""

    zenith_deg: float
    azimuth_deg: float
    sunrise: datetime | None
    sunset: datetime | None

    @property
    def height_deg(self) -> float:
        """Height over the horizon, refraction included [deg]."""
        return 90 - self.zenith_deg


def sun_now(at: datetime, latitude_deg: float, longitude_deg: float, altitude_m: float) -> SunNow:
    """Where the sun stands at a moment.

    Args:
        at: The moment, with its offset; the day of rise and set is the one of that offset.
        latitude_deg: Latitude [deg], north positive.
        longitude_deg: Longitude [deg], east positive.
        altitude_m: Height above the sea [m]; air pressure follows from it.

    Returns:
        Zenith with refraction and azimuth [deg]; sunrise and sunset (upper edge on a level
        horizon) in the offset of `at`.

    Raises:
        ValueError: For a moment without offset, a year too far off, or a place that is not on
            earth.

    Source:
        Reda and Andreas 2004, NREL/TP-560-34302.
    """
    if at.tzinfo is None:
        raise ValueError(f"{at.isoformat()} has no offset: write it with one, as in +01:00 or Z")
    _on_earth(latitude_deg, longitude_deg, altitude_m)
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise ValueError(f"the year must be {FIRST_YEAR} to {LAST_YEAR}, got {at.year}")
    import pandas as pd

    whole = at if at.utcoffset() is not None else at.astimezone(UTC)
    moment = pd.DatetimeIndex([pd.Timestamp(whole)])
    found = _positions(moment, latitude_deg, longitude_deg, altitude_m)
    rise, set_ = _rise_and_set(whole, latitude_deg, longitude_deg)
    return SunNow(
        zenith_deg=float(found["apparent_zenith"].iloc[0]),
        azimuth_deg=float(found["azimuth"].iloc[0]),
        sunrise=rise,
        sunset=set_,
    )


def _on_earth(latitude_deg: float, longitude_deg: float, altitude_m: float) -> None:
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude must be -90 to 90 deg, got {latitude_deg:g}")
    if not -180 <= longitude_deg <= 180:
        raise ValueError(f"longitude must be -180 to 180 deg, got {longitude_deg:g}")
    if not -500 <= altitude_m <= 9000:
        raise ValueError(f"altitude must be -500 to 9000 m, got {altitude_m:g}")


def _positions(moments: Any, latitude_deg: float, longitude_deg: float, altitude_m: float) -> Any:
    from pvlib.atmosphere import alt2pres
    from pvlib.solarposition import spa_python

    return spa_python(
        moments, latitude_deg, longitude_deg, altitude_m, alt2pres(altitude_m), AIR_C, DELTA_T_S
    )


def _rise_and_set(
    at: datetime, latitude_deg: float, longitude_deg: float
) -> tuple[datetime | None, datetime | None]:
    """Sunrise and sunset on the day of `at`, counted in its own offset."""
    import pandas as pd
    from pvlib.solarposition import sun_rise_set_transit_spa

    # The library counts days in universal time: far from Greenwich the day wished for is a
    # neighbour of the one asked.
    noon = at.replace(hour=12, minute=0, second=0, microsecond=0)
    days = pd.DatetimeIndex([pd.Timestamp(noon + timedelta(days=n)) for n in (-1, 0, 1)])
    found = sun_rise_set_transit_spa(days, latitude_deg, longitude_deg, delta_t=DELTA_T_S)

    def on_the_day(column: str) -> datetime | None:
        for moment in found[column]:
            if not pd.isna(moment):
                told: datetime = moment.to_pydatetime(warn=False).astimezone(at.tzinfo)
                if told.date() == at.date():
                    return told
        return None

    return on_the_day("sunrise"), on_the_day("sunset")


@dataclass(frozen=True, eq=False)
class SunYear:
    """Every step of a year in which the sun is up, in order of time.

    Attributes:
        step_min: Minutes that a step stands for; its moment is its middle.
        minute: Minutes since the start of the year in universal time (steps,).
        month: Month of the yard's clock, 1 to 12 (steps,).
        hour: Hour of the yard's clock, 0 to 23 (steps,).
        day: Day of the year of the yard's clock, 0 to 364 (steps,).
        height_deg: Height of the sun, refraction included (steps,).
        bearing_deg: Bearing of the sun (steps,).
    """

    step_min: float
    minute: "NDArray[np.int64]"
    month: "NDArray[np.int64]"
    hour: "NDArray[np.int64]"
    day: "NDArray[np.int64]"
    height_deg: "NDArray[np.float64]"
    bearing_deg: "NDArray[np.float64]"

    def in_months(self, months: tuple[int, ...]) -> "SunYear":
        """The steps of some months only."""
        import numpy as np

        kept = np.isin(self.month, months)
        told = {
            name: getattr(self, name)[kept]
            for name in ("minute", "month", "hour", "day", "height_deg", "bearing_deg")
        }
        return SunYear(self.step_min, **told)


Horizon = tuple[tuple[float, float], ...]


def horizon_at(horizon: Horizon, bearing_deg: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """Height of the land round about [deg] at some bearings, straight between the given ones.

    Args:
        horizon: Pairs of bearing and height [deg], in any order; none = free all round.
        bearing_deg: Where it is asked.
    """
    import numpy as np

    if not horizon:
        return np.zeros(np.shape(bearing_deg))
    turns, heights = zip(*sorted(horizon), strict=True)
    told: NDArray[np.float64] = np.interp(bearing_deg, turns, heights, period=360)
    return told


@dataclass(frozen=True, eq=False)
class SunWay:
    """The sun's way through a year, asked at any minute.

    The unit vector towards the sun, without the air, is cubic between positions of each tenth
    minute; refraction comes after, for it breaks off under the horizon.

    Attributes:
        start: Midnight before the year by the yard's clock, in universal time.
        minutes: Length of the year.
        altitude_m: Height above the sea.
        knots: Unit vectors from ten minutes before the start (knots, 3).
    """

    start: datetime
    minutes: int
    altitude_m: float
    knots: "NDArray[np.float64]"

    def at(
        self, minute: "NDArray[np.float64]"
    ) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
        """Height with refraction and bearing [deg] at minutes since the start."""
        import numpy as np
        from pvlib.atmosphere import alt2pres
        from pvlib.spa import atmospheric_refraction_correction

        at = (minute + 10) / 10
        left = at.astype(np.int64)
        t = (at - left)[:, None]
        a, b, c, d = (self.knots[left + n] for n in (-1, 0, 1, 2))
        told = (
            -t * (t - 1) * (t - 2) / 6 * a
            + (t + 1) * (t - 1) * (t - 2) / 2 * b
            - (t + 1) * t * (t - 2) / 2 * c
            + (t + 1) * t * (t - 1) / 6 * d
        )
        bare = np.degrees(np.arctan2(told[:, 2], np.hypot(told[:, 0], told[:, 1])))
        bent = atmospheric_refraction_correction(
            alt2pres(self.altitude_m) / 100, AIR_C, bare, REFRACTION_AT_RISE_DEG
        )
        return bare + bent, np.degrees(np.arctan2(told[:, 0], told[:, 1])) % 360


@lru_cache(maxsize=4)
def sun_way(
    latitude_deg: float,
    longitude_deg: float,
    altitude_m: float,
    time_zone: str,
    year: int = YEAR_OF_NO_LEAP,
) -> SunWay:
    """The sun's way through a year of the yard's clock.

    Args:
        latitude_deg: Latitude [deg].
        longitude_deg: Longitude [deg].
        altitude_m: Height above the sea [m].
        time_zone: IANA name of the yard's clock.
        year: Which year.

    Raises:
        ValueError: For a place that cannot be.

    Source:
        Reda and Andreas 2004, NREL/TP-560-34302, for the positions of each tenth minute.
    """
    _on_earth(latitude_deg, longitude_deg, altitude_m)
    import numpy as np
    import pandas as pd

    clock = ZoneInfo(time_zone)
    start = datetime(year, 1, 1, tzinfo=clock).astimezone(UTC)
    end = datetime(year + 1, 1, 1, tzinfo=clock).astimezone(UTC)
    minutes = int((end - start).total_seconds() // 60)
    moments = pd.Timestamp(start) + pd.to_timedelta(np.arange(-10, minutes + 31, 10), unit="min")
    found = _positions(moments, latitude_deg, longitude_deg, altitude_m)
    height = np.radians(found["elevation"].to_numpy(float))
    bearing = np.radians(found["azimuth"].to_numpy(float))
    flat = np.cos(height)
    knots = np.column_stack((flat * np.sin(bearing), flat * np.cos(bearing), np.sin(height)))
    return SunWay(start, minutes, altitude_m, knots)


@lru_cache(maxsize=8)
def sun_year(
    latitude_deg: float,
    longitude_deg: float,
    altitude_m: float,
    time_zone: str,
    step_min: int = 10,
    year: int = YEAR_OF_NO_LEAP,
    horizon: Horizon = (),
) -> SunYear:
    """The sun over a year, at the middle of each step.

    Args:
        latitude_deg: Latitude [deg].
        longitude_deg: Longitude [deg].
        altitude_m: Height above the sea [m].
        time_zone: IANA name of the yard's clock, which months and hours are told in.
        step_min: Minutes a step, 1 to 60, a divisor of 60.
        year: Which year.
        horizon: Height of the land round about, pairs of bearing and height [deg].

    Raises:
        ValueError: For a step or a place that cannot be.

    Source:
        As `sun_way`.
    """
    if not 1 <= step_min <= 60 or 60 % step_min:
        raise ValueError(f"the step must divide an hour: 1 to 60 min, got {step_min}")
    import numpy as np
    import pandas as pd

    way = sun_way(latitude_deg, longitude_deg, altitude_m, time_zone, year)
    middles = np.arange(0, way.minutes, step_min).astype(np.float64) + step_min / 2
    height, bearing = way.at(middles)
    moments = pd.Timestamp(way.start) + pd.to_timedelta(middles, unit="min")
    local = moments.tz_convert(ZoneInfo(time_zone))
    up = height > horizon_at(horizon, bearing)
    return SunYear(
        step_min=float(step_min),
        minute=middles[up].astype(np.int64),
        month=np.asarray(local.month)[up].astype(np.int64),
        hour=np.asarray(local.hour)[up].astype(np.int64),
        day=np.asarray(local.day_of_year)[up].astype(np.int64) - 1,
        height_deg=height[up],
        bearing_deg=bearing[up],
    )
