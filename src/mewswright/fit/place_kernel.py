"""The compiled heart of `place`: do two pieces meet, sweep, ruin and rebuild, branch, bound.

Candidates of all marks lie in one list, the cheapest of each mark first. Rows of a piece:
half width, half depth. Distances are metres, costs whole hundredths of a point. Two pieces meet
where their outlines, each grown by its part of the way that must stay between them, overlap:
separating axes, exact for turned rectangles whose grown corners stay square.
"""

import numpy as np
from numba import njit

HAIR = 1e-7
MISSING = 10_000_000  # cost of a piece that finds no place: more than any plan costs


@njit(cache=True)
def meet(xa, ya, ca, sa, wa, da, xb, yb, cb, sb, wb, db, ga, gb):  # type: ignore[no-untyped-def]
    """Whether two turned rectangles, grown by ga and gb, overlap; c, s of a front's bearing."""
    dx, dy = xb - xa, yb - ya
    wa, da, wb, db = wa + ga, da + ga, wb + gb, db + gb
    away2 = dx * dx + dy * dy
    reach = np.sqrt(wa * wa + da * da) + np.sqrt(wb * wb + db * db)
    if away2 >= reach * reach:
        return False
    near = min(wa, da) + min(wb, db) - HAIR
    if away2 < near * near:
        return True
    # Right of a is (-c, s), behind it (-s, -c), with c the cosine and s the sine of its bearing.
    uu = abs(ca * cb + sa * sb)  # between both rights, and both backs
    uv = abs(ca * sb - sa * cb)
    if abs(-dx * ca + dy * sa) >= wa + wb * uu + db * uv - HAIR:
        return False
    if abs(-dx * sa - dy * ca) >= da + wb * uv + db * uu - HAIR:
        return False
    if abs(-dx * cb + dy * sb) >= wb + wa * uu + da * uv - HAIR:
        return False
    return not abs(-dx * sb - dy * cb) >= db + wa * uv + da * uu - HAIR


@njit(cache=True)
def before(dx, dy, bearing, turns, n):  # type: ignore[no-untyped-def]
    """Whether a spot so far off lies before an open side; with none it is open all round."""
    if n == 0:
        return True
    for i in range(n):
        way = bearing + turns[i]
        if dx * np.sin(way) + dy * np.cos(way) > 0:
            return True
    return False


@njit(cache=True)
def clash(i, ta, j, tb, cand, trig, size, gap, fear, turns, nturn, sight):  # type: ignore[no-untyped-def]
    """Whether two candidates of two marks exclude each other."""
    ha, hb = int(cand[i, 2]), int(cand[j, 2])
    if meet(
        cand[i, 0], cand[i, 1], trig[ha, 0], trig[ha, 1], size[ta, 0], size[ta, 1],
        cand[j, 0], cand[j, 1], trig[hb, 0], trig[hb, 1], size[tb, 0], size[tb, 1], gap[ta, tb],
        gap[tb, ta],
    ):  # fmt: skip
        return True
    if fear[ta, tb]:
        dx, dy = cand[j, 0] - cand[i, 0], cand[j, 1] - cand[i, 1]
        if (
            dx * dx + dy * dy <= sight * sight
            and before(dx, dy, trig[ha, 2], turns[ta], nturn[ta])
            and before(-dx, -dy, trig[hb, 2], turns[tb], nturn[tb])
        ):
            return True
    return False


@njit(cache=True)
def _fits(i, p, state, mark, skip, cand, trig, size, gap, fear, turns, nturn, sight):  # type: ignore[no-untyped-def]
    """Whether a candidate of piece p meets none of the pieces that are set down."""
    for q in range(len(state)):
        if q == p or state[q] < 0 or skip[q]:
            continue
        if clash(i, mark[p], state[q], mark[q], cand, trig, size, gap, fear, turns, nturn, sight):
            return False
    return True


@njit(cache=True)
def total(state, cost):  # type: ignore[no-untyped-def]
    """Cost of a state, pieces without place included."""
    told = 0
    for q in range(len(state)):
        told += MISSING if state[q] < 0 else cost[state[q]]
    return told


