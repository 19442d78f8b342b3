"""What the feet bear on: one texture, old covers, bare wood, one thickness."""

from collections.abc import Iterator, Sequence
from math import ceil

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM, Finding, Status
from mewswright.checks.foot_stand import (
    COVER_MONTHS,
    TEXTURE_SHARE,
    THICKNESS_MM,
    Home,
    OneTexture,
    ages,
    homes,
    missing_spread_mm,
    one_texture,
    perches_of,
    round_ones,
    texture,
)
from mewswright.checks.limits import ABOVE_A_HAIR, whole_mm
from mewswright.checks.perches import users
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.checks.tether_rules import WHOLE_DAY_H
from mewswright.handbook import Species, foot_risks, perch_diameter
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.yard import Yard

PRONE = ("gyrfalcon", "saker_falcon")
TESTED = ("turf", "neoprene")  # covers of the foot model, and the masses it stood for [g]
TESTED_G = (250.0, 1000.0)


def is_prone(kind: Species) -> bool:
    """Gyr, saker and their crosses: the most prone to sore feet."""
    return kind.id in PRONE or any(parent in PRONE for parent in kind.parents)


@yard_check("B101", "Share of the day on one texture")
def share_on_one(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """B101: a bird does not stand on one and the same cover day and night."""
    del yard
    found = []
    for home in homes(every):
        felt = one_texture(home)
        if felt is not None:
            found.append(_share(home, felt))
    yield from dict.fromkeys(found)  # stays of other dates that say the same


def _share(home: Home, felt: OneTexture) -> Finding:
    prone = is_prone(home.resident.species)
    # What can be cured in these quarters, and should be first of all, is short.
    curable = not home.resident.tethered and len(home.perches) > 1
    status: Status = "short" if curable and (prone or len(home.case.together) > 1) else "mind"
    why = f"{felt.hours:g} h a day on {felt.texture}: the same spot of the foot bears all the time"
    remedy = _another(home, felt)
    if not felt.too_long:
        status, remedy = "sound", ""
        why = f"at most {felt.hours:g} h on {felt.texture}" if felt.texture else "it can choose"
    elif not felt.sure:
        status, remedy = "mind", "give hours_a_day of its stays by day"
        why = f"how long it stands on something other than {felt.texture} is not given"
    return Finding(
        code="B101",
        status=status,
        quarters=home.case.quarters.name,
        bird=home.resident.bird.name,
        measured=Quantity(value=100 * felt.hours / WHOLE_DAY_H, unit="pct"),
        limit=Quantity(value=100 * TEXTURE_SHARE, unit="pct"),
        why=why,
        remedy=remedy,
        sources=(
            *asked.judgement("share of the day on one texture"),
            *(asked.witnesses(foot_risks()["kind_gyr_saker"].source) if prone else ()),
        ),
    )


def _another(home: Home, felt: OneTexture) -> str:
    if not home.resident.tethered and len(home.perches) > 1:
        return f"cover one of its perches with something other than {felt.texture}"
    over_h = ceil(felt.hours - TEXTURE_SHARE * WHOLE_DAY_H - ABOVE_A_HAIR)
    return f"let it stand on something other than {felt.texture} for {over_h:g} h a day more"


@quarters_check("B102", "Age of the cover")
def cover_age(case: Case) -> Iterator[Finding]:
    """B102: a cover is renewed before it is worn hard and full of droppings."""
    limit = Quantity(value=COVER_MONTHS, unit="months")
    sources = asked.judgement("age of a perch's cover")
    covered = [p for p in case.quarters.perches if ages(p) and users(case, p)]
    unknown = sorted(p.name for p in covered if p.cover_age_months is None)
    if unknown:
        yield verdict(
            "B102", case, False, "mind", limit=limit,
            why=f"how old the cover is on {', '.join(unknown)} is not given",
            remedy="give cover_age_months", sources=sources,
        )  # fmt: skip
    for perch in covered:
        months = perch.cover_age_months
        if months is None:
            continue
        yield verdict(
            "B102", case, months <= COVER_MONTHS, "short",
            measured=Quantity(value=months, unit="months"), limit=limit, fitting=perch.name,
            why="an old cover is worn hard, and holds dirt that no brush gets out",
            remedy="renew it", sources=sources,
        )  # fmt: skip


@yard_check("B103", "A perch that spares the pad")
def pad_load(yard: Yard, every: Sequence[Case]) -> Iterator[Finding]:
    """B103: each bird has a place to stand whose cover was shown to spread the load."""
    del yard
    yield from dict.fromkeys(_pad(home) for home in homes(every) if home.perches)


def _pad(home: Home) -> Finding:
    covers = sorted({texture(p) for case, r in home.together for p in perches_of(case, r)})
    mass_g = home.resident.mass.value
    status: Status = "mind"
    remedy = "cover one of its perches with turf or neoprene"
    if set(covers) & set(TESTED):
        status, remedy = "sound", ""
        why = "turf and neoprene load the middle of the pad less than bare wood"
    elif all(cover in ("planed wood", "grown wood", "sandpaper") for cover in covers):
        status = "short"
        why = "all that it stands on is bare: that loads the middle of the pad most"
    else:
        why = "any cover beats bare wood, but how far these spread the load was not tested"
    if not TESTED_G[0] <= mass_g <= TESTED_G[1]:
        why += (
            f"; the test stood for {TESTED_G[0]:g} to {TESTED_G[1]:g} g, and it weighs {mass_g:.0f}"
        )
    return Finding(
        code="B103",
        status=status,
        quarters=home.case.quarters.name,
        bird=home.resident.bird.name,
        measured=Quantity(value=", ".join(covers)),
        limit=Quantity(value="turf or neoprene"),
        why=why,
        remedy=remedy,
        sources=asked.of_rule(asked.house_rule("perch_pad_load")),
    )


@quarters_check("B105", "More than one thickness")
def thicknesses(case: Case) -> Iterator[Finding]:
    """B105: round perches differ in thickness, so that the foot closes in more than one way."""
    if not case.loose:
        return
    short_mm = missing_spread_mm(case.quarters.perches)
    if short_mm is None:
        return
    found = round_ones(case.quarters.perches)
    thin, thick = found[0], found[-1]
    assert thin.diameter_mm is not None
    assert thick.diameter_mm is not None
    high_mm = max(perch_diameter(r.mass.value)[1].value for r in case.loose)
    thicker = thick.diameter_mm + short_mm <= high_mm + TAPE_MM
    perch, word = (thick, "thicker") if thicker else (thin, "thinner")
    yield verdict(
        "B105", case, asked.stays_within(short_mm, 0), "mind",
        measured=Quantity(value="a branch among them")
        if any(one.form == "branch" for one in found)
        else millimetres(thick.diameter_mm - thin.diameter_mm),
        limit=millimetres(THICKNESS_MM),
        why="all its round perches are of one thickness: the foot closes one way only",
        remedy=f"take {perch.name} {whole_mm(short_mm)} {word}",
        sources=asked.witnesses(foot_risks()["one_thickness"].source),
    )  # fmt: skip
