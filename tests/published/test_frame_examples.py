"""The frame library against closed forms: worked examples FE-01 to FE-07.

Sources: textbook beam formulas (wL2/8, 5wL4/384EI, three-moment results for two and three
spans); virtual work for the portal; statics for the knee-braced frame. Tolerances are those
of the collected examples.
"""

import numpy as np
import pytest

from mewswright.build.analysis import BeamLoads, LineLoad, PointLoad, beam, bent

E = 11e6  # kN/m2, C24 mean


def stiffness(b_mm, h_mm):
    return E * b_mm * h_mm**3 / 12 * 1e-12


def udl(spans, each_m, w=1.0, ei=1000.0):
    length = spans * each_m
    loads = {"w": BeamLoads((LineLoad(w, 0, length),))}
    return beam(length, [i * each_m for i in range(spans + 1)], ei, loads)["w"]


def test_fe01_simply_supported():
    found = udl(1, 3.0, 0.8, stiffness(47, 147))
    assert found.moment_kn_m.max() == pytest.approx(0.8 * 9 / 8, rel=5e-4)
    assert np.abs(found.shear_kn).max() == pytest.approx(1.2, rel=5e-4)
    assert found.sag_m.max() * 1e3 == pytest.approx(6.1653, rel=5e-4)
    assert found.reactions_kn == pytest.approx((1.2, 1.2), rel=5e-4)


def test_fe02_two_spans():
    """3wL/8, 10wL/8; -wL2/8 over the support; 9wL2/128 in the span."""
    found = udl(2, 2.0)
    assert found.reactions_kn == pytest.approx((0.75, 2.5, 0.75), rel=0.002)
    assert found.moment_kn_m.min() == pytest.approx(-0.5, rel=0.002)
    assert found.moment_kn_m.max() == pytest.approx(0.28125, rel=0.002)
    assert found.sag_m.max() * 1000 / 2**4 == pytest.approx(0.005416, rel=0.002)


def test_fe03_three_spans():
    found = udl(3, 2.0)
    assert found.reactions_kn == pytest.approx((0.8, 2.2, 2.2, 0.8), rel=0.002)
    assert found.moment_kn_m.min() == pytest.approx(-0.4, rel=0.002)
    assert found.moment_kn_m.max() == pytest.approx(0.32, rel=0.002)
    assert found.sag_m.max() * 1000 / 2**4 == pytest.approx(0.00688, rel=0.002)


def test_an_overhang_hogs_by_hand():
    """1 kN at the end of 0.5 m beyond the support: -0.5 kNm; reactions by levers."""
    found = beam(2.5, [0.0, 2.0], 1000.0, {"p": BeamLoads(points=(PointLoad(1.0, 2.5),))})["p"]
    assert found.moment_kn_m.min() == pytest.approx(-0.5)
    assert found.reactions_kn == pytest.approx((-0.25, 1.25))


def test_a_load_on_part_of_a_beam_by_hand():
    """2 kN/m on the first half of 4 m: reactions 3 and 1 kN."""
    found = beam(4.0, [0.0, 4.0], 1000.0, {"q": BeamLoads((LineLoad(2.0, 0.0, 2.0),))})["q"]
    assert found.reactions_kn == pytest.approx((3.0, 1.0))


EA = E * 95 * 95 * 1e-6


def test_fe05_rigid_portal_on_pinned_feet():
    """P h3/6EIc + P h2 L/12EIb, by virtual work: 41.38 mm; M = Ph/2."""
    found = bent(2.4, [0.0, 3.0], 1.0, stiffness(95, 95), stiffness(47, 147), 100 * EA, "rigid")
    assert found.sway_m * 1e3 == pytest.approx(41.38, rel=0.002)
    assert found.post_moment_kn_m == pytest.approx(1.2, rel=0.002)
    assert found.post_kn == pytest.approx(0.8, rel=0.002)


def test_fe07_knee_braced_frame():
    """N = (P/2)(h/a) sqrt 2, M = (P/2)(h - a), by statics."""
    found = bent(2.4, [0.0, 3.0], 1.0, stiffness(95, 95), stiffness(47, 147), EA, brace_leg_m=0.6)
    assert found.brace_kn == pytest.approx(2.828, rel=0.002)
    assert found.post_moment_kn_m == pytest.approx(0.9, rel=0.002)
    assert found.sway_m * 1e3 == pytest.approx(21.5, rel=0.02)


def test_fixed_feet_by_hand():
    """Two posts clamped below and pinned above: each a cantilever of P/2: P h3 / 6 E I."""
    found = bent(2.4, [0.0, 3.0], 1.0, stiffness(95, 95), 1e6, 1e6, foot="fixed")
    assert found.sway_m == pytest.approx(2.4**3 / 6 / stiffness(95, 95), rel=0.002)
    assert found.post_moment_kn_m == pytest.approx(1.2, rel=0.002)


def test_what_cannot_be_solved_is_refused():
    with pytest.raises(ValueError, match="hold no push at all"):
        bent(2.4, [0, 3], 1, 1, 1, 1)
    with pytest.raises(ValueError, match="needs two supports on it"):
        beam(3, [0], 1, {})
    with pytest.raises(ValueError, match="does not fit under"):
        bent(2.4, [0, 3], 1, 1, 1, 1, brace_leg_m=2.4)
