"""Over a tethered bird: headroom on all the ground that it can walk, and a dry place on it."""

from collections.abc import Iterator
from math import isinf

from mewswright.build.overhead import dry_from_mm, lowest_over_mm
from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.finding import Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.perches import margin, tail_mm
from mewswright.checks.registry import quarters_check
from mewswright.checks.roof import has_solid_roof
from mewswright.checks.tethered import Tether, tethers
from mewswright.model.quantity import millimetres

# How far rain drives in under the edge of a roof: a judgement.
SOAKED_MM = 300.0


@quarters_check("T112", "Headroom over the whole circle")
def headroom(case: Case) -> Iterator[Finding]:
    """T112: wherever its feet come, a wing raised at the height of the perch stays clear."""
    if case.quarters.kind == "pitch":
        return
    rule = asked.house_rule("perch_roof_spans")
    for tether in tethers(case):
        asking = asked.named(case, "clear_space", tether.resident)
        perch, span = tether.perch, tether.resident.span
        low_mm = lowest_over_mm(case.quarters, perch.at_mm, tether.circle.feet_mm)
        limit_mm = perch.height_mm + asked.number(rule) * span.value
        sources = (*asked.of_rule(*asking, rule), span.source, *tether.circle.sources)
        if isinf(low_mm):
            yield tether.found("T112", "sound", "the open sky lies over its circle").model_copy(
                update={"sources": sources}
            )
            continue
        sound = asked.reaches(low_mm, limit_mm)
        missed: Status = max((asked.miss(law) for law in asking), key=_worse, default="short")
        why = (
            "there is headroom over all that its feet reach"
            if sound
            else "at the lowest place in its circle a raised wing strikes the roof"
        )
        yield tether.found("T112", "sound" if sound else missed, why).model_copy(
            update={
                "measured": millimetres(low_mm),
                "limit": millimetres(limit_mm),
                "remedy": "" if sound else _more_air(case, tether, limit_mm - low_mm),
                "sources": tuple(dict.fromkeys(sources)),
            }
        )


def _worse(status: Status) -> bool:
    return status == "harm"


def _more_air(case: Case, tether: Tether, short_mm: float) -> str:
    """Lower the perch as long as the tail stays off the floor; else raise the roof."""
    clear_mm, _ = margin(case, "perch_back_clear_mm")
    if tether.perch.height_mm - short_mm - 1 >= tail_mm(tether.resident) + clear_mm:
        return f"lower the perch {whole_mm(short_mm)}"
    return f"raise the whole roof {whole_mm(short_mm)}"


@quarters_check("T117", "A dry place within the leash")
def dry_place(case: Case) -> Iterator[Finding]:
    """T117: the leash lets the bird step under the roof, out of slanting rain."""
    if not has_solid_roof(case):
        return  # R108 speaks of quarters without a roof
    laws = asked.named(case, "shelter_capacity")
    from_mm = dry_from_mm(case.quarters, SOAKED_MM)
    room_mm = case.quarters.depth_mm - from_mm
    for tether in tethers(case):
        away_mm = max(0.0, from_mm - tether.perch.at_mm[1])
        reach_mm = tether.circle.feet_mm
        sound = room_mm > 0 and asked.stays_within(away_mm, reach_mm)
        by_day = tether.resident.stay.daytime_only
        missed: Status = "mind" if by_day else asked.miss(laws[0]) if laws else "short"
        why = (
            "its leash reaches a dry place"
            if sound
            else "its leash does not let it in out of slanting rain"
        )
        remedy = (
            _more_roof(case, room_mm)
            if room_mm <= 0
            else f"move the perch {whole_mm(away_mm - reach_mm)} towards the back"
        )
        yield tether.found("T117", "sound" if sound else missed, why).model_copy(
            update={
                "measured": millimetres(away_mm),
                "limit": millimetres(reach_mm),
                "remedy": "" if sound else remedy,
                "sources": (
                    *tether.circle.sources, *asked.judgement("rain driven in under a roof"),
                    *(() if by_day else asked.of_rule(*laws)),
                ),
            }
        )  # fmt: skip


def _more_roof(case: Case, room_mm: float) -> str:
    """How to make a dry place where there is none: roof farther to the front, or deeper."""
    q = case.quarters
    assert q.roof is not None
    short_mm = 1 - room_mm
    if q.roof.covered_share < 1 and q.depth_mm - SOAKED_MM >= 1:
        return f"bring the roof {whole_mm(short_mm)} forward"
    return f"make it {whole_mm(1 + SOAKED_MM - q.depth_mm)} deeper and roof all of it"