@njit(cache=True)
def rebuild(
    best, rounds, seed, mark, start, cand, cost, trig, size, gap, fear, turns, nturn, sight, heat
):  # type: ignore[no-untyped-def]
    """Ruin and rebuild: take out some pieces, near each other or not, and set them down anew.

    Args:
        best: Candidate of each piece, -1 for none; holds the best at the end (pieces,).
        rounds: How many times.
        seed: Of the chances.
        heat: Cost by which a step may be worse at first; cools to nothing.

    Returns:
        The cost of the best.
    """
    np.random.seed(seed)
    n = len(best)
    state = best.copy()
    skip = np.zeros(n, np.bool_)
    found = total(best, cost)
    now = found
    order = np.arange(n)
    trial = state.copy()
    for turn in range(rounds):
        trial[:] = state
        many = 1 + int(np.random.random() * min(n, 5))
        first = int(np.random.random() * n)
        away = np.random.random(n)
        if np.random.random() < 0.6 and state[first] >= 0:
            for q in range(n):
                if state[q] >= 0:
                    dx = cand[state[q], 0] - cand[state[first], 0]
                    dy = cand[state[q], 1] - cand[state[first], 1]
                    away[q] = np.sqrt(dx * dx + dy * dy) * (0.7 + 0.6 * away[q])
        away[first] = -1.0
        for q in range(n):
            if trial[q] < 0:
                away[q] = -0.5 + 0.1 * np.random.random()
        order = np.argsort(away)
        for k in range(many):
            trial[order[k]] = -1
        picks = order[:many].copy()
        for k in range(many - 1, 0, -1):
            m = int(np.random.random() * (k + 1))
            picks[k], picks[m] = picks[m], picks[k]
        noise = 0.0 if np.random.random() < 0.4 else 0.25
        cap = now + heat * (1.0 - turn / rounds) + 1
        spent = 0
        for q in range(n):
            if trial[q] >= 0:
                spent += cost[trial[q]]
        lost = False
        for k in range(many):
            p = picks[k]
            t = mark[p]
            chosen = -1
            for i in range(start[t], start[t + 1]):
                if spent + cost[i] > cap and cap < MISSING:
                    break
                if noise > 0 and np.random.random() < noise:
                    continue
                if _fits(i, p, trial, mark, skip, cand, trig, size, gap, fear, turns, nturn, sight):
                    chosen = i
                    break
            trial[p] = chosen
            if chosen < 0:
                spent += MISSING
                if cap < MISSING:
                    lost = True
                    break
            else:
                spent += cost[chosen]
        if lost:
            continue
        value = total(trial, cost)
        if value <= now + heat * (1.0 - turn / rounds) * np.random.random():
            state[:] = trial
            now = value
            if value < found:
                found = value
                best[:] = trial
    return found


@njit(cache=True)
def still_open(p, first, last, dearest, state, mark, skip, cand, cost, trig, size, gap, fear, turns,
               nturn, sight):  # type: ignore[no-untyped-def]
    """Candidates of piece p, in order, that meet no piece that stays and are not too dear."""
    found = np.empty(last - first, np.int64)
    many = 0
    for i in range(first, last):
        if cost[i] > dearest:
            break
        if _fits(i, p, state, mark, skip, cand, trig, size, gap, fear, turns, nturn, sight):
            found[many] = i
            many += 1
    return found[:many]


