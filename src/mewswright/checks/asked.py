"""What the standards of a case ask on one topic, and how a miss is called.

Rules of the standards that bind come first. Where they are silent, the house rules
answer, so that nothing goes unjudged.
"""

from collections.abc import Iterable
from functools import cache

from mewswright.checks import limits
from mewswright.checks.case import Case, Resident, evidence
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.handbook import Rule, SourceRef, applies, rules, source
from mewswright.handbook.standard_rules import STATES
from mewswright.model.quantity import Quantity

HOUSE = "house"
PLACES = {"loft": ("any", "loft", "flight_cage"), "isolation": ("any", "isolation", "loft")}


@cache
def of_standard(standard: str, topic: str) -> tuple[Rule, ...]:
    """Rules of one topic in one shipped standard, whether or not it binds."""
    return rules(standard, topic)


def named(case: Case, topic: str, resident: Resident | None = None) -> tuple[Rule, ...]:
    """Rules of one topic in the standards that bind the case; may be empty."""
    places = PLACES.get(case.quarters.kind, ("any", case.quarters.kind))
    return tuple(
        rule
        for standard in case.standards
        for rule in case.shelf.rules(standard, topic)
        if rule.place in places and holds_for(rule, resident)
    )


def asked(case: Case, topic: str, resident: Resident | None = None) -> tuple[Rule, ...]:
    """Rules of one topic in the standards that bind, or else the house rules."""
    if found := named(case, topic, resident):
        return found
    places = PLACES.get(case.quarters.kind, ("any", case.quarters.kind))
    return tuple(
        rule
        for rule in case.shelf.rules(HOUSE, topic)
        if rule.place in places and holds_for(rule, resident)
    )


def house_rule(topic: str) -> Rule:
    """The house rule of a topic, whatever else binds."""
    return of_standard(HOUSE, topic)[0]


def holds_for(rule: Rule, resident: Resident | None) -> bool:
    """Whether a rule speaks of this bird as it is kept here; None = no bird in mind."""
    if resident is None:
        return True
    if rule.applies_to in STATES:
        state = "tethered" if resident.tethered else "loose"
        flown = resident.bird.use == "flown" and rule.applies_to in ("flown", "trained")
        return rule.applies_to == state or flown
    return applies(rule.applies_to, resident.species)


def miss(rule: Rule) -> Status:
    """How a miss of a rule is called: harm for a law that was read, short for the rest."""
    return limits.missed(rule)


def number(rule: Rule) -> float:
    """The figure of a rule that has one."""
    return rule.as_figure().value


def strictest(found: Iterable[Rule], most: bool = True) -> Rule | None:
    """The rule with the largest figure (or the smallest); law first among equals."""
    numbered = [rule for rule in found if rule.number is not None]
    if not numbered:
        return None
    sign = 1 if most else -1
    return max(numbered, key=lambda rule: (sign * number(rule), miss(rule) == "harm"))


@cache
def judgement(where: str) -> tuple[Evidence, ...]:
    """The witness of a limit that is nobody's but ours."""
    return (Evidence(name=source("judgement").cite, locator=where, how_known="judgement"),)


@cache
def keepers_own(key: str) -> tuple[Evidence, ...]:
    """The witness of a limit that the keeper has set in the yard file."""
    return (Evidence(name="house limits of the yard file", locator=key, how_known="judgement"),)


def of_rule(*found: Rule) -> tuple[Evidence, ...]:
    """The witnesses of some rules."""
    return witnesses(*(rule.source for rule in found))


@cache
def witnesses(*refs: SourceRef) -> tuple[Evidence, ...]:
    """The handbook's references as a finding carries them; made once each."""
    return evidence(*refs)


def verdict(
    code: str,
    case: Case,
    sound: bool,
    missed: Status,
    *,
    measured: Quantity | None = None,
    limit: Quantity | None = None,
    why: str = "",
    remedy: str = "",
    sources: tuple[Evidence, ...] = (),
    bird: str | None = None,
    fitting: str | None = None,
) -> Finding:
    """A finding that is sound, or missed with its reason and remedy."""
    return Finding(
        code=code,
        status="sound" if sound else missed,
        quarters=case.quarters.name,
        bird=bird,
        fitting=fitting,
        measured=measured,
        limit=limit,
        why="" if sound else why,
        remedy="" if sound else remedy,
        sources=sources,
    )


def reaches(measured_mm: float, limit_mm: float) -> bool:
    """A length is at least its limit, as far as a tape can tell."""
    return limit_mm - measured_mm <= TAPE_MM


def stays_within(measured_mm: float, limit_mm: float) -> bool:
    """A length is at most its limit, as far as a tape can tell."""
    return measured_mm - limit_mm <= TAPE_MM
