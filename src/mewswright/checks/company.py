"""Checks of company: who shares quarters with whom."""

from collections.abc import Iterator
from itertools import combinations

from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import judgement
from mewswright.checks.registry import quarters_check
from mewswright.handbook import fears, is_social, table
from mewswright.handbook.husbandry import LARGE_ACCIPITERS
from mewswright.model.quantity import Quantity


def _pairs(case: Case) -> Iterator[tuple[Resident, Resident]]:
    """Pairs of different birds whose stays share a day, each pair once."""
    seen: set[frozenset[str]] = set()
    for one, other in combinations(case.residents, 2):
        pair = frozenset((one.bird.name, other.bird.name))
        if len(pair) == 2 and pair not in seen and one.stay.overlaps(other.stay):
            if not one.tethered and not other.tethered:
                seen.add(pair)
            yield one, other


def mass_ratio(one: Resident, other: Resident) -> float:
    """Heavier over lighter [-]."""
    masses = sorted((one.mass.value, other.mass.value))
    return masses[1] / masses[0]


def _are_companions(one: Resident, other: Resident) -> bool:
    return other.bird.name in one.bird.companions or one.bird.name in other.bird.companions


@quarters_check("K104", "Birds together that are not companions")
def companions(case: Case) -> Iterator[Finding]:
    """K104: loose birds in one room are companions, and neither fears the other."""
    for one, other in _pairs(case):
        if one.tethered or other.tethered:
            continue
        names = f"{one.bird.name} and {other.bird.name}"
        masses = one.mass.value, other.mass.value
        fear = fears(one.species, other.species, *masses) or fears(
            other.species, one.species, *reversed(masses)
        )
        keeper_says = other.bird.name in one.bird.fears or one.bird.name in other.bird.fears
        status: Status = "sound"
        why, remedy = f"{names} live together in peace", ""
        sources: tuple[Evidence, ...] = (judgement("companions"),)
        if keeper_says or fear:
            status = "harm"
            why = f"{names}: {fear.reason if fear else 'one must not see the other'}"
            remedy = "house them apart and out of sight of each other"
            sources = evidence(fear.source) if fear else sources
        elif not _are_companions(one, other):
            status = "short"
            why = f"{names} are not named as companions"
            remedy = "house them apart, or name them as companions once you know them to be"
        yield Finding(
            code="K104",
            status=status,
            quarters=case.quarters.name,
            bird=one.bird.name,
            measured=Quantity(value=round(mass_ratio(one, other), 2), unit="times as heavy"),
            why=why,
            remedy=remedy,
            sources=(*sources, one.mass.source, other.mass.source),
        )


@quarters_check("K105", "A loose bird with a tethered one")
def loose_with_tethered(case: Case) -> Iterator[Finding]:
    """K105: no loose bird reaches a tethered one, which cannot get away."""
    tied = {}
    for one, other in _pairs(case):
        if one.tethered == other.tethered:
            continue
        captive, free = (one, other) if one.tethered else (other, one)
        tied[captive.bird.name, free.bird.name] = True
        yield Finding(
            code="K105",
            status="harm",
            quarters=case.quarters.name,
            bird=captive.bird.name,
            measured=Quantity(value="with a loose bird"),
            limit=Quantity(value="alone on its tether"),
            why=f"{free.bird.name} is loose where {captive.bird.name} cannot get away",
            remedy=f"move {free.bird.name} out while {captive.bird.name} is tethered here",
            sources=(judgement("a loose bird with a tethered one"),),
        )
    met = {name for name, _ in tied}
    for resident in {r.bird.name: r for r in case.tethered}.values():
        if resident.bird.name not in met:
            yield Finding(
                code="K105",
                status="sound",
                quarters=case.quarters.name,
                bird=resident.bird.name,
                why="no loose bird reaches it",
                sources=(judgement("a loose bird with a tethered one"),),
            )


@quarters_check("K106", "Company for a social bird")
def social_alone(case: Case) -> Iterator[Finding]:
    """K106: a bird of a social kind has a companion in its quarters."""
    for resident in {r.bird.name: r for r in reversed(case.loose)}.values():
        trait = is_social(resident.species)
        if trait is None or case.quarters.kind == "isolation" or resident.stay.isolated:
            continue
        friends = [
            r
            for r in case.loose
            if r.bird.name != resident.bird.name
            and _are_companions(resident, r)
            and r.stay.overlaps(resident.stay)
        ]
        yield Finding(
            code="K106",
            status="sound" if friends else "mind",
            quarters=case.quarters.name,
            bird=resident.bird.name,
            measured=Quantity(value=len({r.bird.name for r in friends}), unit="companions"),
            limit=Quantity(value=1, unit="companions"),
            why=trait.reason,
            remedy="" if friends else "think of a companion that it knows, or give it more to do",
            sources=evidence(trait.source),
        )


@quarters_check("K107", "A pair of very unequal mass")
def unequal_pair(case: Case) -> Iterator[Finding]:
    """K107: in a loose pair of one kind the heavier bird is no danger to the lighter.

    The handbook's rules of fear leave a bird's own kind out. Their ratios stand in:
    where a bird of another kind would be feared, a pair is worth watching.
    """
    for one, other in _pairs(case):
        if one.tethered or other.tethered or one.species.id != other.species.id:
            continue
        rule = "goshawk" if one.species.id in LARGE_ACCIPITERS else "four-times"
        row = next(row for row in table("fears").rows if row["rule"] == rule)
        limit, ratio = float(row["mass_ratio_min"]), mass_ratio(one, other)
        heavier = one if one.mass.value >= other.mass.value else other
        risky = ratio >= limit
        yield Finding(
            code="K107",
            status="mind" if risky else "sound",
            quarters=case.quarters.name,
            bird=heavier.bird.name,
            measured=Quantity(value=round(ratio, 2), unit="times as heavy"),
            limit=Quantity(value=limit, unit="times as heavy"),
            why=f"{one.bird.name} and {other.bird.name}: {row['reason']}" if risky else "",
            remedy="give the lighter bird cover and a way out, and watch them" if risky else "",
            sources=(
                judgement(f"fears.csv, {rule}, held against its own kind"),
                one.mass.source,
                other.mass.source,
            ),
        )
