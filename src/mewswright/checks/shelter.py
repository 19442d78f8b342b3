"""Shelter and open air: what some laws ask of the quarters of a bird taken together."""

from collections.abc import Iterator, Sequence

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import Finding
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.checks.roof import has_solid_roof
from mewswright.model.quantity import Quantity
from mewswright.model.yard import Yard

MEWS = ("loft", "isolation")
WEATHERING = ("shelter", "pitch")


def _is_out_of_doors(case: Case) -> bool:
    """Air and rain come in through a face or the top."""
    q = case.quarters
    if q.faces is None or q.roof is None:
        return True
    faces = (q.faces.front, q.faces.back, q.faces.left, q.faces.right)
    return not q.has_roof or q.roof.covered_share < 1 or any(not face.is_solid for face in faces)


@quarters_check("R107", "Quarters out of doors")
def out_of_doors(case: Case) -> Iterator[Finding]:
    """Where the law asks outdoor quarters, these are open to the air."""
    if not case.residents:
        return
    for rule in asked.named(case, "outdoor_enclosure"):
        out = _is_out_of_doors(case)
        yield verdict(
            "R107", case, out, asked.miss(rule),
            measured=Quantity(value="open to the air" if out else "closed all round"),
            why="the law asks an outdoor enclosure",
            remedy="open one face with bars, or part of the roof", sources=asked.of_rule(rule),
        )  # fmt: skip


@quarters_check("R108", "Shelter for all birds at once")
def shelter_for_all(case: Case) -> Iterator[Finding]:
    """Whoever is there day and night has a roof; it has room for all of them."""
    if not any(not r.stay.daytime_only for r in case.residents):
        return
    rules = asked.named(case, "shelter_capacity")
    shown = rules or asked.of_standard("ch-tschv", "shelter_capacity")
    dry = has_solid_roof(case)
    yield verdict(
        "R108", case, dry, asked.miss(rules[0]) if rules else "short",
        measured=Quantity(value="roofed" if dry else "no roof"),
        why="nothing keeps off rain and sun by night and day",
        remedy="roof part of it, or give the bird a loft or shelter for the night",
        sources=asked.of_rule(*shown),
    )  # fmt: skip


@yard_check("R109", "A mews and a weathering")
def both(_yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Where the law asks both, each bird has quarters indoors and out."""
    kinds: dict[str, set[str]] = {}
    for case in cases:
        for resident in case.residents:
            found = kinds.setdefault(resident.bird.name, set())
            found.add(case.quarters.kind)
            if case.quarters.double_use:
                found.update(("loft", "shelter"))
    for case in cases:
        rules = asked.named(case, "both_mews_and_weathering")
        for resident in case.residents if rules else ():
            has = kinds[resident.bird.name]
            missing = "a loft" if not has & {*MEWS} else "a shelter or pitch"
            yield verdict(
                "R109", case, bool(has & {*MEWS}) and bool(has & {*WEATHERING}),
                asked.miss(rules[0]), measured=Quantity(value=" and ".join(sorted(has))),
                bird=resident.bird.name, why="the law asks both, for the weather's extremes",
                remedy=f"give it {missing} as well", sources=asked.of_rule(*rules),
            )  # fmt: skip


@quarters_check("R110", "Rain to bathe in")
def rain(case: Case) -> Iterator[Finding]:
    """Rain falls into part of the quarters, or a mist spray stands in for it."""
    roof = case.quarters.roof
    for rule in asked.named(case, "rain_or_mist"):
        open_top = roof is None or not case.quarters.has_roof or roof.covered_share < 1
        yield verdict(
            "R110", case, open_top, "mind",
            measured=Quantity(value="rain comes in" if open_top else "roofed all over"),
            why="the file does not say whether there is a mist spray",
            remedy="leave part of the top open, or hang a spray", sources=asked.of_rule(rule),
        )  # fmt: skip
