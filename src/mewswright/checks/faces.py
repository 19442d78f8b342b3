"""The four sides: gaps, mesh, double skins, solid corners and neighbours."""

from collections.abc import Iterator, Sequence

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.checks.water import body_width
from mewswright.ground.distances import box_squares, is_inside
from mewswright.handbook import Rule, body_width_estimate, mesh_kind
from mewswright.model.fitting import Device, Side
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import SIDES, Face, Quarters
from mewswright.model.yard import Yard

SKINS = ("barred", "meshed", "slatted", "netted")
CORNERS: tuple[tuple[Side, Side, bool], ...] = (  # two faces, and whether it lies at the back
    ("back", "left", True), ("back", "right", True),
    ("front", "left", False), ("front", "right", False),
)  # fmt: skip
# Two quarters share a wall where no more than this lies between them: a judgement.
NEIGHBOUR_MM = 300.0
SQUARE_M = 10.0
REACH: dict[str, Status] = {"good": "sound", "care": "mind", "bad": "short"}


def sides(case: Case) -> tuple[tuple[Side, Face], ...]:
    """Every side with its face; none for a pitch."""
    faces = case.quarters.faces
    return () if faces is None else tuple((side, faces.side(side)) for side in SIDES)


def _of_side(side: Side) -> str:
    return f"{side} face"


