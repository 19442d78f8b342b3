"""The filter and smoother against a general Kalman library, and what they hold against slips."""

import numpy as np
import pytest
from filterpy.kalman import KalmanFilter, rts_smoother

from mewswright.care.filter_kernel import BLOCK, STATE, track, weigh
from mewswright.care.learnt import factor_prior

PRIOR = factor_prior()


def steps_of(seed, n=120):
    """Made steps at irregular times, several a day among them."""
    luck = np.random.default_rng(seed)
    days = luck.choice([0.3, 0.7, 1.0, 1.0, 3.0], n)
    spent = 0.027 * days * luck.uniform(0.7, 1.4, n)
    taken = 0.027 * days * luck.uniform(0.3, 1.8, n)
    body = 1 + np.cumsum(0.9 * taken - 1.1 * spent) * 0.4 + 0.01 * luck.normal(size=n)
    return np.vstack(
        [body, days, spent, taken, 1e-5 * luck.uniform(0, 1, n), 2e-5 * luck.uniform(0, 1, n)]
    )


def general(steps, setting):
    """The same model in the library's words: log-likelihood, states and smoothed states."""
    body, days, spent, taken, unsure, blur = steps
    known = KalmanFilter(dim_x=3, dim_z=1)
    known.x = np.array([[body[0]], [PRIOR[0]], [PRIOR[1]]])
    known.P = np.array(
        [[setting[0] + blur[0], 0, 0], [0, PRIOR[2], PRIOR[3]], [0, PRIOR[3], PRIOR[4]]]
    )
    known.H = np.array([[1.0, 0, 0]])
    total, means, spreads, moves, noises = (
        0.0,
        [known.x],
        [known.P],
        [np.eye(3)],
        [np.zeros((3, 3))],
    )
    for i in range(1, len(body)):
        F = np.array([[1, -spent[i], taken[i]], [0, 1, 0], [0, 0, 1.0]])
        Q = np.diag([setting[1] * days[i] + unsure[i], setting[2] * days[i], 0])
        known.predict(F=F, Q=Q)
        known.update(np.array([[body[i]]]), R=np.array([[setting[0] + blur[i]]]))
        total += known.log_likelihood
        means.append(known.x)
        spreads.append(known.P)
        moves.append(F)
        noises.append(Q)
    back = rts_smoother(  # it wants the move that follows
        np.array(means), np.array(spreads), [*moves[1:], moves[0]], [*noises[1:], noises[0]]
    )
    return total, np.array(means)[:, :, 0], np.array(spreads), back[0][:, :, 0], back[1]


@pytest.mark.parametrize("seed", range(4))
def test_likelihood_states_and_smoother_equal_a_general_library(seed):
    steps = steps_of(seed)
    setting = np.array([0.011, 0.006, 0.02]) ** 2
    total, x, P, seen, spread, back, B = track(steps, PRIOR, np.inf, setting)
    want = general(steps, setting)
    assert total == pytest.approx(want[0], abs=1e-9)
    assert np.abs(x - want[1]).max() < 1e-11
    assert np.abs(P - want[2]).max() < 1e-12
    assert np.abs(back - want[3]).max() < 1e-9
    assert np.abs(B - want[4]).max() < 1e-10
    assert np.all(spread > 0)
    assert len(seen) == len(x)


def test_every_setting_side_by_side_equals_the_library():
    """More settings than one block holds, and a block that is not full."""
    steps = steps_of(7, 60)
    luck = np.random.default_rng(0)
    grid = np.exp(luck.uniform(np.log(1e-6), np.log(1e-3), (3, BLOCK + 5)))
    fit, state = np.empty(grid.shape[1]), np.empty((STATE, grid.shape[1]))
    weigh(steps, PRIOR, np.inf, grid, fit, state)
    for n in (0, 1, BLOCK - 1, BLOCK, BLOCK + 4):
        total, x, P, *_ = general(steps, grid[:, n])
        assert fit[n] == pytest.approx(total, abs=1e-9)
        assert state[:3, n] == pytest.approx(x[-1], abs=1e-11)
        assert state[3:, n] == pytest.approx(P[-1][np.triu_indices(3)], abs=1e-11)


def test_one_slip_of_the_scale_does_not_drag_the_bird_along():
    steps = steps_of(3)
    slipped = steps.copy()
    slipped[0, -1] += 0.12
    setting = np.array([0.011, 0.006, 0.02]) ** 2
    clean = track(steps, PRIOR, 3.0, setting)[1][-1, 0]
    held = track(slipped, PRIOR, 3.0, setting)[1][-1, 0]
    dragged = track(slipped, PRIOR, np.inf, setting)[1][-1, 0]
    assert abs(held - clean) < 0.35 * abs(dragged - clean)


def test_a_bird_that_truly_changed_is_followed_within_days():
    """No reading is thrown away, so that the filter cannot lock itself out."""
    steps = steps_of(3)
    steps[0, -6:] -= 0.10
    setting = np.array([0.011, 0.006, 0.02]) ** 2
    x = track(steps, PRIOR, 3.0, setting)[1]
    assert abs(x[-1, 0] - steps[0, -1]) < 0.03
