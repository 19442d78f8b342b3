"""Sheets of a take-off through the same nesting as `mewswright nest`, the rack first."""

from decimal import Decimal

from mewswright.build.cost import cost_of
from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.verify import verify
from mewswright.build.parts import Part
from mewswright.build.sawing import Sawing, exact_mm
from mewswright.build.sheeting import is_sheet, sheeting_of
from mewswright.build.takeoff import take_off
from mewswright.model.stock import Offcut
from support.units import unit_yard

NO_SAW = Sawing(plan=None, unpriced=None, refused=())


def piece(mark, length, width, count=1, kind="board"):
    return Part(mark=mark, kind=kind, what="lining sheet", place="back", material="hdpe_6",
                length_mm=length, width_mm=width, count=count, unit="m2",
                amount=length * width * count / 1e6)  # fmt: skip


def racked(yard, *offcuts):
    return yard.model_copy(update={"offcut": tuple(Offcut(**one) for one in offcuts)})


def test_two_halves_and_a_kerf_do_not_come_from_one_sheet():
    """608 + 3 + 608 = 1219 mm go beside each other in 1220; 609 + 3 + 609 = 1221 do not."""
    yard = unit_yard()
    assert sheeting_of(yard, [piece("A", 2440, 608, 2)]).of("hdpe_6").buy == 1
    found = sheeting_of(yard, [piece("A", 2440, 609, 2)]).of("hdpe_6")
    assert (found.buy, found.plan.proven) == (2, True)


def test_a_piece_in_the_rack_saves_a_sheet_and_is_named():
    yard = racked(unit_yard(), {"item": "hdpe_6", "length_mm": 1300, "width_mm": 700})
    parts = [piece("A", 2440, 1220), piece("B", 1200, 600)]
    assert sheeting_of(unit_yard(), parts).of("hdpe_6").buy == 2
    found = sheeting_of(yard, parts)
    assert found.of("hdpe_6").buy == 1
    (used,) = found.rack
    assert (used.what, used.length_mm, used.width_mm, used.count, used.marks) == (
        "hdpe_6", 1300, 700, 1, ("B",),
    )  # fmt: skip


def test_the_plan_of_a_unit_lays_every_sheet_and_nothing_else():
    """Checked by the verifier of nesting, which does not share the planner's code."""
    yard = unit_yard(frame={"lining": "osb3_11"})
    parts = take_off(yard, yard.quarters[0]).parts
    found = sheeting_of(yard, parts)
    assert {one.material for one in found.plans} == {"osb3_18", "osb3_11"}
    for one in found.plans:
        wanted = [
            SheetPart(mark=p.mark, length_mm=exact_mm(p.length_mm), width_mm=exact_mm(p.width_mm),
                      count=p.count, grain="along" if p.kind == "deck" else "none")
            for p in parts if p.material == one.material and is_sheet(p)
        ]  # fmt: skip
        whole = [StockSheet(name=one.material, length_mm=Decimal(2440), width_mm=Decimal(1220),
                            price=Decimal(1))]  # fmt: skip
        verify(one.plan, wanted, whole, Decimal(3), Decimal(0))


def test_sheets_are_bought_by_their_plan():
    yard = unit_yard(price=[{"item": "osb3_18", "unit": "sheet", "price": "30"}])
    found = take_off(yard, yard.quarters[0])
    plan = sheeting_of(yard, found.parts).of("osb3_18")
    line = next(one for one in cost_of(yard, found, NO_SAW).lines if one.item == "osb3_18")
    assert (line.buy, line.total, line.note) == (plan.buy, 30 * plan.buy, "from the sheet plan")
    with_rack = racked(yard, {"item": "osb3_18", "length_mm": 2440, "width_mm": 1220, "count": 2})
    line = next(one for one in cost_of(with_rack, found, NO_SAW).lines if one.item == "osb3_18")
    assert (line.buy, line.note) == (plan.buy - 2, "from the sheet plan; 2 from the rack")
