"""Sun and sky on roofs, beside figures of building physics."""

import numpy as np
import pytest

from mewswright.air.weather import KELVIN, STEFAN, sky_temp_c
from mewswright.air.year import ROOF_SHINE, sol_air_c
from mewswright.handbook.air import air_figure


@pytest.mark.parametrize("wind_m_s", [2.0, 3.0])
def test_dark_felt_in_full_sun_is_as_hot_as_is_told_of_it(wind_m_s):
    """35 to 48 K over the air at 900 W/m2 (collected for this project, from memory)."""
    takes = air_figure("sun_taken_felt").value
    told = sol_air_c(np.array(25.0), np.array(900.0), takes, np.array(60.0), np.array(wind_m_s))
    assert 30 <= float(told) - 25 <= 48


@pytest.mark.parametrize("wind_m_s", [0.5, 2.0, 4.0])
def test_a_roof_on_a_clear_night_is_as_cold_as_is_told_of_it(wind_m_s):
    """3 to 8 K under the air on a clear night (collected for this project, from memory)."""
    air, dew = np.array(5.0), np.array(1.0)
    sky = sky_temp_c(air, dew, np.array(0.0))
    loss = ROOF_SHINE * STEFAN * ((air + KELVIN) ** 4 - (sky + KELVIN) ** 4)
    told = sol_air_c(air, np.array(0.0), 0.9, loss, np.array(wind_m_s))
    assert 3 <= 5 - float(told) <= 8


def test_a_clear_sky_is_much_colder_than_the_air_and_a_cloudy_one_little():
    """A clear sky shines like air 15 to 25 K colder in temperate weather (Berdahl and Martin)."""
    air, dew = np.array(10.0), np.array(5.0)
    clear, cloudy = (float(sky_temp_c(air, dew, np.array(n))) for n in (0.0, 1.0))
    assert 12 <= 10 - clear <= 25
    assert 0 < 10 - cloudy < 5
