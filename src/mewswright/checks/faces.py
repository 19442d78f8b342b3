"""What fills the four sides: gaps, mesh, bars and double skins."""

from collections.abc import Iterator

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.narrowest import narrowest
from mewswright.checks.registry import quarters_check
from mewswright.handbook import Rule, mesh_kind
from mewswright.model.fitting import Side
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import SIDES, Face

SKINS = ("barred", "meshed", "slatted", "netted")
REACH: dict[str, Status] = {"good": "sound", "care": "mind", "bad": "short"}


def sides(case: Case) -> tuple[tuple[Side, Face], ...]:
    """Every side with its face; none for a pitch."""
    faces = case.quarters.faces
    return () if faces is None else tuple((side, faces.side(side)) for side in SIDES)


def face_name(side: Side) -> str:
    """A face as findings name it."""
    return f"{side} face"


@quarters_check("F101", "Gap against the smallest bird")
def gap_against_bird(case: Case) -> Iterator[Finding]:
    """No loose bird can leave through a gap, nor get its head stuck in it."""
    bird = narrowest(case)
    if bird is None:
        return
    rules = asked.named(case, "bar_gap_rule", bird.resident)
    body = [rule for rule in rules if "body" in rule.value]
    guess = "" if bird.measured else "; or measure its body and give body_width_mm"
    for side, face in sides(case):
        if face.infill not in SKINS or face.gap_mm is None:
            continue
        passes = not asked.stays_within(face.gap_mm, bird.width_mm)
        # A body that cannot pass says nothing of a head that can: what is usual holds too.
        limit_mm = bird.width_mm if passes else bird.usual_gap_mm
        yield verdict(
            "F101", case, asked.stays_within(face.gap_mm, limit_mm),
            "harm" if passes else "short",
            measured=millimetres(face.gap_mm), limit=millimetres(limit_mm),
            bird=bird.name, fitting=face_name(side),
            why="the bird can get its head or itself through the gap" if passes
            else "the body cannot pass, but the gap is wider than its head or than is usual",
            remedy=f"close the gaps by {millimetres(face.gap_mm - bird.usual_gap_mm)}, "
            f"to {millimetres(bird.usual_gap_mm)}{guess}",
            sources=(*asked.of_rule(*body), *(bird.sources if passes else bird.usual_sources)),
        )  # fmt: skip


@quarters_check("F102", "Gap against the head")
def gap_against_head(case: Case) -> Iterator[Finding]:
    """Where the law speaks of the head, the gap is no wider than it."""
    for bird in case.loose:
        for rule in asked.named(case, "bar_gap_rule", bird):
            if "head" not in rule.value:
                continue
            head_mm = bird.bird.head_width_mm
            for side, face in sides(case):
                if face.infill not in SKINS or face.gap_mm is None:
                    continue
                known = head_mm is not None
                limit_mm = head_mm or 0.0
                yield verdict(
                    "F102", case, known and asked.stays_within(face.gap_mm, limit_mm),
                    asked.miss(rule) if known else "mind",
                    measured=millimetres(face.gap_mm),
                    limit=millimetres(limit_mm) if known else None,
                    bird=bird.bird.name, fitting=face_name(side),
                    why="the gap is wider than the head" if known
                    else "the width of its head is not known",
                    remedy=f"close the gaps by {millimetres(face.gap_mm - limit_mm)}" if known
                    else "measure its head and give head_width_mm",
                    sources=asked.of_rule(rule),
                )  # fmt: skip


@quarters_check("F103", "Gap against predators")
def gap_against_predators(case: Case) -> Iterator[Finding]:
    """No weasel, rat or marten gets in through the finest skin of a face."""
    if not case.residents or case.quarters.faces is None:
        return
    overnight = any(not r.stay.daytime_only for r in case.residents)
    rule = _predator_rule(case)
    limit_mm = asked.number(rule)
    for side, face in sides(case):
        if face.is_solid:
            continue
        gap_mm = finest_gap_mm(face)
        safe = gap_mm is not None and asked.stays_within(gap_mm, limit_mm)
        laws = asked.named(case, "other_animals") if gap_mm is None else ()
        finding = verdict(
            "F103", case, safe or not overnight, asked.miss(laws[0]) if laws else "short",
            measured=Quantity(value="open") if gap_mm is None else millimetres(gap_mm),
            limit=millimetres(limit_mm), fitting=face_name(side),
            why="it stands open: whatever walks at night walks in" if gap_mm is None
            else "a weasel or rat gets through by night",
            remedy="close it for the night, or keep birds there by day alone" if gap_mm is None
            else f"close the gaps by {millimetres(gap_mm - limit_mm)}, or add an outer mesh",
            sources=asked.of_rule(*laws, rule),
        )  # fmt: skip
        if finding.status == "sound" and not safe:
            told = "birds are here by day alone, when somebody is near"
            finding = finding.model_copy(update={"why": told})
        yield finding


def _predator_rule(case: Case) -> Rule:
    topics = ("weasel_gap_mm", "gap_max_mm")
    found = [rule for topic in topics for rule in asked.named(case, topic)]
    return asked.strictest(found, most=False) or asked.house_rule("weasel_gap_mm")


