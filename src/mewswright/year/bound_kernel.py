"""What a plan costs at least: every unit goes its own way and pays for what the others want.

For any prices of 0 or more on "one unit a week in a place", "somebody lives there or it rests" and
"only one of these two adjacent places", the cheapest itineraries and rests under those prices, less
the prices themselves, cost no more than any clean plan (Lagrange's bound). The prices
are moved along the clashes that are left, by the step of Polyak. Compiled on first use.
"""

from typing import Any

import numpy as np
from numba import njit

from mewswright.year.path_kernel import path, scratch
from mewswright.year.use_kernel import best_rest, fill, put

PATIENCE, SHORTER, KEEP = 12, 0.6, 0.65  # of the steps (judgement)


@njit(cache=True)
def pairs_of(t: Any) -> Any:
    """Adjacent places, each pair once (pairs, 2)."""
    found = np.empty((len(t.near), 2), dtype=np.int64)
    n = 0
    for p in range(len(t.near_at) - 1):
        for q in t.near[t.near_at[p] : t.near_at[p + 1]]:
            if p < q:
                found[n, 0], found[n, 1] = p, q
                n += 1
    return found[:n]


@njit(cache=True)
def _own_ways(
    t: Any, use: Any, free: Any, prices: Any, side: Any, stay: Any, clean: Any, room: Any
) -> Any:
    """Send every unit its cheapest way under the prices, and count them; gives the sum and work."""
    total, work = 0.0, 0
    for u in range(use.where.shape[0]):
        fill(t, free, prices, 1.0, 0.0, u, stay, clean)
        cost, steps = path(t, u, stay, clean, room, use.where[u])
        total += cost
        work += steps
    use.taken[:] = 0
    use.lived[:] = 0
    use.rested[:] = 0
    use.near[:] = 0
    side[:] = 0
    weeks = use.where.shape[1]
    for u in range(use.where.shape[0]):
        put(t, use, u, 1)
        for k in t.rule[t.rule_at[u] : t.rule_at[u + 1]]:
            for w in range(max(t.first[u], t.rule_first[k]), min(weeks, t.rule_last[k] + 1)):
                side[k, use.where[u, w], w] += 1
    for p in range(len(t.rest)):
        if t.rest[p] > 0:
            first, cost = best_rest(t, use, prices, 0.0, p)
            use.rested[p, first : first + t.rest[p]] = 1
            total += cost
    return total, work


@njit(cache=True)
def _slope(price: Any, gap: Any, way: Any) -> float:
    """Blend the last direction into `gap`, drop what would go below 0; gives its square."""
    total = 0.0
    price, gap, way = price.ravel(), gap.ravel(), way.ravel()
    for i in range(len(price)):
        way[i] = KEEP * way[i] + (1.0 - KEEP) * gap[i]
        if price[i] <= 0.0 and way[i] < 0.0:
            way[i] = 0.0
        total += way[i] * way[i]
    return total


@njit(cache=True)
def _step(price: Any, way: Any, size: float) -> None:
    price, way = price.ravel(), way.ravel()
    for i in range(len(price)):
        price[i] = max(0.0, price[i] + size * way[i])


@njit(cache=True)
def raise_bound(
    t: Any,
    use: Any,
    free: Any,
    prices: Any,
    pair_price: Any,
    ways: Any,
    memory: Any,
    goal: float,
    rounds: int,
) -> Any:
    """Move the prices, and so raise the bound.

    Args:
        t: Tables.
        use: Scratch for the ways of the units.
        free: A plan of nobody.
        prices: Prices; moved.
        pair_price: Price of living in both of two adjacent places (rule, pair, week); moved.
        ways: Directions of the last step: like `prices.cell`, `prices.rest` and `pair_price`.
        memory: Best bound so far, length of the step, rounds without a gain; kept between calls.
        goal: Cost of the best plan, or a guess above the bound.
        rounds: How many steps.

    Returns:
        The work done [steps]. The best bound is memory[0].
    """
    places, weeks = use.taken.shape
    stay, clean = np.empty((places, weeks)), np.empty((places, weeks))
    room = scratch(places, weeks)
    side = np.zeros(prices.near.shape, dtype=np.int64)
    pairs = pairs_of(t)
    cell_gap, rest_gap = np.empty((places, weeks)), np.empty((places, weeks))
    pair_gap = np.zeros(pair_price.shape)
    work = 0
    for _ in range(rounds):
        total, steps = _own_ways(t, use, free, prices, side, stay, clean, room)
        work += steps + 4 * pair_gap.size + 6 * places * weeks
        total -= prices.cell.sum() + prices.rest.sum() + pair_price.sum()
        if total > memory[0] + 1e-9:
            memory[0] = total
            memory[2] = 0.0
        else:
            memory[2] += 1.0
            if memory[2] >= PATIENCE:
                memory[1] *= SHORTER
                memory[2] = 0.0
        for p in range(places):
            for w in range(weeks):
                cell_gap[p, w] = use.taken[p, w] - 1.0
                rest_gap[p, w] = -1.0
                if t.rest[p] > 0:
                    rest_gap[p, w] += use.lived[p, w] + use.rested[p, w]
        for k in range(len(t.rule_first)):
            for n in range(len(pairs)):
                for w in range(max(0, t.rule_first[k]), min(weeks, t.rule_last[k] + 1)):
                    pair_gap[k, n, w] = side[k, pairs[n, 0], w] + side[k, pairs[n, 1], w] - 1.0
        square = _slope(prices.cell, cell_gap, ways[0]) + _slope(prices.rest, rest_gap, ways[1])
        square += _slope(pair_price, pair_gap, ways[2])
        if square < 1e-12:
            break
        size = memory[1] * max(goal - total, 0.01 * abs(goal) + 0.1) / square
        _step(prices.cell, ways[0], size)
        _step(prices.rest, ways[1], size)
        _step(pair_price, ways[2], size)
        prices.near[:] = 0.0
        for k in range(len(t.rule_first)):
            for n in range(len(pairs)):
                for w in range(weeks):
                    prices.near[k, pairs[n, 0], w] += pair_price[k, n, w]
                    prices.near[k, pairs[n, 1], w] += pair_price[k, n, w]
    return work
