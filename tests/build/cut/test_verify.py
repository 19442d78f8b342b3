"""The verifier finds each way in which a plan can be wrong."""

from decimal import Decimal

import pytest

from mewswright.build.cut.plan import Cut, CutPart, CutPlan, Pattern, SectionPlan, StockBar
from mewswright.build.cut.verify import BadPlanError, verify

PARTS = [CutPart(mark="A", section="s", length_mm=Decimal(1000), count=4)]
STOCK = [
    StockBar(section="s", length_mm=Decimal(2100), price=Decimal("2.5"), available=2),
    StockBar(section="s", length_mm=Decimal(4500), price=Decimal(7)),
]
CUT = Cut(mark="A", length_mm=Decimal(1000), count=2)
PATTERN = Pattern(
    stock_mm=Decimal(2100), price=Decimal("2.5"), count=2, cuts=(CUT,), offcut_mm=Decimal(94)
)
SECTION = SectionPlan(
    section="s", patterns=(PATTERN,), cost=Decimal(5), lower_bound=Decimal(5), proven=True
)


def plan_with(section):
    return CutPlan(
        sections=(section,),
        cost=section.cost,
        lower_bound=section.lower_bound,
        proven=section.proven,
        seconds=0.0,
    )


def pattern_with(**changes):
    return SECTION.model_copy(update={"patterns": (PATTERN.model_copy(update=changes),)})


def test_a_right_plan_passes():
    verify(plan_with(SECTION), PARTS, STOCK, Decimal(3))


@pytest.mark.parametrize(
    ("section", "sentence"),
    [
        (pattern_with(cuts=(CUT.model_copy(update={"count": 3}),)), "overfull by 906 mm"),
        (pattern_with(cuts=(CUT.model_copy(update={"mark": "B"}),)), "cut, 4 wanted"),
        (
            pattern_with(cuts=(CUT.model_copy(update={"count": 1}),), offcut_mm=Decimal(1097)),
            "2 cut, 4 wanted",
        ),
        (pattern_with(cuts=()), "a bar is bought and not sawn"),
        (pattern_with(offcut_mm=Decimal(97)), "an offcut of 94 mm is given wrong"),
        (pattern_with(price=Decimal(2)), "its bars cost 4, not 5"),
        (pattern_with(stock_mm=Decimal(2101), offcut_mm=Decimal(95)), "are used than there are"),
        (
            pattern_with(count=3).model_copy(
                update={"cost": Decimal("7.5"), "lower_bound": Decimal("7.5")}
            ),
            "are used than there are",
        ),
        (SECTION.model_copy(update={"cost": Decimal(4)}), "its bars cost 5.0, not 4"),
        (SECTION.model_copy(update={"lower_bound": Decimal(6)}), "does not fit the cost"),
        (SECTION.model_copy(update={"lower_bound": Decimal(4)}), "does not fit the cost"),
    ],
)
def test_a_wrong_plan_is_found_out(section, sentence):
    with pytest.raises(BadPlanError, match=sentence):
        verify(plan_with(section), PARTS, STOCK, Decimal(3))


def test_a_sum_that_does_not_add_up_is_found_out():
    plan = plan_with(SECTION).model_copy(update={"cost": Decimal(6)})
    with pytest.raises(BadPlanError, match="the plan's cost is 6, its sections' 5"):
        verify(plan, PARTS, STOCK, Decimal(3))
