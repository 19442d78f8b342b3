"""Alarms: each speaks where it should, and is silent where it should."""

import numpy as np
import pytest

from mewswright.care.alarms import (
    factor_drift,
    far_below,
    fast_loss,
    keel_against_weight,
    not_casting,
    scale_drift,
    week_loss,
)

DAYS = np.arange(20.0)


def steady(mass_g):
    return np.full(20, mass_g)


@pytest.mark.parametrize(("mass_g", "pct"), [(180, 5), (700, 3), (2500, 3)])
def test_a_loss_in_a_day_is_told_over_its_rate_alone(mass_g, pct):
    """Over 3 % a day, over 5 % under 200 g: a judgement, biology of weight."""
    for lost, told in ((pct - 0.4, False), (pct + 0.4, True)):
        body = steady(mass_g)
        body[-1] *= 1 - lost / 100
        alarm = fast_loss(DAYS, body, 0.005)
        assert (alarm is not None) is told
        if alarm:
            assert alarm.stop


def test_a_noisy_scale_needs_more_to_cry():
    body = steady(700.0)
    body[-1] *= 1 - 0.034
    assert fast_loss(DAYS, body, 0.005) is not None
    assert fast_loss(DAYS, body, 0.03) is None


def test_a_loss_over_missed_days_is_not_one_of_a_day():
    body = np.array([700.0, 600.0])
    assert fast_loss(np.array([0.0, 5.0]), body, 0.005) is None


def test_a_tenth_in_a_week_and_a_fifth_below_the_highest():
    mass = np.linspace(1000, 1000, 20)
    mass[-7:] = np.linspace(980, 890, 7)
    assert week_loss(DAYS, mass).stop
    assert far_below(mass) is None
    assert far_below(mass, fed_up_g=1150).stop
    assert week_loss(DAYS, steady(1000.0)) is None
    slow = np.linspace(1000, 900, 20)
    assert week_loss(DAYS, slow) is None


def test_a_need_that_rose_by_a_fifth_is_told_and_noise_is_not():
    factor = np.linspace(1.0, 1.2, 20)
    assert "needs 1" in factor_drift(DAYS, factor, np.full(20, 0.02)).words
    assert factor_drift(DAYS, factor, np.full(20, 0.2)) is None
    assert factor_drift(DAYS, steady(1.0), np.full(20, 0.01)) is None
    assert "less to hold" in factor_drift(DAYS, factor[::-1], np.full(20, 0.02)).words


def test_a_late_pellet_is_told_only_in_logs_that_note_pellets():
    assert not_casting(20.0, 21.5, 9) is None
    assert "no pellet in 40 h" in not_casting(40.0, 21.5, 9).words
    assert not_casting(40.0, 21.5, 1) is None
    assert not_casting(None, 21.5, 9) is None


def test_a_sharp_keel_stops_work_whatever_the_scale_says():
    assert keel_against_weight([(1.0, 2.0)], [900.0]).stop
    assert keel_against_weight([(1.0, 3.0)], [900.0]) is None
    assert "sharpened" in keel_against_weight([(1.0, 4.0), (9.0, 3.0)], [900.0, 900.0]).words
    assert keel_against_weight([(1.0, 4.0), (9.0, 3.0)], [900.0, 878.0]) is None
    assert keel_against_weight([], []) is None


def test_a_scale_that_is_off_shows_in_all_birds_at_once():
    off = dict.fromkeys(("Tansy", "Rook", "Flint", "Moth"), (0.03, 0.012))
    assert "4 birds weigh +3.0%" in scale_drift(off).words
    one = {**dict.fromkeys(off, (0.0, 0.012)), "Rook": (0.05, 0.012)}
    assert scale_drift(one) is None
    assert scale_drift({"Tansy": (0.05, 0.01), "Rook": (0.05, 0.01)}) is None
