"""The filter of one bird's mass, and of many settings of its noise side by side, compiled.

State: body mass (as a share), the factor on what the equations say that it spends, and the factor
on what food makes of it. A step: mass' = mass - factor * spent + gain * taken. Exact Kalman
equations; a reading more than `clip` of its own spreads away from what was foreseen is taken to be
so much
noisier that it stands just there, so that one slip of the scale cannot drag the bird along.

The settings lie innermost: the work of one weighing is a loop without branches over them, which
the compiler turns into vector instructions.
"""

from typing import Any

import numpy as np
from numba import njit

BLOCK = 64  # settings worked side by side: their state stays in the nearest memory
LOG_EVERY = (
    12  # spreads are multiplied up and logged so often: 1e-8 to the twelfth still has digits
)
LOG_2PI = 1.8378770664093453
STATE = 9  # mass, factor, gain and six entries of their covariance
# Rows of the bench that a block works on, one flat array: the compiler sees that rows cannot
# overlap, and so that it may take several settings at once.
_M, _K, _B = 0, BLOCK, 2 * BLOCK
_P00, _P01, _P02 = 3 * BLOCK, 4 * BLOCK, 5 * BLOCK
_P11, _P12, _P22 = 6 * BLOCK, 7 * BLOCK, 8 * BLOCK
_SCALE, _LEVEL, _DRIFT = 9 * BLOCK, 10 * BLOCK, 11 * BLOCK
_PRODUCT, _QUAD = 12 * BLOCK, 13 * BLOCK
BENCH = 14 * BLOCK


@njit(cache=True, error_model="numpy", fastmath={"contract", "nsz"})
def _step(w: Any, body: float, days: float, spent: float, taken: float, unsure: float,
          blur: float, per_clip2: float) -> None:  # fmt: skip
    """One weighing under every setting on the bench."""
    for j in range(BLOCK):
        p01, p02, p11 = w[_P01 + j], w[_P02 + j], w[_P11 + j]
        p12, p22 = w[_P12 + j], w[_P22 + j]
        a1 = p01 - spent * p11 + taken * p12
        a2 = p02 - spent * p12 + taken * p22
        a0 = w[_P00 + j] - spent * (p01 + a1) + taken * (p02 + a2)
        a0 += w[_LEVEL + j] * days + unsure
        off = body - (w[_M + j] - spent * w[_K + j] + taken * w[_B + j])
        s = a0 + w[_SCALE + j] + blur
        held = off * off * per_clip2
        s = held if held > s else s
        g = 1.0 / s
        g0, g1, g2 = a0 * g, a1 * g, a2 * g
        w[_M + j] = body - off + g0 * off
        w[_K + j] += g1 * off
        w[_B + j] += g2 * off
        w[_P00 + j] = a0 - g0 * a0
        w[_P01 + j] = a1 - g0 * a1
        w[_P02 + j] = a2 - g0 * a2
        w[_P11 + j] = p11 + w[_DRIFT + j] * days - g1 * a1
        w[_P12 + j] = p12 - g1 * a2
        w[_P22 + j] = p22 - g2 * a2
        w[_PRODUCT + j] *= s
        w[_QUAD + j] += off * off * g


@njit(cache=True)
def weigh(steps: Any, prior: Any, clip: float, grid: Any, fit: Any, state: Any) -> None:
    """One bird's weighings under every setting.

    Args:
        steps: Rows body, days, spent, taken, unsure, blur (6, weighings).
        prior: Mean factor and gain, then variance of the factor, covariance, variance of the gain.
        clip: Spreads at which a reading is held.
        grid: Rows of variances: scale, level in a day, factor in a day (3, settings).
        fit: Written: log-likelihood of each setting, given the first weighing (settings,).
        state: Written: state of each setting after the last weighing (9, settings).
    """
    w = np.empty(BENCH)
    per_clip2 = 1.0 / (clip * clip)
    body, days, spent, taken = steps[0], steps[1], steps[2], steps[3]
    unsure, blur = steps[4], steps[5]
    for start in range(0, grid.shape[1], BLOCK):
        many = min(BLOCK, grid.shape[1] - start)
        for j in range(BLOCK):  # a short last block is filled up with its first setting
            at = start + (j if j < many else 0)
            w[_SCALE + j], w[_LEVEL + j], w[_DRIFT + j] = grid[0, at], grid[1, at], grid[2, at]
            w[_M + j], w[_K + j], w[_B + j] = body[0], prior[0], prior[1]
            w[_P00 + j] = grid[0, at] + blur[0]
            w[_P01 + j] = w[_P02 + j] = 0.0
            w[_P11 + j], w[_P12 + j], w[_P22 + j] = prior[2], prior[3], prior[4]
            w[_PRODUCT + j], w[_QUAD + j] = 1.0, 0.0
        fit[start : start + many] = 0.0
        for i in range(1, body.shape[0]):
            _step(w, body[i], days[i], spent[i], taken[i], unsure[i], blur[i], per_clip2)
            if i % LOG_EVERY == 0:
                for j in range(many):
                    fit[start + j] += np.log(w[_PRODUCT + j])
                for j in range(BLOCK):
                    w[_PRODUCT + j] = 1.0
        for j in range(many):
            told = fit[start + j] + np.log(w[_PRODUCT + j]) + w[_QUAD + j]
            fit[start + j] = -0.5 * (told + (body.shape[0] - 1) * LOG_2PI)
            for row in range(STATE):
                state[row, start + j] = w[row * BLOCK + j]


