"""How the sawn parts of a take-off are cut from stock."""

from collections.abc import Sequence
from decimal import Decimal

from pydantic import BaseModel, ConfigDict

from mewswright.build.cut.glance import least_cost
from mewswright.build.cut.plan import CutPart, CutPlan, SectionPlan, StockBar
from mewswright.build.cut.solve import cut_plan
from mewswright.build.longest import usual_lengths_mm
from mewswright.build.parts import Part
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

# Work for each section, worth about as many seconds; without a clock the plan is the same
# on every machine.
EFFORT_S = 2.0
KERF_MM = 3  # of a common hand or circular saw (judgement)


def exact_mm(length_mm: float) -> Decimal:
    """A length as an exact decimal, 2400 rather than 2400.0 [mm]."""
    exact = Decimal(str(length_mm))
    return exact.quantize(Decimal(1)) if exact == exact.to_integral_value() else exact


class RackUse(BaseModel):
    """A piece of the rack that is used: what it is, how many, and what is sawn from it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str  # a section, or the material id of a sheet
    length_mm: float
    width_mm: float | None = None
    count: int
    marks: tuple[str, ...]


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
    rack: tuple[RackUse, ...] = ()  # what is taken from the rack


def sawing_of(
    yard: Yard, parts: Sequence[Part], kerf_mm: Decimal | float = KERF_MM,
    effort_s: float = EFFORT_S, *, fewest: bool = True,
) -> Sawing:  # fmt: skip
    """Plan the sawing of all sawn parts, section by section.

    A section that cannot be planned leaves the others be. What lies in the rack costs
    nothing and so is used wherever it saves buying; a plan with it never costs more.

    Args:
        yard: Its stock.
        parts: The take-off's parts; only the sawn ones count.
        kerf_mm: Width of the saw's cut [mm].
        effort_s: Work for each section, worth about as many seconds.
        fewest: Whether to look for few patterns too, which changes no cost.
    """
    priced: list[CutPlan] = []
    unpriced: list[CutPlan] = []
    refused: list[str] = []
    used: list[RackUse] = []
    for section, wanted in _wanted(parts).items():
        own = _own(yard, section)
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
        rack = _rack(yard, section)
        try:
            plan = _cheaper(wanted, own or usual, rack, kerf_mm, effort_s, fewest)
        except Problem as problem:
            refused.append(str(problem))
            continue
        used += _used(plan, rack)
        (priced if own else unpriced).append(plan)
    return Sawing(
        plan=_together(priced), unpriced=_together(unpriced), refused=tuple(refused),
        rack=tuple(used),
    )  # fmt: skip


def sawn_at_least(
    yard: Yard, parts: Sequence[Part], kerf_mm: Decimal | float = KERF_MM,
    effort_s: float = EFFORT_S,
) -> Decimal:  # fmt: skip
    """Least that any cut plan from the yard's own stock costs, the rack left out.

    0 for a section that the yard has none of, or that cannot be sawn from what it has.

    Args:
        yard: Its stock.
        parts: The take-off's parts; only the sawn ones count.
        kerf_mm: Width of the saw's cut [mm].
        effort_s: Work for each section, worth about as many seconds.
    """
    return sum(
        (
            least_cost(wanted, own, kerf_mm, effort_s)
            for section, wanted in _wanted(parts).items()
            if (own := _own(yard, section))
        ),
        Decimal(0),
    )


def _wanted(parts: Sequence[Part]) -> dict[str, list[CutPart]]:
    """The sawn parts of each section."""
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
    return sections


def _own(yard: Yard, section: str) -> list[StockBar]:
    """Bars of a section in the yard's stock."""
    return [
        StockBar(
            section=bar.section,
            length_mm=exact_mm(bar.length_mm),
            price=bar.price,
            available=bar.available,
        )
        for bar in yard.stock
        if bar.section == section
    ]


def _rack(yard: Yard, section: str) -> list[StockBar]:
    """Timber of a section that lies in the rack; alike lengths together."""
    lengths: dict[float, int] = {}
    for piece in yard.offcut:
        if piece.section == section:
            lengths[piece.length_mm] = lengths.get(piece.length_mm, 0) + piece.count
    return [
        StockBar(section=section, length_mm=exact_mm(length), price=Decimal(0), available=count)
        for length, count in lengths.items()
    ]


def _cheaper(
    wanted: Sequence[CutPart], stock: Sequence[StockBar], rack: Sequence[StockBar],
    kerf_mm: Decimal | float, effort_s: float, fewest: bool,
) -> CutPlan:  # fmt: skip
    """The plan with the rack, or the one without it where the search found that cheaper."""
    if not rack:
        return cut_plan(wanted, stock, kerf_mm, effort_s, fewest=fewest)
    plan = cut_plan(wanted, [*rack, *stock], kerf_mm, effort_s, fewest=fewest)
    if plan.proven:
        return plan
    try:
        without = cut_plan(wanted, stock, kerf_mm, effort_s, fewest=fewest)
    except Problem:  # only the rack has a length that serves
        return plan
    return plan if plan.cost <= without.cost else without


def _used(plan: CutPlan, rack: Sequence[StockBar]) -> list[RackUse]:
    lengths = {bar.length_mm for bar in rack}
    found: dict[Decimal, tuple[int, list[str]]] = {}
    for section in plan.sections:
        for pattern in section.patterns:
            if pattern.price == 0 and pattern.stock_mm in lengths:
                count, marks = found.get(pattern.stock_mm, (0, []))
                found[pattern.stock_mm] = (
                    count + pattern.count, [*marks, *(cut.mark for cut in pattern.cuts)],
                )  # fmt: skip
    return [
        RackUse(
            what=rack[0].section, length_mm=float(length), count=count,
            marks=tuple(dict.fromkeys(marks)),
        )
        for length, (count, marks) in found.items()
    ]  # fmt: skip


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
