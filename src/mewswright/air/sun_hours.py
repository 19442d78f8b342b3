"""The sun by the hours of a weather's clock: where it stands, and how much of it spots get."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from mewswright.air.weather import HOURS
from mewswright.ground.light import Spot, light
from mewswright.ground.solids import Solid
from mewswright.ground.sun_path import YEAR_OF_NO_LEAP, SunYear, sun_year
from mewswright.model.problem import Problem
from mewswright.model.yard import Holding

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STEP_MIN = 30
# Haurwitz' clear sky, and the part of it that comes from the sky and not from the sun. As usual in
# the open by day; haze and height above the sea shift it by a tenth.
CLEAR_W_M2, CLEAR_LOSS = 1098.0, 0.057
CLEAR_DIFFUSE = 0.15


def clock_of(place: Holding) -> ZoneInfo:
    """The clock of a yard.

    Raises:
        Problem: If its name is not one.
    """
    try:
        return ZoneInfo(place.time_zone)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise Problem(
            f"yard.time_zone is {place.time_zone!r}, which is no IANA name: write it as in "
            "Europe/Zurich"
        ) from error


def standard_offset_h(place: Holding) -> float:
    """Hours that a yard's clock is ahead of universal time, without summer time."""
    clock = clock_of(place)
    moments = (datetime(YEAR_OF_NO_LEAP, month, 15, tzinfo=clock) for month in range(1, 13))
    return min((moment.utcoffset() or timedelta()).total_seconds() for moment in moments) / 3600


@dataclass(frozen=True, eq=False)
class SunHours:
    """Steps of half an hour in which the sun is up, and the hour that each lies in.

    Attributes:
        year: The steps.
        hour: Hour of the weather's clock of each step (steps,).
        up: Steps in each hour, 0 to 2 (8760,).
    """

    year: SunYear
    hour: "NDArray[np.int64]"
    up: "NDArray[np.float64]"

    def mean(self, values: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Mean over the steps of each hour in which the sun is up; 0 by night (8760,)."""
        import numpy as np

        total = np.bincount(self.hour, values, HOURS)
        return np.divide(total, self.up, out=np.zeros(HOURS), where=self.up > 0)

    @property
    def up_share(self) -> "NDArray[np.float64]":
        """Share of each hour in which the sun is up (8760,)."""
        told: NDArray[np.float64] = self.up * STEP_MIN / 60
        return told

    @property
    def sine(self) -> "NDArray[np.float64]":
        """Sine of the sun's height at each step (steps,)."""
        import numpy as np

        told: NDArray[np.float64] = np.sin(np.radians(self.year.height_deg))
        return told

    def onto(self, looks_deg: float) -> "NDArray[np.float64]":
        """Cosine of the sun on an upright side, 0 from behind (steps,)."""
        import numpy as np

        turn = np.radians(self.year.bearing_deg - looks_deg)
        told: NDArray[np.float64] = np.cos(np.radians(self.year.height_deg)) * np.cos(turn)
        return np.maximum(told, 0.0)


def sun_hours(place: Holding, offset_h: float) -> SunHours:
    """The sun of a year by the hours of a clock.

    Args:
        place: Where.
        offset_h: Hours that the clock is ahead of universal time.
    """
    import numpy as np

    clock = clock_of(place)
    year = sun_year(
        place.latitude_deg, place.longitude_deg, place.altitude_m, place.time_zone, STEP_MIN
    )
    begins = datetime(YEAR_OF_NO_LEAP, 1, 1, tzinfo=clock)
    local_h = (begins.utcoffset() or timedelta()).total_seconds() / 3600
    minute = year.minute + round(60 * (offset_h - local_h))
    hour = (minute // 60) % HOURS
    return SunHours(year, hour, np.bincount(hour, minlength=HOURS).astype(float))


def clear_sky_w_m2(sun: SunHours) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """Beam square to the sun and light of the sky under a clear sky, means of each hour [W/m2].

    Source:
        Haurwitz 1945, 1098 sin h exp(-0.057 / sin h) on level ground (from memory); 15 % of it
        from the sky (a judgement).
    """
    import numpy as np

    sine = np.maximum(sun.sine, 1e-3)
    level = CLEAR_W_M2 * sine * np.exp(-CLEAR_LOSS / sine)
    beam = (1 - CLEAR_DIFFUSE) * level / np.maximum(sine, 0.05)
    share = sun.up_share
    return sun.mean(beam) * share, sun.mean(CLEAR_DIFFUSE * level) * share


def lit(solids: Sequence[Solid], spots: Sequence[Spot], sun: SunHours) -> "NDArray[np.float32]":
    """Share of the direct sun that reaches spots at each step (spots, steps)."""
    return light(solids, spots, sun.year)
