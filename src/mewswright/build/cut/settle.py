"""Buy in the order of cost, and saw: the first purchase that can be sawn is the best plan.

Each purchase is tried in turn: does the fractional plan already fail (then a new condition
strikes out this purchase and others), does a dive saw it, or does a full list of patterns
show that it cannot be sawn? A purchase left in doubt stops the bound but not the search.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mewswright.build.cut.columns import HAIR, Generator
from mewswright.build.cut.dive import dive
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.enumerate import feasible_worths, patterns_within
from mewswright.build.cut.knapsack import Table
from mewswright.build.cut.mip import choose_bars
from mewswright.build.cut.purchase import Purchases
from mewswright.build.cut.sawing import Bars, Counts, Sawing


@dataclass(frozen=True)
class Verdict:
    """What became of one purchase: sawn, shown not to be possible, or neither."""

    plan: list[Bars] | None
    ruled_out: bool


@dataclass(frozen=True)
class Care:
    """How much to spend on one purchase."""

    dives: int
    listed: int
    nodes: int


def judge(
    sawing: Sawing,
    generator: Generator,
    table: Table,
    purchases: Purchases,
    bought: Counts,
    care: Care,
    effort: Effort,
    rng: np.random.Generator,
) -> Verdict:
    """Try to saw all pieces from the bars of one purchase.

    Args:
        sawing: The problem.
        generator: Its columns.
        table: Its knapsack.
        purchases: Given a new condition where the fractional plan fails.
        bought: Bars of each stock.
        care: Dives, list length and nodes allowed.
        effort: Allowance.
        rng: Shakes the dives.
    """
    alone = replace(sawing, available=bought)
    cost = int(bought @ sawing.price)
    generator.master.restrict(sawing.demand, bought)
    solved = generator.converge(rng, sawing.demand, bought, good_enough=cost)
    if solved is None:
        return Verdict(None, False)
    if solved.cost > cost + HAIR:
        if not solved.complete:
            return Verdict(None, False)
        purchases.require(solved.whole_worth, solved.best)
        return Verdict(None, not bool(purchases.met_by(bought[None, :])[0]))
    for n in range(care.dives):
        plan = dive(alone, generator, effort, rng, cost, noise=0.2 * n, lazy=True)
        if plan is not None:
            return Verdict(plan, False)
        if effort.used_up():
            return Verdict(None, False)
    generator.master.restrict(sawing.demand, bought)
    solved = generator.converge(rng, sawing.demand, bought)
    if solved is None:
        return Verdict(None, False)
    worths = feasible_worths(alone, table, solved.whole_worth, solved.best, solved.parts)
    listing = patterns_within(alone, worths, cost, care.listed, effort)
    if listing is None:
        return Verdict(None, False)
    stock, pieces = listing
    if not len(stock):
        return Verdict(None, True)
    free = replace(alone, price=np.zeros_like(sawing.price))  # any plan will do
    chosen = choose_bars(
        free, stock, pieces, sawing.demand, bought, 0, care.nodes, effort, only_within=False
    )
    return Verdict(chosen.plan, chosen.exhausted and chosen.plan is None)


def span(purchases: Purchases, low: int, high: int) -> tuple[int, Counts] | None:
    """Purchases from `low` to as near `high` as can be looked at together, and that cost."""
    top = high
    while top >= low:
        found = purchases.between(low, top)
        if found is not None:
            return top, found
        if top == low:
            return None
        top = low + (top - low) // 4
    return None
