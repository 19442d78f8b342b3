"""The linear program over the patterns known so far.

Minimise the price of the bars so that each piece is cut often enough and no offer of stock
is overdrawn. Pieces may be left out at a high price, so that the program always has an
answer.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.sawing import Counts, Sawing
from mewswright.build.cut.solver import quiet_solver

Floats = NDArray[np.float64]

LEFT_OUT_BARS = 4  # price of a piece left out, in bars of the dearest stock


class Master:
    """Columns (patterns) and rows (pieces, then limited stock), kept warm between solves."""

    def __init__(self, sawing: Sawing, effort: Effort) -> None:
        """Open the program with one column for each piece that may be missing."""
        import highspy

        self.sawing = sawing
        self.effort = effort
        self.unit = float(max(1, sawing.price.max()))  # prices near 1 keep the solver exact
        # Where there is a choice of stock, each may be limited later, by a purchase.
        several = len(sawing.room) > 1
        self.limited = np.flatnonzero((sawing.available >= 0) | several)
        self.pieces = np.zeros((256, len(sawing.size)), dtype=np.int64)
        self.stock = np.zeros(256, dtype=np.int64)  # -1: a missing piece
        self.columns = 0
        # A piece that unlimited stock holds is never left out, unless a purchase forces it.
        self._left_out = LEFT_OUT_BARS * int(max(1, sawing.price.max()))
        self._known: set[bytes] = set()
        self._open = np.zeros(256, dtype=np.bool_)
        self._pending: list[int] = []
        self._highs: Any = quiet_solver(presolve="off")
        self._endless = highspy.kHighsInf
        self._optimal = highspy.HighsModelStatus.kOptimal
        rows = len(sawing.size) + len(self.limited)
        none = np.zeros(0)
        lower = np.concatenate([sawing.demand, np.full(len(self.limited), -self._endless)])
        upper = np.concatenate(
            [np.full(len(sawing.size), self._endless), self._limits(sawing.available)]
        )
        self._highs.addRows(
            rows,
            lower.astype(float),
            upper.astype(float),
            0,
            np.zeros(rows, dtype=np.int32),
            none.astype(np.int32),
            none,
        )
        for i in np.flatnonzero(sawing.scarce | several):
            one = np.zeros(len(sawing.size), dtype=np.int64)
            one[i] = 1
            self.add(-1, one)

    def _limits(self, available: Counts) -> Floats:
        limit = available[self.limited]
        return np.where(limit < 0, self._endless, limit).astype(float)

    def price_of(self, columns: Counts) -> Counts:
        """Whole-number prices of some columns."""
        stock = self.stock[columns]
        scarce = self.pieces[columns] @ self.sawing.scarce > 0
        left_out = np.where(scarce, self.sawing.missing_price, self._left_out)
        return np.where(stock < 0, left_out, self.sawing.price[stock])

    def add(self, stock: int, pieces: Counts) -> bool:
        """Add a pattern unless it is known. True if it was new."""
        key = bytes([stock + 1 & 255, (stock + 1) >> 8]) + pieces.astype(np.int32).tobytes()
        if key in self._known:
            return False
        self._known.add(key)
        if self.columns == len(self.stock):
            self.pieces = np.concatenate([self.pieces, np.zeros_like(self.pieces)])
            self.stock = np.concatenate([self.stock, np.zeros_like(self.stock)])
            self._open = np.concatenate([self._open, np.zeros_like(self._open)])
        self.pieces[self.columns] = pieces
        self.stock[self.columns] = stock
        self._open[self.columns] = True
        self._pending.append(self.columns)
        self.columns += 1
        return True

    def _flush(self) -> None:
        if not self._pending:
            return
        new = np.array(self._pending)
        self._pending = []
        body = self.pieces[new]
        rows: list[NDArray[np.int64]] = []
        values: list[NDArray[np.int64]] = []
        starts = []
        count = 0
        row_of = {int(s): len(self.sawing.size) + n for n, s in enumerate(self.limited)}
        for pieces, stock in zip(body, self.stock[new].tolist(), strict=True):
            used = np.flatnonzero(pieces)
            weight = pieces[used]
            if stock in row_of:
                used = np.append(used, row_of[stock])
                weight = np.append(weight, 1)
            starts.append(count)
            count += len(used)
            rows.append(used)
            values.append(weight)
        self._highs.addCols(
            len(new),
            self.price_of(new) / self.unit,
            np.zeros(len(new)),
            np.full(len(new), self._endless),
            count,
            np.array(starts, dtype=np.int32),
            np.concatenate(rows).astype(np.int32),
            np.concatenate(values).astype(float),
        )

    def restrict(self, demand: Counts, available: Counts) -> None:
        """Ask for less: what is still to be cut, from the stock that is left.

        Patterns that would cut more than is wanted are shut.
        """
        self._flush()
        lower = np.concatenate([demand, np.full(len(self.limited), -self._endless)])
        upper = np.concatenate([np.full(len(demand), self._endless), self._limits(available)])
        rows = len(lower)
        self._highs.changeRowsBounds(
            rows, np.arange(rows, dtype=np.int32), lower.astype(float), upper
        )
        fits = np.all(self.pieces[: self.columns] <= demand, axis=1)
        changed = np.flatnonzero(fits != self._open[: self.columns])
        if len(changed):
            self._open[changed] = fits[changed]
            self._highs.changeColsBounds(
                len(changed),
                changed.astype(np.int32),
                np.zeros(len(changed)),
                np.where(fits[changed], self._endless, 0.0),
            )

    def shut(self, column: int) -> None:
        """Forbid one column until the next `restrict` that it fits."""
        self._open[column] = False
        self._highs.changeColBounds(column, 0.0, 0.0)

    def limit_columns(self, low: Floats, high: Floats) -> None:
        """Ask for at least `low` and at most `high` bars of each column."""
        self._flush()
        every = np.arange(self.columns, dtype=np.int32)
        self._highs.changeColsBounds(self.columns, every, low, high)

    def reduced_costs(self) -> Floats:
        """Reduced cost of each column in the last solution [price units]."""
        return np.array(self._highs.getSolution().col_dual) * self.unit

    def find(self, stock: int, pieces: Counts) -> int:
        """Column of a known pattern."""
        rows = self.stock[: self.columns] == stock
        return int(np.flatnonzero(rows & (self.pieces[: self.columns] == pieces).all(axis=1))[0])

    def fitting(self, demand: Counts) -> NDArray[np.intp]:
        """Columns that cut no more than `demand`."""
        return np.flatnonzero((self.pieces[: self.columns] <= demand).all(axis=1))

    def solve(self) -> tuple[float, Floats, Floats, Floats] | None:
        """Solve the program.

        Returns:
            Cost [whole price units], number of bars of each column, worth of each piece,
            worth of each limited stock (0 or more) [both in price units]; None if the
            solver failed.
        """
        self._flush()
        self._highs.run()
        info = self._highs.getInfo()
        rows = len(self.sawing.size)
        steps = max(0, info.simplex_iteration_count)
        self.effort.spend(150 + 0.2 * self.columns + steps * (3 + 0.15 * rows))
        if self._highs.getModelStatus() != self._optimal:
            return None
        solution = self._highs.getSolution()
        dual = np.array(solution.row_dual) * self.unit
        return (
            info.objective_function_value * self.unit,
            np.array(solution.col_value),
            np.maximum(dual[:rows], 0.0),
            np.maximum(-dual[rows:], 0.0),
        )
