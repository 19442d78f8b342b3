"""Fewest patterns as the second wish: never at a price."""

from decimal import Decimal

import numpy as np
import pytest

import mewswright.build.cut.few as few
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.few import fewer_patterns
from mewswright.build.cut.greedy import greedy_plan, tidy
from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.sawing import Bars, Sawing
from mewswright.build.cut.solve import cut_plan


def sawing_of(size, demand, room, price):
    return Sawing(
        size=np.array(size, dtype=np.int64),
        demand=np.array(demand, dtype=np.int64),
        room=np.array(room, dtype=np.int64),
        price=np.array(price, dtype=np.int64),
        available=np.full(len(room), -1, dtype=np.int64),
    )


def test_two_patterns_become_one():
    """3 + 3 and 2 + 2 from bars of 6 are twice 3 + 2."""
    sawing = sawing_of([3, 2], [2, 2], [6], [1])
    plan = [Bars(0, np.array([2, 0]), 1), Bars(0, np.array([0, 2]), 1)]
    (only,) = fewer_patterns(sawing, plan, Effort(None), 1)
    assert (only.count, only.pieces.tolist()) == (2, [1, 1])


def test_three_patterns_become_two():
    """5 + 4, 5 + 3 and 4 + 3 from bars of 10 cannot be one pattern (7 pieces' sums), but two."""
    sawing = sawing_of([5, 4, 3], [4, 4, 4], [10], [1])
    plan = [
        Bars(0, np.array([1, 1, 0]), 2),
        Bars(0, np.array([1, 0, 1]), 2),
        Bars(0, np.array([0, 1, 1]), 2),
    ]
    assert len(fewer_patterns(sawing, plan, Effort(None), 1)) <= 2


@pytest.mark.parametrize("seed", range(12))
def test_the_same_pieces_from_the_same_bars(seed):
    rng = np.random.default_rng(seed)
    size = np.unique(rng.integers(20, 100, 8))[::-1]
    demand = rng.integers(1, 12, len(size))
    sawing = sawing_of(size, demand, [100, 150, 210], [10, 14, 20])
    plan, _ = greedy_plan(sawing, sawing.demand, sawing.available, Effort(None), rng=rng)
    plan = tidy(sawing, plan)
    better = fewer_patterns(sawing, plan, Effort(None), seed)
    assert len(better) <= len(plan)
    for bars in better:
        assert bars.pieces @ sawing.size <= sawing.room[bars.stock]
    for each in (plan, better):
        assert (sum(b.count * b.pieces for b in each) == sawing.demand).all()
    bought = [np.bincount([b.stock for b in p], [b.count for b in p], 3) for p in (plan, better)]
    assert (bought[0] == bought[1]).all()


def test_the_wish_costs_no_money_and_is_met_somewhere(monkeypatch):
    """With and without the wish: the same cost and proof; fewer patterns in all."""
    saved = 0
    for seed in range(4):
        rng = np.random.default_rng(seed)
        parts = [
            CutPart(mark=f"P{n}", section="s", length_mm=Decimal(int(a)), count=int(c))
            for n, (a, c) in enumerate(
                zip(rng.integers(300, 1900, 8), rng.integers(2, 9, 8), strict=True)
            )
        ]
        stock = [
            StockBar(section="s", length_mm=Decimal(length), price=Decimal(length) / 1000)
            for length in (2400, 4800)
        ]
        with_it = cut_plan(parts, stock, 3, 5)
        with monkeypatch.context() as without:
            without.setattr(few, "WORK", 0.0)
            plain = cut_plan(parts, stock, 3, 5)
        assert (with_it.cost, with_it.proven) == (plain.cost, plain.proven)
        saved += len(plain.sections[0].patterns) - len(with_it.sections[0].patterns)
    assert saved > 0
