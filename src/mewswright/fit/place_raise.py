"""Prices on squares of ground, raised where pieces crowd: the compiled part of the bound.

Import this inside the function that needs it: compiling costs some seconds, once.
"""

from typing import Any

import numpy as np
from numba import njit

STALL = 12  # steps without gain until they are made shorter
SHORTER = 1.6
SHORTEST = 0.02
DRIFT = 0.6  # share of the last step that goes on


@njit(cache=True)
def _summed(price: Any, prefix: Any) -> float:
    """Sum the prices along each row of squares, and all of them."""
    taken = 0.0
    for y in range(price.shape[0]):
        told = 0.0
        for x in range(price.shape[1]):
            told += price[y, x]
            prefix[y, x + 1] = told
        taken += told
    return taken


@njit(cache=True)
def _filled(to: Any, what: Any, share: float, more: float) -> None:
    """Fill squares with a share of what other squares hold, and with more."""
    for y in range(to.shape[0]):
        for x in range(to.shape[1]):
            to[y, x] = share * what[y, x] + more


@njit(cache=True)
def _priced(prefix: Any, runs: Any, square: Any, heading: Any, cost: Any, nx: int, pad: int,
            first: int, last: int, out: Any) -> int:  # fmt: skip
    """Cost of candidates with the prices of the squares that they cover; where it is least."""
    low, where = np.inf, first
    rows = runs.shape[1]
    half = rows // 2
    for k in range(first, last):
        y, x = square[k] // nx + pad - half, square[k] % nx + pad
        h = heading[k]
        told = float(cost[k])
        for r in range(rows):
            a, b = runs[h, r, 0], runs[h, r, 1]
            if b >= a:
                told += prefix[y + r, x + b + 1] - prefix[y + r, x + a]
        out[k] = told
        if told < low:
            low, where = told, k
    return where


@njit(cache=True)
def raise_prices(price: Any, square: Any, heading: Any, cost: Any, starts: Any, counts: Any,
                 kind: Any, runs: Any, nx: int, pad: int, known: float, steps: int, size: float,
                 value: Any) -> Any:  # fmt: skip
    """Raise prices on the ground so that the bound on every plan grows (subgradient steps).

    Args:
        price: Price of each square, with a rim; holds the best at the end (rows, columns).
        square: Square of the middle of each candidate, group by group.
        heading: Its heading.
        cost: Its cost.
        starts: Where each group starts (groups + 1).
        counts: Pieces of each group.
        kind: Mark of each group: which of the stencils is its.
        runs: First and last column of each row that a heading of a mark covers, about its middle.
        nx: Squares in a row.
        pad: Width of the rim.
        known: Cost of a known plan.
        steps: Most steps.
        size: Length of a first step.
        value: Costs with the best prices go here.

    Returns:
        The best bound, and the sum of its prices.
    """
    groups = len(counts)
    ny, wide = price.shape
    prefix = np.zeros((ny, wide + 1))
    best_price = np.zeros((ny, wide))
    _filled(best_price, price, 1.0, 0.0)
    drift = np.zeros((ny, wide))
    crowd = np.zeros((ny, wide))
    best = -np.inf
    stalled = 0
    where = np.zeros(groups, np.int64)
    for _ in range(steps):
        taken = _summed(price, prefix)
        bound = -taken
        for g in range(groups):
            where[g] = _priced(
                prefix,
                runs[kind[g]],
                square,
                heading,
                cost,
                nx,
                pad,
                starts[g],
                starts[g + 1],
                value,
            )
            bound += counts[g] * value[where[g]]
        if bound > best + 0.5:
            stalled = 0
        else:
            stalled += 1
        if bound > best:
            best = bound
            _filled(best_price, price, 1.0, 0.0)
        if best > known - 1 + 1e-6:
            break
        if stalled >= STALL:
            size /= SHORTER
            stalled = 0
            _filled(price, best_price, 1.0, 0.0)
            _filled(drift, drift, 0.0, 0.0)
            if size < SHORTEST:
                break
            continue
        _filled(crowd, crowd, 0.0, -1.0)
        for g in range(groups):
            k = where[g]
            r = runs[kind[g]]
            half = r.shape[1] // 2
            y, x = square[k] // nx + pad - half, square[k] % nx + pad
            h = heading[k]
            for row in range(r.shape[1]):
                for c in range(x + r[h, row, 0], x + r[h, row, 1] + 1):
                    crowd[y + row, c] += counts[g]
        norm = 0.0
        for y in range(ny):
            for x in range(wide):
                way = crowd[y, x] if crowd[y, x] > 0 or price[y, x] > 0 else 0.0
                drift[y, x] = way + DRIFT * drift[y, x]
                norm += drift[y, x] * drift[y, x]
        if norm <= 0:
            break
        step = size * (known - bound) / norm
        for y in range(ny):
            for x in range(wide):
                price[y, x] = max(0.0, price[y, x] + step * drift[y, x])
    _filled(price, best_price, 1.0, 0.0)
    taken = _summed(price, prefix)
    for g in range(groups):
        _priced(
            prefix, runs[kind[g]], square, heading, cost, nx, pad, starts[g], starts[g + 1], value
        )
    return best, taken
