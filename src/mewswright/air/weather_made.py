"""A year of weather made from a yard's monthly normals, for want of a measured one.

Means of temperature, of its daily least and greatest, humidity, rain, sunshine and wind of each
month come out as the climate has them. What lies between is drawn from a seed: spells of warm and
cold days, cloudy days that are the wet ones, wind that holds its direction for some hours. Real
years have longer spells, and worse days, than this.
"""

from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING

from mewswright.air.moist import dew_point_of_c, humidity_of_pct, saturation_pa
from mewswright.air.sun_hours import SunHours, clear_sky_w_m2
from mewswright.air.weather import DAYS, DAYS_IN, HOURS, Weather, months, sky_temp_c
from mewswright.ground.rose import BIN_DEG, Rose
from mewswright.model.place import Climate

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Line = NDArray[np.float64]

# All judgements, for a temperate place; normals do not tell them.
SPELL_K = 3.0  # spread of daily means about the normal
SPELL_KEEPS = 0.75  # share of one day's lapse from the normal that the next keeps
WIND_KEEPS = 0.8  # the same of the wind's strength from hour to hour
WET_DAY_MM = 6.0  # rain of a wet day
WET_RATE_MM_H = 1.0
BLOCK_H = 6  # hours that the wind keeps its bearing
AFTERNOON = 0.25  # the wind of mid-afternoon is stronger by this share, that of the night weaker
COLDEST_H, WARMEST_H = 5, 15
DULL_LIGHT = 0.25  # of a clear sky's light, that comes through a sky without sunshine
METHOD = (
    "made from the yard's monthly normals: each month keeps its means; days between them by chance "
    "from the seed"
)


def made_year(climate: Climate, rose: Rose, sun: SunHours, offset_h: float, seed: int) -> Weather:
    """Make a year.

    Args:
        climate: Monthly normals.
        rose: The yard's wind.
        sun: The sun of the place, by the same clock.
        offset_h: Hours that the clock is ahead of universal time.
        seed: Whatever is drawn follows from it.
    """
    import numpy as np

    draw = np.random.default_rng(seed)
    of_day = np.repeat(np.arange(12), DAYS_IN)
    clear_beam, clear_sky = clear_sky_w_m2(sun)
    sunny = _sunshine(climate, sun, of_day, draw)
    temp = _temperatures(climate, of_day, sunny, draw)
    rain = _rain(climate, of_day, sunny, draw)
    by_hour = np.repeat(sunny, 24)
    humidity = _humidity(climate, temp, rain)
    wind, bearing = _wind(climate, rose, draw)
    vapour = saturation_pa(temp) * humidity / 100
    dull = DULL_LIGHT * (1 - by_hour) * _level(clear_beam, clear_sky, sun)
    return Weather(
        kind="made",
        source=f"{METHOD} ({climate.source})",
        offset_h=offset_h,
        temp_c=temp,
        humidity_pct=humidity,
        wind_m_s=wind,
        wind_from_deg=bearing,
        rain_mm=rain,
        beam_w_m2=clear_beam * by_hour,
        diffuse_w_m2=clear_sky * by_hour + dull,
        sky_c=sky_temp_c(temp, dew_point_of_c(vapour), 1 - by_hour),
        notes=(
            "a made year: spells and worst days of a real one are longer and worse",
            *(() if rose.known == "wind_rose" else (rose.words,)),
        ),
    )


def _level(beam: "Line", sky: "Line", sun: SunHours) -> "Line":
    return beam * sun.mean(sun.sine) + sky


def _ranks(count: int, keeps: float, draw: "np.random.Generator") -> "NDArray[np.int64]":
    """Ranks of a series of which each value keeps a share of the one before (count,)."""
    import numpy as np

    noise = draw.standard_normal(count)
    line = np.empty(count)
    level = 0.0
    for n in range(count):
        level = keeps * level + noise[n]
        line[n] = level
    return line.argsort(kind="stable").argsort(kind="stable")


