"""End plates of steel posts by hand, from the formulas of EN 1993-1-8 and EN 1995-1-1."""

from math import hypot, sqrt

import pytest

from mewswright.build.strength.end_plate import (
    end_plate_checks,
    pressed_mm2,
    weld_length_mm,
    weld_n_per_mm,
)
from mewswright.build.strength.member import Forces
from mewswright.build.tube import Tube

TUBE = Tube(60, 60, 3)
SOLE = ("45x95", "C24")


def checks(**forces):
    found = end_plate_checks(TUBE, SOLE, Forces(**forces), "short")
    return {one.name.removesuffix(" of its end plates"): one for one in found}


def test_a_fillet_weld_of_3_mm_in_s235():
    """360 / (sqrt 3 x 0.8 x 1.25) = 207.8 N/mm2, the value of the usual tables; x 3 mm."""
    assert weld_n_per_mm(3) / 3 == pytest.approx(207.8, abs=0.1)
    assert weld_length_mm(TUBE) == 4 * (60 - 4 * 3)


@pytest.mark.parametrize("throat", [2.9, float("nan")])
def test_a_thinner_weld_does_not_count(throat):
    with pytest.raises(ValueError, match="a throat of 3 mm or more"):
        weld_n_per_mm(throat)


def test_lift_bends_the_plate_and_pulls_the_screws():
    """4 kN: 2 kN at 25 mm beyond the tube are 50 kN mm; 95 x 6^2 / 6 x 235 hold 133.95 kN mm."""
    found = checks(axial_kn=4.0)
    assert found["bending"].demand == pytest.approx(50)
    assert found["bending"].capacity == pytest.approx(95 * 36 / 6 * 235 / 1e3)
    assert found["weld"].utilisation == pytest.approx(4 / (207.85 * 3 * 192 / 1e3), rel=1e-3)
    # 45 mm of thread: 0.52 / sqrt 5 / 45^0.1 x 350^0.8 x 5 x 45 x 5/8; kmod 0.7, 4^0.9 screws.
    one = 0.52 / sqrt(5) * 45**-0.1 * 350**0.8 * 5 * 45 * 5 / 8
    assert found["screws"].demand == pytest.approx(4e3 / (4**0.9 * one * 0.7 / 1.3))


def test_lift_and_shear_add_up_as_squares():
    lift, shear = checks(axial_kn=3.0), checks(shear_kn=1.5)
    both = checks(axial_kn=3.0, shear_kn=1.5)
    assert both["screws"].demand == pytest.approx(
        hypot(lift["screws"].demand, shear["screws"].demand)
    )
    assert both["weld"].demand == pytest.approx(hypot(3, 1.5))


def test_a_press_spreads_by_the_stiffness_of_the_plate():
    """c = 6 sqrt(235 / (3 x 1.5)) = 43.4 mm round the tube, and no wider than the timber."""
    c = 6 * sqrt(235 / 4.5)
    assert pressed_mm2(TUBE, (160, 95), 6, 1.5) == pytest.approx(95 * (60 + 2 * c))
    assert pressed_mm2(TUBE, (160, 95), 60, 1.5) == 160 * 95
    found = checks(axial_kn=-10.0)
    assert found["bending"].demand == 0
    assert found["timber under its end plates"].utilisation > 0
