"""Plans that leave next to no waste: met or refuted from a short list of patterns."""

from decimal import Decimal

import numpy as np
import pytest

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.enumerate import Worths, patterns_within
from mewswright.build.cut.listdive import dive_in_list
from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.sawing import Sawing
from mewswright.build.cut.solve import cut_plan


def planted_triples(seed, bars):
    """Sizes of bars of 1000, each sawn in three without waste."""
    rng = np.random.default_rng(seed)
    sizes = []
    for _ in range(bars):
        first = int(rng.integers(380, 490))
        second = int(rng.integers(250, (1000 - first) // 2 + 1))
        sizes += [first, second, 1000 - first - second]
    return sizes


def sawing_of_sizes(sizes):
    size, demand = np.unique(np.array(sizes, dtype=np.int64), return_counts=True)
    one = np.array([1], dtype=np.int64)
    return Sawing(size[::-1].copy(), demand[::-1].astype(np.int64), 1000 * one, one, -one, 10_000)


@pytest.mark.parametrize("seed", range(4))
def test_the_list_holds_the_plan_that_was_planted(seed):
    """Sizes are worths that no bar beats: only bars without waste can meet the bound."""
    bars = 12
    sawing = sawing_of_sizes(planted_triples(seed, bars))
    worths = Worths(sawing.size, np.zeros(1, dtype=np.int64), 1000, 1000 * bars)
    effort = Effort(None)
    stock, pieces = patterns_within(sawing, worths, bars, 5000, effort, maximal=False)
    assert (pieces @ sawing.size == 1000).all()
    rng = np.random.default_rng(1)
    plan = dive_in_list(sawing, stock, pieces, bars, 2000, effort, rng)
    assert plan is not None
    assert sum(b.count for b in plan) == bars
    assert (sum(b.count * b.pieces for b in plan) >= sawing.demand).all()


def test_a_target_out_of_reach_gives_no_plan():
    sawing = sawing_of_sizes([600] * 3)
    stock = np.zeros(1, dtype=np.int64)
    pieces = np.ones((1, 1), dtype=np.int64)
    rng = np.random.default_rng(1)
    assert dive_in_list(sawing, stock, pieces, 2, 100, Effort(None), rng) is None


@pytest.mark.parametrize("seed", range(3))
def test_a_tight_planted_plan_is_proven(seed):
    sizes = planted_triples(seed, 40)
    rows = [
        CutPart(mark=f"P{size}", section="s", length_mm=Decimal(size), count=1) for size in sizes
    ]
    stock = [StockBar(section="s", length_mm=Decimal(1000), price=Decimal(1))]
    plan = cut_plan(rows, stock, 0, 20)
    assert (plan.cost, plan.proven) == (40, True)
    assert plan == cut_plan(rows, stock, 0, 20)


def test_a_long_list_of_patterns_is_settled():
    """A build of a centre whose proof lists some 26 000 patterns; the plan is counted again."""
    rng = np.random.default_rng(1003)
    lengths = rng.integers(180, 2351, size=60)
    counts = rng.multinomial(1440, [1 / 60] * 60) + 1
    parts = [
        CutPart(mark=f"P{n}", section="s", length_mm=Decimal(int(a)), count=int(c))
        for n, (a, c) in enumerate(zip(lengths, counts, strict=True))
    ]
    stock = []
    for length in (2400, 3000, 3600, 4200, 4800, 6000):
        cents = int(400 * length / 1000 * (1 + rng.uniform(-0.08, 0.08)))
        stock.append(StockBar(section="s", length_mm=Decimal(length), price=Decimal(cents) / 100))
    plan = cut_plan(parts, stock, 3)
    assert plan.proven
    assert plan.cost == plan.lower_bound == Decimal("7764.92")
