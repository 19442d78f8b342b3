"""Chances and ends of a mixture of normal distributions, compiled."""

from math import erf, sqrt
from typing import Any

import numpy as np
from numba import njit


@njit(cache=True)
def below(mean: Any, sd: Any, weight: Any, at: float) -> float:
    """Chance that the mixture is at most `at`."""
    total = 0.0
    for i in range(mean.shape[0]):
        if weight[i] > 0:
            total += weight[i] * 0.5 * (1 + erf((at - mean[i]) / (sd[i] * sqrt(2.0))))
    return total


@njit(cache=True)
def quantile(mean: Any, sd: Any, weight: Any, chance: float) -> float:
    """The value that the mixture stays under with `chance`, to a millionth of its width."""
    low, high = np.inf, -np.inf
    for i in range(mean.shape[0]):
        low, high = min(low, mean[i] - 9 * sd[i]), max(high, mean[i] + 9 * sd[i])
    for _ in range(60):
        middle = 0.5 * (low + high)
        if below(mean, sd, weight, middle) < chance:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
