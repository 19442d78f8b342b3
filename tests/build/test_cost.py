"""Sawing and cost of a take-off: exact money, whole packs, nothing missing in silence."""

from decimal import Decimal

import pytest

from mewswright.build.cost import cost_of
from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.verify import verify
from mewswright.build.report import report, worked_out
from mewswright.build.sawing import sawing_of
from mewswright.build.takeoff import take_off
from support.units import unit_yard

STOCK = [
    {"section": "45x95", "length_mm": 3600, "price": "13.10", "priced": "keeper"},
    {"section": "45x95", "length_mm": 2400, "price": "8.60", "priced": "keeper"},
    {"section": "95x95", "length_mm": 2400, "price": "19.80", "priced": "keeper"},
    {"section": "45x145", "length_mm": 3000, "price": "16.20", "priced": "assumption"},
]
PRICES = [
    {"item": "osb3_18", "unit": "sheet", "price": "27.35", "priced": "keeper"},
    {"item": "shed_felt", "unit": "roll", "price": "41.10", "priced": "assumption"},
    {"item": "pea_gravel", "unit": "bag", "pack_size": 0.5, "price": "62.00"},
    {"item": "structural_screw_5x80", "unit": "box", "pack_size": 100, "price": "12.40"},
]


def _done(**more):
    yard = unit_yard(stock=STOCK, price=PRICES, floor={"depth_mm": 120}, **more)
    return yard, *worked_out(yard, yard.quarters[0])


def _line(costing, item):
    return next(line for line in costing.lines if line.item == item)


def test_the_plan_saws_every_sawn_part():
    """Checked by the verifier, which does not share the planner's code."""
    yard, takeoff, sawing, _ = _done()
    assert sawing.refused == ()
    assert sawing.unpriced is None
    parts = [
        CutPart(mark=p.mark, section=p.section, length_mm=Decimal(str(p.length_mm)), count=p.count)
        for p in takeoff.parts
        if p.sawn
    ]
    stock = [
        StockBar(section=b.section, length_mm=Decimal(str(b.length_mm)), price=b.price)
        for b in yard.stock
    ]
    verify(sawing.plan, parts, stock, Decimal(3))


def test_a_section_without_stock_is_sawn_from_usual_lengths_and_has_no_price():
    yard = unit_yard(stock=STOCK[:3])
    takeoff, sawing, costing = worked_out(yard, yard.quarters[0])
    assert [s.section for s in sawing.unpriced.sections] == ["45x145"]
    rafters = next(p for p in takeoff.parts if p.kind == "rafter")
    bars = sum(p.count for p in sawing.unpriced.sections[0].patterns)
    assert bars >= rafters.count * rafters.length_mm / 5400
    line = _line(costing, "45x145")
    assert (line.price, line.total, line.priced) == (None, None, "missing")
    assert "45x145" in costing.missing
    assert not costing.is_whole


def test_a_section_that_nobody_knows_is_refused_alone():
    yard = unit_yard(stock=STOCK, frame={"rafter": "51x151"})
    takeoff = take_off(yard, yard.quarters[0])
    sawing = sawing_of(yard, takeoff.parts)
    assert sawing.refused == (
        "section '51x151': neither the yard's stock nor the handbook has it; add [[stock]] with "
        "its lengths and prices",
    )
    assert {s.section for s in sawing.plan.sections} == {"45x95", "95x95"}
    assert _line(cost_of(yard, takeoff, sawing), "51x151").priced == "missing"


def test_a_rafter_longer_than_its_stock_is_refused_by_mark_and_the_rest_is_planned():
    yard = unit_yard(stock=[*STOCK[:3], {"section": "45x145", "length_mm": 2400, "price": 12}])
    takeoff = take_off(yard, yard.quarters[0])
    sawing = sawing_of(yard, takeoff.parts)
    assert len(sawing.refused) == 1
    assert "'R1'" in sawing.refused[0]
    assert "2981" in sawing.refused[0]
    assert report(takeoff, sawing, cost_of(yard, takeoff, sawing))["parts"]


def test_sheets_rolls_bags_and_boxes_are_bought_whole():
    _, takeoff, _, costing = _done()
    # Roof 3390 x 2963 mm = 10.04 m2 less seams; with 12 % waste 3.8 sheets.
    assert _line(costing, "osb3_18").buy == 4
    assert _line(costing, "osb3_18").total == Decimal("109.40")
    assert _line(costing, "shed_felt").buy == 2  # four strips of 3.49 m, two to a roll
    # 3.0 x 2.4 x 0.12 = 0.864 m3 and 10 %: 0.9504 m3, bags of 0.5 m3.
    assert _line(costing, "pea_gravel").buy == 2
    assert _line(costing, "pea_gravel").total == Decimal("124.00")
    screws = next(p for p in takeoff.parts if p.material == "structural_screw_5x80")
    boxes = _line(costing, "structural_screw_5x80").buy
    assert (boxes - 1) * 100 < screws.amount * 1.08 <= boxes * 100


def test_the_total_is_the_sum_of_what_has_a_price_to_the_cent():
    _, _, sawing, costing = _done()
    assert costing.total == sum(line.total for line in costing.lines if line.total is not None)
    assert costing.total == costing.from_keeper + costing.from_assumption
    for line in costing.lines:
        if line.total is not None and line.price is not None:
            assert line.total == line.price * line.buy
        assert (line.priced == "missing") == (line.total is None)
    timber = sum(line.total for line in costing.lines if line.item in ("45x95", "95x95", "45x145"))
    assert timber == sawing.plan.cost
    spare = _line(costing, "defect_allowance")
    assert abs(spare.total - timber * Decimal("0.05")) <= Decimal("0.005")
    assert spare.priced == "assumption"


def test_every_price_says_whose_it_is():
    _, _, _, costing = _done()
    assert _line(costing, "osb3_18").priced == "keeper"
    assert _line(costing, "shed_felt").priced == "assumption"
    assert _line(costing, "45x145").priced == "assumption"
    assert _line(costing, "bar_panel").priced == "missing"
    assert set(costing.missing) == {line.item for line in costing.lines if line.priced == "missing"}


def test_the_same_yard_gives_the_same_report():
    assert report(*_done()[1:]) == report(*_done()[1:])


@pytest.mark.parametrize("key", ["cautions", "assumptions"])
def test_the_report_says_what_it_rests_on(key):
    assert report(*_done()[1:])[key]
