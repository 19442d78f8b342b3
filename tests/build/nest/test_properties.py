"""What holds for every nest plan."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.build.nest.solve import nest_plan
from mewswright.build.nest.verify import BadPlanError, verify

GRAINS = ("none", "along", "across")


@st.composite
def cases(draw):
    kerf = draw(st.sampled_from([0, 1, Decimal("3.2")]))
    sheets = [
        StockSheet(
            name="A",
            length_mm=Decimal(draw(st.integers(60, 120))),
            width_mm=Decimal(draw(st.integers(60, 120))),
            price=Decimal(draw(st.integers(0, 9))),
            grain=draw(st.sampled_from(GRAINS)),
        )
    ]
    if draw(st.booleans()):
        sheets.append(
            StockSheet(
                name="B",
                length_mm=Decimal(draw(st.integers(20, 120))),
                width_mm=Decimal(draw(st.integers(20, 120))),
                price=Decimal(draw(st.integers(0, 9))),
                available=draw(st.integers(0, 2)),
            )
        )
    parts = [
        SheetPart(
            mark=f"P{n}",
            length_mm=Decimal(draw(st.integers(5, 50))),
            width_mm=Decimal(draw(st.integers(5, 50))),
            count=draw(st.integers(1, 4)),
            grain=draw(st.sampled_from(GRAINS)),
        )
        for n in range(draw(st.integers(1, 4)))
    ]
    trim = draw(st.sampled_from([0, 2]))
    return parts, sheets, Decimal(kerf), Decimal(trim), draw(st.sampled_from([2, 3]))


@settings(max_examples=40, deadline=None)
@given(cases())
def test_every_plan_passes_the_second_count_and_no_bound_is_beaten(case):
    """`nest_plan` verifies; here the area is counted once more, by hand."""
    parts, sheets, kerf, trim, stages = case
    plan = nest_plan(parts, sheets, kerf, seconds=0.3, stages=stages, trim_mm=trim)
    verify(plan, parts, sheets, kerf, trim)
    assert plan.unplaced == ()  # sheet A has no limit
    assert plan.lower_bound <= plan.cost
    bought = sum(s.count * s.length_mm * s.width_mm for s in plan.sheets)
    assert bought >= sum(p.count * p.length_mm * p.width_mm for p in parts)
    for layout in plan.sheets:
        used = sum(p.length_mm * p.width_mm for p in layout.parts)
        left = sum(o.length_mm * o.width_mm for o in layout.offcuts)
        assert used + left <= layout.length_mm * layout.width_mm


def one(**changes):
    plan = nest_plan(
        [SheetPart(mark="P", length_mm=Decimal(30), width_mm=Decimal(20), count=2, grain="along")],
        [StockSheet(name="A", length_mm=Decimal(70), width_mm=Decimal(25), price=Decimal(1))],
        Decimal(4),
    )
    layout = plan.sheets[0]
    return plan, layout.model_copy(update=changes)


def test_counted_work_gives_the_same_plan_each_time():
    assert one()[0] == one()[0]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda p: {"cuts": p.cuts[1:]}, "cut 2 is counted wrong"),
        (lambda p: {"cuts": p.cuts[:-1]}, "no cut frees part 'P'"),
        (
            lambda p: {"parts": (p.parts[0], p.parts[1].model_copy(update={"x_mm": Decimal(31)}))},
            "have no kerf between them",
        ),
        (
            lambda p: {"parts": (p.parts[0].model_copy(update={"rotated": True}), p.parts[1])},
            "does not lie within the sheet",
        ),
        (lambda p: {"parts": p.parts[:1]}, "'P': 1 accounted for, 2 wanted"),
        (lambda _: {"price": Decimal(2)}, "sheet 'A' is not on offer so"),
        (
            lambda p: {"offcuts": (p.offcuts[0].model_copy(update={"length_mm": Decimal(69)}),)},
            "does not come off",
        ),
    ],
)
def test_a_plan_that_was_tampered_with_is_caught(change, sentence):
    plan, layout = one()
    broken = plan.model_copy(update={"sheets": (layout.model_copy(update=change(layout)),)})
    parts = [
        SheetPart(mark="P", length_mm=Decimal(30), width_mm=Decimal(20), count=2, grain="along")
    ]
    sheets = [StockSheet(name="A", length_mm=Decimal(70), width_mm=Decimal(25), price=Decimal(1))]
    verify(plan, parts, sheets, Decimal(4))
    with pytest.raises(BadPlanError, match=sentence):
        verify(broken, parts, sheets, Decimal(4))


def test_a_part_against_the_grain_is_caught():
    part = SheetPart(mark="P", length_mm=Decimal(20), width_mm=Decimal(20), count=1, grain="along")
    across = part.model_copy(update={"grain": "across"})
    sheets = [StockSheet(name="A", length_mm=Decimal(20), width_mm=Decimal(20), price=Decimal(1))]
    plan = nest_plan([part], sheets, Decimal(0))
    with pytest.raises(BadPlanError, match="lies against its grain"):
        verify(plan, [across], sheets, Decimal(0))


def test_kerf_is_exact():
    """Two of 30 with a kerf of 4 need 64: they share a sheet of 64, and not one of 63.9."""
    parts = [SheetPart(mark="P", length_mm=Decimal(30), width_mm=Decimal(20), count=2)]
    for length, wanted in (("64", 1), ("63.9", 2)):
        sheets = [
            StockSheet(name="A", length_mm=Decimal(length), width_mm=Decimal(20), price=Decimal(1))
        ]
        plan = nest_plan(parts, sheets, Decimal(4))
        assert (plan.cost, plan.proven) == (wanted, True)


def test_the_rack_is_used_first_at_equal_price():
    parts = [SheetPart(mark="P", length_mm=Decimal(30), width_mm=Decimal(20), count=3)]
    sheets = [
        StockSheet(name="new", length_mm=Decimal(40), width_mm=Decimal(20), price=Decimal(5)),
        StockSheet(
            name="rack",
            length_mm=Decimal(40),
            width_mm=Decimal(20),
            price=Decimal(5),
            available=1,
        ),
    ]
    plan = nest_plan(parts, sheets, Decimal(0), seconds=1)
    assert {s.sheet: s.count for s in plan.sheets} == {"new": 2, "rack": 1}


def test_one_large_offcut_rather_than_many():
    """Four quarters of half a sheet: the other half stays whole."""
    parts = [SheetPart(mark="P", length_mm=Decimal(50), width_mm=Decimal(20), count=4)]
    sheets = [StockSheet(name="A", length_mm=Decimal(100), width_mm=Decimal(80), price=Decimal(1))]
    (layout,) = nest_plan(parts, sheets, Decimal(0)).sheets
    largest = layout.offcuts[0]
    assert largest.length_mm * largest.width_mm == 100 * 40