def _evenly(count: int, keeps: float, draw: "np.random.Generator") -> "Line":
    """Even quantiles between 0 and 1 in an order that has spells (count,)."""
    told: Line = (_ranks(count, keeps, draw) + 0.5) / count
    return told


def _sunshine(
    climate: Climate, sun: SunHours, of_day: "NDArray[np.int64]", draw: "np.random.Generator"
) -> "Line":
    """Share of its possible sunshine that each day has; months keep their hours (365,)."""
    import numpy as np

    day_h = sun.up_share.reshape(DAYS, 24).sum(axis=1)
    told = np.zeros(DAYS)
    for month in range(12):
        mine = np.flatnonzero(of_day == month)
        even = _evenly(len(mine), SPELL_KEEPS, draw)
        possible = float(day_h[mine].sum())
        wanted = min(climate.sun_h[month], possible) / possible if possible > 0 else 0.0
        if wanted <= 0.01 or wanted >= 0.99:
            told[mine] = round(wanted)
            continue
        weight = day_h[mine]
        shape = _solved(_weighed(even, weight), wanted * possible)
        told[mine] = even**shape
    return told


def _weighed(even: "Line", weight: "Line") -> Callable[[float], float]:
    """The weighed sum of even quantiles, raised to a power."""
    return lambda power: float((even**power * weight).sum())


def _solved(falls: Callable[[float], float], wanted: float) -> float:
    """Exponent, 0 to 60, at which a falling function takes a value."""
    low, high = 1e-3, 60.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if falls(middle) > wanted else (low, middle)
    return (low + high) / 2


def _temperatures(
    climate: Climate, of_day: "NDArray[np.int64]", sunny: "Line", draw: "np.random.Generator"
) -> "Line":
    """Air of each hour; months keep their mean, least and greatest (8760,)."""
    import numpy as np

    spell = _evenly(DAYS, SPELL_KEEPS, draw)
    lapse = SPELL_K * np.log(spell / (1 - spell)) / 1.814  # logistic, of standard deviation 1
    told = np.empty((DAYS, 24))
    wave = _wave()
    season = [_season(line) for line in (climate.mean_daily_min_c, climate.mean_daily_max_c)]
    for month in range(12):
        mine = of_day == month
        low0, high0 = climate.mean_daily_min_c[month], climate.mean_daily_max_c[month]
        off = lapse[mine] - lapse[mine].mean()
        widen = 0.5 + sunny[mine] / max(float(sunny[mine].mean()), 1e-9) / 2  # clear: wider days
        half = (high0 - low0) / 2 * widen / widen.mean()
        drift = (season[0][mine] + season[1][mine]) / 2
        middle = (low0 + high0) / 2 + off + drift - drift.mean()
        span = high0 - low0
        mean = climate.mean_temp_c[month]
        share = min(max((mean - low0) / span, 0.15), 0.85) if span > 0 else 0.5
        shape = _solved(lambda p: float((wave**p).mean()), share)
        told[mine] = (middle - half)[:, None] + 2 * half[:, None] * wave**shape
    return told.reshape(HOURS)


def _wave() -> "Line":
    """The day from its coldest hour to its warmest and back, 0 to 1 (24,)."""
    import numpy as np

    hour = np.arange(24)
    rise = (hour - COLDEST_H) / (WARMEST_H - COLDEST_H)
    fall = ((hour - WARMEST_H) % 24) / (24 - WARMEST_H + COLDEST_H)
    up = (1 - np.cos(np.pi * rise)) / 2
    down = (1 + np.cos(np.pi * fall)) / 2
    told: Line = np.where((hour >= COLDEST_H) & (hour <= WARMEST_H), up, down)
    return told


def _season(normals: tuple[float, ...]) -> "Line":
    """A smooth line through the middles of the months (365,)."""
    import numpy as np

    ends = np.cumsum((0, *DAYS_IN))
    middles = np.array([(a + b) / 2 for a, b in pairwise(ends)])
    at = np.concatenate((middles - DAYS, middles, middles + DAYS))
    told: Line = np.interp(np.arange(DAYS) + 0.5, at, np.tile(normals, 3))
    return told


