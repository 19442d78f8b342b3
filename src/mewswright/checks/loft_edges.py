"""What a loose bird climbs on, rubs against or falls behind, and where it nests."""

from collections.abc import Iterator

from mewswright.build import room
from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case, Resident
from mewswright.checks.faces import face_name, sides
from mewswright.checks.finding import Finding
from mewswright.checks.limits import whole_mm
from mewswright.checks.loft_flight import is_flown_in, widest_loose
from mewswright.checks.registry import quarters_check
from mewswright.handbook import body_width_estimate, nest_place
from mewswright.model.fitting import Bath, Hatch, Perch, Shelf, Side, Upright
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import Face, Quarters

MESHES = ("meshed", "netted")
# A gap that takes in a body and no more: a bird that slips down there cannot open its wings.
TRAP_LOW, TRAP_HIGH = 0.75, 2.0  # in widths of the body, judgements


def is_climbed(face: Face) -> bool:
    """A bird can cling to it and climb: mesh, net, and bars or slats that lie level."""
    return face.infill in MESHES or (
        face.infill in ("barred", "slatted") and face.direction == "horizontal"
    )


def box_distance_mm(q: Quarters, plan: room.Rectangle, side: Side) -> float:
    """Clear level distance from an outline in plan to a side [mm], 0 at it."""
    x0, y0, x1, y1 = plan
    away = {"front": y0, "back": q.depth_mm - y1, "left": x0, "right": q.width_mm - x1}
    return max(0.0, away[side])


def post_plan(post: Upright) -> room.Rectangle:
    """Outline of a post in plan [mm]."""
    (x, y), half = post.at_mm, post.size_mm / 2
    return x - half, y - half, x + half, y + half


@quarters_check("L109", "Uprights that make a bird climb")
def uprights(case: Case) -> Iterator[Finding]:
    """L109: no post stands so near mesh that a bird braces on both and climbs."""
    bird = widest_loose(case)
    if bird is None or not is_flown_in(case):
        return
    climbed = [side for side, face in sides(case) if is_climbed(face)]
    limit_mm = bird.body_length.value
    for post in case.quarters.uprights:
        near = [(box_distance_mm(case.quarters, post_plan(post), side), side) for side in climbed]
        away_mm, side = min(near, default=(None, None), key=lambda found: found[0] or 0.0)
        yield verdict(
            "L109", case, away_mm is None or asked.reaches(away_mm, limit_mm), "mind",
            measured=None if away_mm is None else millimetres(away_mm),
            limit=millimetres(limit_mm), bird=bird.bird.name, fitting=post.name,
            why="" if side is None
            else f"a bird braces between it and the {face_name(side)}, climbs, and frays its tail",
            remedy="" if away_mm is None
            else f"move it {whole_mm(limit_mm - away_mm)} away, or fit upright bars there",
            sources=(*asked.judgement("a body's length from mesh"), bird.body_length.source),
        )  # fmt: skip


def _ledges(case: Case) -> Iterator[tuple[str, room.Rectangle]]:
    q = case.quarters
    for fitting in q.fitting:
        if isinstance(fitting, Shelf):
            yield fitting.name, room.shelf_plan(fitting)
        elif isinstance(fitting, Hatch):
            plan = room.ledge_plan(q, fitting)
            if plan is not None:
                yield fitting.name, plan


@quarters_check("L110", "Ledges against mesh")
def ledges(case: Case) -> Iterator[Finding]:
    """L110: where a bird can stand on a ledge, no mesh is within reach of its tail.

    The solid foot of a meshed face is such a ledge itself.
    """
    if not is_flown_in(case):
        return
    known = [r for r in case.loose if r.tail is not None]
    bird = max(known, key=lambda r: r.tail.value if r.tail else 0.0, default=None)
    meshed = [(side, face) for side, face in sides(case) if face.infill in MESHES]
    if bird is None or bird.tail is None:
        if meshed:
            yield verdict(
                "L110", case, False, "mind", why="no tail length is known for any bird here",
                remedy="measure the longest tail feather and give tail_mm",
            )  # fmt: skip
        return
    sources = (*asked.judgement("a tail's length between ledge and mesh"), bird.tail.source)
    limit_mm = bird.tail.value
    for name, plan in _ledges(case):
        near = [(box_distance_mm(case.quarters, plan, side), side) for side, _ in meshed]
        away_mm, side = min(near, default=(limit_mm, None))
        yield verdict(
            "L110", case, side is None or asked.reaches(away_mm, limit_mm), "short",
            measured=millimetres(away_mm) if side else None, limit=millimetres(limit_mm),
            bird=bird.bird.name, fitting=name,
            why="" if side is None else f"a bird on it rubs its tail on the {face_name(side)}",
            remedy=f"move it {whole_mm(limit_mm - away_mm)} away, or board the mesh behind it",
            sources=sources,
        )  # fmt: skip
    for side, face in meshed:
        yield verdict(
            "L110", case, face.upstand_mm <= 0, "mind", measured=millimetres(face.upstand_mm),
            bird=bird.bird.name, fitting=face_name(side),
            why="the top of its solid foot is a ledge right against the mesh",
            remedy="slope that top inward, or fit upright bars inside the mesh",
            sources=sources,
        )  # fmt: skip


