"""Gutters: more rain never takes a smaller one, and nothing is said of lengths unknown."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.water.gutter import (
    corner_factor,
    drop_mm,
    gutter_for,
    half_round_flow_l_s,
    length_factor,
)


@given(floats(0, 2), floats(0, 2), floats(0.5, 9))
def test_more_rain_never_takes_a_gutter_that_carries_less(flow, more, length):
    one, other = gutter_for(flow, length), gutter_for(flow + more, length)
    assert one.capacity_l_s >= flow
    assert other.capacity_l_s >= flow + more
    assert one.outlets <= other.outlets


@given(floats(0, 1.9), floats(1, 7))
def test_the_size_below_would_not_do(flow, length):
    """With an outlet at one end it is the smallest of the table."""
    found = gutter_for(flow, length)
    if found.outlet_at != "one end":
        return
    smaller = [d for d in (75, 100, 115, 125, 150) if d < found.size.diameter_mm]
    for diameter in smaller:
        if length * 1000 <= 200 * diameter / 2:
            assert half_round_flow_l_s(diameter) * length_factor(length, diameter / 2) < flow


@given(floats(1, 200), floats(1, 200))
def test_a_longer_gutter_never_carries_more(one, other):
    short, long = sorted((one, other))
    assert length_factor(long / 10, 100) <= length_factor(short / 10, 100)


def test_a_middle_outlet_is_fed_from_both_sides():
    """2.5 l/s are too much for one end of any size: 150 mm carries 2.16."""
    found = gutter_for(2.5, 6)
    assert (found.outlet_at, found.outlets) == ("the middle", 1)
    assert found.run_m == 3
    assert found.capacity_l_s == pytest.approx(2 * half_round_flow_l_s(found.size.diameter_mm))


def test_a_gutter_too_long_for_the_table_is_refused_or_given_outlets():
    with pytest.raises(ValueError, match="give it one more outlet"):
        length_factor(12, 50)
    assert gutter_for(0.1, 40).outlets > 1


def test_a_cloudburst_on_a_hall_is_refused():
    with pytest.raises(ValueError, match="have a box gutter designed"):
        gutter_for(60, 20)


@pytest.mark.parametrize(("away", "factor"), [(None, 1), (1.9, 0.8), (2, 0.9), (4, 0.9), (4.1, 1)])
def test_corners_near_the_outlet_cost_flow(away, factor):
    assert corner_factor(away) == factor


def test_falls_are_run_over_slope():
    assert drop_mm(7, 350) == pytest.approx(20)
    assert gutter_for(0.3, 7).wished_fall_mm == pytest.approx(35)


def test_water_of_a_full_112_mm_gutter_agrees_with_the_trade():
    """The materials table has 4 to 5 kg a metre for 112 mm; 115 mm is the same gutter."""
    found = gutter_for(1.0, 4)
    assert found.size.diameter_mm == 115
    assert 4 <= found.water_kg / 4 <= 5.5
