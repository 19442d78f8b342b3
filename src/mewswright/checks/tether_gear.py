"""What a tethered bird is tied with and to: run-up on the leash, and the form of the perch."""

from collections.abc import Iterator
from functools import cache

from mewswright.checks import asked
from mewswright.checks.case import Case, Resident
from mewswright.checks.finding import Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.registry import quarters_check
from mewswright.checks.tethered import Tether, tethers
from mewswright.handbook import PerchKind, perch_kinds, species
from mewswright.model.quantity import Quantity, millimetres

# As the rows of leash_working_mm and leash_total_mm have it for a medium hawk or falcon.
SHORTEST_MM, LONGEST_MM = 300.0, 500.0
# How much longer a leash with a part that gives may be: a judgement.
ELASTIC_ALLOWS_MM = 200.0
# What a medium hawk or falcon weighs, kestrel and eagle left out: a judgement.
MEDIUM_G = (400.0, 1800.0)
# Perches with a ring that runs free round them; a leash on any other winds round its legs.
MADE_TO_TIE_TO = ("block", "bow", "ring")
# The form to tie to that stands in for a handbook's kind of perch: a judgement.
STANDS_FOR = {
    "block": ("block",), "stump": ("block",), "shelf": ("block",), "flat": ("block",),
    "bow": ("bow", "ring"), "round": ("bow", "ring"), "branch": ("bow", "ring"),
}  # fmt: skip


@quarters_check("T118", "Run-up on the leash")
def run_up(case: Case) -> Iterator[Finding]:
    """T118: the leash is no longer than its material can stop a bating bird on."""
    rule = asked.house_rule("leash_working_mm")
    for resident in {r.bird.name: r for r in reversed(case.tethered)}.values():
        bird, length_mm = resident.bird, resident.bird.leash_working_mm
        most_mm = LONGEST_MM + (ELASTIC_ALLOWS_MM if bird.leash == "elastic" else 0.0)
        status, why, remedy = _run_up(resident, length_mm, most_mm)
        medium = MEDIUM_G[0] <= resident.mass.value <= MEDIUM_G[1]
        if status == "short" and not medium:
            status, why = "mind", f"{why}; the usual lengths are those of a medium hawk or falcon"
        yield Finding(
            code="T118",
            status=status,
            quarters=case.quarters.name,
            bird=bird.name,
            measured=None if length_mm is None else millimetres(length_mm),
            limit=millimetres(most_mm),
            why=why,
            remedy=remedy,
            sources=asked.of_rule(rule, asked.house_rule("leash_total_mm")),
        )


def _run_up(resident: Resident, length_mm: float | None, most_mm: float) -> tuple[Status, str, str]:
    leash = resident.bird.leash
    if length_mm is None:
        return "mind", "how long its leash is tied is not given", (
            "measure it from ring to swivel and give leash_working_mm"
            + ("" if leash else ", and leash, its material")
        )  # fmt: skip
    over_mm = length_mm - most_mm
    if leash is None and asked.stays_within(over_mm, ELASTIC_ALLOWS_MM):
        return "mind", "what its leash is made of is not given", "give leash, its material"
    if not asked.stays_within(over_mm, 0):
        return "short", (
            f"a bating bird gathers speed over {millimetres(length_mm)}, and is stopped by its legs"
        ), f"tie it {whole_mm(over_mm)} shorter"  # fmt: skip
    if not asked.reaches(length_mm, SHORTEST_MM):
        return "mind", "on so short a leash it can hardly step down and back up", (
            f"tie it {whole_mm(SHORTEST_MM - length_mm)} longer, if its circle allows it"
        )  # fmt: skip
    gives = "a leash that gives" if leash == "elastic" else f"a {leash} leash"
    return "sound", f"{gives} of a usual length", ""


@cache
def _kinds(name: str) -> tuple[PerchKind, ...]:
    """Asked by id: a species is slow to hash."""
    return perch_kinds(species(name))


@quarters_check("T119", "A perch made to tie this bird to")
def made_to_tie_to(case: Case) -> Iterator[Finding]:
    """T119: the perch has a ring that runs free, and suits the foot: bow or ring, or block."""
    for tether in tethers(case):
        kinds = _kinds(tether.resident.species.id)
        wanted = tuple(dict.fromkeys(form for k in kinds for form in STANDS_FOR[k.kind]))
        form = tether.perch.form
        status, why = _form(tether, wanted, kinds[0].reason)
        yield tether.found("T119", status, why).model_copy(
            update={
                "measured": Quantity(value=form),
                "limit": Quantity(value=" or ".join(wanted)),
                "remedy": "" if status == "sound" else f"tie it to a {wanted[0]}",
                "sources": asked.witnesses(kinds[0].source),
            }
        )


def _form(tether: Tether, wanted: tuple[str, ...], reason: str) -> tuple[Status, str]:
    form = tether.perch.form
    if form not in MADE_TO_TIE_TO:
        return "short", f"a leash tied to a {form} perch winds round it: no ring runs free"
    if form not in wanted:
        return "short", f"{reason}, and a {form} does not give its foot that"
    return "sound", f"{reason}; a ring runs free round a {form}"
