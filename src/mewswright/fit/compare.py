"""Variants of one unit beside each other: what each costs, asks, weighs and says to the checks.

One variant is worked out by one call without memory, so that a shell may work many out at
the same time; `table` puts them together in the order of the values.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.masses import part_mass
from mewswright.build.report import worked_out
from mewswright.build.sawing import Sawing
from mewswright.build.takeoff import TakeOff
from mewswright.checks.finding import STATUSES, Finding
from mewswright.checks.registry import run_checks
from mewswright.fit.compare_fields import Axis, shown, taken_as, varied
from mewswright.fit.compare_shape import Comparison, Findings, FrameVerdict, Outcome, Variant
from mewswright.fit.compare_upkeep import hours_to_build, purchase_of, upkeep_of
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

YEARS = 10.0
MOST_YEARS = 100.0
ALWAYS = (
    "wear is counted evenly: years over life is how often a thing is renewed, not a whole number",
    "what outlives the years is not renewed: frame, boards, deck, doors, base, baths; nor is food, "
    "water, power or tools counted",
    "hours are one person's; no wage is in any price. The costs of upkeep are today's prices",
    "the unit is built new: what stands already and could be used again is not taken off",
    "boards and open timber are brushed anew with as many coats as at first",
    "in renewals, whole packs and waste are paid for as in the take-off",
    "mass is that of all parts that the handbook can weigh, a dry floor with them; not of fixings, "
    "doors, baths and perches",
)
CAUTIONS = (
    "Lives, minutes and hours are judgements or recalled: they rank variants and promise nothing.",
    "A dear variant that spares a bird harm is the better one: look at the findings first.",
    "Frames are sized roughly, not approved: the local code and a licensed engineer decide.",
)


def standing(
    yard: Yard, name: str, axes: Sequence[Axis], years: float = YEARS, on: date | None = None
) -> Outcome:
    """Work out the unit as it stands.

    Args:
        yard: The yard.
        name: The unit.
        axes: What is varied, for the values that stand.
        years: Years of upkeep, 0 or more and at most `MOST_YEARS`.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Raises:
        Problem: For a pitch, a material that is not on record, or years out of range.
    """
    if not 0 <= years <= MOST_YEARS:
        raise Problem(f"--years {years:g}: give 0 to {MOST_YEARS:g}")
    return _worked(yard, name, {axis.path: axis.stands for axis in axes}, years, on)


def variant(
    yard: Yard, name: str, axes: Sequence[Axis], years: float, on: date | None,
    values: Sequence[Any],
) -> Outcome:  # fmt: skip
    """Work out one variant; one that cannot be comes back with its fault.

    Args:
        yard: The yard as it stands.
        name: The unit.
        axes: What is varied.
        years: Years of upkeep.
        on: As for `standing`.
        values: One value for each axis.
    """
    named = {axis.path: value for axis, value in zip(axes, values, strict=True)}
    try:
        found = _worked(varied(yard, name, axes, values), name, named, years, on)
        told = taken_as(yard, name, axes, values)
        return found.model_copy(update={"assumptions": (*told, *found.assumptions)})
    except Problem as problem:
        return Outcome(
            variant=Variant(values=named, currency=yard.yard.currency, fault=str(problem))
        )


def _worked(
    yard: Yard, name: str, values: Mapping[str, Any], years: float, on: date | None
) -> Outcome:
    quarters = yard.quarters_named(name)
    takeoff, sawing, costing = worked_out(yard, quarters)
    purchase = purchase_of(yard, quarters, takeoff, costing)
    upkeep, figures = upkeep_of(yard, quarters, takeoff, costing, years)
    hours, work = hours_to_build(quarters, takeoff)
    found = [one for one in run_checks(yard, on=on) if one.status != "sound"]
    here = tuple(one for one in found if one.quarters == name)
    of = Counter(one.status for one in here)
    frame, cautions = _frame(yard, quarters)
    cautions += [f"{line}: not sawn, and not in the price" for line in sawing.refused]
    if purchase.missing:
        cautions.append(f"not the whole price: none for {', '.join(purchase.missing)}")
    unpriced = [line.what for line in upkeep.lines if line.priced == "missing"]
    if unpriced:
        cautions.append(f"not the whole upkeep: no price for {', '.join(unpriced)}")
    return Outcome(
        variant=Variant(
            values=dict(values),
            purchase=purchase.total,
            currency=yard.yard.currency,
            priced=purchase.priced,
            hours_to_build=hours,
            upkeep=upkeep,
            life_cost=purchase.total + upkeep.cost,
            life_hours=round(hours + upkeep.hours, 1),
            mass_kg=_mass_kg(takeoff),
            waste_pct=_waste_pct(sawing),
            findings=Findings(harm=of["harm"], short=of["short"], mind=of["mind"]),
            frame=frame,
        ),
        here=here,
        elsewhere=tuple(one for one in found if one.quarters != name),
        assumptions=tuple(dict.fromkeys((*purchase.told, *work, *figures, *takeoff.assumptions))),
        cautions=tuple(cautions),
    )


def _frame(yard: Yard, quarters: Quarters) -> tuple[FrameVerdict | None, list[str]]:
    if yard.loads is None:
        return None, []
    try:
        report = frame_report(yard, quarters)
    except (Problem, ValueError) as problem:  # a rule that ends before this variant
        return None, [f"the frame is not checked: {problem}"]
    return (
        FrameVerdict(sound=report.sound, weakest=report.weakest, utilisation=_most_used(report)),
        [f"an engineer must decide: {reason}" for reason in report.refusals],
    )


def _most_used(report: FrameReport) -> float | None:
    """The largest share that anything of a frame is used [-]; None where nothing resists."""
    shares: list[float | None] = [
        *(member.utilisation for member in report.members),
        *(check["utilisation"] for check in report.deck),
        *(joint["utilisation"] for joint in report.joints),
        report.bearing["utilisation"],
        report.stability["weakest"]["utilisation"],
    ]
    known = [share for share in shares if share is not None]
    return max(known) if len(known) == len(shares) else None


def _mass_kg(takeoff: TakeOff) -> float:
    masses = (part_mass(part) for part in takeoff.parts)
    return round(sum(mass.kg for mass in masses if mass is not None), 1)


def _waste_pct(sawing: Sawing) -> float | None:
    """Share of the bought bars that no part is sawn from [%]."""
    bought = used = Decimal(0)
    for plan in (sawing.plan, sawing.unpriced):
        for section in plan.sections if plan else ():
            for pattern in section.patterns:
                bought += pattern.stock_mm * pattern.count
                pieces = sum((cut.length_mm * cut.count for cut in pattern.cuts), Decimal(0))
                used += pieces * pattern.count
    return round(float(100 * (bought - used) / bought), 1) if bought else None


def table(
    yard: Yard, name: str, axes: Sequence[Axis], years: float, stands: Outcome,
    outcomes: Iterable[Outcome],
) -> Comparison:  # fmt: skip
    """Put the variants beside the unit as it stands.

    Args:
        yard: The yard as it stands.
        name: The unit.
        axes: What was varied.
        years: Years of upkeep.
        stands: The unit as it stands.
        outcomes: The variants, in the order of `combinations`.
    """
    variants: list[Variant] = []
    assumed: list[str] = [*ALWAYS, *stands.assumptions]
    cautions: list[str] = [*CAUTIONS, *(f"as it stands: {one}" for one in stands.cautions)]
    for outcome in outcomes:
        told = ", ".join(f"{path} {shown(value)}" for path, value in outcome.variant.values.items())
        variants.append(_held_against(outcome, stands))
        assumed += outcome.assumptions
        cautions += (f"{told}: {one}" for one in outcome.cautions)
        if outcome.variant.fault is None:
            more, fewer = changed(outcome.elsewhere, stands.elsewhere)
            for codes, word in ((more, "more"), (fewer, "less")):
                if codes:
                    cautions.append(f"{told}: elsewhere in the yard {', '.join(codes)} say {word}")
    return Comparison(
        yard=yard.yard.name,
        quarters=name,
        years=years,
        vary={axis.path: axis.values for axis in axes},
        variants=tuple(variants),
        baseline=stands.variant,
        assumptions=tuple(dict.fromkeys(assumed)),
        cautions=tuple(dict.fromkeys(cautions)),
    )


def _held_against(outcome: Outcome, stands: Outcome) -> Variant:
    found = outcome.variant
    if found.findings is None:
        return found
    gained, lost = changed(outcome.here, stands.here)
    return found.model_copy(
        update={"findings": found.findings.model_copy(update={"gained": gained, "lost": lost})}
    )


def changed(
    now: Iterable[Finding], before: Iterable[Finding]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Codes that say more or worse than before, and codes that say less, sorted.

    A code is weighed by its count of harm, then of short, then of mind.
    """
    after, was = _weights(now), _weights(before)
    nothing = tuple(0 for _ in STATUSES)
    gained = [c for c in after | was if after.get(c, nothing) > was.get(c, nothing)]
    lost = [c for c in after | was if after.get(c, nothing) < was.get(c, nothing)]
    return tuple(sorted(gained)), tuple(sorted(lost))


def _weights(findings: Iterable[Finding]) -> dict[str, tuple[int, ...]]:
    counts: dict[str, Counter[str]] = {}
    for one in findings:
        counts.setdefault(one.code, Counter())[one.status] += 1
    return {code: tuple(of[status] for status in STATUSES) for code, of in counts.items()}
