"""One sheet in two stages, filled with what is worth most, and proven.

Stage one cuts strips from edge to edge, stage two cuts the strips into pieces, and a last
trim takes a piece that is less high than its strip to size.

A strip pattern says how many of each way lie in one strip; the strip is as high as its
highest piece. The linear program over all strip patterns is solved by column generation: one
bounded knapsack prices every strip height, since ways are taken in the order of height and the
table after the ways up to a height is that height's own. Its duals start a search for prices of
the pieces under which strips, fitted into the sheet's height by a knapsack of their own, are
worth least: that is the bound. Then every pattern that a fill worth the bound less a gap
could hold is listed, and the integer solver chooses among them. Where its best is within the
gap, no fill is better.

Source:
    Gilmore and Gomory, Operations Research 13 (1965), two-stage patterns; the closing of the
    gap by listing columns as Baldacci, Christofides and Mingozzi, Mathematical
    Programming 115 (2008).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.solver import quiet_solver
from mewswright.build.nest.sheets import Ints

Floats = NDArray[np.float64]

MOST_PATTERNS = 40_000  # a longer list would keep the integer solver longer than anyone waits
HAIR = 1e-7
FIRST_GAP, NEXT_GAP = 0.004, 3.0
SUBGRADIENT_STEPS = 60


@dataclass(frozen=True)
class StripWays:
    """Ways to lay pieces in strips, the highest first."""

    wide: Ints
    high: Ints
    worth: Floats
    piece: Ints
    limit: Ints  # of each piece
    room_wide: int
    room_high: int

    @classmethod
    def of(
        cls, wide: Ints, high: Ints, worth: Floats, piece: Ints, limit: Ints,
        room_wide: int, room_high: int,
    ) -> tuple[StripWays, Ints]:  # fmt: skip
        """Sort ways by height and leave out those that cannot lie; gives their numbers too."""
        can = (wide <= room_wide) & (high <= room_high) & (worth > 0) & (limit[piece] > 0)
        order = np.flatnonzero(can)
        order = order[np.lexsort((wide[order], -high[order]))]
        ways = cls(
            wide[order], high[order], worth[order], piece[order], limit, room_wide, room_high
        )
        return ways, order


@dataclass(frozen=True)
class StripFill:
    """The best two-stage fill of one sheet."""

    worth: float
    bound: float  # no two-stage fill is worth more
    strips: tuple[tuple[int, ...], ...]  # ways, by the numbers that were given
    proven: bool


def best_strips(
    wide: Ints, high: Ints, worth: Floats, piece: Ints, limit: Ints,
    room_wide: int, room_high: int, effort: Effort, whole: bool,
) -> StripFill:  # fmt: skip
    """Fill one sheet in two stages with what is worth most.

    Args:
        wide: Size of each way along the strip, with kerf.
        high: Size of each way across the strip, with kerf.
        worth: Worth of each way, 0 or more.
        piece: Piece that each way lays.
        limit: At most how many of each piece.
        room_wide: Sheet along the strips, with kerf.
        room_high: Sheet across the strips, with kerf.
        effort: When to stop.
        whole: Worths are whole numbers, so that a bound may be rounded down.

    Returns:
        The best fill found, and the bound.
    """
    ways, order = StripWays.of(wide, high, worth, piece, limit, room_wide, room_high)
    if not len(order):
        return StripFill(0.0, 0.0, (), True)
    program = _Program(ways, effort)
    program.column_generation()
    top = program.priced_bound()
    bound = float(np.floor(top + HAIR * max(1.0, top))) if whole else top
    hair = 0.0 if whole else HAIR * max(1.0, top)
    best = 0.0
    chosen: list[Ints] = []
    gap = max(1.0 if whole else 0.0, FIRST_GAP * top)
    while best < bound - hair and not effort.used_up():
        target = max(bound - gap, best + (1.0 if whole else hair))
        patterns = program.within(target)
        if patterns is None:
            break
        value, strips, sure = program.choose(patterns, whole, bound)
        if value > best:
            best, chosen = value, strips
        if not sure:
            break
        # Nothing worth the target or more is left out of the list.
        bound = best if best >= target else min(bound, target - 1.0 if whole else target)
        gap *= NEXT_GAP
        bound = max(bound, best)
    if not chosen:
        best, chosen, _ = program.choose(program.columns, whole, bound)
    strips_out = tuple(
        tuple(int(order[w]) for w in np.repeat(np.arange(len(order)), s)) for s in chosen
    )
    return StripFill(best, max(best, bound), strips_out, best >= bound - hair)


class _Program:
    """The linear program over strip patterns, kept warm."""

    def __init__(self, ways: StripWays, effort: Effort) -> None:
        self.ways = ways
        self.effort = effort
        self.pieces = np.unique(ways.piece)
        self.row_of = np.full(len(ways.limit), -1)
        self.row_of[self.pieces] = np.arange(len(self.pieces))
        self.most = np.minimum(ways.limit[ways.piece], ways.room_wide // ways.wide)
        self.columns: list[Ints] = []
        self._known: set[bytes] = set()
        self.price = np.zeros(len(self.pieces))
        self.stacked = np.zeros(ways.room_high + 1)
        self.value = np.zeros(len(ways.wide))
        self._highs: Any = None

    def column_generation(self) -> None:
        """Solve the linear program, for its duals."""
        w = self.ways
        highs = quiet_solver(presolve="off")
        rows = 1 + len(self.pieces)
        upper = np.concatenate([[w.room_high], w.limit[self.pieces]]).astype(float)
        none = np.zeros(0)
        highs.addRows(
            rows, np.full(rows, -np.inf), upper, 0,
            np.zeros(rows, dtype=np.int32), none.astype(np.int32), none,
        )  # fmt: skip
        self._highs = highs
        for k in range(len(w.wide)):
            single = np.zeros(len(w.wide), dtype=np.int64)
            single[k] = self.most[k]
            self._add(single)
        new = True
        while new and not self.effort.used_up():
            highs.run()
            dual = np.maximum(-np.array(highs.getSolution().row_dual), 0.0)
            self.price = dual[1:]
            self.value = w.worth - self.price[self.row_of[w.piece]]
            self.effort.spend(3000 + 12 * len(w.wide) * 4)
            found = [
                (gain - float(dual[0]) * height, pattern)
                for height, gain, pattern in self._priced()
            ]
            new = sum([self._add(pattern) for gain, pattern in found if gain > 1e-9]) > 0

    def priced_bound(self) -> float:
        """The least worth of a sheet under prices of the pieces, by subgradient steps.

        Any prices give a bound; the best ones are kept.

        Source:
            Held, Wolfe and Crowder, Mathematical Programming 6 (1974), step rule.
        """
        w = self.ways
        limit = w.limit[self.pieces].astype(float)
        price, best = self.price.copy(), np.inf
        step, stalled, floor = 1.0, 0, 0.0
        kept = price
        for _ in range(SUBGRADIENT_STEPS):
            self.value = w.worth - price[self.row_of[w.piece]]
            found = self._priced()
            stacked, used = self._stacked(found)
            self.effort.spend(1500)
            bound = float(price @ limit) + float(stacked[-1])
            floor = max(floor, self._worth_of(used))
            if bound < best - 1e-9:
                best, kept, self.stacked, stalled = bound, price, stacked, 0
            else:
                stalled += 1
                if stalled == 6:
                    step, stalled, price = step / 2, 0, kept
            slope = limit - used[self.pieces]
            slope = np.where((price <= 0) & (slope > 0), 0.0, slope)
            steep = float(slope @ slope)
            if steep == 0 or step < 0.02 or best - floor < 1e-9 or self.effort.used_up():
                break
            price = np.maximum(0.0, price - step * (bound - 0.995 * best) / steep * slope)
        self.price = kept
        self.value = w.worth - kept[self.row_of[w.piece]]
        return best

    def _worth_of(self, used: Floats) -> float:
        """Worth of a fill, if it keeps to what is wanted; else 0."""
        w = self.ways
        if (used > w.limit).any():
            return 0.0
        # Ways of one piece may differ in worth; the least is safe.
        least = np.full(len(w.limit), w.worth.max())
        np.minimum.at(least, w.piece, w.worth)
        return float(least @ used)

    def _stacked(self, found: list[tuple[int, float, Ints]]) -> tuple[Floats, Floats]:
        """Best worth of strips in each height up to the sheet's, and the pieces they use."""
        w = self.ways
        table = np.zeros(w.room_high + 1)
        came = np.full(w.room_high + 1, -1)
        heights = np.array([h for h, _, _ in found], dtype=np.int64)
        gains = np.array([g for _, g, _ in found])
        order = np.argsort(heights, kind="stable")
        heights, gains = heights[order], gains[order]
        for y in range(1, w.room_high + 1):
            table[y] = table[y - 1]
            few = int(np.searchsorted(heights, y, "right"))
            if few:
                got = table[y - heights[:few]] + gains[:few]
                top = int(got.argmax())
                if got[top] > table[y] + 1e-12:
                    table[y], came[y] = got[top], top
        used = np.zeros(len(w.limit))
        y = w.room_high
        while y > 0:
            if came[y] < 0:
                y -= 1
                continue
            np.add.at(used, w.piece, found[int(order[came[y]])][2])
            y -= int(heights[came[y]])
        return table, used

    def _add(self, pattern: Ints) -> bool:
        key = pattern.astype(np.int16).tobytes()
        if key in self._known:
            return False
        self._known.add(key)
        self.columns.append(pattern)
        w = self.ways
        used = np.bincount(self.row_of[w.piece], weights=pattern, minlength=len(self.pieces))
        index = np.flatnonzero(used)
        height = int(w.high[pattern > 0].max())
        self._highs.addCol(
            -float(pattern @ w.worth), 0.0, np.inf, 1 + len(index),
            np.concatenate([[0], index + 1]).astype(np.int32),
            np.concatenate([[height], used[index]]).astype(float),
        )  # fmt: skip
        return True

    def _priced(self) -> list[tuple[int, float, Ints]]:
        """Height, gain and pattern of the best strip of each height."""
        w = self.ways
        n, room = len(w.wide), w.room_wide
        table = np.zeros(room + 1)
        lots: list[tuple[int, int]] = []
        taken: list[NDArray[np.bool_]] = []
        found = []
        for k in range(n - 1, -1, -1):  # lowest first
            left, lot = int(self.most[k]), 1
            while left > 0 and self.value[k] > 1e-12:
                lot = min(lot, left)
                left -= lot
                step = lot * int(w.wide[k])
                took = np.zeros(room + 1, dtype=np.bool_)
                if step <= room:
                    more = table[:-step] + lot * self.value[k]
                    took[step:] = more > table[step:] + 1e-12
                    table = table.copy()
                    np.maximum(table[step:], more, out=table[step:])
                lots.append((k, lot))
                taken.append(took)
                lot *= 2
            if k == 0 or w.high[k - 1] > w.high[k]:
                pattern = self._traced(lots, taken)
                if table[room] > 1e-12:
                    height = int(w.high[pattern > 0].max())
                    found.append((height, float(table[room]), pattern))
        return found

    def _traced(self, lots: list[tuple[int, int]], taken: list[NDArray[np.bool_]]) -> Ints:
        pattern = np.zeros(len(self.ways.wide), dtype=np.int64)
        at = self.ways.room_wide
        for (k, lot), took in zip(reversed(lots), reversed(taken), strict=True):
            if took[at]:
                pattern[k] += lot
                at -= lot * int(self.ways.wide[k])
        return pattern

    def within(self, target: float) -> list[Ints] | None:
        """All strips that a fill worth `target` can hold; None if they are too many."""
        w = self.ways
        n, room = len(w.wide), w.room_wide
        ahead = np.zeros((n + 1, room + 1))  # best gain of the ways from k on, by room
        for k in range(n - 1, -1, -1):
            row = ahead[k + 1].copy()
            left, lot = int(self.most[k]), 1
            while left > 0 and self.value[k] > 0:
                lot = min(lot, left)
                left -= lot
                step = lot * int(w.wide[k])
                if step <= room:
                    np.maximum(row[step:], row[:-step] + lot * self.value[k], out=row[step:])
                lot *= 2
            ahead[k] = row
        counts = np.zeros((0, n), dtype=np.int16)
        free = np.zeros(0, dtype=np.int64)
        gain = np.zeros(0)
        slack = HAIR * max(1.0, target)
        paid = float(self.price @ w.limit[self.pieces])
        for k in range(n):
            rest = float(self.stacked[w.room_high - int(w.high[k])])
            start_gain = paid + rest - target
            all_counts, all_free, all_gain = [counts], [free], [gain]
            root_counts = np.zeros((1, n), dtype=np.int16)
            grow_counts = np.concatenate([counts, root_counts])
            grow_free = np.append(free, room)
            grow_gain = np.append(gain, start_gain)
            for _ in range(int(self.most[k])):
                grow_free = grow_free - int(w.wide[k])
                grow_gain = grow_gain + self.value[k]
                ok = grow_free >= 0
                ok[ok] &= grow_gain[ok] + ahead[k][grow_free[ok]] >= -slack
                grow_counts, grow_free, grow_gain = grow_counts[ok], grow_free[ok], grow_gain[ok]
                if not len(grow_free):
                    break
                grow_counts = grow_counts.copy()
                grow_counts[:, k] += 1
                all_counts.append(grow_counts)
                all_free.append(grow_free)
                all_gain.append(grow_gain)
            counts, free = np.concatenate(all_counts), np.concatenate(all_free)
            gain = np.concatenate(all_gain)
            keep = gain + ahead[k + 1][free] >= -slack
            counts, free, gain = counts[keep], free[keep], gain[keep]
            self.effort.spend(30 + len(free) * 0.3)
            if len(free) > MOST_PATTERNS:
                return None
        return [row.astype(np.int64) for row in counts]

    def choose(
        self, patterns: list[Ints], whole: bool, bound: float
    ) -> tuple[float, list[Ints], bool]:
        """The best choice among patterns, and whether the solver is sure of it."""
        import highspy

        if not patterns:
            return 0.0, [], True
        w = self.ways
        body = np.array(patterns)
        used = np.zeros((len(body), len(self.pieces)), dtype=np.int64)
        for k in range(len(w.wide)):
            used[:, self.row_of[w.piece[k]]] += body[:, k]
        height = np.where(body > 0, w.high[None, :], 0).max(axis=1)
        limit = w.limit[self.pieces]
        most = np.where(used > 0, limit // np.maximum(used, 1), 10**6).min(axis=1)
        most = np.minimum(most, w.room_high // height)
        live = np.flatnonzero(most > 0)
        if not len(live):
            return 0.0, [], True
        worth = body[live] @ w.worth
        matrix = np.concatenate([height[live, None], used[live]], axis=1)
        options: dict[str, bool | int | float | str] = {
            "mip_rel_gap": 0.0,
            "mip_abs_gap": 0.999 if whole else 1e-9,
            "objective_target": HAIR * max(1.0, bound) - bound,
        }
        seconds = self.effort.seconds_left()
        if np.isfinite(seconds):
            options["time_limit"] = max(0.05, seconds)
        else:
            options["mip_max_nodes"] = 2000
        highs = quiet_solver(**options)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(live), matrix.shape[1]
        lp.col_cost_ = -worth.astype(float)
        lp.col_lower_ = np.zeros(len(live))
        lp.col_upper_ = most[live].astype(float)
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(live)
        lp.row_lower_ = np.full(matrix.shape[1], -highspy.kHighsInf)
        lp.row_upper_ = np.concatenate([[w.room_high], limit]).astype(float)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        column, row = np.nonzero(matrix)
        lp.a_matrix_.start_ = np.searchsorted(column, np.arange(len(live) + 1)).astype(np.int32)
        lp.a_matrix_.index_ = row.astype(np.int32)
        lp.a_matrix_.value_ = matrix[column, row].astype(float)
        highs.passModel(lp)
        highs.run()
        info = highs.getInfo()
        self.effort.spend(5000 + 20 * max(0, info.simplex_iteration_count))
        if info.primal_solution_status != 2:  # 2: a feasible point
            return 0.0, [], False
        times = np.rint(np.array(highs.getSolution().col_value)).astype(np.int64)
        if ((times @ matrix) > np.concatenate([[w.room_high], limit])).any():
            return 0.0, [], False
        strips = [body[live[c]] for c in np.flatnonzero(times) for _ in range(int(times[c]))]
        status = highs.getModelStatus()
        ends = (
            highspy.HighsModelStatus.kOptimal,
            highspy.HighsModelStatus.kObjectiveTarget,
        )
        sure = status in ends
        return float(times @ worth), strips, sure