@njit(cache=True)
def _times(left: Any, right: Any, out: Any, turned: bool) -> None:
    """Product of two 3 by 3 matrices; of `left` and `right` turned over, if so asked."""
    for i in range(3):
        for j in range(3):
            total = 0.0
            for n in range(3):
                total += left[i, n] * (right[j, n] if turned else right[n, j])
            out[i, j] = total


@njit(cache=True, error_model="numpy")
def _inverse(a: Any, out: Any) -> None:
    """Inverse of a symmetric 3 by 3 matrix."""
    for i in range(3):
        for j in range(3):
            r, s, u, v = (i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3
            out[i, j] = a[r, u] * a[s, v] - a[r, v] * a[s, u]
    whole = a[0, 0] * out[0, 0] + a[0, 1] * out[0, 1] + a[0, 2] * out[0, 2]
    for i in range(3):
        for j in range(3):
            out[i, j] /= whole


@njit(cache=True, error_model="numpy")
def track(steps: Any, prior: Any, clip: float, setting: Any) -> Any:
    """Filter and smoother of one bird under one setting, step by step.

    Args:
        steps: As for `weigh`.
        prior: As for `weigh`.
        clip: As for `weigh`.
        setting: Variances: scale, level in a day, factor in a day (3,).

    Returns:
        Log-likelihood; and by weighing: filtered state (n, 3) and covariance (n, 3, 3), the
        reading foreseen and its variance (n,), smoothed state and covariance (Rauch, Tung and
        Striebel).
    """
    n = steps.shape[1]
    x, P = np.empty((n, 3)), np.zeros((n, 3, 3))
    ahead, A = np.empty((n, 3)), np.empty((n, 3, 3))
    seen, spread = np.empty(n), np.empty(n)
    F, T, U, V = np.eye(3), np.empty((3, 3)), np.empty((3, 3)), np.empty((3, 3))
    x[0, 0], x[0, 1], x[0, 2] = steps[0, 0], prior[0], prior[1]
    P[0, 0, 0] = setting[0] + steps[5, 0]
    P[0, 1, 1], P[0, 2, 2] = prior[2], prior[4]
    P[0, 1, 2] = P[0, 2, 1] = prior[3]
    for r in range(3):
        ahead[0, r] = x[0, r]
        for c in range(3):
            A[0, r, c] = P[0, r, c]
    seen[0], spread[0] = steps[0, 0], P[0, 0, 0]
    total = 0.0
    for i in range(1, n):
        F[0, 1], F[0, 2] = -steps[2, i], steps[3, i]
        ahead[i, 0] = x[i - 1, 0] + F[0, 1] * x[i - 1, 1] + F[0, 2] * x[i - 1, 2]
        ahead[i, 1], ahead[i, 2] = x[i - 1, 1], x[i - 1, 2]
        _times(F, P[i - 1], T, False)
        _times(T, F, A[i], True)
        A[i, 0, 0] += setting[1] * steps[1, i] + steps[4, i]
        A[i, 1, 1] += setting[2] * steps[1, i]
        off = steps[0, i] - ahead[i, 0]
        seen[i], spread[i] = ahead[i, 0], A[i, 0, 0] + setting[0] + steps[5, i]
        s = max(spread[i], off * off / (clip * clip))
        for r in range(3):
            x[i, r] = ahead[i, r] + A[i, r, 0] / s * off
            for c in range(3):
                P[i, r, c] = A[i, r, c] - A[i, r, 0] / s * A[i, 0, c]
        total -= 0.5 * (np.log(s) + off * off / s + LOG_2PI)
    back, B = x.copy(), P.copy()
    for i in range(n - 2, -1, -1):
        F[0, 1], F[0, 2] = -steps[2, i + 1], steps[3, i + 1]
        _times(P[i], F, T, True)
        _inverse(A[i + 1], U)
        _times(T, U, V, False)  # the smoother's gain
        for r in range(3):
            for c in range(3):
                back[i, r] += V[r, c] * (back[i + 1, c] - ahead[i + 1, c])
                T[r, c] = B[i + 1, r, c] - A[i + 1, r, c]
        _times(V, T, U, False)
        _times(U, V, T, True)
        for r in range(3):
            for c in range(3):
                B[i, r, c] += T[r, c]
    return total, x, P, seen, spread, back, B