@quarters_check("F101", "Gap against the smallest bird")
def gap_against_bird(case: Case) -> Iterator[Finding]:
    """No loose bird can leave through a gap, nor get its head stuck in it."""
    found = body_width(case)
    if found is None:
        return
    bird, width_mm, measured, species = found
    rules = asked.named(case, "bar_gap_rule", bird)
    body = [rule for rule in rules if "body" in rule.value]
    width_source: tuple[Evidence, ...] = (
        (Evidence(name="measured on the bird", locator=bird.bird.name, how_known="read"),)
        if measured
        else asked.witnesses(body_width_estimate(species).source)
    )
    guess = "" if measured else "; or measure its body and give body_width_mm"
    for side, face in sides(case):
        if face.infill not in SKINS or face.gap_mm is None:
            continue
        over_mm = face.gap_mm - width_mm
        yield verdict(
            "F101", case, asked.stays_within(face.gap_mm, width_mm), "harm",
            measured=millimetres(face.gap_mm), limit=millimetres(width_mm),
            bird=bird.bird.name, fitting=_of_side(side),
            why="the bird can get its head or itself through the gap",
            remedy=f"close the gaps by {millimetres(over_mm)}{guess}",
            sources=(*asked.of_rule(*body), *width_source),
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
                    bird=bird.bird.name, fitting=_of_side(side),
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
        gap_mm = _finest_gap_mm(face)
        safe = gap_mm is not None and asked.stays_within(gap_mm, limit_mm)
        laws = asked.named(case, "other_animals") if gap_mm is None else ()
        finding = verdict(
            "F103", case, safe or not overnight, asked.miss(laws[0]) if laws else "short",
            measured=Quantity(value="open") if gap_mm is None else millimetres(gap_mm),
            limit=millimetres(limit_mm), fitting=_of_side(side),
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


def _finest_gap_mm(face: Face) -> float | None:
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
            measured=Quantity(value=face.mesh_kind.replace("_", " ")), fitting=_of_side(side),
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
            bird=nervous.bird.name if nervous else None, fitting=_of_side(side),
            why="a bird climbs level bars" if level else "a bird that flies at mesh clings to it",
            remedy="turn the bars upright" if level else "fit upright bars inside it",
            sources=asked.witnesses(bars.source),
        )  # fmt: skip


@quarters_check("F106", "A solid corner")
def solid_corner(case: Case) -> Iterator[Finding]:
    """One corner has two boarded walls and a roof, to rest out of wind and sight."""
    faces = case.quarters.faces
    if faces is None or not case.residents:
        return
    rule = asked.strictest(
        r for bird in case.residents for r in asked.named(case, "solid_corners_min", bird)
    )
    have = sum(
        faces.side(a).is_solid and faces.side(b).is_solid
        and room.is_covered(case.quarters, case.quarters.depth_mm if at_back else 0)
        for a, b, at_back in CORNERS
    )  # fmt: skip
    need = asked.number(rule) if rule else 1
    yield verdict(
        "F106", case, have >= need, asked.miss(rule) if rule else "mind",
        measured=Quantity(value=have, unit="corners"), limit=Quantity(value=need, unit="corner"),
        why="no corner is solid on both sides and roofed",
        remedy="board two faces that meet, and roof that corner",
        sources=asked.of_rule(rule) if rule else asked.judgement("one solid corner"),
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
            measured=millimetres(found_mm), limit=millimetres(limit_mm), fitting=_of_side(side),
            why="legs are caught between skins that touch" if touch
            else "a paw reaches through to a bird that clings",
            remedy=f"set the outer skin {millimetres(limit_mm - found_mm)} farther out",
            sources=asked.of_rule(*((touching, apart) if touch else (apart,))),
        )  # fmt: skip


@quarters_check("F108", "Open faces")
def open_face(case: Case) -> Iterator[Finding]:
    """Nothing stands open where a bird goes loose."""
    if case.quarters.faces is None:
        if case.loose:
            yield verdict(
                "F108", case, False, "harm", measured=Quantity(value="no faces"),
                bird=case.loose[0].bird.name, why="a loose bird on a pitch flies away",
                remedy="tether it, or give it a loft", sources=asked.judgement("escape"),
            )  # fmt: skip
        return
    kept_loose = bool(case.loose) or case.quarters.kind in ("loft", "isolation")
    for side, face in sides(case):
        outer = face.outer.infill if face.outer is not None else "open"
        shut = face.infill != "open" or outer != "open"
        if shut and not kept_loose:
            continue
        finding = verdict(
            "F108", case, shut or not kept_loose, "harm",
            measured=Quantity(value=face.infill), fitting=_of_side(side),
            bird=case.loose[0].bird.name if case.loose else None,
            why="a bird that is loose here, or gets loose, is gone",
            remedy="close it with upright bars", sources=asked.judgement("escape"),
        )  # fmt: skip
        if not shut and not kept_loose:
            told = "birds are tethered here, so the face may stand open"
            finding = finding.model_copy(update={"why": told})
        yield finding


@quarters_check("F109", "Solid sides of a shelter")
def shelter_sides(case: Case) -> Iterator[Finding]:
    """A shelter for a tethered bird has a solid back and two solid sides."""
    if case.quarters.kind != "shelter" or not case.tethered:
        return
    rules = [r for bird in case.tethered for r in asked.named(case, "solid_sides_min", bird)]
    rule = asked.strictest(rules) or asked.of_standard("uk-hawk-board", "solid_sides_min")[0]
    have = sum(face.is_solid for _, face in sides(case))
    need = asked.number(rule)
    yield verdict(
        "F109", case, have >= need, asked.miss(rule) if rules else "mind",
        measured=Quantity(value=have, unit="sides"), limit=Quantity(value=need, unit="sides"),
        why="wind, rain and neighbours reach the bird from more than one side",
        remedy=f"board {need - have:g} more", sources=asked.of_rule(rule),
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
        (_of_side(side), _finest_gap_mm(face)) for side, face in sides(case) if not face.is_solid
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


@quarters_check("F117", "Lamps and heaters out of reach")
def shielded(case: Case) -> Iterator[Finding]:
    """No bird touches a lamp or a heater."""
    rules = asked.named(case, "lamp_shielding")
    shown = rules or asked.of_standard("us-nc", "lamp_shielding")
    for device in case.quarters.fitting:
        if not isinstance(device, Device) or device.kind == "camera":
            continue
        yield verdict(
            "F117", case, device.shielded, asked.miss(rules[0]) if rules else "short",
            measured=Quantity(value="shielded" if device.shielded else "bare"),
            fitting=device.name, why="a bird that lands on it is burnt, or pulls at its flex",
            remedy="put it behind a guard", sources=asked.of_rule(*shown),
        )  # fmt: skip


@quarters_check("F113", "An opening for sunlight")
def sunlight(case: Case) -> Iterator[Finding]:
    """Daylight comes in through a face or the top."""
    q = case.quarters
    if q.faces is None or q.roof is None:
        return
    open_sides = [side for side, face in sides(case) if not face.is_solid]
    top = not q.has_roof or q.roof.covered_share < 1 or q.roof.cover == "polycarbonate"
    lit = any(fitting.kind == "light" for fitting in q.fitting)
    named = (*asked.named(case, "windows_min"), *(() if lit else asked.named(case, "light")))
    rule = (named or asked.of_standard("us-50cfr21", "windows_min"))[0]
    yield verdict(
        "F113", case, bool(open_sides) or top, asked.miss(rule) if named else "short",
        measured=Quantity(value=len(open_sides) + top, unit="openings"),
        limit=Quantity(value=1, unit="opening"),
        why="no daylight comes in", remedy="open one face with bars, or part of the roof",
        sources=asked.of_rule(rule),
    )  # fmt: skip


@yard_check("F114", "Solid walls between neighbours")
def partitions(_yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Birds in adjoining quarters neither see nor touch each other through the wall."""
    lived_in = [c for c in cases if c.residents and c.quarters.kind != "pitch"]
    outlines = [case.quarters.corners_m for case in lived_in]
    cells: dict[tuple[int, int], list[int]] = {}
    for i, corners in enumerate(outlines):
        for square in box_squares(corners, SQUARE_M):
            cells.setdefault(square, []).append(i)
    for i, case in enumerate(lived_in):
        for side, face in sides(case):
            other = next(
                (
                    lived_in[j]
                    for spot in _beyond(case.quarters, side)
                    for j in cells.get((int(spot[0] // SQUARE_M), int(spot[1] // SQUARE_M)), ())
                    if j != i and is_inside(spot, outlines[j])
                ),
                None,
            )
            if other is None:
                continue
            rules = asked.named(case, "partition")
            shared = {r.bird.name for r in other.residents}
            friends = all(shared <= {*r.bird.companions, r.bird.name} for r in case.residents)
            shown = asked.of_standard("us-vt", "partition")
            yield verdict(
                "F114", case, face.is_solid or friends, "short",
                measured=Quantity(value=face.infill), fitting=_of_side(side),
                why=f"birds meet {other.quarters.name} through it, and feet are bitten",
                remedy="board it, or screen it", sources=asked.of_rule(*(rules or shown)),
            )  # fmt: skip


def _beyond(quarters: Quarters, side: Side) -> tuple[tuple[float, float], ...]:
    """Three spots on the ground just outside a side: at its quarters and its middle."""
    width, depth = quarters.width_mm, quarters.depth_mm
    shares = (0.25, 0.5, 0.75)
    out = {"front": -NEIGHBOUR_MM, "back": depth + NEIGHBOUR_MM, "left": -NEIGHBOUR_MM}
    if side in ("front", "back"):
        return tuple(quarters.on_ground_m(width * share, out[side]) for share in shares)
    x = out.get(side, width + NEIGHBOUR_MM)
    return tuple(quarters.on_ground_m(x, depth * share) for share in shares)