def finest_gap_mm(face: Face) -> float | None:
    """Smallest gap of the face and its outer skin [mm]; None where both stand open."""
    gaps = [face.gap_mm] if face.infill in SKINS and face.gap_mm is not None else []
    if face.outer is not None:
        if face.outer.infill == "boarded":
            return 0.0
        if face.outer.infill in SKINS and face.outer.gap_mm is not None:
            gaps.append(face.outer.gap_mm)
    return min(gaps, default=None)


@quarters_check("F104", "Kind of mesh that a bird can reach")
def mesh_in_reach(case: Case) -> Iterator[Finding]:
    """What a bird can touch does not break its feathers."""
    for side, face in sides(case):
        if face.infill not in ("meshed", "netted") or face.mesh_kind is None:
            continue
        status: Status
        sources: tuple[Evidence, ...] = ()
        if face.mesh_kind == "woven":
            status, why = "mind", "no witness speaks of woven mesh"
        else:
            kind = mesh_kind(face.mesh_kind)
            status = REACH[kind.reach]
            why, sources = kind.reason, asked.witnesses(kind.source)
            if kind.id == "hexagonal":
                sources = (*asked.of_rule(*asked.named(case, "mesh_kind")), *sources)
        yield verdict(
            "F104", case, status == "sound", status,
            measured=Quantity(value=face.mesh_kind.replace("_", " ")), fitting=face_name(side),
            why=why, remedy="put vertical bars or slats inside it, out of reach of the mesh",
            sources=tuple(dict.fromkeys(sources)),
        )  # fmt: skip


@quarters_check("F105", "Bars on the side that a bird flies at")
def bars_in_front(case: Case) -> Iterator[Finding]:
    """On the open side a loose bird meets upright bars, which it cannot cling to."""
    if not case.loose:
        return
    nervous = next((r for r in case.loose if r.bird.nervous), None)
    bars = mesh_kind("vertical_bars")
    for side, face in sides(case):
        if face.infill not in SKINS:
            continue
        upright = face.infill in ("barred", "slatted") and face.direction == "vertical"
        level = face.infill in ("barred", "slatted") and face.direction == "horizontal"
        yield verdict(
            "F105", case, upright, "short" if level or nervous else "mind",
            measured=Quantity(value=f"{face.direction} {face.infill}" if level else face.infill),
            bird=nervous.bird.name if nervous else None, fitting=face_name(side),
            why="a bird climbs level bars" if level else "a bird that flies at mesh clings to it",
            remedy="turn the bars upright" if level else "fit upright bars inside it",
            sources=asked.witnesses(bars.source),
        )  # fmt: skip


@quarters_check("F107", "Distance between two skins")
def double_skin(case: Case) -> Iterator[Finding]:
    """Two skins lie so far apart that no leg is caught between, and no paw reaches in."""
    touching = asked.of_standard("au-guide", "double_mesh_touching")[0]
    apart = asked.of_standard("us-guide", "double_barrier_gap_mm")[0]
    limit_mm = asked.number(apart)
    for side, face in sides(case):
        if face.infill not in SKINS or face.outer is None or face.outer.infill not in SKINS:
            continue
        found_mm = face.outer.stand_off_mm
        touch = asked.stays_within(found_mm, 0)
        yield verdict(
            "F107", case, asked.reaches(found_mm, limit_mm), "harm" if touch else "short",
            measured=millimetres(found_mm), limit=millimetres(limit_mm), fitting=face_name(side),
            why="legs are caught between skins that touch" if touch
            else "a paw reaches through to a bird that clings",
            remedy=f"set the outer skin {millimetres(limit_mm - found_mm)} farther out",
            sources=asked.of_rule(*((touching, apart) if touch else (apart,))),
        )  # fmt: skip


@quarters_check("F116", "Mesh against wild birds")
def against_wild_birds(case: Case) -> Iterator[Finding]:
    """Where avian influenza advice is named, no wild bird gets in."""
    rule = asked.strictest(
        (r for r in asked.named(case, "mesh_max_mm") if r.standard == "uk-ai"), most=False
    )
    if rule is None or not case.residents or case.quarters.faces is None:
        return
    limit_mm = asked.number(rule)
    skins: list[tuple[str, float | None]] = [
        (face_name(side), finest_gap_mm(face)) for side, face in sides(case) if not face.is_solid
    ]
    roof = case.quarters.roof
    if roof is not None and (not case.quarters.has_roof or roof.covered_share < 1):
        shut = case.quarters.has_roof and roof.open_infill != "open"
        skins.append(("roof", roof.open_gap_mm if shut else None))
    for name, gap_mm in skins:
        sound = gap_mm is not None and asked.stays_within(gap_mm, limit_mm)
        yield verdict(
            "F116", case, sound, asked.miss(rule),
            measured=Quantity(value="open, or not given") if gap_mm is None
            else millimetres(gap_mm),
            limit=millimetres(limit_mm), fitting=name, why="sparrows bring the virus in",
            remedy=f"net it with gaps of {millimetres(limit_mm)} or less",
            sources=asked.of_rule(rule),
        )  # fmt: skip
