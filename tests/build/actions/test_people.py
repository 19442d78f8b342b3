"""A bird that bates and people, against mechanics by hand and the tables' own order."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.actions.people import bate, lean, maintenance


def test_a_bate_by_hand():
    """1.1 kg at 5 m/s stopped in 0.15 m: mean 1.1 x 25 / 0.3 = 91.7 N, peak twice that."""
    assert bate(1.1).force_kn == pytest.approx(0.1833, abs=0.0001)


@given(floats(0.05, 10))
def test_the_force_gives_back_the_energy(mass):
    found = bate(mass)
    work_j = found.force_kn * 1000 / found.peak * found.stop_m
    assert work_j == pytest.approx(mass * found.speed_m_s**2 / 2)


def test_a_person_leans():
    # EN 1991-1-1, order of Table 6.12: 0.36 to 0.74 kN/m at 1.1 m, or 0.5 kN
    assert (lean().line_kn_m, lean().point_kn, lean().height_m) == (0.74, 0.5, 1.1)


def test_maintenance_is_the_yards_or_the_handbooks():
    # EN 1991-1-1, category H: 0.6 kN/m2 (UK annex), 1.0 kN
    assert (maintenance().spread_kn_m2, maintenance().point_kn) == (0.6, 1.0)
    assert (maintenance(0.4, 0).spread_kn_m2, maintenance(0.4, 0).point_kn) == (0.4, 0)


def test_what_is_refused():
    with pytest.raises(ValueError, match=r"^a bird has a mass above 0 kg, got 0$"):
        bate(0)
    with pytest.raises(ValueError, match=r"^a load is 0 or more, got -1 kN/m2 and 1 kN$"):
        maintenance(-1)