def narrowest_loose(case: Case) -> Resident | None:
    """The smallest loose bird, by mass."""
    return min(case.loose, key=lambda r: r.mass.value, default=None)


def _stands_low(case: Case) -> Iterator[tuple[str, room.Rectangle]]:
    """What stands on the floor, with its outline in plan."""
    for fitting in case.quarters.fitting:
        if isinstance(fitting, Bath):
            yield fitting.name, room.bath_plan(fitting)
        elif isinstance(fitting, Upright):
            yield fitting.name, post_plan(fitting)
        elif isinstance(fitting, Perch) and fitting.form in ("block", "stump"):
            yield fitting.name, room.perch_plan(fitting)


@quarters_check("L111", "Gaps and corners that trap")
def traps(case: Case) -> Iterator[Finding]:
    """L111: nothing on the floor leaves a gap to the wall that takes a body and no wings."""
    bird = narrowest_loose(case)
    if bird is None or not is_flown_in(case) or case.quarters.faces is None:
        return
    own_mm = bird.bird.body_width_mm
    width_mm = (
        own_mm if own_mm is not None else body_width_estimate(bird.species, bird.mass.value).value
    )
    low_mm, high_mm = TRAP_LOW * width_mm, TRAP_HIGH * width_mm
    for name, plan in _stands_low(case):
        gaps = [
            (box_distance_mm(case.quarters, plan, side), side)
            for side, _ in sides(case)
            if room.is_wall(case.quarters, side)
        ]
        trap = next(((gap, side) for gap, side in gaps if low_mm < gap < high_mm), None)
        yield verdict(
            "L111", case, trap is None, "mind",
            measured=millimetres(trap[0] if trap else min(gaps, default=(0.0, None))[0]),
            limit=millimetres(high_mm), bird=bird.bird.name, fitting=name,
            why="" if trap is None
            else f"a bird that slips between it and the {trap[1]} wall cannot open its wings",
            remedy="" if trap is None
            else f"set it against the wall, or {whole_mm(high_mm - trap[0])} farther from it",
            sources=asked.judgement("gaps of 0.75 to 2 widths of the body"),
        )  # fmt: skip


NEST_WORDS = {
    "box": "a nest box", "ledge": "a broad shelf", "platform": "a broad shelf for a nest",
    "ground": "a sheltered place on the floor",
}  # fmt: skip


@quarters_check("L112", "A nest box or shelf by kind")
def nest(case: Case) -> Iterator[Finding]:
    """L112: a breeding bird finds the place its kind lays in; a barn owl its box at all times."""
    if not is_flown_in(case):
        return
    kinds = {f.kind for f in case.quarters.fitting if isinstance(f, Shelf)}
    kinds |= {"shelf" for perch in case.quarters.perches if perch.form == "shelf"}
    for resident in {r.bird.name: r for r in case.loose}.values():
        place = nest_place(resident.species)
        breeds = resident.bird.use == "breeding"
        sleeps = (
            place is not None and place.kind == "box" and resident.species.family == "Tytonidae"
        )
        if not (breeds or sleeps):
            continue
        if place is None:
            yield verdict(
                "L112", case, False, "mind", bird=resident.bird.name,
                why=f"where {resident.species.common_name} nests is not in the handbook",
                remedy="ask somebody who breeds them",
            )  # fmt: skip
            continue
        wanted = {"box": {"nest_box"}, "ledge": {"shelf", "nest_box"}, "platform": {"shelf"}}
        has = place.kind == "ground" or bool(wanted[place.kind] & kinds)
        yield verdict(
            "L112", case, has, "short" if breeds else "mind",
            measured=Quantity(value=", ".join(sorted(kinds)).replace("_", " ") or "neither"),
            limit=Quantity(value=NEST_WORDS[place.kind]), bird=resident.bird.name,
            why=place.reason, remedy=f"add {NEST_WORDS[place.kind]}",
            sources=asked.witnesses(place.source),
        )  # fmt: skip
