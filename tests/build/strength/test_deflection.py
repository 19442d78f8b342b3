"""Deflections against the integral they come from."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright.build.strength.deflection import (
    cantilever_mm,
    fall_mm,
    point_load_mm,
    spread_load_mm,
)
from mewswright.build.strength.section import Rect

E, G = 11000.0, 690.0
sections = st.builds(Rect, st.floats(30, 100), st.floats(60, 250))


def virtual_work_mm(section, x_mm, moment, unit_moment, force, unit_force):
    """Integral of M m / EI and V v / (G A 5/6) along the beam; Simpson is exact enough."""
    bent = moment * unit_moment / (E * section.inertia_y_mm4)
    sheared = force * unit_force / (G * section.area_mm2 * 5 / 6)
    return float(np.trapezoid(bent + sheared, x_mm))


@given(sections, st.floats(500, 5000), st.floats(0.1, 3), st.floats(0.1, 3))
def test_simple_beam(section, span, q_kn_m, p_kn):
    """Principle of virtual work with a unit load at mid-span, on half the beam, twice."""
    x = np.linspace(0, span / 2, 2001)
    unit_m, unit_v = x / 2, np.full_like(x, 0.5)
    spread = 2 * virtual_work_mm(
        section, x, q_kn_m * x * (span - x) / 2, unit_m, q_kn_m * (span / 2 - x), unit_v
    )
    assert spread_load_mm(section, span, q_kn_m, E, G) == pytest.approx(spread, rel=1e-5)
    p = p_kn * 1e3
    point = 2 * virtual_work_mm(section, x, p * unit_m, unit_m, p * unit_v, unit_v)
    assert point_load_mm(section, span, p_kn, E, G) == pytest.approx(point, rel=1e-5)


@given(sections, st.floats(300, 3000), st.floats(0, 3), st.floats(0.1, 3))
def test_cantilever(section, reach, q_kn_m, p_kn):
    x, p = np.linspace(0, reach, 4001), p_kn * 1e3  # from the tip
    moment, force = p * x + q_kn_m * x**2 / 2, p + q_kn_m * x
    worked = virtual_work_mm(section, x, moment, x, force, np.ones_like(x))
    assert cantilever_mm(section, reach, q_kn_m, p_kn, E, G) == pytest.approx(worked, rel=1e-5)


def test_a_roof_of_one_in_forty():
    # 2.4 m at 1.432 deg falls 60 mm
    assert fall_mm(2400, 1.432096) == pytest.approx(60, abs=1e-3)
    with pytest.raises(ValueError, match=r"^a pitch is 0 to below 90 deg, got 90$"):
        fall_mm(2400, 90)
