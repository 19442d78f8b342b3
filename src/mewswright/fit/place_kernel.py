"""The compiled heart of `place`: whether two pieces meet; ruin and rebuild.

Import this inside the function that needs it: compiling costs some seconds, once. Compiled code is
kept on disk.

Candidates of all groups lie in one list, the cheapest of each group first: east, north, heading.
Distances are metres, costs whole hundredths of a point. Two pieces meet where their outlines, each
grown by its part of the way that must stay between them, overlap: separating axes, exact for
turned rectangles whose grown corners stay square.

`rules` is what two candidates are held against: cosine, sine and angle of each heading; half
width and half depth of each group; by how much one group is grown against another; which groups
must not see each other; turns of the open sides of each group, and how many; range of sight.
"""

from typing import Any

import numpy as np
from numba import njit

HAIR = 1e-7
MISSING = 10_000_000  # cost of a piece that finds no place: more than any plan costs
MOST_OUT = 5  # pieces taken out at a time
NEARBY = 0.6  # share of turns in which neighbours are taken out together
NOISE = 0.25  # share of cheap candidates passed over, in some turns


@njit(cache=True)
def meet(one: Any, cos1: float, sin1: float, w1: float, d1: float,
         two: Any, cos2: float, sin2: float, w2: float, d2: float) -> bool:  # fmt: skip
    """Whether two turned rectangles overlap, from middle, bearing of the front and half sizes."""
    dx, dy = two[0] - one[0], two[1] - one[1]
    away2 = dx * dx + dy * dy
    reach = np.sqrt(w1 * w1 + d1 * d1) + np.sqrt(w2 * w2 + d2 * d2)
    if away2 >= reach * reach:
        return False
    near = min(w1, d1) + min(w2, d2) - HAIR
    if away2 < near * near:
        return True
    # Right of it is (-cos, sin), behind it (-sin, -cos).
    uu = abs(cos1 * cos2 + sin1 * sin2)  # between both rights, and both backs
    uv = abs(cos1 * sin2 - sin1 * cos2)
    if abs(-dx * cos1 + dy * sin1) >= w1 + w2 * uu + d2 * uv - HAIR:
        return False
    if abs(-dx * sin1 - dy * cos1) >= d1 + w2 * uv + d2 * uu - HAIR:
        return False
    if abs(-dx * cos2 + dy * sin2) >= w2 + w1 * uu + d1 * uv - HAIR:
        return False
    return not abs(-dx * sin2 - dy * cos2) >= d2 + w1 * uv + d1 * uu - HAIR


@njit(cache=True)
def before(dx: float, dy: float, bearing: float, turns: Any, many: int) -> bool:
    """Whether a spot so far off lies before an open side; with none it is open all round."""
    if many == 0:
        return True
    for i in range(many):
        way = bearing + turns[i]
        if dx * np.sin(way) + dy * np.cos(way) > 0:
            return True
    return False


@njit(cache=True)
def clash(one: Any, a: int, two: Any, b: int, rules: Any) -> bool:
    """Whether a candidate of group a and one of group b exclude each other."""
    trig, size, grow, fear, turns, many, sight = rules
    h1, h2 = int(one[2]), int(two[2])
    g1, g2 = grow[a, b], grow[b, a]
    if meet(one, trig[h1, 0], trig[h1, 1], size[a, 0] + g1, size[a, 1] + g1,
            two, trig[h2, 0], trig[h2, 1], size[b, 0] + g2, size[b, 1] + g2):  # fmt: skip
        return True
    if fear[a, b]:
        dx, dy = two[0] - one[0], two[1] - one[1]
        if (
            dx * dx + dy * dy <= sight * sight
            and before(dx, dy, trig[h1, 2], turns[a], many[a])
            and before(-dx, -dy, trig[h2, 2], turns[b], many[b])
        ):
            return True
    return False


@njit(cache=True)
def fits(i: int, p: int, state: Any, group: Any, out: Any, cand: Any, rules: Any) -> bool:
    """Whether a candidate of piece p meets none of the pieces that are set down and stay."""
    for q in range(len(state)):
        if q == p or state[q] < 0 or out[q]:
            continue
        if clash(cand[i], group[p], cand[state[q]], group[q], rules):
            return False
    return True


