"""Windbreaks and driving rain, beside published tables and worked examples."""

import numpy as np
import pytest

from mewswright.ground.driving_rain import driving_rain_l_m2, reach_mm
from mewswright.ground.wind_report import wind_report
from mewswright.ground.windbreak import sheltered_to_m, wind_left
from support.yards import quarters, yard

# Brandle, Windbreak Management, EC1763 (from memory): wind left in per cent of the open wind at
# 5, 10, 15, 20 and 30 heights behind, and the density that a row speaks of.
WIND_LEFT = [
    (100, (25, 70, 90, 95, 100)),
    (50, (30, 50, 60, 75, 95)),  # 40 to 60 % dense
    (30, (50, 65, 80, 85, 100)),  # 25 to 35 % dense
]
HEIGHTS = (5, 10, 15, 20, 30)


@pytest.mark.parametrize(("density_pct", "left_pct"), WIND_LEFT)
def test_wind_left_is_that_of_the_table(density_pct, left_pct):
    told = wind_left(np.array(HEIGHTS, float), np.full(5, 1 - density_pct / 100))
    assert 100 * told == pytest.approx(left_pct)


def test_shelter_ends_by_thirty_heights_or_little_later():
    """Brandle and Finch, How windbreaks work (read): to 30 H downwind."""
    told = wind_left(np.full(3, 35.0), np.array([0.0, 0.5, 0.7]))
    assert told == pytest.approx(1)


def test_the_longest_shelter_is_behind_the_half_open_one():
    """MIL-HDBK-1011/2 (read): 40 to 60 % porous shelters farthest."""
    far = {p: float(wind_left(np.array([17.0]), np.array([p]))[0]) for p in (0, 0.3, 0.5, 0.7, 0.9)}
    assert min(far, key=far.get) == 0.5


def test_a_whole_yard_gives_the_table_back():
    """A long solid wall five of its heights before a low front, wind square to it."""
    wall = {"name": "W", "kind": "wall", "line_m": [[-900, -20], [900, -20]], "height_m": 4}
    q = quarters(at_m=[0, 0], front_height_mm=1900, back_height_mm=1900)
    rose = [{"from_deg": 180, "share_pct": 100, "speed_m_s": 5}]
    told = wind_report(yard(quarters=[q], feature=[wall], wind_rose=rose)).quarters[0]
    front = next(s for s in told.sides if s.side == "front")
    assert front.wind_left_pct == pytest.approx(25, abs=3)  # slant winds have farther to go


def test_phys_20_whole_shelter_behind_a_windbreak():
    """PHYS-20: Woodruff and Zingg, 17 H (Vm / V) cos(turn) (from memory)."""
    assert sheltered_to_m(16, 8, 18, 30) == pytest.approx(104.7, rel=0.002)


@pytest.mark.parametrize(("wind", "rain", "rate", "hours"), [(4, 2, 2, 1), (6, 30, 5, 6)])
def test_driving_rain_is_the_sum_over_hours_of_iso_15927_3(wind, rain, rate, hours):
    """ISO 15927-3:2009 (from memory): 2/9 v r^(8/9) in each hour, worked by hand."""
    by_hand = hours * 2 / 9 * wind * rate ** (8 / 9)
    assert driving_rain_l_m2(rain, wind, rate) == pytest.approx(by_hand, rel=2e-3)


def test_a_drop_of_a_millimetre_flies_a_metre_while_it_falls_one_in_four_metres_a_second():
    """Gunn and Kinzer 1949 (from memory): a drop of 1 mm falls 4.03 m/s."""
    assert reach_mm(1000, 4.03) == pytest.approx(1000)
