"""What one bird needs of its quarters, each need with its reason and its witness."""

from collections.abc import Sequence
from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.checks.brief_company import company, must_not_see, warmth_needs
from mewswright.checks.brief_fittings import bath, faces, perches
from mewswright.checks.brief_housing import tether, time_limits, verdicts
from mewswright.checks.brief_lofts import lofts
from mewswright.checks.brief_parts import Loft, Need, Tether, Verdict
from mewswright.checks.case import Known, evidence
from mewswright.checks.finding import Evidence
from mewswright.handbook import HousingMode, housing_mode, species
from mewswright.handbook.shelf import shelf_of
from mewswright.model.bird import Bird
from mewswright.model.yard import Yard

Advice = Literal["loose", "tethered", "either"]


class Housing(BaseModel):
    """Loose or tethered, by practice and by each standard that binds.

    `advice` is what is left when both have spoken. `practice` is the handbook's word:
    loose, either, either_tether_calmer or either_loose_better.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    advice: Advice
    practice: str
    reason: str
    sources: tuple[Evidence, ...]
    standards: tuple[Verdict, ...]
    time_limits: tuple[Need, ...]
    disagreements: tuple[str, ...]


class BirdBrief(BaseModel):
    """The brief of one bird. The keys are stable; docs/brief.md explains them."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    bird: str
    species: str
    common_name: str
    sex: str
    housing: Housing
    tether: Tether | None  # None: a kind that goes loose, and does here
    lofts: tuple[Loft, ...]
    perches: tuple[Need, ...]
    bath: tuple[Need, ...]
    faces: tuple[Need, ...]
    warmth: tuple[Need, ...]
    must_not_see: tuple[Need, ...]
    company: tuple[Need, ...]
    assumed: tuple[str, ...]


class Briefs(BaseModel):
    """The briefs of a yard."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    standards: tuple[str, ...]
    birds: tuple[BirdBrief, ...]


def brief_of(yard: Yard, bird: Bird, on: date | None = None) -> BirdBrief:
    """Say what one bird of a yard needs.

    Args:
        yard: The yard, whose standards bind and whose birds the bird may see.
        bird: The bird; what was measured on it goes before the handbook.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Raises:
        Problem: For an unknown species or standard.
    """
    known = Known(bird, species(bird.species))
    mode = housing_mode(known.species)
    standards, shelf = yard.yard.standards, shelf_of(yard.own_standards, on)
    said = verdicts(standards, known, shelf)
    advice = _advice(mode, said)
    leashed = mode.mode != "loose" or any(
        stay.bird == bird.name and stay.mode == "tethered" for stay in yard.stay
    )
    return BirdBrief(
        bird=bird.name,
        species=known.species.id,
        common_name=known.species.common_name,
        sex=bird.sex,
        housing=Housing(
            advice=advice,
            practice=mode.mode,
            reason=mode.reason,
            sources=evidence(mode.source),
            standards=said,
            time_limits=time_limits(standards, known, shelf),
            disagreements=_disagreements(mode, said),
        ),
        tether=tether(yard, known) if leashed else None,
        lofts=lofts(standards, known, shelf),
        perches=perches(standards, known, shelf),
        bath=bath(standards, known, shelf),
        faces=faces(standards, known, shelf),
        warmth=warmth_needs(known),
        must_not_see=must_not_see(yard, known),
        company=company(yard, known, shelf),
        assumed=_assumed(yard, known, leashed),
    )


def briefs(yard: Yard, bird: str | None = None, on: date | None = None) -> tuple[BirdBrief, ...]:
    """Brief every bird of a yard, or the one that is named.

    Raises:
        Problem: If there is no such bird.
    """
    birds = yard.bird if bird is None else (yard.bird_named(bird),)
    return tuple(brief_of(yard, one, on) for one in birds)


def yard_briefs(yard: Yard, bird: str | None = None, on: date | None = None) -> Briefs:
    """Give the briefs as `brief --json` prints them."""
    return Briefs(yard=yard.yard.name, standards=yard.yard.standards, birds=briefs(yard, bird, on))


FORBIDS = ("forbidden", "exceptional", "not_accepted", "avoid")


def _advice(mode: HousingMode, said: Sequence[Verdict]) -> Advice:
    """Loose where practice or any standard wants it so; otherwise both ways are open."""
    if mode.mode == "loose" or any(v.tether in FORBIDS for v in said):
        return "loose"
    return "either"


def _disagreements(mode: HousingMode, said: Sequence[Verdict]) -> tuple[str, ...]:
    found = []
    for one in said:
        if mode.mode == "loose" and one.tether in ("allowed", "conditional"):
            found.append(f"{one.name} allows a tether; practice does not: {mode.reason}")
        if mode.mode != "loose" and one.tether in FORBIDS:
            word = {
                "forbidden": "forbids",
                "exceptional": "allows only as an exception",
                "not_accepted": "does not accept",
                "avoid": "wants avoided",
            }[one.tether]
            found.append(f"{one.name} {word} a tether that practice allows: {mode.reason}")
    return tuple(found)


def _assumed(yard: Yard, known: Known, tethered: bool) -> tuple[str, ...]:
    """What was taken from the handbook because the bird was not measured."""
    bird, found = known.bird, []
    if bird.sex == "unknown":
        found.append("sex unknown: the larger sizes of its kind")
    for what, size, unit in (
        ("wing span", known.span, "mm"),
        ("tail", known.tail, "mm"),
        ("body length", known.body_length, "mm"),
        ("full weight", known.mass, "g"),
    ):
        if size is None:
            found.append(f"{what}: not measured, and no figure is on record")
        elif not size.measured:
            found.append(f"{what} {size.value:g} {unit}, from the handbook ({size.source.locator})")
    if bird.body_width_mm is None and bird.head_width_mm is None:
        found.append("body and head width: the bar gap of its class stands in")
    if tethered:
        for term in tether(yard, known).terms:
            if not term.measured and term.what in ("leash", "swivel_and_jesses"):
                word = term.what.replace("_", " ")
                found.append(f"{word} {term.value_mm:g} mm, usual for a medium bird")
    if bird.companions:
        together = 1 + len(bird.companions)
        found.append(f"loft sizes count {together} birds: it and its companions")
    return tuple(found)
