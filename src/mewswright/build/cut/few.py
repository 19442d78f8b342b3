"""Fewer different patterns at the same cost: less measuring, fewer mistakes at the saw.

Two or three patterns are taken from the plan, and what they cut is cut again from the same
bars by at most two patterns. The bars bought never change, so neither does the cost.

Source:
    Joining two patterns to one and three to two: Foerster and Waescher, Pattern reduction in
    one-dimensional cutting stock problems, International Journal of Production Research 38
    (2000). Here with a search over all splits, and with moves that only change the counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.sawing import Bars, Sawing

WORK = 60_000.0  # units of effort; judgement: less than a tenth of a second for less handling
TRIES_PER_PAIR = 5  # tries without a gain at which to stop, for each pair of patterns
MOST_STEPS = 150  # of one search for two patterns
MOST_WAYS = 5  # ways of sharing the bars between two patterns
Row = tuple[int, ...]
Plan = dict[tuple[int, Row], int]  # bars of each (stock, pieces)


def fewer_patterns(sawing: Sawing, plan: list[Bars], effort: Effort, seed: int) -> list[Bars]:
    """The same pieces from the same bars, by as many different patterns or fewer.

    Args:
        sawing: The problem.
        plan: Any plan for it.
        effort: Allowance; at most WORK of it is used.
        seed: Seed of the choice of patterns.

    Returns:
        A plan that takes the same number of bars of each stock and cuts the same pieces.
    """
    rng = np.random.default_rng(seed)
    effort = Effort(WORK, effort.clock, effort.until, effort)
    now: Plan = {}
    for bars in plan:
        key = (bars.stock, tuple(bars.pieces.tolist()))
        now[key] = now.get(key, 0) + bars.count
    size, room = sawing.size.tolist(), sawing.room.tolist()
    best = dict(now)
    tries = 0  # since the last gain
    while len(now) > 1 and tries < TRIES_PER_PAIR * len(now) ** 2 and not effort.used_up():
        tries += 1
        keys = list(now)
        many = min(len(keys), 2 + int(rng.integers(2)))
        taken = [keys[k] for k in rng.choice(len(keys), many, replace=False).tolist()]
        found = _joined(size, room, {key: now[key] for key in taken}, effort, rng)
        if found is None:
            continue
        for key in taken:
            del now[key]
        for key, count in found.items():
            now[key] = now.get(key, 0) + count
        if len(now) < len(best):
            best, tries = dict(now), 0
    return [Bars(s, np.array(row, dtype=np.int64), count) for (s, row), count in best.items()]


def _joined(
    size: list[int], room: list[int], old: Plan, effort: Effort, rng: np.random.Generator
) -> Plan | None:
    """What `old` cuts, from the same bars, by at most two patterns; None if none was found."""
    wanted = [sum(row[i] * count for (_, row), count in old.items()) for i in range(len(size))]
    bars: dict[int, int] = {}
    for (stock, _), count in old.items():
        bars[stock] = bars.get(stock, 0) + count
    effort.spend(20 + 2 * len(size))
    if len(bars) > 2:
        return None
    if len(bars) == 2:
        (one, other) = bars.items()
        ways = [(one, other)]
    else:
        ((stock, count),) = bars.items()
        most = count // 2 + 1  # 0 of one pattern: all bars are of the other
        firsts = rng.permutation(np.arange(1, most))[: MOST_WAYS - 1].tolist()
        ways = [((stock, n), (stock, count - n)) for n in [0, *firsts]]
    pieces = [i for i in range(len(size)) if wanted[i]]
    for (s, m), (t, n) in ways:
        search = _Pair([size[i] for i in pieces], [wanted[i] for i in pieces], m, n, rng)
        found = search.rows(room[s] if m else 0, room[t])
        effort.spend(30 + 6 * search.steps)
        if found is None:
            continue
        new: Plan = {}
        for stock, count, part in ((s, m, found[0]), (t, n, found[1])):
            if count:
                row = [0] * len(size)
                for i, cut in zip(pieces, part, strict=True):
                    row[i] = cut
                new[stock, tuple(row)] = new.get((stock, tuple(row)), 0) + count
        if new != old:
            return new
    return None


@dataclass
class _Pair:
    """Search for rows x, y with m * x + n * y = wanted that fit their rooms."""

    size: list[int]
    wanted: list[int]
    m: int
    n: int
    rng: np.random.Generator
    steps: int = 0

    def rows(self, room_x: int, room_y: int) -> tuple[list[int], list[int]] | None:
        """Both rows, or None where there are none or the search grew too long."""
        splits = []
        for want in self.wanted:
            ways = [
                ((want - self.n * y) // self.m if self.m else 0, y)
                for y in range(want // self.n + 1)
                if ((want - self.n * y) % self.m == 0 if self.m else want == self.n * y)
            ]
            if not ways:
                return None
            turn = int(self.rng.integers(len(ways)))
            splits.append(ways[turn:] + ways[:turn])
        x, y = [0] * len(splits), [0] * len(splits)
        return (x, y) if self._fill(splits, 0, room_x, room_y, x, y) else None

    def _fill(
        self,
        splits: list[list[tuple[int, int]]],
        k: int,
        room_x: int,
        room_y: int,
        x: list[int],
        y: list[int],
    ) -> bool:
        if k == len(splits):
            return True
        for a, b in splits[k]:
            self.steps += 1
            if self.steps > MOST_STEPS:
                return False
            left_x, left_y = room_x - a * self.size[k], room_y - b * self.size[k]
            if left_x < 0 or left_y < 0:
                continue
            x[k], y[k] = a, b
            if self._fill(splits, k + 1, left_x, left_y, x, y):
                return True
        return False
