"""Making a plan: prices are negotiated until no units clash, then a few are replanned at a time.

Negotiation routes one unit after another. A unit may take what another has, but the longer two
want the same week of a place the dearer it gets, until one of them finds that elsewhere is cheaper.
Replanning takes some units out of a clean plan and sends each the cheapest way through what the
others leave; the change is kept if the plan is not dearer for it. Compiled on first use.
"""

from typing import Any

import numpy as np
from numba import njit

from mewswright.year.path_kernel import path, scratch
from mewswright.year.tables import BLOCKED
from mewswright.year.use_kernel import (
    below,
    best_rest,
    clashes,
    fill,
    may_rest,
    put,
    row_cost,
    shuffle,
)

GROWTH, MOST_PRESS, GAIN = 1.15, 60.0, 1.0  # of what a clash costs, from round to round
STIR = 8  # one in so many units is routed anew though nothing clashes
MOST_OUT = 6  # units replanned together
REST_TRIES = 4
HAIR = 1e-6


@njit(cache=True)
def _keep_rests(t: Any, use: Any, prices: Any, press: float) -> int:
    """Give every place of soil its cheapest weeks of rest; returns weeks lived there."""
    found = 0
    for p in range(len(t.rest)):
        if t.rest[p] == 0:
            continue
        use.rested[p, :] = 0
        first, _ = best_rest(t, use, prices, press, p)
        use.rested[p, first : first + t.rest[p]] = 1
        for v in range(first, first + t.rest[p]):
            if use.lived[p, v] > 0:
                found += 1
                prices.rest[p, v] += GAIN
    return found


@njit(cache=True)
def _raise_prices(t: Any, use: Any, prices: Any) -> int:
    """Make what is wanted by more than one dearer; returns how often that is so."""
    places, weeks = use.taken.shape
    found = 0
    for p in range(places):
        for w in range(weeks):
            if use.taken[p, w] > 1:
                found += use.taken[p, w] - 1
                prices.cell[p, w] += GAIN * (use.taken[p, w] - 1)
    for u in range(len(t.first)):
        for k in t.rule[t.rule_at[u] : t.rule_at[u + 1]]:
            for w in range(max(t.first[u], t.rule_first[k]), min(weeks, t.rule_last[k] + 1)):
                p = use.where[u, w]
                if use.near[k, p, w] > 0:
                    found += 1
                    prices.near[k, p, w] += GAIN
    return found


@njit(cache=True)
def negotiate(t: Any, use: Any, prices: Any, press: float, rounds: int, state: Any) -> Any:
    """Route units until none clashes, or for so many rounds.

    Args:
        t: Tables.
        use: The plan so far, every unit in it; changed.
        prices: Prices so far; raised.
        press: Cost of a clash so far.
        rounds: Rounds at most.
        state: State of chance.

    Returns:
        Clashes left, the cost of a clash at the end, and the work done [steps].
    """
    units, weeks = use.where.shape
    places = len(t.clean)
    stay, clean = np.empty((places, weeks)), np.empty((places, weeks))
    room = scratch(places, weeks)
    order = np.arange(units)
    work, left = 0, 1
    for _ in range(rounds):
        shuffle(state, order, units)
        for u in order:
            if clashes(t, use, u) == 0 and below(state, STIR) > 0:
                continue
            put(t, use, u, -1)
            fill(t, use, prices, 1.0, press, u, stay, clean)
            work += path(t, u, stay, clean, room, use.where[u])[1]
            put(t, use, u, 1)
        left = _keep_rests(t, use, prices, press) + _raise_prices(t, use, prices)
        work += places * weeks
        if left == 0:
            break
        press = min(press * GROWTH, MOST_PRESS)
    return left, press, work


@njit(cache=True)
def _rests_stand(t: Any, use: Any, u: int) -> Any:
    """The first place that the row of `u`, counted in, leaves no weeks of rest; -1: none."""
    weeks = use.where.shape[1]
    for w in range(t.first[u], weeks):
        p = use.where[u, w]
        if t.rest[p] == 0 or (w > t.first[u] and use.where[u, w - 1] == p):
            continue
        stands = False
        for first in range(weeks - t.rest[p] + 1):
            if may_rest(t, use, p, first):
                stands = True
                break
        if not stands:
            return p
    return -1


