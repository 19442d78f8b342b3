"""The tools of the proof, each against trying everything."""

from fractions import Fraction
from itertools import product

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mewswright.build.cut import knapsack
from mewswright.build.cut.columns import farley_bound
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.enumerate import feasible_worths, patterns_within, rounded_up
from mewswright.build.cut.knapsack import Table
from mewswright.build.cut.purchase import Purchases
from mewswright.build.cut.sawing import Sawing


def all_patterns(size, demand, room):
    return [
        a
        for a in product(*(range(d + 1) for d in demand))
        if sum(n * s for n, s in zip(a, size, strict=True)) <= room
    ]


def whole(values):
    return np.array(values, dtype=np.int64)


pieces = st.lists(
    st.tuples(st.integers(3, 40), st.integers(1, 4), st.integers(0, 50)),
    min_size=1,
    max_size=4,
    unique_by=lambda p: p[0],
).map(lambda rows: sorted(rows, reverse=True))


@settings(max_examples=200, deadline=None)
@given(
    pieces,
    st.lists(st.integers(40, 90), min_size=1, max_size=3),
    st.booleans(),
    st.booleans(),
    st.randoms(use_true_random=False),
)
def test_the_knapsack_finds_the_best_bar(rows, rooms, sparse, packed, random):
    size, demand, value = zip(*rows, strict=True)
    saved = knapsack.SPARSE_BELOW, knapsack.BIG_TABLE
    knapsack.SPARSE_BELOW = 0 if sparse else saved[0]
    knapsack.BIG_TABLE = 0 if packed else saved[1]
    try:
        table = Table(whole(size), whole(demand), whole(rooms))
        order = list(range(len(size)))
        random.shuffle(order)
        best = table.fill(whole(value), whole(demand), np.array(order))
        for r, room in enumerate(rooms):
            worth = max(
                sum(n * v for n, v in zip(a, value, strict=True))
                for a in all_patterns(size, demand, room)
            )
            pattern = table.pattern(r)
            assert best[r] == worth == pattern @ whole(value)
            assert pattern @ whole(size) <= room
            assert (pattern <= whole(demand)).all()
    finally:
        knapsack.SPARSE_BELOW, knapsack.BIG_TABLE = saved


def least_cost(sawing):
    """Cheapest plan by dynamic programming over what is left; None if there is none."""
    start = tuple(sawing.demand.tolist())
    stock = range(len(sawing.room))
    patterns = [all_patterns(sawing.size.tolist(), start, int(r)) for r in sawing.room]
    best = {(start, tuple(sawing.available.tolist())): 0}
    queue = list(best)
    answer = None
    while queue:
        left, limits = state = queue.pop()
        if not any(left):
            answer = best[state] if answer is None else min(answer, best[state])
            continue
        for s in stock:
            if limits[s] == 0:
                continue
            fewer = (*limits[:s], limits[s] - (limits[s] > 0), *limits[s + 1 :])
            for a in patterns[s]:
                if not any(a) or any(n > d for n, d in zip(a, left, strict=True)):
                    continue
                after = (tuple(d - n for n, d in zip(a, left, strict=True)), fewer)
                cost = best[state] + int(sawing.price[s])
                if cost < best.get(after, cost + 1):
                    best[after] = cost
                    queue.append(after)
    return answer


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(8, 40), st.integers(1, 2), st.integers(0, 900)),
        min_size=1,
        max_size=3,
        unique_by=lambda p: p[0],
    ).map(lambda rows: sorted(rows, reverse=True)),
    st.lists(
        st.tuples(st.integers(40, 70), st.integers(1, 9), st.sampled_from([-1, -1, 1, 2, 3])),
        min_size=1,
        max_size=2,
    ),
)
def test_no_worths_however_odd_make_a_bound_wrong(rows, offers):
    """Farley's bound, lists of patterns and conditions on purchases: none loses the best."""
    size, demand, worth = (whole(column) for column in zip(*rows, strict=True))
    room, price, available = (whole(column) for column in zip(*offers, strict=True))
    sawing = Sawing(size, demand, room, price, available, 10_000)
    answer = least_cost(sawing)
    assume(answer is not None)
    effort = Effort(None)
    table = Table(size, demand, room)
    best = table.fill(worth, demand)
    assert farley_bound(sawing, worth, best, 100, demand, available) <= answer
    worths = feasible_worths(sawing, table, worth, best, 100)
    assert Fraction(worths.total, 100) <= answer
    stock, listed = patterns_within(sawing, worths, answer, 10_000, effort)
    assert cover_cost(sawing, stock, listed) == answer
    purchases = Purchases(sawing, effort)
    purchases.require(worth, best)
    choices = purchases.between(0, answer)
    assert int((choices @ price).max()) == answer
    assert rounded_up(max(0, answer - 3), sawing, answer + 5) <= answer


def cover_cost(sawing, stock, listed):
    """Cheapest cover of the demand by listed patterns; None if there is none."""
    start = (tuple(sawing.demand.tolist()), tuple(sawing.available.tolist()))
    best, queue, answer = {start: 0}, [start], None
    while queue:
        left, limits = state = queue.pop()
        if not any(left):
            answer = best[state] if answer is None else min(answer, best[state])
            continue
        for s, a in zip(stock.tolist(), listed.tolist(), strict=True):
            if limits[s] == 0:
                continue
            fewer = (*limits[:s], limits[s] - (limits[s] > 0), *limits[s + 1 :])
            after = (tuple(max(0, d - n) for n, d in zip(a, left, strict=True)), fewer)
            cost = best[state] + int(sawing.price[s])
            if after[0] != left and cost < best.get(after, cost + 1):
                best[after] = cost
                queue.append(after)
    return answer
