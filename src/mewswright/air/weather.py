"""A year of weather, hour by hour, by one clock without summer time.

Hour n of 8760 runs from n to n + 1 hours after the first of January. A year without a
29 February stands for every year.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from mewswright.air.moist import vapour_pa
from mewswright.handbook.air import air_figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HOURS = 8760
DAYS = 365
DAYS_IN = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
STEFAN = 5.670374e-8
KELVIN = 273.15
CLOUD_WEIGHT = 0.84  # of the gap between a clear sky's emissivity and 1: a judgement


@dataclass(frozen=True, eq=False)
class Weather:
    """Weather of a year; every array is (8760,).

    Attributes:
        kind: Where it comes from.
        source: The file's own name for itself, or how it was made.
        offset_h: Hours that its clock is ahead of universal time.
        temp_c: Air.
        humidity_pct: Relative humidity, above 0.
        wind_m_s: Wind, 10 m up in the open.
        wind_from_deg: Bearing that it comes from; NaN where nobody knows.
        rain_mm: Rain and melted snow of the hour; NaN where nobody knows.
        beam_w_m2: Sun on a surface square to it, mean of the hour.
        diffuse_w_m2: Light of the sky on level ground.
        sky_c: Temperature that the sky radiates like.
        notes: What was left out, filled or taken for granted.
    """

    kind: Literal["epw", "csv", "made"]
    source: str
    offset_h: float
    temp_c: "NDArray[np.float64]"
    humidity_pct: "NDArray[np.float64]"
    wind_m_s: "NDArray[np.float64]"
    wind_from_deg: "NDArray[np.float64]"
    rain_mm: "NDArray[np.float64]"
    beam_w_m2: "NDArray[np.float64]"
    diffuse_w_m2: "NDArray[np.float64]"
    sky_c: "NDArray[np.float64]"
    notes: tuple[str, ...] = ()

    @property
    def vapour_pa(self) -> "NDArray[np.float64]":
        """Pressure of the vapour in the air [Pa]."""
        return vapour_pa(self.temp_c, self.humidity_pct)


def months() -> "NDArray[np.int64]":
    """Month of each hour, 1 to 12 (8760,)."""
    import numpy as np

    return np.repeat(np.arange(1, 13), np.array(DAYS_IN) * 24)


def sky_temp_c(
    temp_c: "NDArray[np.float64]", dew_c: "NDArray[np.float64]", cloud: "NDArray[np.float64]"
) -> "NDArray[np.float64]":
    """Temperature that the sky radiates like [C].

    Args:
        temp_c: Air.
        dew_c: Its dew point.
        cloud: Share of the sky that is clouded, 0 to 1.

    Source:
        Clear sky 0.711 + 0.56 (td/100) + 0.73 (td/100)^2, Berdahl and Martin 1984 (from memory);
        clouds close 84 % of the gap to 1 (a judgement).
    """
    a, b, c = (air_figure(f"sky_clear_{name}").value for name in "abc")
    clear = a + b * dew_c / 100 + c * (dew_c / 100) ** 2
    like: NDArray[np.float64] = clear + (1 - clear) * CLOUD_WEIGHT * cloud
    told: NDArray[np.float64] = (temp_c + KELVIN) * like**0.25 - KELVIN
    return told
