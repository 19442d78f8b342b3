"""Column generation: the best fractional plan, and a bound that rounding cannot spoil.

Source:
    Gilmore and Gomory 1961 (columns by knapsack); Farley, A note on bounding a class of
    linear programming problems, Operations Research 38 (1990) (the bound from any duals).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.knapsack import Table, TooWideError
from mewswright.build.cut.master import Floats, Master
from mewswright.build.cut.sawing import Counts, Sawing

# Worths are rounded down to whole parts of a price unit, as fine as lets a bar's worth stay
# within 64-bit whole numbers: the loss stays far below the price unit.
WORTH_BITS = 60
NEW_PATTERNS = 12  # from one table and one stock
HAIR = 1e-6


@dataclass(frozen=True)
class Fractional:
    """What the linear program says once no pattern can improve it."""

    cost: float
    bars: Floats
    whole_worth: Counts  # worth of a piece, in parts of 1 / `parts` price unit
    best: Counts  # best worth of a bar, for each stock, same parts
    parts: int
    complete: bool  # False: stopped early (target met, or effort used up)


def farley_bound(
    sawing: Sawing, worth: Counts, best: Counts, parts: int, demand: Counts, available: Counts
) -> Fraction:
    """A cost that no plan can undercut, exact for any worths whatever.

    Worths are scaled so that no bar of unlimited stock holds more worth than its price;
    limited stock may hold more, and the excess is charged once for each bar available.

    Args:
        sawing: The problem.
        worth: Worth of each piece [1 / parts price unit], 0 or more.
        best: Most worth that a bar of each stock can hold, exact [same].
        parts: Parts in a price unit.
        demand: Pieces wanted.
        available: Bars available, -1 for no limit.
    """
    shrink: Fraction = Fraction(1)
    for price, most, limit in zip(
        sawing.price.tolist(), best.tolist(), available.tolist(), strict=True
    ):
        if limit < 0 and most > price * parts:
            shrink = min(shrink, Fraction(price * parts, most))
    total = shrink * sum(w * d for w, d in zip(worth.tolist(), demand.tolist(), strict=True))
    for price, most, limit in zip(
        sawing.price.tolist(), best.tolist(), available.tolist(), strict=True
    ):
        if limit >= 0:
            total -= limit * max(Fraction(0), shrink * most - price * parts)
    bound: Fraction = max(Fraction(0), total / parts)
    return bound


class Generator:
    """Prices patterns for a master program."""

    def __init__(self, sawing: Sawing, table: Table, master: Master, effort: Effort) -> None:
        """Choose how finely worths are counted.

        Raises:
            TooWideError: If prices are too great to count worths in 64 bits.
        """
        self.sawing = sawing
        self.table = table
        self.master = master
        self.effort = effort
        self.most = float(8 * max(1, int(sawing.price.max())))
        if sawing.scarce.any():
            self.most = float(sawing.missing_price)
        in_bar = int(sawing.room.max() // sawing.size.min())
        spare = WORTH_BITS - int(self.most).bit_length() - in_bar.bit_length()
        if spare < 0:
            raise TooWideError
        self.parts = 1 << min(40, spare)
        self.bound = Fraction(0)  # best bound of the whole problem seen so far
        self.bound_worth = np.zeros(len(sawing.size), dtype=np.int64)  # and its worths
        self.bound_best = np.zeros(len(sawing.room), dtype=np.int64)

    def whole(self, worth: Floats) -> Counts:
        """Worths [price units] as whole parts, rounded down."""
        whole: Counts = np.floor(np.minimum(worth, self.most) * self.parts).astype(np.int64)
        return whole

    def price(self, worth: Counts, rent: Counts, demand: Counts, order: Counts) -> Counts:
        """Fill the table, add the patterns that pay, give the best worth for each stock."""
        best = self.table.fill(worth, demand, order)
        self.effort.spend(self.table.work())
        self.added = 0
        for s in range(len(self.sawing.room)):
            limit = int(self.sawing.price[s]) * self.parts + int(rent[s])
            slack = int(1e-9 * limit) + 2
            if best[s] <= limit + slack:
                continue
            turns = self.table.turning_points(s)
            for turn in turns[::-1][:NEW_PATTERNS].tolist():
                pieces = self.table.pattern(s, turn)
                if int((pieces * worth).sum()) <= limit + slack:
                    break
                self.added += self.master.add(s, pieces)
            self.effort.spend(20.0 * min(len(turns), NEW_PATTERNS))
        return best

    def converge(
        self,
        rng: np.random.Generator,
        demand: Counts,
        available: Counts,
        good_enough: float | None = None,
        whole_problem: bool = False,
        to_the_end: bool = False,
    ) -> Fractional | None:
        """Add patterns until none pays.

        Args:
            rng: Decides the order of filling, hence which of equal patterns are found.
            demand: Pieces wanted.
            available: Bars available, -1 for no limit.
            good_enough: Stop once the cost is no more than this [price units].
            whole_problem: `demand` and `available` are the whole problem's, so that the
                bound holds for it and is kept.
            to_the_end: Go on where more patterns can no longer raise the bound to another
                whole cost: the sharper the worths, the shorter a list of patterns.

        Returns:
            The fractional plan, or None where the solver failed.
        """
        limited = self.master.limited
        while True:
            solved = self.master.solve()
            if solved is None:
                return None
            cost, bars, worth, rent_paid = solved
            if good_enough is not None and cost <= good_enough + HAIR:
                none = np.zeros(len(demand), dtype=np.int64)
                return Fractional(cost, bars, none, none, self.parts, False)
            whole = self.whole(worth)
            rent = np.zeros(len(self.sawing.room), dtype=np.int64)
            rent[limited] = (rent_paid * self.parts).astype(np.int64)
            # Stock that has run out in a dive must not draw patterns.
            rent[available == 0] = np.iinfo(np.int64).max >> 4
            best = self.price(whole, rent, demand, rng.permutation(len(demand)))
            if whole_problem:
                bound = farley_bound(self.sawing, whole, best, self.parts, demand, available)
                if bound > self.bound:
                    self.bound, self.bound_worth, self.bound_best = bound, whole, best
            done = self.added == 0
            if whole_problem and not to_the_end and ceil(self.bound) >= ceil(cost - HAIR):
                done = True
            if done or self.effort.used_up():
                return Fractional(cost, bars, whole, best, self.parts, self.added == 0)
