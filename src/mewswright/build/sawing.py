"""How the sawn parts of a take-off are cut from stock."""

from collections.abc import Sequence
from decimal import Decimal

from pydantic import BaseModel, ConfigDict

from mewswright.build.cut.plan import CutPart, CutPlan, SectionPlan, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.build.frame import usual_lengths_mm
from mewswright.build.parts import Part
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

# Work for each section, worth about as many seconds; without a clock the plan is the same
# on every machine.
EFFORT_S = 2.0


def exact_mm(length_mm: float) -> Decimal:
    """A length as an exact decimal, 2400 rather than 2400.0 [mm]."""
    exact = Decimal(str(length_mm))
    return exact.quantize(Decimal(1)) if exact == exact.to_integral_value() else exact


class Sawing(BaseModel):
    """Cut plans of a unit.

    `plan` saws what the yard has priced stock for. `unpriced` saws the rest from the
    lengths that the handbook says are usual; for want of a price its costs are metres of
    timber. `refused` says which sections could not be planned, and why.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    plan: CutPlan | None
    unpriced: CutPlan | None
    refused: tuple[str, ...]


def sawing_of(
    yard: Yard, parts: Sequence[Part], kerf_mm: Decimal | float = 3, effort_s: float = EFFORT_S
) -> Sawing:
    """Plan the sawing of all sawn parts, section by section.

    A section that cannot be planned leaves the others be.

    Args:
        yard: Its stock.
        parts: The take-off's parts; only the sawn ones count.
        kerf_mm: Width of the saw's cut [mm].
        effort_s: Work for each section, worth about as many seconds.
    """
    sections: dict[str, list[CutPart]] = {}
    for part in parts:
        if part.sawn:
            sections.setdefault(part.section, []).append(
                CutPart(
                    mark=part.mark,
                    section=part.section,
                    length_mm=exact_mm(part.length_mm),
                    count=part.count,
                )
            )
    priced: list[CutPlan] = []
    unpriced: list[CutPlan] = []
    refused: list[str] = []
    for section, wanted in sections.items():
        own = [
            StockBar(
                section=bar.section,
                length_mm=exact_mm(bar.length_mm),
                price=bar.price,
                available=bar.available,
            )
            for bar in yard.stock
            if bar.section == section
        ]
        usual = [
            StockBar(
                section=section,
                length_mm=exact_mm(length),
                price=exact_mm(length) / 1000,
            )
            for length in usual_lengths_mm(section)
        ]
        if not own and not usual:
            refused.append(
                f"section {section!r}: neither the yard's stock nor the handbook has it; add "
                "[[stock]] with its lengths and prices"
            )
            continue
        try:
            plan = cut_plan(wanted, own or usual, kerf_mm, effort_s)
        except Problem as problem:
            refused.append(str(problem))
            continue
        (priced if own else unpriced).append(plan)
    return Sawing(plan=_together(priced), unpriced=_together(unpriced), refused=tuple(refused))


def _together(plans: Sequence[CutPlan]) -> CutPlan | None:
    if not plans:
        return None
    sections: tuple[SectionPlan, ...] = tuple(s for plan in plans for s in plan.sections)
    return CutPlan(
        sections=sections,
        cost=sum((plan.cost for plan in plans), Decimal(0)),
        lower_bound=sum((plan.lower_bound for plan in plans), Decimal(0)),
        proven=all(plan.proven for plan in plans),
        seconds=0,
    )
