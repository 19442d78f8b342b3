"""The cheapest itinerary of one unit, given what each week in each place would cost it.

A shortest path over (week, place, length of the stay so far): a stay of every allowed length is
tried from every week and place, so the work is weeks times places times longest stay. What other
units do comes in only as costs: of living in a place, and of leaving it uncleaned behind.
Compiled on first use.
"""

from typing import Any

import numpy as np
from numba import njit

from mewswright.year.tables import BLOCKED


@njit(cache=True)
def scratch(places: int, weeks: int) -> Any:
    """Room for one shortest path: costs, and the way back."""
    return np.empty((3, places, weeks + 1)), np.empty((2, places, weeks + 1), dtype=np.int64)


@njit(cache=True)
def _from(t: Any, u: int, p: int, w: int, cost: float, stay: Any, left: Any, room: Any) -> Any:
    """Try every length of the stay of `u` that begins in place `p` in week `w`.

    Returns the cost to the end of the plan (`BLOCKED`: not reached) and the work done.
    """
    reach, length = room[0][1], room[1][0]
    weeks = stay.shape[1]
    longest, shortest = t.most[u], t.least[u]
    if w == t.first[u]:
        shortest = 1
        if t.entry_weeks[u] > 0:
            shortest = longest = t.entry_weeks[u]
    for n in range(1, longest + 1):
        v = w + n - 1
        cost += stay[p, v]
        if cost >= BLOCKED:
            return BLOCKED, n
        if v + 1 == weeks:
            return cost, n
        if n >= shortest and t.may_leave[u, v + 1]:
            gone = cost + left[p, v + 1]
            if gone < reach[p, v + 1]:
                reach[p, v + 1] = gone
                length[p, v + 1] = n
    return BLOCKED, longest


@njit(cache=True)
def path(t: Any, u: int, stay: Any, clean: Any, room: Any, row: Any) -> Any:
    """Write the cheapest itinerary of `u` into `row`.

    Args:
        t: Tables of the instance.
        u: Unit.
        stay: Cost of each week (place, week); read only where `u` may live.
        clean: Cost of keeping a place empty for cleaning (place, week); read likewise.
        room: Scratch of `scratch`.
        row: Place of each week, -1 before the arrival; left as it is where there is no way.

    Returns:
        Its cost, `BLOCKED` or more where there is no way; and the work done [steps].
    """
    (start, reach, left), (length, came) = room
    weeks = stay.shape[1]
    first, work = t.first[u], 0
    places = t.own[t.own_at[u] : t.own_at[u + 1]]
    entries = t.entry[t.entry_at[u] : t.entry_at[u + 1]]
    isolated = t.entry_weeks[u] > 0
    for group in range(2):
        for p in places if group == 0 else entries:
            for w in range(first, weeks):
                reach[p, w] = BLOCKED
                total = t.move_cost[u]
                for v in range(w, min(w + t.clean[p], weeks)):
                    total += clean[p, v]
                left[p, w] = total
    best, at, ends = BLOCKED, -1, 0
    for p in entries if isolated else places:
        cost, steps = _from(t, u, p, first, 0.0, stay, left, room)
        work += steps
        start[p, first] = 0.0
        if cost < best:
            best, at, ends = cost, p, first
    for w in range(first + 1, weeks):
        # The two cheapest places to come from: nobody moves to where it is.
        one, other, one_cost, other_cost = -1, -1, BLOCKED, BLOCKED
        for group in range(2):
            for p in places if group == 0 else entries:
                if reach[p, w] < one_cost:
                    other, other_cost = one, one_cost
                    one, one_cost = p, reach[p, w]
                elif reach[p, w] < other_cost:
                    other, other_cost = p, reach[p, w]
        if one < 0:
            continue
        for p in places:
            came[p, w] = one if one != p else other
            start[p, w] = one_cost if one != p else other_cost
            if start[p, w] >= BLOCKED:
                continue
            cost, steps = _from(t, u, p, w, start[p, w], stay, left, room)
            work += steps
            if cost < best:
                best, at, ends = cost, p, w
    if best < BLOCKED:
        for w in range(first):
            row[w] = -1
        after = weeks
        while True:
            for w in range(ends, after):
                row[w] = at
            if ends == first:
                break
            after, at = ends, came[at, ends]
            ends = after - length[at, after]
    return best, work + weeks