def _rain(
    climate: Climate, of_day: "NDArray[np.int64]", sunny: "Line", draw: "np.random.Generator"
) -> "Line":
    """Rain of each hour, on the dullest days; months keep their sums (8760,)."""
    import numpy as np

    told = np.zeros((DAYS, 24))
    for month in range(12):
        total = climate.rain_mm[month]
        if total <= 0:
            continue
        days = np.flatnonzero(of_day == month)
        count = int(np.clip(round(total / WET_DAY_MM), 1, len(days)))
        wet = days[np.argsort(sunny[days], kind="stable")[:count]]
        even = (draw.permutation(count) + 0.5) / count
        amount = -np.log(1 - even)
        amount *= total / amount.sum()
        for day, millimetres in zip(wet, amount, strict=True):
            long = int(np.clip(np.ceil(millimetres / WET_RATE_MM_H), 1, 24))
            first = int(draw.integers(0, 24 - long + 1))
            told[day, first : first + long] = millimetres / long
    return told.reshape(HOURS)


def _humidity(climate: Climate, temp: "Line", rain: "Line") -> "Line":
    """Humidity of each hour: one vapour for each day, more on wet ones (8760,)."""
    import numpy as np

    of_hour = months() - 1
    wet = np.repeat(rain.reshape(DAYS, 24).sum(axis=1) > 0, 24)
    full = saturation_pa(temp)
    day_mean = np.repeat(full.reshape(DAYS, 24).mean(axis=1), 24)
    told = np.empty(HOURS)
    for month in range(12):
        mine = of_hour == month
        wanted = min(max(climate.humidity_pct[month], 5.0), 99.0)
        weight = np.where(wet[mine], 1.1, 1.0)
        low, high = 0.0, 2.0
        for _ in range(40):
            middle = (low + high) / 2
            vapour = middle * wanted / 100 * day_mean[mine] * weight
            mean = float(humidity_of_pct(temp[mine], vapour).mean())
            low, high = (middle, high) if mean < wanted else (low, middle)
        vapour = low * wanted / 100 * day_mean[mine] * weight
        told[mine] = np.maximum(humidity_of_pct(temp[mine], vapour), 1.0)
    return told


def _wind(climate: Climate, rose: Rose, draw: "np.random.Generator") -> "tuple[Line, Line]":
    """Speed and bearing of each hour; months keep their mean, the year its rose (8760,)."""
    import numpy as np

    blocks = HOURS // BLOCK_H
    chance = (draw.permutation(blocks) + 0.5) / blocks
    ends = np.cumsum(rose.share)
    at = np.searchsorted(ends, chance)
    calm = at >= len(ends)
    at = np.minimum(at, len(ends) - 1)
    bearing = np.repeat(np.where(calm, np.nan, at * float(BIN_DEG)), BLOCK_H)
    usual = np.repeat(np.where(calm, 0.0, rose.speed_m_s[at]), BLOCK_H)
    even = _evenly(HOURS, WIND_KEEPS, draw)
    gust = np.sqrt(-4 / np.pi * np.log(1 - even))  # Rayleigh of mean 1
    hour = np.arange(HOURS) % 24
    daily = 1 + AFTERNOON * np.cos(2 * np.pi * (hour - WARMEST_H) / 24)
    speed = usual * gust * daily
    of_hour = months() - 1
    for month in range(12):
        mine = of_hour == month
        mean = float(speed[mine].mean())
        speed[mine] *= max(0.0, climate.wind_m_s[month]) / mean if mean > 0 else 0.0
        if mean <= 0:  # a rose of calm, and a climate that has wind: from anywhere
            speed[mine] = max(0.0, climate.wind_m_s[month]) * gust[mine] * daily[mine]
    return speed, np.where(speed > 0, bearing, np.nan)
