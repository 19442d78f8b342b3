"""Rounding with re-pricing: fix some bars, price new patterns for the rest, and so on.

Source:
    Diving for column generation with limited backtracking: Sadykov et al., Primal
    heuristics for branch and price, INFORMS Journal on Computing 31 (2019).
"""

from __future__ import annotations

import numpy as np

from mewswright.build.cut.columns import HAIR, Generator
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.greedy import greedy_plan
from mewswright.build.cut.mip import choose_bars
from mewswright.build.cut.sawing import Bars, Counts, Sawing

FEW_PIECES = 45  # so few are finished by the integer solver
FINISH_NODES = 200
SECOND_THOUGHTS = 6  # wrong turnings taken back in one dive


def dive(
    sawing: Sawing,
    generator: Generator,
    effort: Effort,
    rng: np.random.Generator,
    target: int,
    noise: float,
    lazy: bool,
) -> list[Bars] | None:
    """One dive for a plan that costs at most `target`.

    Args:
        sawing: The problem.
        generator: Its columns; new ones stay for later dives.
        effort: Allowance.
        rng: Shakes the rounding.
        target: Highest cost of interest [price units].
        noise: How much the rounding is shaken [-]; 0: not.
        lazy: Price only where the columns known cannot meet the target (equal bars); else
            always.

    Returns:
        A plan within the target, or None.
    """
    master = generator.master
    left, available = sawing.demand.copy(), sawing.available.copy()
    fixed: list[Bars] = []
    shut: list[int] = []
    cost, thoughts = 0, SECOND_THOUGHTS
    single_last = finished = False
    try:
        while left.any():
            if effort.used_up():
                return None
            master.restrict(left, available)
            for c in shut:
                master.shut(c)
            solved = generator.converge(
                rng, left, available, good_enough=target - cost if lazy else None
            )
            dead = solved is None or cost + solved.cost > target + HAIR
            if dead:
                if not single_last or thoughts == 0:
                    return None
                thoughts -= 1
                back = fixed.pop()
                shut.append(master.find(back.stock, back.pieces))
                left += back.pieces
                if available[back.stock] >= 0:
                    available[back.stock] += 1
                cost -= int(sawing.price[back.stock])
                single_last = False
                continue
            assert solved is not None
            quick = int(left.sum()) > FEW_PIECES or finished
            end = _finish(sawing, generator, effort, rng, left, available, target - cost, quick)
            if end is not None:
                return fixed + end
            finished = finished or not quick
            bars = solved.bars
            chosen = _round(bars, master.stock, rng, noise)
            single_last = len(chosen) == 1 and bars[chosen[0]] < 1 - HAIR
            if not single_last:
                shut = []
            fixed_now = 0
            for c in chosen:
                pieces, s = master.pieces[c], int(master.stock[c])
                used = np.flatnonzero(pieces)
                count = int((left[used] // pieces[used]).min())
                count = min(count, max(1, int(bars[c] + HAIR)))
                if available[s] >= 0:
                    count = min(count, int(available[s]))
                    available[s] -= count
                if count == 0:
                    continue
                fixed_now += count
                left = left - count * pieces
                fixed.append(Bars(s, pieces.copy(), count))
                cost += count * int(sawing.price[s])
            if not fixed_now:
                return None
        return fixed
    finally:
        master.restrict(sawing.demand, sawing.available)


def _round(bars: np.ndarray, stock: Counts, rng: np.random.Generator, noise: float) -> list[int]:
    """Columns to fix: all that hold a whole bar, else the one nearest above."""
    real = stock[: len(bars)] >= 0
    whole = np.flatnonzero((bars >= 1 - HAIR) & real)
    if len(whole):
        order = whole[np.argsort(-bars[whole], kind="stable")]
        return [int(c) for c in order]
    part = np.flatnonzero((bars > HAIR) & real)
    if not len(part):
        return []
    score = bars[part] * (1 + noise * rng.random(len(part)))
    return [int(part[int(np.argmax(score))])]


def _finish(
    sawing: Sawing,
    generator: Generator,
    effort: Effort,
    rng: np.random.Generator,
    left: Counts,
    available: Counts,
    most_cost: int,
    quick: bool,
) -> list[Bars] | None:
    """Cut the rest outright, if a quick plan or the integer solver can within `most_cost`."""
    rest = int(left.sum())
    if rest > 4 * FEW_PIECES:
        return None
    for shaken in (None, rng):
        plan, lost = greedy_plan(sawing, left, available, effort, rng=shaken, most_cost=most_cost)
        if not lost.any() and sum(b.count * int(sawing.price[b.stock]) for b in plan) <= most_cost:
            return plan
    if quick:
        return None
    columns = generator.master.fitting(left)
    columns = columns[generator.master.stock[columns] >= 0]
    if not len(columns):
        return None
    chosen = choose_bars(
        sawing,
        generator.master.stock[columns],
        generator.master.pieces[columns],
        left,
        available,
        most_cost,
        FINISH_NODES,
        effort,
    )
    return chosen.plan