@njit(cache=True)
def still_open(p: int, first: int, last: int, dearest: int, state: Any, group: Any, out: Any,
               cand: Any, cost: Any, rules: Any) -> Any:  # fmt: skip
    """Candidates of piece p, in order, that meet no piece that stays and are not too dear."""
    found = np.empty(last - first, np.int64)
    many = 0
    for i in range(first, last):
        if cost[i] > dearest:
            break
        if fits(i, p, state, group, out, cand, rules):
            found[many] = i
            many += 1
    return found[:many]


@njit(cache=True)
def total(state: Any, cost: Any) -> int:
    """Cost of a state, pieces without place included."""
    told = 0
    for q in range(len(state)):
        told += MISSING if state[q] < 0 else cost[state[q]]
    return told


@njit(cache=True)
def copied(to: Any, what: Any) -> None:
    """Copy a row of numbers."""
    for q in range(len(what)):
        to[q] = what[q]


@njit(cache=True)
def _chosen_out(trial: Any, many: int, cand: Any, first: int) -> Any:
    """The pieces to take out: those without place, one by chance, and others, near it or not."""
    n = len(trial)
    away = np.empty(n)
    for q in range(n):
        away[q] = np.random.random()
    if np.random.random() < NEARBY and trial[first] >= 0:
        for q in range(n):
            if trial[q] >= 0:
                dx = cand[trial[q], 0] - cand[trial[first], 0]
                dy = cand[trial[q], 1] - cand[trial[first], 1]
                away[q] = np.sqrt(dx * dx + dy * dy) * (0.7 + 0.6 * away[q])
    away[first] = -1.0
    for q in range(n):
        if trial[q] < 0:
            away[q] = -0.5 + 0.1 * np.random.random()
    picks = np.empty(many, np.int64)
    for k in range(many):  # sorting would take longer to compile than to do
        least = 0
        for q in range(n):
            if away[q] < away[least]:
                least = q
        picks[k] = least
        away[least] = np.inf
    for k in range(many - 1, 0, -1):
        m = int(np.random.random() * (k + 1))
        picks[k], picks[m] = picks[m], picks[k]
    return picks


@njit(cache=True)
def rebuild(best: Any, rounds: int, seed: int, group: Any, starts: Any, cand: Any, cost: Any,
            rules: Any, heat: float) -> int:  # fmt: skip
    """Ruin and rebuild: take out some pieces and set them down anew, cheapest first.

    Args:
        best: Candidate of each piece, -1 for none; holds the best at the end (pieces,).
        rounds: How many times.
        seed: Of the chances.
        group: Group of each piece (pieces,).
        starts: Where each group starts in the list (groups + 1,).
        cand: The candidates.
        cost: Their costs.
        rules: What two candidates are held against.
        heat: Cost by which a step may be worse at first; cools to nothing.

    Returns:
        The cost of the best.
    """
    np.random.seed(seed)
    n = len(best)
    state, trial = np.empty(n, np.int64), np.empty(n, np.int64)
    copied(state, best)
    out = np.zeros(n, np.bool_)
    found = total(best, cost)
    now = found
    for turn in range(rounds):
        warm = heat * (1.0 - turn / rounds)
        copied(trial, state)
        many = 1 + int(np.random.random() * min(n, MOST_OUT))
        picks = _chosen_out(trial, many, cand, int(np.random.random() * n))
        for p in picks:
            trial[p] = -1
        noise = 0.0 if np.random.random() < 0.4 else NOISE
        cap = now + warm + 1
        spent = 0
        for q in range(n):
            if trial[q] >= 0:
                spent += cost[trial[q]]
        lost = False
        for p in picks:
            chosen = -1
            for i in range(starts[group[p]], starts[group[p] + 1]):
                if spent + cost[i] > cap and cap < MISSING:
                    break
                if noise > 0 and np.random.random() < noise:
                    continue
                if fits(i, p, trial, group, out, cand, rules):
                    chosen = i
                    break
            trial[p] = chosen
            spent += MISSING if chosen < 0 else cost[chosen]
            if chosen < 0 and cap < MISSING:
                lost = True
                break
        if lost:
            continue
        value = total(trial, cost)
        if value <= now + warm * np.random.random():
            copied(state, trial)
            now = value
            if value < found:
                found = value
                copied(best, trial)
    return found
