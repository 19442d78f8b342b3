"""Rain and soakaways, beside worked examples.

Each test names the example and where it was worked. Tolerances are those of the example.
"""

import pytest

from mewswright.build.water.butt import butt_l
from mewswright.build.water.gutter import half_round_flow_l_s, length_factor
from mewswright.build.water.soakaway import (
    half_empty_s,
    half_sides_m2,
    infiltration_m_s,
    small_store_m3,
)
from mewswright.handbook.water import gutter_sizes

GUTTERS = [  # Approved Document H Table 2: diameter mm, flow l/s, greatest roof m2 at 75 mm/h
    (75, 0.38, 18),
    (100, 0.78, 37),
    (115, 1.11, 53),
    (125, 1.37, 65),
    (150, 2.16, 103),
]


@pytest.mark.parametrize(("diameter_mm", "flow_l_s", "_area"), GUTTERS)
def test_drain_01_half_round_gutters(diameter_mm, flow_l_s, _area):
    """DRAIN-01: EN 12056-3 and Approved Document H3 Table 2."""
    assert half_round_flow_l_s(diameter_mm) == pytest.approx(flow_l_s, rel=0.012)


@pytest.mark.parametrize(("diameter_mm", "_flow", "area_m2"), GUTTERS)
def test_drain_02_roof_that_a_gutter_drains_at_75_mm_an_hour(diameter_mm, _flow, area_m2):
    """DRAIN-02: Approved Document H3 Table 2, 0.0208 l/s on a square metre."""
    assert half_round_flow_l_s(diameter_mm) / (75 / 3600) == pytest.approx(area_m2, rel=0.015)


def test_the_handbook_has_the_same_table():
    rows = [(size.diameter_mm, size.flow_l_s, size.area_m2) for size in gutter_sizes()]
    assert rows == GUTTERS


@pytest.mark.parametrize(("slender", "factor"), [(50, 1), (100, 0.93), (150, 0.86), (200, 0.80)])
def test_drain_04_length_factor(slender, factor):
    """DRAIN-04: a gutter maker's page quoting BS EN 12056-3; a plain look-up."""
    depth_mm = 56
    assert length_factor(slender * depth_mm / 1000, depth_mm) == pytest.approx(factor, abs=1e-9)


def test_drain_05_infiltration_from_a_trial_pit():
    """DRAIN-05: pit 1.0 x 1.0 m, 0.75 m of water, 56 minutes: 4.461e-5 m/s.

    Published BRE 365 sheet; with its exact values 4.464e-5.
    """
    assert 1.0 + half_sides_m2(1.0, 1.0, 0.75) == pytest.approx(2.5)
    assert infiltration_m_s(1.0, 1.0, 0.75, 56 * 60) == pytest.approx(4.461e-5, rel=0.002)


def test_drain_07_half_empty_time():
    """DRAIN-07: S 1.04 m3, sides 5.25 m2, f 4.461e-5: 37.0 minutes. Published BRE 365 sheet."""
    assert half_empty_s(1.04, 5.25, 4.461e-5) / 60 == pytest.approx(37.0, rel=0.005)


def test_drain_09_small_roof():
    """DRAIN-09: 7.2 m2 and 10 mm: 0.072 m3. Council guidance quoting Approved Document H."""
    assert small_store_m3(7.2) == pytest.approx(0.072, abs=1e-9)


def test_drain_10_rain_tank_by_the_5_percent_rule():
    """DRAIN-10: 125 m2, 650 mm, 0.76: 3087.5 l. Published example to BS 8515:2009."""
    assert butt_l(125, 650, 0.76) == pytest.approx(3087.5, abs=0.01)
