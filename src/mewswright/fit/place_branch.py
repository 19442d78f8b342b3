"""Branching through whole plans, compiled: depth first, the cheapest candidates first.

Import this inside the function that needs it: compiling costs some seconds, once.
"""

from typing import Any

import numpy as np
from numba import njit

from mewswright.fit.place_kernel import copied, fits

SMALL = 1e-6
NEVER = 1e15


@njit(cache=True)
def _ahead(k: int, i: int, of: Any, group: Any, g: int) -> int:
    """The first candidate that a later piece can still take: alike ones go in one order."""
    return int(max(of[k], i + 1) if group[k] == g else of[k])


@njit(cache=True)
def branch(best: Any, taken: float, value: Any, weight: Any, group: Any, starts: Any, cand: Any,
           rules: Any, limit: int, looks: int) -> Any:  # fmt: skip
    """Look for a plan that costs less than a limit.

    Args:
        best: Candidate of each piece; overwritten where a cheaper plan is found (pieces,).
        taken: What is taken off every sum of values: the sum of the prices of the ground.
        value: Cost of each candidate with the prices of its ground, rising in each group.
        weight: Its true cost.
        group: Group of each piece; pieces of one group follow each other (pieces,).
        starts: Where each group starts in the list (groups + 1,).
        cand: The candidates.
        rules: What two candidates are held against.
        limit: Cost that a plan must stay below.
        looks: Most candidates to look at.

    Returns:
        Cost of the best plan found, or the limit; 1 if all was looked at, else 0.
    """
    n = len(group)
    state = np.empty(n, np.int64)
    for k in range(n):
        state[k] = -1
    out = np.zeros(n, np.bool_)
    at = np.zeros(n, np.int64)
    floor = np.zeros(n + 1)  # value of what is set down, by depth
    ahead = np.zeros((n + 1, n), np.int64)  # first candidate that still fits, by depth and piece
    for k in range(n):
        ahead[0, k] = starts[group[k]]
    at[0] = ahead[0, 0]
    seen, depth = 0, 0
    while depth >= 0:
        g = group[depth]
        deeper = False
        while at[depth] < starts[g + 1]:
            i = at[depth]
            at[depth] += 1
            seen += 1
            if seen > looks:
                return limit, 0
            # What follows is at least this dear: the rest in their cheapest places that fit.
            rest = 0.0
            for k in range(depth + 1, n):
                j = _ahead(k, i, ahead[depth], group, g)
                rest += value[j] if j < starts[group[k] + 1] else NEVER
            if floor[depth] + value[i] + rest - taken > limit - 1 + SMALL:
                break  # dearer ones follow
            if not fits(i, depth, state, group, out, cand, rules):
                continue
            state[depth] = i
            floor[depth + 1] = floor[depth] + value[i]
            if depth == n - 1:
                cost = 0
                for q in range(n):
                    cost += weight[state[q]]
                if cost < limit:
                    limit = cost
                    copied(best, state)
                state[depth] = -1
                continue
            # Where the others can still go; stop as soon as that is too dear.
            rest = 0.0
            dead = False
            for k in range(depth + 1, n):
                j = _ahead(k, i, ahead[depth], group, g)
                end = starts[group[k] + 1]
                while j < end and not dead:
                    if floor[depth + 1] + rest + value[j] - taken > limit - 1 + SMALL:
                        dead = True
                        break
                    seen += 1
                    if fits(j, k, state, group, out, cand, rules):
                        break
                    j += 1
                if dead or j >= end:
                    dead = True
                    break
                ahead[depth + 1, k] = j
                rest += value[j]
            if dead or floor[depth + 1] + rest - taken > limit - 1 + SMALL:
                state[depth] = -1
                continue
            depth += 1
            at[depth] = ahead[depth, depth]
            deeper = True
            break
        if deeper:
            continue
        depth -= 1
        if depth >= 0:
            state[depth] = -1
    return limit, 1
