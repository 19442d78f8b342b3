"""`size`: the cheapest sections, spacings, bracing and anchors that pass, or why none do."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ConfigDict

from mewswright.build.frame_report import FrameReport, frame_report
from mewswright.build.size_choices import Choices, choices_for, on_stock, sheets_for
from mewswright.build.size_helps import Asked, helps, unbraced
from mewswright.build.size_judge import Judge
from mewswright.build.size_price import Price, Pricer
from mewswright.build.size_ridge import RIDGE_KEYS, ridged
from mewswright.build.size_search import MOST_STEPS, Trail, failing, search, told
from mewswright.build.size_stock import LEAST_BREADTH_MM, fully_priced, own_sections
from mewswright.build.soles import SOLE_BASES
from mewswright.build.steel_beams import tubes_in
from mewswright.build.tube import tube_of
from mewswright.model.problem import Problem
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

# Keys of the frame that are chosen, in the order of the yard file.
CHOSEN = (
    "post", "post_count", "sole", "nogging", "head", "head_on_edge", "stud", "stud_spacing_mm",
    "rafter", "rafter_spacing_mm", "brace", "brace_leg_mm", "lining", "lining_nail_mm", "anchor",
    "anchor_count", "hole_mm",
)  # fmt: skip
ALWAYS_ASSUMED = (
    "walls get no thicker than they are, where anything in stock fits them",
    "prices are of the whole unit: sawn by its cut plan, fixings, lining and anchors with it; "
    "ties go by the mass of the timber",
    "ground anchors are not offered: they count for nothing until they were pulled on the spot",
)


class Costed(BaseModel):
    """What a frame costs with all that the take-off counts for its unit."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    currency: str
    total: float
    timber: float
    timber_kg: float
    timber_waste_pct: float
    assumed: tuple[str, ...]  # priced by assumption
    missing: tuple[str, ...]  # without any price: not in the total


class SizeReport(BaseModel):
    """The cheapest frame that passes everything, or why none does."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    found: bool
    frame: dict[str, Any]  # the chosen keys
    changes: dict[str, Any]  # those that the yard file says otherwise
    cost: Costed | None
    cost_now: Costed | None
    weakest: str
    reasons: tuple[str, ...]
    helps: tuple[str, ...]
    combinations: int
    judged: int
    full_analyses: int
    proven: bool  # nothing that may be chosen is cheaper, or nothing passes; else the search ended
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Sized:
    """A report with the frame that it chose, and how that one stands."""

    report: SizeReport
    frame: Frame | None
    stands: FrameReport | None


def size(yard: Yard, quarters: Quarters, choices: Choices | None = None) -> Sized:
    """Choose the cheapest frame of a unit that passes everything in its report.

    Args:
        yard: Its stock, prices and loads.
        quarters: The unit; of its frame, what is not chosen stays.
        choices: What may be chosen; None: all that can be made of the yard's stock.

    Raises:
        Problem: As `frame_report` does, or if the yard has no timber in stock.
    """
    for key, section in tubes_in(quarters.frame, ridged=quarters.ridge_mm is not None).items():
        raise Problem(
            f"{quarters.name!r} has frame.{key} of steel tube {section}, and only timber is chosen "
            "here: give it a timber section, or let an engineer size the tube"
        )
    if tube_of(quarters.frame.post) is not None:
        raise Problem(
            f"{quarters.name!r} has posts of steel tube {quarters.frame.post}, and only timber is "
            "chosen here: give frame.post a timber section, or let an engineer size the tube"
        )
    now = frame_report(yard, quarters)  # refuses what cannot be sized
    if not own_sections(yard):
        raise Problem(
            f"{yard.yard.name!r} has no timber of {LEAST_BREADTH_MM:g} mm or more in stock to size "
            "from: add [[stock]] with section, length_mm and price"
        )
    using, unpriced = fully_priced(yard, sheets_for(yard, quarters.frame))
    sections = own_sections(using)
    unit, swapped = on_stock(quarters, sections)
    unit, of_ridge = ridged(using, unit, sections)
    offered = choices or choices_for(using, unit, sections)
    pricer = Pricer(using, unit)
    best, trail = search(Judge(using, unit), pricer, offered, unit.frame)
    stage = failing(trail)
    report = SizeReport(
        yard=yard.yard.name,
        quarters=quarters.name,
        found=best is not None,
        frame=_keys(quarters, best.frame) if best else {},
        changes=_changes(quarters, best.frame) if best else {},
        cost=_costed(using, best.price) if best else None,
        cost_now=_costed(using, pricer.price(quarters.frame)),
        weakest=best.report.weakest if best else "",
        reasons=() if best else (*reasons(trail, stage), *unbraced(unit)),
        helps=() if best else tuple(helps(Asked(using, unit, offered, sections), stage)),
        combinations=trail.combinations,
        judged=trail.met,
        full_analyses=trail.confirmed,
        proven=not trail.given_up,
        assumptions=(
            *ALWAYS_ASSUMED,
            plates_stay(unit.frame),
            *of_ridge,
            *swapped,
            *unpriced,
            *now.assumptions,
        ),
        cautions=now.cautions,
    )
    return Sized(report, best.frame if best else None, best.report if best else None)


def reasons(trail: Trail, stage: str) -> Iterator[str]:
    """Why nothing passes: the part for which nothing is enough, and by how much."""
    if trail.given_up:
        yield (
            f"the search was given up after {MOST_STEPS} steps: fewer sections in [[stock]], or "
            "stronger ones, end it sooner"
        )
    if stage not in trail.best:
        yield from trail.too_long or ("no combination could be set out",)
        return
    verdict, _ = trail.best[stage]
    if verdict.sound:
        yield (
            f"each part has something that is enough, but no one frame passes them all; the last "
            f"that was asked is {stage}: {told(verdict)}"
        )
        return
    over = verdict.share - 1
    by = "nothing resists" if over == float("inf") else f"{100 * over:.0f} % too much"
    yield f"{stage}: none is enough; the nearest is {told(verdict)}, {by}"


def plates_stay(frame: Frame) -> str:
    """Why sole plates and noggings that are in stock are not chosen, in words."""
    stay = "sole plates and noggings that are in stock stay"
    if frame.base in SOLE_BASES:
        return (
            f"{stay}: between {frame.base.replace('_', ' ')} a sole plate is a beam and is "
            "checked as such, but no other is tried; nothing is asked of noggings"
        )
    return f"{stay}, for on this base nothing is asked of them that would tell a lighter one"


def _keys(quarters: Quarters, frame: Frame) -> dict[str, Any]:
    keys = CHOSEN if quarters.ridge_mm is None else (*CHOSEN, *RIDGE_KEYS)
    return {key: getattr(frame, key) for key in keys}


def _changes(quarters: Quarters, then: Frame) -> dict[str, Any]:
    now = quarters.frame
    return {
        key: value for key, value in _keys(quarters, then).items() if value != getattr(now, key)
    }


def _costed(yard: Yard, price: Price) -> Costed:
    sawn = [line for line in price.costing.lines if line.what.startswith(("sawn", "timber for"))]
    return Costed(
        currency=yard.yard.currency,
        total=float(price.total),
        timber=float(sum(line.total for line in sawn if line.total is not None)),
        timber_kg=price.timber_kg,
        timber_waste_pct=price.timber_waste_pct,
        assumed=tuple(
            dict.fromkeys(line.item for line in price.costing.lines if line.priced == "assumption")
        ),
        missing=price.missing,
    )
