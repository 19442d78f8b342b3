"""A year that is made keeps what the climate says of each month."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis.strategies import integers

from mewswright.air.sun_hours import clear_sky_w_m2, standard_offset_h, sun_hours
from mewswright.air.weather import HOURS, months
from mewswright.air.weather_made import made_year
from mewswright.ground.rose import rose_of
from mewswright.model.problem import Problem
from support.alder_close import YARD

SUN = sun_hours(YARD.yard, 1.0)


def made(seed=0, **climate):
    normals = YARD.climate.model_copy(update=climate)
    return made_year(normals, rose_of(YARD), SUN, 1.0, seed)


def monthly(values):
    return [float(values[months() == month].mean()) for month in range(1, 13)]


@settings(max_examples=5, deadline=None)
@given(seed=integers(0, 10_000))
def test_each_month_keeps_its_normals(seed):
    year, climate = made(seed), YARD.climate
    days = year.temp_c.reshape(365, 24)
    assert monthly(year.temp_c) == pytest.approx(climate.mean_temp_c, abs=0.05)
    assert monthly(np.repeat(days.min(axis=1), 24)) == pytest.approx(
        climate.mean_daily_min_c, abs=0.05
    )
    assert monthly(np.repeat(days.max(axis=1), 24)) == pytest.approx(
        climate.mean_daily_max_c, abs=0.05
    )
    assert monthly(year.humidity_pct) == pytest.approx(climate.humidity_pct, abs=0.5)
    assert monthly(year.wind_m_s) == pytest.approx(climate.wind_m_s, abs=0.01)
    rain = [float(year.rain_mm[months() == month].sum()) for month in range(1, 13)]
    assert rain == pytest.approx(climate.rain_mm)


def test_sunshine_is_that_of_the_climate():
    year = made()
    clear, _ = clear_sky_w_m2(SUN)
    share = np.divide(year.beam_w_m2, clear, out=np.zeros(HOURS), where=clear > 0)
    hours = [float((share * SUN.up_share)[months() == m].sum()) for m in range(1, 13)]
    assert hours == pytest.approx(YARD.climate.sun_h, rel=0.02)


def test_the_wind_comes_as_the_rose_has_it():
    year, rose = made(), rose_of(YARD)
    blows = ~np.isnan(year.wind_from_deg)
    assert blows.mean() == pytest.approx(1 - rose.calm, abs=0.005)
    south_west = (year.wind_from_deg > 202) & (year.wind_from_deg < 248)
    assert south_west.mean() == pytest.approx(0.31, abs=0.02)


def test_one_seed_gives_one_year_and_another_another():
    assert (made(3).temp_c == made(3).temp_c).all()
    assert (made(3).temp_c != made(4).temp_c).any()


def test_everything_is_a_number_that_can_be():
    year = made()
    for line in (year.temp_c, year.humidity_pct, year.wind_m_s, year.rain_mm, year.beam_w_m2):
        assert np.isfinite(line).all()
    assert (year.humidity_pct > 0).all()
    assert (year.humidity_pct <= 100).all()
    assert (year.wind_m_s >= 0).all()
    assert (year.sky_c < year.temp_c).all()


@pytest.mark.parametrize(
    "climate",
    [
        {"sun_h": (0.0,) * 12},
        {"sun_h": (900.0,) * 12},
        {"rain_mm": (0.0,) * 12},
        {"rain_mm": (2000.0,) * 12},
        {"wind_m_s": (0.0,) * 12},
        {"humidity_pct": (100.0,) * 12},
        {"humidity_pct": (0.0,) * 12},
        {"mean_daily_min_c": (5.0,) * 12, "mean_daily_max_c": (5.0,) * 12},
    ],
    ids=lambda key: str(next(iter(key.items()))[0]) + str(next(iter(key.values()))[0]),
)
def test_odd_climates_give_a_year(climate):
    year = made(0, **climate)
    assert np.isfinite(year.temp_c).all()
    assert np.isfinite(year.sky_c).all()
    assert np.isfinite(year.wind_m_s).all()
    if "rain_mm" in climate:
        assert year.rain_mm.sum() == pytest.approx(sum(climate["rain_mm"]))


def test_the_clock_has_no_summer_time():
    place = YARD.yard
    assert standard_offset_h(place) == 1
    south = place.model_copy(update={"time_zone": "Australia/Sydney"})
    assert standard_offset_h(south) == 10


def test_noon_by_the_sun_is_where_the_longitude_puts_it():
    """At 6.88 E by the clock of 15 E the sun is highest about 12:32."""
    day = SUN.mean(SUN.sine).reshape(365, 24)
    assert set(day.argmax(axis=1)) == {12}
    south = YARD.yard.model_copy(
        update={"latitude_deg": -33.9, "longitude_deg": 151.2, "time_zone": "Australia/Sydney"}
    )
    there = sun_hours(south, 10.0)
    assert there.mean(there.sine).reshape(365, 24)[:20].max() > 0.9  # January is summer
    assert set(there.mean(there.sine).reshape(365, 24).argmax(axis=1)) <= {11, 12}


def test_a_clock_that_is_none_is_refused():
    odd = YARD.yard.model_copy(update={"time_zone": "Moon/Base"})
    with pytest.raises(Problem, match=r"^yard\.time_zone is 'Moon/Base', which is no IANA name"):
        standard_offset_h(odd)