@njit(cache=True)
def _insert(
    t: Any,
    use: Any,
    prices: Any,
    share: float,
    u: int,
    loose: float,
    stay: Any,
    clean: Any,
    room: Any,
    state: Any,
) -> Any:
    """Send `u`, counted out, through what the others leave, and count it in.

    Up to `loose` is added to each week of each place by chance: a unit that takes less than its
    best may leave more to those that are routed after it.
    Returns whether there was a way, and the work done. Where the cheapest way would leave a place
    no rest, some weeks of rest that are still free are chosen by chance and kept from it.
    """
    weeks = use.where.shape[1]
    fill(t, use, prices, share, BLOCKED, u, stay, clean)
    if loose > 0.0:
        for p in t.own[t.own_at[u] : t.own_at[u + 1]]:
            for w in range(weeks):
                stay[p, w] += loose * below(state, 1024) / 1024.0
    work = 0
    for _ in range(REST_TRIES):
        cost, steps = path(t, u, stay, clean, room, use.where[u])
        work += steps
        if cost >= BLOCKED:
            return False, work
        put(t, use, u, 1)
        p = _rests_stand(t, use, u)
        if p < 0:
            return True, work
        put(t, use, u, -1)
        span = weeks - t.rest[p] + 1
        first = below(state, span)
        for _ in range(span):
            if may_rest(t, use, p, first):
                break
            first = (first + 1) % span
        stay[p, first : first + t.rest[p]] = BLOCKED
    return False, work


@njit(cache=True)
def _take_out(
    t: Any, use: Any, prices: Any, out: Any, stay: Any, clean: Any, room: Any, state: Any
) -> Any:
    """Choose units and count them out; the first may already have a new way.

    Either any few, or one that takes the way it wishes and those whom it then stands in the way of.
    Returns how many are out (in `out`), whether the first is in again, and the work done.
    """
    units = use.where.shape[0]
    one = below(state, units)
    out[0] = one
    put(t, use, one, -1)
    if below(state, 3) == 0:
        count = 1 + below(state, min(MOST_OUT, units))
        for i in range(1, count):
            while True:
                other, known = below(state, units), False
                for j in range(i):
                    known = known or out[j] == other
                if not known:
                    break
            out[i] = other
            put(t, use, other, -1)
        return count, False, 0
    press = 0.5 * 2.0 ** below(state, 7)
    fill(t, use, prices, 0.0, press, one, stay, clean)
    for p in t.own[t.own_at[one] : t.own_at[one + 1]]:
        for w in range(stay.shape[1]):  # so that equals take turns
            stay[p, w] += 1e-3 * below(state, 1024)
    work = path(t, one, stay, clean, room, use.where[one])[1]
    put(t, use, one, 1)
    count = 1
    if clashes(t, use, one) > 0:
        start = below(state, units)
        for i in range(units):
            other = (start + i) % units
            if other == one or clashes(t, use, other) == 0:
                continue
            put(t, use, other, -1)
            out[count] = other
            count += 1
            if count == len(out):
                break
    return count, True, work


@njit(cache=True)
def replan(t: Any, use: Any, prices: Any, best: Any, heat: float, rounds: int, state: Any) -> Any:
    """Replan a few units at a time, so many times.

    Args:
        t: Tables.
        use: A clean plan; changed, and clean at the end.
        prices: Prices that say where a place is wanted; sometimes asked.
        best: Rows of the cheapest plan so far; overwritten by a cheaper one.
        heat: By how much a change may be dearer at times [cost].
        rounds: How often.
        state: State of chance.

    Returns:
        Cost of the cheapest plan seen here, and the work done [steps].
    """
    units, weeks = use.where.shape
    places = len(t.clean)
    stay, clean = np.empty((places, weeks)), np.empty((places, weeks))
    room = scratch(places, weeks)
    out = np.empty(MOST_OUT + 2, dtype=np.int64)
    old = np.empty((units, weeks), dtype=np.int64)
    use.rested[:] = 0
    cost, best_cost, work = 0.0, 0.0, 0
    for u in range(units):
        old[u] = use.where[u]
        cost += row_cost(t, u, use.where[u])
        best_cost += row_cost(t, u, best[u])
    for _ in range(rounds):
        count, placed, steps = _take_out(t, use, prices, out, stay, clean, room, state)
        work += steps + weeks * units // 4
        change, found, begun = 0.0, True, 0
        if placed:
            begun = 1
            found = clashes(t, use, out[0]) == 0 and _rests_stand(t, use, out[0]) < 0
        else:
            shuffle(state, out, count)
        share = 0.5 * below(state, 3)
        loose = 0.0
        if count > 1 and below(state, 2) == 0:
            loose = 2.0 ** below(state, 6)
        ready = begun  # how many of `out` are counted in
        if placed and count > 2:
            shuffle(state, out[1:], count - 1)
        while found and ready < count:
            give = loose if ready < count - 1 else 0.0
            found, steps = _insert(
                t, use, prices, share, out[ready], give, stay, clean, room, state
            )
            work += steps
            if found:
                ready += 1
        if found:
            for i in range(count):
                change += row_cost(t, out[i], use.where[out[i]]) - row_cost(t, out[i], old[out[i]])
        limit = HAIR
        if heat > 0.0:
            limit += heat * below(state, 1000) / 1000.0
        if found and change <= limit:
            cost += change
            for i in range(count):
                old[out[i]] = use.where[out[i]]
            if cost < best_cost - HAIR:
                best_cost = cost
                best[:] = use.where
            continue
        for i in range(count):
            if i < ready:
                put(t, use, out[i], -1)
            use.where[out[i]] = old[out[i]]
        for i in range(count):
            put(t, use, out[i], 1)
    return best_cost, work
