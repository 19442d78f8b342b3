"""Sound against worked examples that were collected: spreading, and a thin barrier."""

import pytest

from mewswright.ground.sound import barrier_loss_db, level_db


@pytest.mark.parametrize(
    ("hz", "loss_db"), [(125, 12), (250, 14), (500, 17), (1000, 19), (2000, 20), (4000, 20)]
)
def test_phys_14_a_thin_barrier(hz, loss_db):
    """PHYS-14: 6.4 m and 15.5 m over the top, 20 m straight, Kurze and Anderson, at most 20 dB.

    Read in a notebook of the INCE course, printed in whole decibels. They are those of the form
    for a line of sources, 5 + 15 log10(x / tanh x); the form for one source gives more.
    """
    detour = 6.4 + 15.5 - 20
    assert barrier_loss_db(detour, hz, running=True) == pytest.approx(loss_db, abs=0.5)
    assert barrier_loss_db(detour, hz) >= barrier_loss_db(detour, hz, running=True)


@pytest.mark.parametrize(("away_m", "db"), [(2, 93.98), (20, 73.98)])
def test_phys_16_spreading(away_m, db):
    """PHYS-16: 100 dB at 1 m. ISO 9613-2, divergence."""
    assert level_db(100, away_m) == pytest.approx(db, abs=0.01)
