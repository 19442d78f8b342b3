"""Which bars to buy, apart from how to saw them.

A plan's cost depends only on how many bars of each stock are bought. Worths u of the
pieces, any whatever, give a condition on those numbers n: if a bar of stock s holds at most
f_s of worth, then sum(f_s n_s) must reach the worth of all the pieces. So the cheapest n
that meets all conditions found so far is a bound, and a better one than the fractional
plan's, for the n are whole. Buying in the order of cost, the first n that can be sawn is best.

Source:
    Benders, Numerische Mathematik 4 (1962), for conditions from the duals of the inner
    program; the inner program is Gilmore and Gomory's.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.sawing import Counts, Sawing

Flags = NDArray[np.bool_]

MOST_CHOICES = 200_000  # purchases looked at together
CONDITION_BITS = 40  # conditions are coarsened, safely, to keep sums in 64 bits
MOST_CONDITIONS = 60


class Purchases:
    """Conditions on the numbers of bars, and the purchases that meet them."""

    def __init__(self, sawing: Sawing, effort: Effort) -> None:
        """Begin with one condition: the bars must be as long as the pieces together."""
        self.sawing = sawing
        self.effort = effort
        self.need = np.zeros(0, dtype=np.int64)
        self.holds = np.zeros((0, len(sawing.room)), dtype=np.int64)
        self.require(sawing.size, sawing.room)

    def require(self, worth: Counts, most: Counts) -> None:
        """Add a condition.

        Args:
            worth: Worth of each piece, whole, any.
            most: Most worth that one bar of each stock holds, exact or above.
        """
        demand = self.sawing.demand.tolist()
        total = sum(w * d for w, d in zip(worth.tolist(), demand, strict=True))
        shift = max(0, max(total, *most.tolist()).bit_length() - CONDITION_BITS)
        # Rounding worths down rounds what a bar holds down as well, or leaves it.
        need = sum((w >> shift) * d for w, d in zip(worth.tolist(), demand, strict=True))
        self.need = np.append(self.need, need)[-MOST_CONDITIONS:]
        self.holds = np.vstack([self.holds, most >> shift])[-MOST_CONDITIONS:]

    def met_by(self, bought: Counts) -> Flags:
        """Which purchases (rows) meet every condition."""
        met: Flags = np.logical_and.reduce(bought @ self.holds.T >= self.need, axis=1)
        return met

    def between(self, low: int, high: int) -> Counts | None:
        """All purchases that meet the conditions at a cost from `low` to `high`.

        Returns:
            Bars of each stock, a purchase a row, cheapest first; None if there are too many.
        """
        price, limit = self.sawing.price, self.sawing.available
        order = np.argsort(-price, kind="stable")
        pieces = int(self.sawing.demand.sum())
        state = np.zeros((1, len(price)), dtype=np.int64)
        cost = np.zeros(1, dtype=np.int64)
        lack = np.tile(self.need, (1, 1))
        for k, s in enumerate(order.tolist()):
            each = int(price[s])
            cap = int(limit[s]) if limit[s] >= 0 else pieces
            fewest = np.zeros(len(cost), dtype=np.int64)
            if each == 0:  # all that there is: more of them does no harm
                fewest[:] = cap
                times = np.ones(len(cost), dtype=np.int64)
            else:
                most = np.minimum((high - cost) // each, cap)
                if k == len(order) - 1:
                    fewest = np.maximum(0, -(-(low - cost) // each))
                times = np.maximum(0, most - fewest + 1)
            total = int(times.sum())
            if total > 20 * MOST_CHOICES:
                return None
            parent = np.repeat(np.arange(len(cost)), times)
            number = np.arange(total) - np.repeat(np.cumsum(times) - times, times)
            number += fewest[parent]
            left = lack[parent] - number[:, None] * self.holds[:, s]
            spent = cost[parent] + number * each
            self.effort.spend(30 + 0.02 * left.size)
            keep = np.flatnonzero(self._can_end(left, spent, order[k + 1 :], high))
            if len(keep) > MOST_CHOICES:
                return None
            state, cost, lack = state[parent[keep]], spent[keep], left[keep]
            state[:, s] = number[keep]
        state, cost = state[cost >= low], cost[cost >= low]
        ranked = np.lexsort((*state.T[::-1], cost))
        result: Counts = state[ranked]
        return result

    def _can_end(self, lack: Counts, cost: Counts, rest: Counts, high: int) -> Flags:
        """Whether fractions of the remaining stock could still meet each condition."""
        ok = cost <= high
        for j in range(len(self.need)):
            rates = [
                float(self.sawing.price[s]) / float(self.holds[j, s])
                for s in rest.tolist()
                if self.holds[j, s] > 0
            ]
            more = np.maximum(lack[:, j], 0)
            if rates:
                ok &= cost + more * (min(rates) * (1 - 1e-9)) <= high + 1e-6
            else:
                ok &= more == 0
        return ok
