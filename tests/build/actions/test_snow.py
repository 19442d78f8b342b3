"""Properties of snow that hold for every roof and every neighbour."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.actions.snow import (
    drift,
    eave_overhang_kn_m,
    ground_snow_uk_kn_m2,
    roof_snow_kn_m2,
    snow_shape,
)
from mewswright.model.problem import Problem

LENGTH = floats(0.1, 40)


@given(LENGTH, LENGTH, LENGTH, floats(0.2, 8), floats(0, 45), floats(0, 20))
def test_a_drift_stays_within_its_limits(h, upper, lower, ground, pitch, slope):
    """The standard's limits hold for wind; the length is 5 to 15 m; slides only add."""
    found = drift(h, upper, lower, ground, pitch, slope)
    assert 0.8 <= found.mu_wind <= 4
    assert 5 <= found.length_m <= 15
    assert found.mu_slide >= 0
    assert found.mu_at_wall >= found.mu_roof == 0.8
    assert found.mu_at(found.length_m + 1) == pytest.approx(0.8)


@given(LENGTH, LENGTH, LENGTH, floats(0.2, 8), floats(0, 20), floats(0.1, 30))
def test_the_mean_of_a_strip_is_the_mean_of_its_slices(h, upper, lower, ground, start, width):
    found = drift(h, upper, lower, ground)
    slices = 400
    step = width / slices
    summed = sum(found.mu_at(start + (i + 0.5) * step) for i in range(slices)) / slices
    assert found.mean_mu(start, start + width) == pytest.approx(summed, rel=1e-3)


@given(floats(16, 45), floats(0.5, 20))
def test_half_of_the_snow_of_a_steep_slope_comes_down(pitch, slope):
    """What the drift's triangle holds is half of 0.8 times the slope's length."""
    found = drift(3, 0, 3, 1.0, upper_pitch_deg=pitch, upper_slope_m=slope)
    assert found.mu_slide * found.length_m / 2 == pytest.approx(0.8 * slope / 2)


def test_a_flat_upper_roof_sheds_nothing():
    assert drift(3, 10, 3, 1.0, upper_pitch_deg=15, upper_slope_m=10).mu_slide == 0


@given(floats(0, 90))
def test_snow_that_cannot_slide_stays(pitch):
    assert snow_shape(pitch) == 0.8 >= snow_shape(pitch, can_slide=True) >= 0


def test_snow_over_an_eave_by_hand():
    """s 3.0: d 1.0 m, k = min(3, 3) = 3, 3 x 9 / 3 = 9; s 1.5: d 0.5, k 1.5, 1.125."""
    assert eave_overhang_kn_m(3.0) == pytest.approx(9.0)
    assert eave_overhang_kn_m(1.5) == pytest.approx(1.125)
    assert eave_overhang_kn_m(0) == 0


def test_the_map_of_the_united_kingdom_climbs_from_100_m():
    # zone 3 at 310 m: 0.15 + 0.3 + 0.05 + 210 / 525
    assert ground_snow_uk_kn_m2(3, 310) == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: snow_shape(95), r"^roof pitch must be 0 to 90 deg, got 95$"),
        (lambda: snow_shape(float("nan")), r"^roof pitch must be 0 to 90 deg, got nan$"),
        (
            lambda: roof_snow_kn_m2(-1, 0.8),
            r"^snow cannot be negative: got -1 kN/m2, mu 0.8, ce 1, ct 1$",
        ),
        (
            lambda: drift(0, 1, 1, 1),
            r"^a drift needs lengths and snow above 0: got h 0 m, b1 1 m, b2 1 m, 1 kN/m2$",
        ),
        (
            lambda: drift(1, 1, 1, 1).mean_mu(2, 1),
            r"^a strip runs outwards from the wall, got 2 to 1 m$",
        ),
    ],
)
def test_what_is_refused(ask, sentence):
    with pytest.raises(ValueError, match=sentence):
        ask()


def test_a_zone_off_the_map_is_refused():
    with pytest.raises(
        Problem, match=r"^the map of the United Kingdom has snow zones 1 to 6.5, got 9$"
    ):
        ground_snow_uk_kn_m2(9, 100)
