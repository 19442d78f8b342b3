"""Quick plans: bar after bar, each as full as it can be.

Source:
    First-fit decreasing and its kin: Johnson et al., SIAM Journal on Computing 3 (1974).
    Filling each bar fully in turn: Gupta and Ho's minimum bin slack idea, Production
    Planning and Control 10 (1999), here with an exact subset sum.
"""

from __future__ import annotations

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.sawing import Bars, Counts, Sawing

WIDEST_SUBSET = 3_000_000  # rooms wider than this are filled largest first instead


def largest_first(size: Counts, left: Counts, room: int, first: int) -> Counts:
    """Fill a room with piece `first`, then with the largest that still fits, and so on."""
    pieces = np.zeros(len(size), dtype=np.int64)
    for i in range(first, len(size)):
        if left[i] and size[i] <= room:
            pieces[i] = min(int(left[i]), room // int(size[i]))
            room -= int(pieces[i] * size[i])
    return pieces


def fullest(size: Counts, left: Counts, room: int, first: int, order: list[int]) -> Counts:
    """Fill a room as far as it goes, piece `first` among the filling.

    Args:
        size: Piece sizes.
        left: Pieces still to be cut.
        room: Room of the bar.
        first: A piece that must be in.
        order: Pieces in rising preference: among equally full patterns the last of them
            that can be used are used.
    """
    pieces = np.zeros(len(size), dtype=np.int64)
    pieces[first] = 1
    room -= int(size[first])
    mask = (1 << (room + 1)) - 1
    reach = 1
    steps: list[tuple[int, int, int]] = []
    for i in order:
        length, many, multiple = int(size[i]), int(left[i]) - int(i == first), 1
        many = min(many, room // length)
        while many > 0:
            take = min(multiple, many)
            steps.append((i, take, reach))
            reach |= (reach << (length * take)) & mask
            many -= take
            multiple *= 2
    at = reach.bit_length() - 1
    for i, take, before in reversed(steps):
        if not before >> at & 1:
            at -= int(size[i]) * take
            pieces[i] += take
    return pieces


def cheapest_holding(sawing: Sawing, used: int, available: Counts) -> int | None:
    """The cheapest stock (then the shortest) that holds `used` and has not run out."""
    fits = [
        (int(sawing.price[s]), int(sawing.room[s]), s)
        for s in range(len(sawing.room))
        if sawing.room[s] >= used and available[s] != 0
    ]
    return min(fits)[2] if fits else None


def greedy_plan(
    sawing: Sawing,
    demand: Counts,
    available: Counts,
    effort: Effort,
    rng: np.random.Generator | None = None,
    exact_fill: bool = True,
    most_cost: int | None = None,
) -> tuple[list[Bars], Counts]:
    """Saw bar after bar, each the cheapest for what it holds.

    Args:
        sawing: The problem.
        demand: Pieces wanted.
        available: Bars available, -1 for no limit.
        effort: Charged for the work.
        rng: Shakes the choices; None: none are shaken.
        exact_fill: Fill by subset sum; else largest first.
        most_cost: Give up once the plan costs more.

    Returns:
        The bars, and the pieces that found no bar. Filling largest first, it never stops for
        want of effort, so that there always is a plan.
    """
    left, available = demand.copy(), available.copy()
    plan: list[Bars] = []
    cost = 0
    size = sawing.size
    lost = np.zeros_like(left)
    exact_fill = exact_fill and int(sawing.room.max()) <= WIDEST_SUBSET
    order = list(range(len(size) - 1, -1, -1))
    while left.any():
        if exact_fill and effort.used_up():
            return plan, lost + left
        wanted = np.flatnonzero(left)
        first = int(wanted[0])
        if rng is not None:
            keys = size * (1 + 0.25 * rng.random(len(size)))
            order = np.argsort(keys, kind="stable").tolist()
        best: tuple[float, int, Counts] | None = None
        for s in range(len(sawing.room)):
            if available[s] == 0 or sawing.room[s] < size[first]:
                continue
            room = int(sawing.room[s])
            if exact_fill:
                live = [i for i in order if left[i] and size[i] <= room]
                pieces = fullest(size, left, room, first, live)
                effort.spend(5 + len(live) * (1 + room * 2e-5))
            else:
                pieces = largest_first(size, left, room, first)
                effort.spend(5 + 0.3 * len(wanted))
            rate = float(sawing.price[s]) / float(pieces @ size)
            if rng is not None and len(sawing.room) > 1:
                rate *= 1 + 0.05 * rng.random()
            if best is None or rate < best[0]:
                best = (rate, s, pieces)
        if best is None:
            lost[first] = left[first]
            left[first] = 0
            continue
        pieces = best[2]
        cheapest = cheapest_holding(sawing, int(pieces @ size), available)
        s = best[1] if cheapest is None else cheapest
        used = np.flatnonzero(pieces)
        count = int((left[used] // pieces[used]).min())
        if rng is not None:
            count = min(count, 1 + int(rng.integers(count)))
        if available[s] > 0:
            count = min(count, int(available[s]))
            available[s] -= count
        left -= count * pieces
        plan.append(Bars(s, pieces, count))
        cost += count * int(sawing.price[s])
        if most_cost is not None and cost > most_cost:
            return plan, lost + left
    return plan, lost


def tidy(sawing: Sawing, plan: list[Bars]) -> list[Bars]:
    """Drop pieces beyond the demand, then move each bar to the cheapest stock that holds it.

    A bar left empty is dropped. Equal bars are joined.
    """
    over = sum((b.count * b.pieces for b in plan), np.zeros_like(sawing.demand)) - sawing.demand
    single: list[tuple[int, Counts, int]] = []
    for bars in plan:
        count = bars.count
        while count:
            spare = np.minimum(bars.pieces, np.maximum(over, 0))
            if not spare.any():
                single.append((bars.stock, bars.pieces, count))
                break
            over = over - spare
            single.append((bars.stock, bars.pieces - spare, 1))
            count -= 1
    available = sawing.available.copy()
    for stock, _, count in single:
        if available[stock] >= 0:
            available[stock] -= count
    joined: dict[tuple[int, bytes], Bars] = {}

    def put(stock: int, pieces: Counts, count: int) -> None:
        key = (stock, pieces.tobytes())
        had = joined[key].count if key in joined else 0
        joined[key] = Bars(stock, pieces, had + count)

    for stock, pieces, count in single:
        if not pieces.any():
            if available[stock] >= 0:
                available[stock] += count
            continue
        used = int(pieces @ sawing.size)
        while count:
            better = cheapest_holding(sawing, used, available)
            if better is None or sawing.price[better] >= sawing.price[stock]:
                put(stock, pieces, count)
                break
            moved = count if available[better] < 0 else min(count, int(available[better]))
            if available[better] >= 0:
                available[better] -= moved
            if available[stock] >= 0:
                available[stock] += moved
            put(better, pieces, moved)
            count -= moved
    return list(joined.values())


def cost_of(sawing: Sawing, plan: list[Bars]) -> int:
    """Whole-number price of a plan; a piece left out costs `missing_price`."""
    cut = sum((b.count * b.pieces for b in plan), np.zeros_like(sawing.demand))
    missing = int(np.maximum(sawing.demand - cut, 0).sum())
    bars = sum(b.count * int(sawing.price[b.stock]) for b in plan)
    return bars + missing * sawing.missing_price
