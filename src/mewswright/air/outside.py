"""Weather and sun, with what every quarters asks of them worked out once."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.air.sun_hours import SunHours
from mewswright.air.weather import DAYS, HOURS, KELVIN, STEFAN, Weather
from mewswright.ground.rose import BIN_DEG, BINS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Line = NDArray[np.float64]

GROUND_DAYS = 30
CALM_M_S = 2.0


@dataclass(frozen=True, eq=False)
class Outside:
    """Weather and sun, with what every quarters asks of them."""

    weather: Weather
    sun: SunHours
    bearing: "NDArray[np.int64]"
    level: "Line"
    ground_c: "Line"
    still_cold: "Line"
    sky_loss: "Line"


def outside(weather: Weather, sun: SunHours) -> Outside:
    """Work out once what every quarters asks."""
    import numpy as np

    known = ~np.isnan(weather.wind_from_deg)
    bearing = np.full(HOURS, BINS)  # one past the end: the mean over all bearings
    bearing[known] = np.round(weather.wind_from_deg[known] / BIN_DEG).astype(int) % BINS
    clear = np.clip((weather.temp_c - weather.sky_c) / 20, 0, 1)
    dark = weather.beam_w_m2 + weather.diffuse_w_m2 < 5
    calm = np.clip(1 - weather.wind_m_s / CALM_M_S, 0, 1)
    air, sky = weather.temp_c + KELVIN, weather.sky_c + KELVIN
    return Outside(
        weather=weather,
        sun=sun,
        bearing=bearing,
        level=weather.beam_w_m2 * sun.mean(sun.sine) + weather.diffuse_w_m2,
        ground_c=_running(weather.temp_c),
        still_cold=clear * dark * calm,
        sky_loss=STEFAN * (air**4 - sky**4),
    )


def _running(values: "Line") -> "Line":
    """Mean of the days before, by the hour (8760,)."""
    import numpy as np

    day = values.reshape(DAYS, 24).mean(axis=1)
    around = np.concatenate((day[-GROUND_DAYS:], day))
    sums = np.cumsum(np.concatenate(([0.0], around)))
    told = (sums[GROUND_DAYS : GROUND_DAYS + DAYS] - sums[:DAYS]) / GROUND_DAYS
    return np.repeat(told, 24)


def by_bearing(table: "Line", out: Outside) -> "Line":
    """Values by bearing, at the bearing of each hour; the mean where it is not known."""
    import numpy as np

    wide = np.concatenate((table, table.mean(axis=-1, keepdims=True)), axis=-1)
    told: Line = wide[..., out.bearing]
    return told
