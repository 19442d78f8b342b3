"""What lies in the rack is used before anything is bought, and never makes a unit dearer."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis.strategies import integers, lists

from mewswright.build.parts import Part
from mewswright.build.report import worked_out
from mewswright.build.sawing import sawing_of
from mewswright.model.stock import Offcut
from support.units import unit_yard

STOCK = [
    {"section": "45x95", "length_mm": 3600, "price": "13.10", "priced": "keeper"},
    {"section": "45x95", "length_mm": 2400, "price": "8.60", "priced": "keeper"},
    {"section": "95x95", "length_mm": 2400, "price": "19.80", "priced": "keeper"},
    {"section": "45x145", "length_mm": 3000, "price": "16.20", "priced": "keeper"},
]


def racked(yard, *offcuts):
    return yard.model_copy(update={"offcut": tuple(Offcut(**one) for one in offcuts)})


def studs(*lengths):
    return [
        Part(mark=f"W{i}", kind="stud", what="stud", place="back", material="C24",
             section="45x95", length_mm=length, sawn=True)
        for i, length in enumerate(lengths, 1)
    ]  # fmt: skip


def test_a_piece_that_fits_saves_the_bar_that_would_be_bought():
    """Two studs of 2300 mm take two bars of 2400; one rack piece of 2310 leaves one to buy."""
    yard = unit_yard(stock=STOCK)
    parts = studs(2300, 2300)
    assert sawing_of(yard, parts).plan.cost == Decimal("17.20")
    found = sawing_of(racked(yard, {"section": "45x95", "length_mm": 2310}), parts)
    assert found.plan.cost == Decimal("8.60")
    (used,) = found.rack
    assert (used.what, used.length_mm, used.count) == ("45x95", 2310, 1)
    assert used.marks in (("W1",), ("W2",))


def test_a_piece_that_is_too_short_stays_in_the_rack():
    yard = racked(unit_yard(stock=STOCK), {"section": "45x95", "length_mm": 2299, "count": 3})
    found = sawing_of(yard, studs(2300))
    assert (found.rack, found.plan.cost) == ((), Decimal("8.60"))


def test_no_more_is_taken_than_lies_there():
    rack = {"section": "45x95", "length_mm": 2350, "count": 2}
    found = sawing_of(racked(unit_yard(stock=STOCK), rack), studs(2300, 2300, 2300))
    assert [(one.count, one.length_mm) for one in found.rack] == [(2, 2350)]
    assert found.plan.cost == Decimal("8.60")


@settings(deadline=None, max_examples=12)
@given(lists(integers(300, 3500), min_size=1, max_size=8), lists(integers(400, 3000), max_size=4))
def test_a_rack_never_makes_the_timber_dearer(lengths, rack):
    yard = unit_yard(stock=STOCK)
    parts = studs(*lengths)
    offcuts = ({"section": "45x95", "length_mm": length} for length in rack)
    with_rack = sawing_of(racked(yard, *offcuts), parts, effort_s=0.2)
    assert with_rack.plan.cost <= sawing_of(yard, parts, effort_s=0.2).plan.cost


def test_the_whole_unit_says_what_comes_from_the_rack_and_buys_less():
    yard = unit_yard(stock=STOCK)
    rack = {"section": "95x95", "length_mm": 2395, "count": 2}
    _, _, plain = worked_out(yard, yard.quarters[0])
    _, sawing, costing = worked_out(racked(yard, rack), yard.quarters[0])
    assert [(one.what, one.count) for one in sawing.rack] == [("95x95", 2)]
    line = next(one for one in costing.lines if "from the rack" in one.what)
    assert (line.buy, line.total, line.priced) == (0, 0, "keeper")
    assert line not in costing.shopping()
    # Two posts of 19.80 are not bought, nor the 5 % for their defects.
    assert plain.total - costing.total == pytest.approx(Decimal("41.58"), abs=Decimal("0.01"))


@pytest.mark.parametrize(
    ("given_keys", "sentence"),
    [
        ({"length_mm": 900}, "either a timber with section, or a sheet with item"),
        ({"item": "osb3_11", "length_mm": 900}, "a sheet in the rack needs width_mm"),
        ({"section": "45x95", "length_mm": 900, "width_mm": 95}, "leave out width_mm"),
    ],
)
def test_an_offcut_is_a_timber_or_a_sheet(given_keys, sentence):
    with pytest.raises(ValueError, match=sentence):
        Offcut(**given_keys)
