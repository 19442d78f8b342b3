"""Cut plans against trying everything, and against a plain assignment model."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.cut.glance import least_cost
from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.model.problem import Problem

KERF = 3


def cheapest(pieces, stock):
    """Least cost of all ways to share pieces out over bars; None where there is none.

    Args:
        pieces: Lengths, one for each piece.
        stock: (length, price, available or None).
    """
    best = [None]
    pieces = sorted(pieces, reverse=True)

    def place(n, rooms, left, cost):
        if best[0] is not None and cost >= best[0]:
            return
        if n == len(pieces):
            best[0] = cost
            return
        need = pieces[n] + KERF
        for room in sorted({r for r in rooms if r >= need}):
            at = rooms.index(room)
            place(n + 1, (*rooms[:at], room - need, *rooms[at + 1 :]), left, cost)
        for s, (length, price, _) in enumerate(stock):
            if left[s] != 0 and length + KERF >= need:
                fewer = (*left[:s], left[s] - 1, *left[s + 1 :])
                place(n + 1, (*rooms, length + KERF - need), fewer, cost + price)

    place(0, (), tuple(-1 if a is None else a for _, _, a in stock), 0)
    return best[0]


def rows_of(pieces):
    return [
        CutPart(mark=f"P{length}", section="s", length_mm=Decimal(length), count=1)
        for length in pieces
    ]


def offers_of(stock):
    return [
        StockBar(
            section="s", length_mm=Decimal(length), price=Decimal(price) / 100, available=available
        )
        for length, price, available in stock
    ]


def plan_of(pieces, stock, **limits):
    return cut_plan(rows_of(pieces), offers_of(stock), KERF, **limits)


lengths = st.integers(20, 120)
endless = st.tuples(st.integers(120, 260), st.integers(1, 400), st.none())
scarce = st.tuples(st.integers(30, 260), st.integers(0, 300), st.integers(0, 3))


@settings(max_examples=150, deadline=None)
@given(st.lists(lengths, min_size=1, max_size=7), st.lists(endless, min_size=1, max_size=3))
def test_the_plan_is_as_cheap_as_trying_everything(pieces, stock):
    plan = plan_of(pieces, stock)
    assert plan.proven
    assert plan.cost == Decimal(cheapest(pieces, stock)) / 100


@settings(max_examples=150, deadline=None)
@given(
    st.lists(lengths, min_size=1, max_size=6),
    st.lists(scarce, min_size=1, max_size=3),
    st.lists(endless, max_size=1),
)
def test_limited_stock_is_used_at_its_best_or_found_to_run_out(pieces, few, more):
    stock = few + more
    answer = cheapest(pieces, stock)
    if answer is None:
        with pytest.raises(Problem, match=r"the stock runs out|is .* mm long and the longest"):
            plan_of(pieces, stock)
        return
    plan = plan_of(pieces, stock)
    assert plan.proven
    assert plan.cost == Decimal(answer) / 100


@settings(max_examples=60, deadline=None)
@given(
    st.lists(lengths, min_size=1, max_size=7),
    st.lists(endless, min_size=1, max_size=2),
    st.floats(0.0001, 0.02),
)
def test_a_search_cut_short_claims_nothing_false(pieces, stock, seconds):
    plan = plan_of(pieces, stock, seconds=seconds)
    answer = Decimal(cheapest(pieces, stock)) / 100
    assert plan.lower_bound <= answer <= plan.cost
    if plan.proven:
        assert plan.cost == answer


@settings(max_examples=150, deadline=None)
@given(
    st.lists(lengths, min_size=1, max_size=6),
    st.lists(st.one_of(scarce, endless), min_size=1, max_size=3),
)
def test_what_a_glance_says_is_never_more_than_the_least_cost(pieces, stock):
    least = least_cost(rows_of(pieces), offers_of(stock), KERF, seconds=0.1)
    answer = cheapest(pieces, stock)
    if answer is not None:
        assert 0 <= least <= Decimal(answer) / 100


def test_a_glance_sees_the_waste_of_bars_that_hold_one_piece_each():
    """Three pieces of 1300 mm from bars of 2400 mm at 2.00: 3 bars, where the metre asks 3.25."""
    asked = rows_of([1300]) * 3, offers_of([(2400, 200, None)])
    assert least_cost(*asked, KERF) == Decimal("6.00")


@pytest.mark.parametrize("seed", range(6))
def test_a_plan_put_together_from_full_bars_is_found_again(seed):
    """Bars sawn up without waste: the number of bars is the least there can be."""
    import numpy as np

    rng = np.random.default_rng(seed)
    rows, count = [], 30
    for _ in range(count):
        room = 2400 + KERF
        while room > 900:
            size = int(rng.integers(300, min(room - 303, 1200)))
            rows.append(size - KERF)
            room -= size
        rows.append(room - KERF)
    plan = plan_of(rows, [(2400, 100, None)], seconds=20)
    assert plan.lower_bound == count
    assert plan.cost == count
    assert plan.proven


@pytest.mark.parametrize("seed", range(3))
def test_a_plain_assignment_model_agrees(seed):
    """A model of another kind in the integer solver: piece to bar, bar to stock."""
    import highspy
    import numpy as np

    rng = np.random.default_rng(seed)
    pieces = rng.integers(40, 130, size=9).tolist()
    stock = [(200, 310, None), (260, 395, None), (330, 520, None)]
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("mip_rel_gap", 0.0)
    cost, bars = 0, range(7)
    buy = [[model.addBinary() for _ in stock] for _ in bars]
    cut = [[model.addBinary() for _ in bars] for _ in pieces]
    for b in bars:
        model.addConstr(sum(buy[b]) <= 1)
        model.addConstr(
            sum((length + KERF) * cut[n][b] for n, length in enumerate(pieces))
            <= sum((length + KERF) * buy[b][s] for s, (length, _, _) in enumerate(stock))
        )
        cost += sum(price * buy[b][s] for s, (_, price, _) in enumerate(stock))
    for row in cut:
        model.addConstr(sum(row) == 1)
    model.minimize(cost)
    plan = plan_of(pieces, stock)
    assert plan.proven
    assert float(plan.cost) * 100 == pytest.approx(model.getObjectiveValue(), abs=1e-3)
