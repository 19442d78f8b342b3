"""Cut plans against instances with answers printed elsewhere or worked by hand."""

from decimal import Decimal

import pytest

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.solve import cut_plan


def parts(*rows, section="45x95"):
    return [
        CutPart(mark=f"P{n}", section=section, length_mm=Decimal(str(length)), count=count)
        for n, (length, count) in enumerate(rows)
    ]


def bars(*rows, section="45x95"):
    return [
        StockBar(
            section=section,
            length_mm=Decimal(str(length)),
            price=Decimal(str(price)),
            available=available,
        )
        for length, price, available in rows
    ]


def test_chvatal_raws_of_a_hundred_inches():
    """Chvatal, Linear Programming (1983), chapter 13: fractional optimum 452.25, so 453 raws."""
    plan = cut_plan(
        parts((45, 97), (36, 610), (31, 395), (14, 211)), bars((100, 1, None)), kerf_mm=0
    )
    assert (plan.cost, plan.lower_bound, plan.proven) == (453, 453, True)


def test_gilmore_gomory_three_stock_lengths():
    """Gilmore and Gomory, Operations Research 9 (1961), the worked example.

    Stock of 5, 6 and 9 ft at 6, 7 and 10; 20 pieces of 2 ft, 10 of 3 ft, 20 of 4 ft. They
    reach 170 (fractional and whole); the check here is worked again by hand: 170 buys 17
    bars of 9 ft, and 150 ft are wanted, of which 9 ft bars give 0.9 ft a unit of money.
    """
    plan = cut_plan(
        parts((2, 20), (3, 10), (4, 20)),
        bars((5, 6, None), (6, 7, None), (9, 10, None)),
        kerf_mm=0,
    )
    assert (plan.cost, plan.proven) == (170, True)


@pytest.mark.parametrize(
    ("kerf_mm", "cost"),
    [
        (0, 10),  # two pieces of 3000 fill a bar of 6000
        (3, 20),  # with a kerf between them they do not
    ],
)
def test_a_kerf_counts_between_pieces(kerf_mm, cost):
    plan = cut_plan(parts((3000, 2)), bars((6000, 10, None)), kerf_mm=kerf_mm)
    assert (plan.cost, plan.proven) == (cost, True)


@pytest.mark.parametrize(
    ("length_mm", "cost", "offcut_mm"),
    [
        ("1998.5", 10, "0"),  # 3 x 1998.5 + 2 x 2.25 = 6000 exactly: the last cut is the bar's end
        ("1998.501", 20, "1998.498"),  # a thousandth longer, and the third piece needs a bar
        ("1998.0", 10, "0"),  # 1.5 left, less than a kerf: the saw takes it
        ("1997.0", 10, "2.25"),  # 4.5 left: a kerf and 2.25
    ],
)
def test_a_last_cut_on_the_end_of_the_bar_is_free(length_mm, cost, offcut_mm):
    plan = cut_plan(parts((length_mm, 3)), bars((6000, 10, None)), kerf_mm=Decimal("2.25"))
    assert plan.cost == cost
    assert plan.sections[0].patterns[0].offcut_mm == Decimal(offcut_mm)


def test_a_piece_as_long_as_the_bar_needs_no_cut():
    plan = cut_plan(parts((6000, 2)), bars((6000, "12.35", None)), kerf_mm=4)
    (pattern,) = plan.sections[0].patterns
    assert (plan.cost, pattern.count, pattern.offcut_mm) == (Decimal("24.70"), 2, 0)


def test_free_offcuts_are_used_up_first():
    plan = cut_plan(parts((1000, 5)), bars((1000, 0, 3), (2500, "7.5", None)), kerf_mm=3)
    assert (plan.cost, plan.proven) == (Decimal("7.5"), True)


def test_free_bars_without_limit_cost_nothing_and_longer_pieces_still_pay():
    plan = cut_plan(parts((1000, 50), (2000, 2)), bars((1500, 0, None), (4500, 9, None)), kerf_mm=3)
    assert (plan.cost, plan.proven) == (9, True)


def test_equal_bars_at_two_prices_are_bought_at_the_lower_first():
    plan = cut_plan(parts((1000, 5)), bars((1000, 5, None), (1000, 3, 2)), kerf_mm=3)
    assert (plan.cost, plan.proven) == (21, True)


def test_rows_of_one_mark_are_added_up_and_marks_of_one_length_kept_apart():
    rows = [
        CutPart(mark="A", section="s", length_mm=Decimal(1000), count=2),
        CutPart(mark="B", section="s", length_mm=Decimal(1000), count=3),
        CutPart(mark="A", section="s", length_mm=Decimal(1000), count=2),
    ]
    plan = cut_plan(rows, bars((3100, 4, None), section="s"))
    counts = {"A": 0, "B": 0}
    for pattern in plan.sections[0].patterns:
        for cut in pattern.cuts:
            counts[cut.mark] += cut.count * pattern.count
    assert (counts, plan.cost) == ({"A": 4, "B": 3}, 12)


def test_sections_are_planned_apart_and_added_up():
    plan = cut_plan(
        parts((1000, 4)) + parts((1000, 4), section="38x38"),
        bars((4100, 9, None)) + bars((2100, "2.5", None), section="38x38"),
    )
    assert [(s.section, s.cost) for s in plan.sections] == [("45x95", 9), ("38x38", 5)]
    assert (plan.cost, plan.proven) == (14, True)


def test_no_parts_need_no_bars():
    plan = cut_plan([], bars((6000, 10, None)))
    assert (plan.sections, plan.cost, plan.lower_bound, plan.proven) == ((), 0, 0, True)


def test_a_plan_without_a_clock_comes_out_the_same_twice():
    rows = parts(*((600 + 37 * n, 1 + n % 4) for n in range(20)))
    stock = bars((2400, "7.13", None), (3000, "8.79", None), (4800, "14.05", None))
    once, again = (cut_plan(rows, stock, seconds=0.5) for _ in range(2))
    assert once.model_dump_json() == again.model_dump_json()
    assert once.seconds == 0
