"""The brief's housing: tether by standard, for how long, and the free circle."""

from collections.abc import Iterator, Sequence

from mewswright.checks.brief_parts import Need, Term, Tether, Verdict, need_of
from mewswright.checks.case import Known, evidence
from mewswright.checks.free_circle import free_circle
from mewswright.checks.limits import is_in_force
from mewswright.handbook import housing_mode, rules
from mewswright.handbook.shelf import SHIPPED, Shelf
from mewswright.model.yard import Yard

TERMS = ("leash", "swivel_and_jesses", "half_span", "margin")


def verdicts(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Verdict, ...]:
    """Ask each standard about a tether; one that was not read for it says `unknown`."""
    return tuple(v for key in standards for v in _verdict(key, known, shelf))


def _verdict(key: str, known: Known, shelf: Shelf) -> Iterator[Verdict]:
    named, found = shelf.standard(key), False
    if key == "house":  # the house has no rule of its own here: common practice speaks
        mode = housing_mode(known.species)
        yield Verdict(
            standard=key,
            name=named.name,
            tether="not_accepted" if mode.mode == "loose" else "allowed",
            reason=mode.reason,
            sources=evidence(mode.source),
        )
        return
    for rule in shelf.rules(key, "tether", known.species):
        found = True
        yield Verdict(
            standard=key, name=named.name, tether=rule.value, reason=rule.condition,
            sources=evidence(rule.source),
        )  # fmt: skip
    if not found:
        gaps = f"; not read: {'; '.join(named.gaps)}" if named.gaps else ""
        yield Verdict(
            standard=key,
            name=named.name,
            tether="unknown",
            reason=f"nothing was read on tethering{gaps}",
            sources=(),
        )


def time_limits(standards: Sequence[str], known: Known, shelf: Shelf = SHIPPED) -> tuple[Need, ...]:
    """How long it may be tethered and how often it must fly."""
    topics = (
        "tether_hours_max",
        "tether_weekly_flight_lifts_limit",
        "weekly_flights_min",
        "flight_interval_days_max",
        "routine_tether_end",
        "show_exemption_hours_max",
    )
    return tuple(
        need_of(rule.topic, rule, key)
        for key in standards
        for rule in shelf.rules(key, species=known.species)
        if rule.topic in topics and is_in_force(rule)
    )


def tether(yard: Yard, known: Known) -> Tether:
    """Work out the free circle and the air over the perch of a tethered bird."""
    circle = free_circle(yard, known)
    overhead = rules("house", "perch_roof_spans")[0]
    assert overhead.number is not None
    spacing = rules("house", "tether_margin_mm")[0]
    return Tether(
        radius_mm=circle.radius_mm,
        terms=tuple(
            Term(what=what, value_mm=t.value_mm, measured=t.measured, source=t.source)
            for what, t in zip(TERMS, circle.terms, strict=True)
        ),
        overhead_mm=overhead.number * known.span.value,
        reason=spacing.condition,
        sources=evidence(spacing.source, overhead.source),
    )
