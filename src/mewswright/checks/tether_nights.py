"""Nights on the leash: what the standards that bind ask round a bird that cannot get away.

N101 says which animals come in, whatever binds. This holds the same gaps against a
standard's own words.
"""

from collections.abc import Iterator
from math import inf

from mewswright.build.skins import skins_of_face, skins_of_top, widest_gap_mm
from mewswright.checks import asked
from mewswright.checks.case import Case, Resident
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding, Status
from mewswright.checks.registry import quarters_check
from mewswright.handbook import Figure, Rule, predators
from mewswright.model.quantity import Quantity, millimetres

CAGE = "predator-proof"  # as the condition of a rule says it
OPEN_GROUND = "open ground"


@quarters_check("T120", "Nights on the leash")
def nights(case: Case) -> Iterator[Finding]:
    """T120: where a standard asks it, a bird that is tied overnight is shut in tight."""
    out = {r.bird.name: r for r in reversed(case.tethered) if not r.stay.daytime_only}
    if not out:
        return
    rules = _asking(case)
    for resident in reversed(out.values()):
        for rule, limit_mm in rules:
            yield _night(case, resident, rule, limit_mm)


def _asking(case: Case) -> list[tuple[Rule, float]]:
    """Rules of the night that bind, with the widest gap that each leaves [mm]."""
    tight_mm = _tightest().value
    found = []
    for key in case.standards:
        found += [
            (rule, asked.number(rule)) for rule in case.shelf.rules(key, "welded_mesh_max_mm")
        ]
        found += [
            (rule, tight_mm)
            for rule in case.shelf.rules(key, "tether_hours_max")
            if CAGE in rule.condition
        ]
    return found


def _tightest() -> Figure:
    """The widest gap that keeps out every animal that kills a bird [mm]."""
    return min((p.gap for p in predators() if p.danger == "high"), key=lambda gap: gap.value)


def _night(case: Case, resident: Resident, rule: Rule, limit_mm: float) -> Finding:
    gaps = _gaps_mm(case)
    wide = sorted(
        name for name, gap in gaps if gap is not None and not asked.stays_within(gap, limit_mm)
    )
    unknown = sorted(name for name, gap in gaps if gap is None)
    widest_mm = max((gap for _, gap in gaps if gap is not None), default=None)
    status: Status = "sound"
    why, remedy = "it is shut in tight for the night", ""
    if wide:
        status = asked.miss(rule)
        why = f"it is tied overnight, and the {' and the '.join(wide)} let a predator in"
        remedy = (
            f"close the {' and the '.join(wide)} with welded mesh whose clear gaps are "
            f"{millimetres(limit_mm)} or less, or bring it in for the night"
        )
        if wide == [OPEN_GROUND]:
            remedy = "bring it in for the night"
    elif unknown:
        status, why = "mind", f"the gap of the {' and the '.join(unknown)} is not given"
        remedy = "measure it and give open_gap_mm" if "roof" in unknown else "give gap_mm"
    return Finding(
        code="T120",
        status=status,
        quarters=case.quarters.name,
        bird=resident.bird.name,
        measured=Quantity(value="open")
        if widest_mm == inf
        else None
        if widest_mm is None
        else millimetres(widest_mm),
        limit=millimetres(limit_mm),
        why=why,
        remedy=remedy,
        sources=(
            *asked.of_rule(rule),
            *(asked.witnesses(_tightest().source) if CAGE in rule.condition else ()),
        ),
    )


def _gaps_mm(case: Case) -> list[tuple[str, float | None]]:
    """Every side and the top with the widest thing that passes all its skins [mm]."""
    if case.quarters.faces is None:
        return [(OPEN_GROUND, inf)]
    found = [(face_name(side), widest_gap_mm(skins_of_face(face))) for side, face in sides(case)]
    top = skins_of_top(case.quarters)
    return [*found, ("roof", widest_gap_mm(top))] if top else found
