"""Whole bars out of a short full list of patterns, by a search that may err a few times.

Where the bound leaves a plan hardly any room, the list of all patterns that it can use is
short. Columns are then fixed one after another, the linear program over the list telling
after each whether the target can still be met. Wrong turnings are taken back, first at
most none in one descent, then one, then two, and so on.

Source:
    Limited discrepancy search: Harvey and Ginsberg, IJCAI 1995.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from mewswright.build.cut.columns import HAIR
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.master import Floats, Master
from mewswright.build.cut.sawing import Bars, Counts, Sawing

MOST_ERRORS = 12
LEAN = 0.05  # how far chance may change which column is fixed first [-]


@dataclass
class _Left:
    """What one round of the search may still spend."""

    nodes: int
    rng: np.random.Generator
    plan: list[Bars] | None = field(default=None)


def dive_in_list(
    sawing: Sawing,
    stock: Counts,
    pieces: Counts,
    target: int,
    nodes: int,
    effort: Effort,
    rng: np.random.Generator,
) -> list[Bars] | None:
    """A plan of cost at most `target` made of listed patterns, or None where none was found.

    None is no proof that there is none.

    Args:
        sawing: The problem, none of its stock limited.
        stock: Stock of each pattern.
        pieces: All patterns that such a plan can use, maximal or not, one a row.
        target: Highest cost of interest [price units].
        nodes: Linear programs allowed.
        effort: Charged for the work.
        rng: Shakes the order of fixing.
    """
    master = Master(sawing, effort)
    for s, row in zip(stock.tolist(), pieces, strict=True):
        master.add(s, row)
    endless = np.full(master.columns, float(sawing.demand.sum()))
    left = _Left(nodes, rng)
    for errors in range(MOST_ERRORS):
        before = left.nodes
        none = np.zeros(master.columns)
        _descend(sawing, master, target, none, endless, errors, left, effort)
        spent_out = left.nodes <= 0 or effort.used_up()
        if left.plan is not None or spent_out or before - left.nodes <= 1:
            break
    return left.plan


def _descend(
    sawing: Sawing,
    master: Master,
    target: int,
    low: Floats,
    high: Floats,
    errors: int,
    left: _Left,
    effort: Effort,
) -> None:
    """Fix columns until the plan is whole or the target out of reach; turn back if allowed."""
    while left.plan is None and left.nodes > 0 and not effort.used_up():
        left.nodes -= 1
        master.limit_columns(low, high)
        solved = master.solve()
        if solved is None or solved[0] > target + HAIR:
            return
        cost, bars = solved[0], solved[1]
        part = bars - np.floor(bars + HAIR)
        open_ones = np.flatnonzero(part > HAIR)
        if not len(open_ones):
            left.plan = [
                Bars(int(master.stock[c]), master.pieces[c].copy(), round(float(bars[c])))
                for c in np.flatnonzero(bars > 0.5)
                if master.stock[c] >= 0
            ]
            return
        # What would cost more than the target leaves cannot be used below this node.
        reduced = master.reduced_costs()
        dear = (reduced > target - cost + HAIR) & (bars < low + HAIR)
        high = np.where(dear, low, high)
        score = part[open_ones] * (1 + LEAN * left.rng.random(len(open_ones)))
        c = int(open_ones[np.argmax(score)])
        fixed = np.maximum(low, np.floor(bars + HAIR))
        fixed[c] += 1
        rest = sawing.demand - fixed.astype(np.int64) @ master.pieces[: master.columns]
        fits = (master.pieces[: master.columns] <= rest).all(axis=1)
        roof = np.where(fits, high, fixed)
        if errors == 0:
            low, high = fixed, np.maximum(roof, fixed)
            continue
        _descend(sawing, master, target, fixed, np.maximum(roof, fixed), errors, left, effort)
        errors -= 1
        high = high.copy()
        high[c] = np.floor(bars[c])
