"""Pipes, baths and pits beside formulas that the code does not use."""

from math import log10, pi, sqrt

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.water.bath_supply import (
    air_gap_mm,
    fill_s,
    overflow_for_mm,
    pipe_depth_mm,
    pipe_flow_l_s,
)
from mewswright.build.water.butt import butt_l, days_to_fill
from mewswright.build.water.floor_drain import emptying_s, overflow_l_s, rise_mm
from mewswright.build.water.runoff import effective_area_m2, flow_l_s, wall_onto_roof_m2
from mewswright.build.water.soakaway import half_sides_m2, small_store_m3, soakaway


def colebrook_kpa(flow_l_s_, inner_mm, length_m):
    """Pressure lost by Darcy and Weisbach with the friction of Colebrook and White, iterated."""
    d, nu, rough = inner_mm / 1000, 1.31e-6, 1e-5
    v = flow_l_s_ / 1000 / (pi * d * d / 4)
    friction = 0.03
    for _ in range(60):
        inner = rough / (3.7 * d) + 2.51 * nu / (v * d * sqrt(friction))
        friction = (-2 * log10(inner)) ** -2
    return friction * length_m / d * v * v / 2


@pytest.mark.parametrize("inner_mm", [15, 20, 26])
@pytest.mark.parametrize("length_m", [5, 20, 60])
def test_pipe_flow_gives_back_its_pressure_by_colebrook(inner_mm, length_m):
    flow = pipe_flow_l_s(inner_mm, length_m, 100)
    assert colebrook_kpa(flow, inner_mm, length_m) == pytest.approx(100, rel=0.04)


@given(floats(0.05, 2), floats(0.02, 0.5), floats(20, 60))
def test_a_bath_empties_as_a_sum_of_thin_slices_does(area, depth, outlet):
    """Torricelli slice by slice, with the mean speed of each slice."""
    hole = pi * (outlet / 1000) ** 2 / 4
    slices = 2000
    total = 0.0
    for step in range(slices):
        level = depth * (step + 0.5) / slices
        total += area * depth / slices / (0.6 * hole * sqrt(2 * 9.81 * level))
    assert emptying_s(area, depth, outlet) == pytest.approx(total, rel=0.02)


@given(floats(0.01, 0.8))
def test_the_overflow_lets_out_what_a_stuck_valve_lets_in(inflow):
    size = overflow_for_mm(inflow)
    assert size is not None
    assert overflow_l_s(size, size) >= inflow


def test_no_usual_overflow_takes_a_fire_hose():
    assert overflow_for_mm(5) is None


def test_air_gap_frost_and_filling():
    assert air_gap_mm(8) == 20
    assert air_gap_mm(15) == 30
    assert pipe_depth_mm(None) == 750
    assert pipe_depth_mm(800) == 800
    assert pipe_depth_mm(300) == 750
    assert fill_s(60, 0.5) == 120
    with pytest.raises(ValueError, match="fills only where water flows"):
        fill_s(60, 0)


def test_slanting_rain_counts_half_of_the_rise():
    assert effective_area_m2(4, 3, 0.5) == pytest.approx(4 * 3.25)
    assert wall_onto_roof_m2(4, 3) == pytest.approx(6)
    assert wall_onto_roof_m2(4, 30) == pytest.approx(20)  # no more than 10 m of wall
    assert flow_l_s(10, 0.03) == pytest.approx(0.3)
    with pytest.raises(ValueError, match="area and rain must be 0 or more"):
        flow_l_s(-1, 0.03)


@given(floats(1, 200), floats(100, 2000), floats(0, 1), floats(0, 1e5))
def test_a_butt_never_holds_more_than_a_twentieth_of_catch_or_demand(area, rain, share, demand):
    size = butt_l(area, rain, share, demand)
    assert size <= 0.05 * area * rain * share + 1e-9
    assert size <= 0.05 * demand + 1e-9


def test_days_to_fill_come_from_the_months():
    wet, dry = days_to_fill(100, 10, [31] + [62, 31] * 5 + [31], 0.5)
    assert wet == pytest.approx(100 / (10 * 62 * 0.5 / 28))
    assert dry == pytest.approx(100 / (10 * 31 * 0.5 / 31))
    with pytest.raises(ValueError, match="12 months, got 2"):
        days_to_fill(100, 10, [1, 2], 0.5)


def test_a_roof_over_25_m2_needs_a_trial_pit():
    with pytest.raises(ValueError, match="dig a trial pit"):
        small_store_m3(25.1)


@given(floats(5, 100), floats(1e-6, 1e-4))
def test_faster_ground_needs_less_room(area, f):
    storms = {300.0: 10.0, 1800.0: 18.0, 7200.0: 28.0}  # made up
    slow = soakaway(area, storms, f, (1, 1, 1), 0.3)
    fast = soakaway(area, storms, 2 * f, (1, 1, 1), 0.3)
    assert fast.needs_m3 <= slow.needs_m3


def test_the_worst_storm_of_a_pit_is_found():
    """By hand: sides 2 m2 at 5e-5 take 0.03, 0.18, 0.72 m3 of 0.25, 0.45, 0.70 m3."""
    storms = {300.0: 10.0, 1800.0: 18.0, 7200.0: 28.0}
    pit = soakaway(25, storms, 5e-5, (1, 1, 1), 0.3)
    assert half_sides_m2(1, 1, 1) == 2
    assert pit.worst_storm_s == 1800
    assert pit.needs_m3 == pytest.approx(0.45 - 0.18)
    assert pit.sound
    assert not soakaway(25, storms, 5e-5, (1, 1, 0.5), 0.3).sound


def test_falls_are_geometry():
    assert rise_mm(4, 40) == 100
    with pytest.raises(ValueError, match="a fall needs a run and a slope"):
        rise_mm(4, 0)
