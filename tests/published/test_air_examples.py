"""Damp air, air change and heat of rooms, beside worked examples and another library.

Each test names the example and where it was worked. Tolerances are those of the example.
"""

import numpy as np
import pytest
from pvlib.atmosphere import rh_from_tdew, tdew_from_rh

from mewswright.air.birds import basal_w, conductance_w_k, feels_c
from mewswright.air.change import (
    cross_wind_m3_s,
    heat_of_hens_w,
    in_series_m2,
    pressure_share,
    single_sided_stack_m3_s,
    single_sided_wind_m3_s,
    through_flow,
    two_level_stack_m3_s,
    warmer_by_k,
)
from mewswright.air.moist import (
    dew_point_c,
    dew_point_of_c,
    heat_index_c,
    humidity_of_pct,
    saturation_pa,
    vapour_pa,
    wet_bulb_c,
)
from mewswright.ground.openness import open_share
from mewswright.ground.rose import bearings_deg


def test_phys_06_wet_bulb():
    """PHYS-06: Stull 2011, 20 C and 50 % (printed value from memory)."""
    assert float(wet_bulb_c(20, 50)) == pytest.approx(13.7, abs=0.05)


def test_phys_07_heat_index():
    """PHYS-07: pythermalcomfort, tests of heat_index_rothfusz."""
    assert float(heat_index_c(29, 50)) == pytest.approx(29.7, abs=0.05)


@pytest.mark.parametrize(("temp_f", "humidity", "told_f"), [(90, 50, 95), (90, 70, 106)])
def test_phys_09_heat_index_of_the_chart(temp_f, humidity, told_f):
    """PHYS-09: heat index chart of the NWS (from memory)."""
    told = heat_index_c((temp_f - 32) / 1.8, humidity)
    assert float(told) * 1.8 + 32 == pytest.approx(told_f, abs=0.6)


@pytest.mark.parametrize(
    ("temp_c", "humidity", "dew_c"),
    [(31.6, 59.6, 22.778), (29.3, 75.4, 24.497), (27.1, 66.4, 20.302), (25, 50, 13.8)],
)
def test_phys_10_dew_point(temp_c, humidity, dew_c):
    """PHYS-10: pythermalcomfort, tests of psychrometrics."""
    assert float(dew_point_c(temp_c, humidity)) == pytest.approx(dew_c, abs=0.1)


@pytest.mark.parametrize(("temp_c", "pressure"), [(25, 3169.2), (50, 12349.9)])
def test_phys_11_saturated_vapour(temp_c, pressure):
    """PHYS-11: pythermalcomfort, by ASHRAE's formula; Magnus lies within 0.4 %."""
    assert float(saturation_pa(temp_c)) == pytest.approx(pressure, rel=0.004)


@pytest.mark.parametrize("temp_c", [-15, 0, 12, 25, 38])
@pytest.mark.parametrize("humidity", [20, 60, 95])
def test_dew_points_of_another_library(temp_c, humidity):
    """pvlib.atmosphere (Magnus with the coefficients of the WMO): 0.1 K, 0.5 %."""
    dew = float(dew_point_c(temp_c, humidity))
    assert dew == pytest.approx(float(tdew_from_rh(temp_c, humidity)), abs=0.1)
    assert float(rh_from_tdew(temp_c, dew)) == pytest.approx(humidity, rel=0.005)


def test_damp_air_goes_round():
    temp = np.linspace(-20, 40, 13)
    vapour = vapour_pa(temp, 55)
    assert humidity_of_pct(temp, vapour) == pytest.approx(55)
    assert saturation_pa(dew_point_of_c(vapour)) == pytest.approx(vapour)
    assert (wet_bulb_c(temp[4:], 55) < temp[4:]).all()


@pytest.mark.parametrize("humidity", [0, -3, 101, float("nan")])
def test_humidity_that_cannot_be_is_refused(humidity):
    with pytest.raises(ValueError, match="humidity must be above 0 and at most 100 %, got"):
        dew_point_c(20, humidity)


def test_phys_13_openings_in_one_wall():
    """PHYS-13: BS 5925:1991 and CIBSE Guide A (from memory)."""
    assert single_sided_wind_m3_s(2.0, 2.0) == pytest.approx(0.1, rel=0.002)
    assert single_sided_stack_m3_s(2.0, 2.0, 3, 288 - 273.15) == pytest.approx(0.1838, rel=0.002)


def test_two_openings_in_a_row_and_two_levels():
    """Closed forms: Aw of two alike is A / sqrt 2; BS 5925:1991 Cd Ab sqrt(2 g H dT / T)."""
    assert in_series_m2(2, 2) == pytest.approx(2 / 2**0.5)
    by_hand = 0.61 * 2 / 2**0.5 * (2 * 9.81 * 2 * 3 / 288) ** 0.5
    assert two_level_stack_m3_s(2, 2, 2, 3, 288 - 273.15) == pytest.approx(by_hand)


@pytest.mark.parametrize(("one", "other"), [(1.0, 1.0), (0.3, 2.0)])
def test_the_balance_of_two_openings_is_the_closed_form(one, other):
    """Cd Aw v sqrt(dCp) for a wall in the wind and one in the lee."""
    push = np.array([np.full(4, 0.6), np.full(4, -0.3)])
    total, each = through_flow([one, other], push)
    assert total == pytest.approx(cross_wind_m3_s(one, other, 1.0, 0.9))
    assert each.sum(axis=0) == pytest.approx(0, abs=1e-9)


def test_what_comes_in_through_five_openings_goes_out():
    rng = np.random.default_rng(1)
    total, each = through_flow(rng.uniform(0.01, 3, 5).tolist(), rng.uniform(-1, 1, (5, 72)))
    assert np.abs(each.sum(axis=0)).max() < 1e-6 * total.max()


def test_wind_presses_as_the_table_has_it():
    told = pressure_share(bearings_deg()[[0, 18, 36, 54]])
    assert told == pytest.approx([0.6, -0.6, -0.3, -0.6])


def test_phys_17_heat_of_hens():
    """PHYS-17: Chepete and Xin 2001, abstract."""
    assert heat_of_hens_w(1.8) == pytest.approx(9.41, rel=0.002)
    assert heat_of_hens_w(0.1) == pytest.approx(1.209, rel=0.002)


def test_phys_18_an_open_room_is_hardly_warmer():
    """PHYS-18: steady state of CIBSE (from memory)."""
    assert warmer_by_k(20, 60, 50, 16) == pytest.approx(0.0617, rel=0.005)


@pytest.mark.parametrize(
    ("pitch", "wire", "share"), [(25.4, 1.6, 0.878), (12.7, 1.02, 0.846), (25.4, 2.5, 0.813)]
)
def test_phys_19_open_share_of_mesh(pitch, wire, share):
    """PHYS-19: (1 - d / p)^2, p from middle to middle."""
    assert open_share("meshed", pitch - wire, wire, "welded") == pytest.approx(share, abs=0.001)


def test_wind_on_a_bird_as_bakken_has_it():
    """Bakken 1990, Auk 107:587: 4 m/s at 0 C is like -20.8 C."""
    assert float(feels_c(np.array(0.0), np.array(4.0))) == pytest.approx(-20.8, abs=0.05)


def test_heat_of_birds_of_prey_as_wasser_has_it():
    """Wasser 1986, Condor 88:57: 1 kg makes 2.88 W at rest; a kestrel of 210 g loses 0.056 W/K."""
    assert basal_w(1000) == pytest.approx(2.88, rel=0.002)
    assert conductance_w_k(210) == pytest.approx(0.05604, rel=0.002)
