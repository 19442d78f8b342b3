"""All patterns that a cheaper plan could use, and so a proof where there are not too many.

With worths u (and rents of limited stock) that no pattern beats, a plan's cost is at least
D plus the reduced costs of its patterns, D being the bound. So a plan of cost at most T
uses only patterns whose reduced cost is at most T - D. All sums are in whole numbers.

Source:
    Reduced-cost enumeration of columns as in Baldacci, Christofides and Mingozzi,
    Mathematical Programming 115 (2008); the argument is linear-programming duality.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.knapsack import Table
from mewswright.build.cut.sawing import Counts, Sawing

MOST_STATES = 20_000_000  # partial patterns kept, all pieces together
BIG_SUFFIX = 24_000_000  # entries of the look-ahead table; above, a ratio bound is used


@dataclass(frozen=True)
class Worths:
    """Feasible duals in whole parts of a price unit."""

    piece: Counts
    rent: Counts
    parts: int
    total: int  # D * parts


def feasible_worths(
    sawing: Sawing, table: Table, worth: Counts, best: Counts, parts: int
) -> Worths:
    """Shrink worths until no bar of unlimited stock holds more worth than its price.

    Args:
        sawing: The problem.
        table: Its knapsack.
        worth: Any worths [1 / parts price unit].
        best: Best worth of a bar of each stock, for `worth`.
        parts: Parts in a price unit.
    """
    piece = worth
    for s in np.flatnonzero((sawing.available < 0) & (best > sawing.price * parts)):
        top, most = int(sawing.price[s]) * parts, int(best[s])
        piece = np.minimum(
            piece, np.array([int(w) * top // most for w in worth.tolist()], dtype=np.int64)
        )
    best = table.fill(piece, sawing.demand)
    rent = np.where(sawing.available < 0, 0, np.maximum(0, best - sawing.price * parts))
    total = sum(int(w) * int(d) for w, d in zip(piece, sawing.demand, strict=True))
    total -= sum(int(b) * int(r) for b, r in zip(sawing.available, rent, strict=True) if b >= 0)
    return Worths(piece, rent, parts, total)


def patterns_within(
    sawing: Sawing,
    worths: Worths,
    target: int,
    most: int,
    effort: Effort,
    maximal: bool = True,
) -> tuple[Counts, Counts] | None:
    """Patterns that a plan of cost at most `target` can use.

    Args:
        sawing: The problem.
        worths: Feasible duals.
        target: Highest cost of interest [price units].
        most: Patterns (and a few times as many partial ones) to give up at.
        effort: Charged for the work.
        maximal: Leave out patterns into which a piece more would fit.

    Returns:
        Stock of each pattern, and the patterns, one a row; None if there are too many.
    """
    gap = target * worths.parts - worths.total
    stocks: list[Counts] = []
    found: list[Counts] = []
    if gap < 0:
        return np.zeros(0, dtype=np.int64), np.zeros((0, len(sawing.size)), dtype=np.int64)
    order = np.argsort(-(worths.piece / sawing.size), kind="stable")
    ahead = _look_ahead(sawing, worths.piece, order, effort)
    for s in range(len(sawing.room)):
        if sawing.available[s] == 0:
            continue
        need = int(sawing.price[s]) * worths.parts + int(worths.rent[s]) - gap
        room = int(sawing.room[s])
        # What a cheaper or equal unlimited stock holds is not sawn from this one.
        floor = max(
            (
                int(sawing.room[t])
                for t in range(len(sawing.room))
                if sawing.available[t] < 0 and (sawing.price[t], t) < (sawing.price[s], s)
            ),
            default=-1,
        )
        here = _walk(sawing, worths.piece, order, ahead, room, need, floor, most, effort, maximal)
        if here is None:
            return None
        most -= len(here)
        found.append(here)
        stocks.append(np.full(len(here), s, dtype=np.int64))
    return np.concatenate(stocks), np.concatenate(found)


def _look_ahead(sawing: Sawing, worth: Counts, order: Counts, effort: Effort) -> Counts | None:
    """Best worth of pieces order[k:] in each room, row k; None where the table is too big."""
    width = int(sawing.room.max()) + 1
    if (len(order) + 1) * width > BIG_SUFFIX:
        return None
    rows = np.zeros((len(order) + 1, width), dtype=np.int64)
    for k in range(len(order) - 1, -1, -1):
        i = int(order[k])
        row = rows[k]
        row[:] = rows[k + 1]
        many, multiple = min(int(sawing.demand[i]), (width - 1) // int(sawing.size[i])), 1
        while many > 0:
            take = min(multiple, many)
            length = int(sawing.size[i]) * take
            np.maximum(row[length:], row[: width - length] + int(worth[i]) * take, out=row[length:])
            many -= take
            multiple *= 2
    effort.spend(len(order) * (10 + width * 0.006))
    return rows


def _walk(
    sawing: Sawing,
    worth: Counts,
    order: Counts,
    ahead: Counts | None,
    room: int,
    need: int,
    floor: int,
    most: int,
    effort: Effort,
    maximal: bool,
) -> Counts | None:
    """Patterns of one bar worth at least `need`, sum above `floor`; `maximal`: and full."""
    rest = np.array([room], dtype=np.int64)
    have = np.zeros(1, dtype=np.int64)
    shortest = np.minimum.accumulate(sawing.size[order][::-1])[::-1]
    roomy = np.full(1, room + 1, dtype=np.int64)  # shortest piece of which more could be cut
    layers: list[tuple[NDArray[np.int32], NDArray[np.int32]]] = []
    n = len(order)
    for k in range(n):
        i = int(order[k])
        size, gain = int(sawing.size[i]), int(worth[i])
        bound = np.minimum(int(sawing.demand[i]), rest // size)
        top = int(bound.max()) if len(bound) else 0
        parents, counts = [], []
        for j in range(top + 1):
            able = np.flatnonzero(bound >= j)
            left, got = rest[able] - j * size, have[able] + j * gain
            if ahead is not None:
                could = got + ahead[k + 1][left]
            elif k + 1 < n:
                nxt = int(order[k + 1])
                could = got + np.ceil(
                    left * (float(worth[nxt]) / float(sawing.size[nxt])) * (1 + 1e-12)
                ).astype(np.int64)
            else:
                could = got
            keep = could >= need
            # A pattern whose rest would still hold a piece it could have had is not maximal.
            short = roomy[able]
            if j < int(sawing.demand[i]):
                short = np.minimum(short, size)
            if not maximal:
                pass
            elif k + 1 < n:
                keep &= (left < short) | (left >= shortest[k + 1])
            else:
                keep &= left < short
            parents.append(able[keep])
            counts.append(np.full(int(keep.sum()), j, dtype=np.int64))
        parent = np.concatenate(parents)
        count = np.concatenate(counts)
        effort.spend(20 * (top + 1) + 0.05 * len(parent))
        if len(parent) > min(6 * most, MOST_STATES // n) or effort.used_up():
            return None
        layers.append((parent.astype(np.int32), count.astype(np.int32)))
        rest, have = rest[parent] - count * size, have[parent] + count * gain
        more = count < int(sawing.demand[i])
        roomy = np.where(more, np.minimum(roomy[parent], size), roomy[parent])
    keep = np.flatnonzero((have >= need) & (room - rest > floor))
    if len(keep) > most:
        return None
    pieces = np.zeros((len(keep), n), dtype=np.int64)
    at: NDArray[np.intp] = keep
    for k in range(n - 1, -1, -1):
        before, number = layers[k]
        pieces[:, int(order[k])] = number[at]
        at = before[at].astype(np.intp)
    return pieces


def rounded_up(value: int, sawing: Sawing, below: int) -> int:
    """The lowest cost, `value` or more, that any choice of bars can add up to.

    Args:
        value: Lower bound [price units].
        sawing: Prices and limits.
        below: A cost known to be possible; the answer is never above it.
    """
    if value >= below:
        return below
    if below > 4_000_000:
        return value
    mask = (1 << (below + 1)) - 1
    sums = 1
    for price, limit in zip(sawing.price.tolist(), sawing.available.tolist(), strict=True):
        if price == 0:
            continue
        many, multiple = below // price, 1
        many = many if limit < 0 else min(many, limit)
        while many > 0:
            take = min(multiple, many)
            sums |= (sums << (price * take)) & mask
            many -= take
            multiple *= 2
    rest = sums >> value
    return below if not rest else value + (rest & -rest).bit_length() - 1
