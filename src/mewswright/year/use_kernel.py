"""Who uses which place in which week, and what that makes each week cost a unit.

Compiled on first use.
"""

from typing import Any, NamedTuple

import numpy as np
from numba import njit


class Use(NamedTuple):
    """A plan, clean or not, and what is counted of it."""

    where: Any  # place (unit, week), -1: not there
    taken: Any  # units that live in or clean a place (place, week)
    lived: Any  # units that live in it
    rested: Any  # 1 where it is kept for its rest
    near: Any  # units of a rule next to a place (rule, place, week)


class Prices(NamedTuple):
    """What is asked for a week, over its cost."""

    cell: Any  # (place, week), to live or to clean
    rest: Any  # (place, week), to live there while it might rest
    near: Any  # (rule, place, week), to live there beside others of the rule


@njit(cache=True)
def put(t: Any, use: Any, u: int, sign: int) -> None:
    """Count the row of unit `u` in (sign 1) or out (-1)."""
    weeks = use.where.shape[1]
    rules = t.rule[t.rule_at[u] : t.rule_at[u + 1]]
    for w in range(t.first[u], weeks):
        p = use.where[u, w]
        use.lived[p, w] += sign
        use.taken[p, w] += sign
        for k in rules:
            if t.rule_first[k] <= w <= t.rule_last[k]:
                for q in t.near[t.near_at[p] : t.near_at[p + 1]]:
                    use.near[k, q, w] += sign
        if w + 1 < weeks and use.where[u, w + 1] != p:
            for v in range(w + 1, min(w + 1 + t.clean[p], weeks)):
                use.taken[p, v] += sign


@njit(cache=True)
def fill(
    t: Any, use: Any, prices: Any, share: float, press: float, u: int, stay: Any, clean: Any
) -> None:
    """What each week would cost unit `u`, itself counted out.

    Args:
        t: Tables.
        use: Where the others are.
        prices: Prices.
        share: Part of the prices that is asked [-].
        press: Asked for each other unit in the way; `BLOCKED` forbids.
        u: Unit.
        stay: Gets the cost of living there (place, week).
        clean: Gets the cost of cleaning there.
    """
    weeks = use.where.shape[1]
    rules = t.rule[t.rule_at[u] : t.rule_at[u + 1]]
    for group in range(2):
        if group == 0:
            places = t.own[t.own_at[u] : t.own_at[u + 1]]
        else:
            places = t.entry[t.entry_at[u] : t.entry_at[u + 1]]
        for p in places:
            soil = t.rest[p] > 0
            for w in range(t.first[u], weeks):
                cost = press * use.taken[p, w] + share * prices.cell[p, w]
                clean[p, w] = cost
                cost += t.base[u, p, w]
                if soil:
                    cost += press * use.rested[p, w] + share * prices.rest[p, w]
                stay[p, w] = cost
            for k in rules:
                for w in range(max(t.first[u], t.rule_first[k]), min(weeks, t.rule_last[k] + 1)):
                    stay[p, w] += press * use.near[k, p, w] + share * prices.near[k, p, w]


@njit(cache=True)
def row_cost(t: Any, u: int, row: Any) -> float:
    """Cost of a row of unit `u`, without prices."""
    total = 0.0
    for w in range(t.first[u], len(row)):
        total += t.base[u, row[w], w]
        if w > t.first[u] and row[w] != row[w - 1]:
            total += t.move_cost[u]
    return total


@njit(cache=True)
def clashes(t: Any, use: Any, u: int) -> int:
    """Weeks of unit `u`, counted in, that another unit or a rest has too."""
    weeks = use.where.shape[1]
    found = 0
    rules = t.rule[t.rule_at[u] : t.rule_at[u + 1]]
    for w in range(t.first[u], weeks):
        p = use.where[u, w]
        if use.taken[p, w] > 1 or use.rested[p, w] > 0:
            found += 1
        for k in rules:
            if t.rule_first[k] <= w <= t.rule_last[k] and use.near[k, p, w] > 0:
                found += 1
        if w + 1 < weeks and use.where[u, w + 1] != p:
            for v in range(w + 1, min(w + 1 + t.clean[p], weeks)):
                if use.taken[p, v] > 1:
                    found += 1
    return found


@njit(cache=True)
def best_rest(t: Any, use: Any, prices: Any, press: float, p: int) -> Any:
    """The cheapest weeks for place `p` to rest: their first, and what they cost."""
    weeks = use.where.shape[1]
    best, first = np.inf, 0
    for w in range(weeks - t.rest[p] + 1):
        cost = 0.0
        for v in range(w, w + t.rest[p]):
            cost += press * use.lived[p, v] + prices.rest[p, v]
        if cost < best:
            best, first = cost, w
    return first, best


@njit(cache=True)
def may_rest(t: Any, use: Any, p: int, first: int) -> Any:
    """Whether nobody lives in place `p` in the weeks of rest from `first`."""
    return not use.lived[p, first : first + t.rest[p]].any()


@njit(cache=True)
def below(state: Any, bound: int) -> Any:
    """A number from 0 to `bound` - 1, by the xorshift of 64 bits (Marsaglia 2003, from memory)."""
    x = state[0]
    x ^= x << np.uint64(13)
    x ^= x >> np.uint64(7)
    x ^= x << np.uint64(17)
    state[0] = x
    return np.int64((x >> np.uint64(11)) % np.uint64(bound))


@njit(cache=True)
def shuffle(state: Any, items: Any, count: int) -> None:
    """Put the first `count` items into an order by chance."""
    for i in range(count - 1, 0, -1):
        j = below(state, i + 1)
        items[i], items[j] = items[j], items[i]


def new_use(t: Any) -> Use:
    """A plan of nobody."""
    units, places, weeks = t.base.shape
    rules = len(t.rule_first)
    count = np.int32
    return Use(
        np.full((units, weeks), -1, dtype=np.int64),
        np.zeros((places, weeks), dtype=count),
        np.zeros((places, weeks), dtype=count),
        np.zeros((places, weeks), dtype=count),
        np.zeros((rules, places, weeks), dtype=count),
    )


def new_prices(t: Any) -> Prices:
    """No prices."""
    places, weeks = t.base.shape[1:]
    return Prices(
        np.zeros((places, weeks)),
        np.zeros((places, weeks)),
        np.zeros((len(t.rule_first), places, weeks)),
    )