@njit(cache=True)
def branch(
    best, bound_of, value, weight, order, mark, start, cand, trig, size, gap, fear, turns, nturn,
    sight, limit, nodes,
):  # type: ignore[no-untyped-def]
    """Depth first over whole plans, the cheapest candidates first; pieces alike in one order.

    Args:
        best: Candidate of each piece; overwritten where a cheaper plan is found (pieces,).
        bound_of: What is taken off every sum of values: the sum of the prices of the ground.
        value: Cost of each candidate with the prices of its ground, rising in each mark.
        weight: True cost of each candidate.
        order: Order in which pieces are set down; pieces of one mark follow each other.
        limit: Cost that a plan must stay below.
        nodes: Most candidates to look at.

    Returns:
        Cost of the best plan found below the limit, or the limit; 1 if all was looked at, else 0;
        candidates looked at.
    """
    n = len(order)
    state = np.full(n, -1, np.int64)
    at = np.zeros(n, np.int64)
    skip = np.zeros(n, np.bool_)
    floor = np.zeros(n + 1)  # value of what is set down, by depth
    seen = 0
    depth = 0
    at[0] = start[mark[order[0]]]
    ahead = np.zeros((n, n), np.int64)  # first candidate that still fits, by depth and piece
    for k in range(n):
        ahead[0, k] = start[mark[order[k]]]
    while depth >= 0:
        p = order[depth]
        t = mark[p]
        moved = False
        while at[depth] < start[t + 1]:
            i = at[depth]
            at[depth] += 1
            seen += 1
            if seen > nodes:
                return limit, 0, seen
            # What follows is at least this dear: the rest in their cheapest places that fit.
            rest = 0.0
            for k in range(depth + 1, n):
                rest += value[max(ahead[depth, k], i + 1 if mark[order[k]] == t else 0)] if (
                    max(ahead[depth, k], i + 1 if mark[order[k]] == t else 0)
                    < start[mark[order[k]] + 1]) else 1e15
            if floor[depth] + value[i] + rest - bound_of > limit - 1 + 1e-6:
                at[depth] = start[t + 1]  # dearer ones follow
                break
            if not _fits(i, p, state, mark, skip, cand, trig, size, gap, fear, turns, nturn, sight):
                continue
            state[p] = i
            if depth == n - 1:
                cost = 0
                for q in range(n):
                    cost += weight[state[q]]
                if cost < limit:
                    limit = cost
                    best[:] = state
                state[p] = -1
                continue
            floor[depth + 1] = floor[depth] + value[i]
            # Where the others can still go; stop as soon as that is too dear.
            rest = 0.0
            dead = False
            for k in range(depth + 1, n):
                q = order[k]
                j = ahead[depth, k]
                if mark[q] == t:
                    j = max(j, i + 1)
                while j < start[mark[q] + 1]:
                    if floor[depth + 1] + rest + value[j] - bound_of > limit - 1 + 1e-6:
                        dead = True
                        break
                    seen += 1
                    if _fits(j, q, state, mark, skip, cand, trig, size, gap, fear, turns, nturn,
                             sight):
                        break
                    j += 1
                if dead or j >= start[mark[q] + 1]:
                    dead = True
                    break
                ahead[depth + 1, k] = j
                rest += value[j]
            if dead or floor[depth + 1] + rest - bound_of > limit - 1 + 1e-6:
                state[p] = -1
                continue
            depth += 1
            at[depth] = ahead[depth, depth]
            moved = True
            break
        if moved:
            continue
        at[depth] = 0
        depth -= 1
        if depth >= 0:
            state[order[depth]] = -1
    return limit, 1, seen


@njit(cache=True)
def _priced(prefix, runs, square, heading, cost, nx, pad, first, last, out):  # type: ignore[no-untyped-def]
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
def raise_prices(
    price, square, heading, cost, starts, counts, kind, runs, nx, pad, known, base, steps, size,
    value,
):  # type: ignore[no-untyped-def]
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
        base: Cost of what is set down already.
        steps: Most steps.
        size: Length of a first step.
        value: Costs with the best prices go here.

    Returns:
        The best bound, and the sum of its prices.
    """
    groups = len(counts)
    ny, wide = price.shape
    prefix = np.zeros((ny, wide + 1))
    best_price = price.copy()
    drift = np.zeros_like(price)
    crowd = np.zeros(price.shape)
    best = -np.inf
    stalled = 0
    where = np.zeros(groups, np.int64)
    for _ in range(steps):
        taken = 0.0
        for y in range(ny):
            told = 0.0
            for x in range(wide):
                told += price[y, x]
                prefix[y, x + 1] = told
            taken += told
        bound = base - taken
        for g in range(groups):
            where[g] = _priced(prefix, runs[kind[g]], square, heading, cost, nx, pad, starts[g],
                               starts[g + 1], value)
            bound += counts[g] * value[where[g]]
        if bound > best + 0.5:
            stalled = 0
        else:
            stalled += 1
        if bound > best:
            best = bound
            best_price[:] = price
        if best > known - 1 + 1e-6:
            break
        if stalled >= 12:
            size /= 1.6
            stalled = 0
            price[:] = best_price
            drift[:] = 0.0
            if size < 0.02:
                break
            continue
        crowd[:] = -1.0
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
                drift[y, x] = way + 0.6 * drift[y, x]
                norm += drift[y, x] * drift[y, x]
        if norm <= 0:
            break
        step = size * (known - bound) / norm
        for y in range(ny):
            for x in range(wide):
                price[y, x] = max(0.0, price[y, x] + step * drift[y, x])
    price[:] = best_price
    taken = 0.0
    for y in range(ny):
        told = 0.0
        for x in range(wide):
            told += price[y, x]
            prefix[y, x + 1] = told
        taken += told
    for g in range(groups):
        _priced(prefix, runs[kind[g]], square, heading, cost, nx, pad, starts[g], starts[g + 1],
                value)
    return best, taken
