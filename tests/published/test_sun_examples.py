"""The sun against collected worked examples: position, noon height, an overhang's shade."""

from datetime import UTC, datetime
from math import cos, radians, tan

import numpy as np
import pytest

from mewswright.ground.light import Caster
from mewswright.ground.solids import SolidBox
from mewswright.ground.sun import declination_deg, sun_at
from mewswright.ground.sun_path import SunYear, sun_now


def test_phys_01_where_the_sun_stands():
    """PHYS-01: NREL/TP-560-34302, its worked example, read in pvlib's tests/test_spa.py."""
    at = datetime.fromisoformat("2003-10-17T12:30:30-07:00")
    sun = sun_now(at, 39.742476, -105.1786, 1830.14)
    assert sun.zenith_deg == pytest.approx(50.11162, abs=0.0005)
    assert sun.azimuth_deg == pytest.approx(194.34024, abs=0.0005)


@pytest.mark.parametrize(("day", "lean_deg", "deg"), [(172, 23.45, 61.45), (355, -23.45, 14.55)])
def test_phys_03_noon_height_at_52_north(day, lean_deg, deg):
    """PHYS-03: Duffie and Beckman eq. 1.6.1, from memory; the algorithm stays within 0.2 deg."""
    declination = declination_deg(day)
    assert declination == pytest.approx(lean_deg, abs=0.01)
    assert sun_at(52, declination, 12).altitude_deg == pytest.approx(deg, abs=0.01)
    noon = datetime.strptime(f"2023 {day} 12", "%Y %j %H").replace(tzinfo=UTC)
    assert sun_now(noon, 52, 0, 0).height_deg == pytest.approx(deg, abs=0.2)


@pytest.mark.parametrize("turned_deg", [0, 30, 55])
@pytest.mark.parametrize(("height_deg", "deep_m"), [(61.45, 0.5515), (14.55, 0.0779)])
def test_phys_04_an_overhang_shades_the_wall(height_deg, deep_m, turned_deg):
    """PHYS-04: 0.3 m out over a wall that faces south, P tan(h) / cos(g); plain geometry."""
    deep = 0.3 * tan(radians(height_deg)) / cos(radians(turned_deg))
    if turned_deg == 0:
        assert deep == pytest.approx(deep_m, abs=0.0005)
    eaves = SolidBox("", (0, -0.15), (1, 0), (20, 0.15), (3, 0, 0), (3.1, 0, 0))
    one = np.ones(1, np.int64)
    sun = SunYear(1.0, one, one, one, one, np.array([height_deg]), np.array([180.0 - turned_deg]))
    told = Caster([eaves], sun).light([(0, 0, 3 - deep + hair) for hair in (1e-5, -1e-5)])
    assert told[:, 0].tolist() == [0, 1]
