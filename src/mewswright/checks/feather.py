"""Feathers against what a bird sees through: the tail on bars and mesh, and a nervous bird.

Gaps against the head and body are F101's and F102's, mesh in reach F104's, bars F105's.
"""

from collections.abc import Iterator
from functools import cache

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.faces import SKINS, face_name, sides
from mewswright.checks.finding import Evidence, Finding, Status
from mewswright.checks.limits import whole_mm
from mewswright.checks.perches import needs_most, tail_mm
from mewswright.checks.registry import quarters_check
from mewswright.handbook import HousingMode, housing_mode, mesh_kind, species
from mewswright.model.fitting import Perch, Side
from mewswright.model.quantity import Quantity, millimetres
from mewswright.model.quarters import Face, Quarters, perch_ends_mm

# A nervous bird flies at every side that it sees through: a judgement.
SEEN_THROUGH_MAX = 1


@quarters_check("F118", "Tail clear of bars and mesh")
def tail_rub(case: Case) -> Iterator[Finding]:
    """F118: wherever on the perch it stands and turns, the tail meets no bars and no mesh."""
    seen_through = [(side, face) for side, face in sides(case) if face.infill in SKINS]
    if not seen_through:
        return
    for perch in case.quarters.perches:
        bird = needs_most(case, perch, tail_mm)
        if bird is None or bird.tail is None:
            continue  # P103 asks for a tail that nobody knows
        limit_mm, clear = bird.tail.value, True
        away = {side: face_distance_mm(case.quarters, perch, side) for side, _ in seen_through}
        for side, face in seen_through:
            found_mm = away[side]
            if face.upstand_mm >= perch.height_mm or asked.reaches(found_mm, limit_mm):
                continue  # the tail hangs before the boards, or does not come so far
            clear = False
            status, why, sources = _rubs(face)
            yield verdict(
                "F118", case, False, status,
                measured=millimetres(found_mm), limit=millimetres(limit_mm),
                bird=bird.bird.name, fitting=perch.name, why=f"{why} of the {face_name(side)}",
                remedy=_aside(case.quarters, perch, side, limit_mm - found_mm),
                sources=(*sources, bird.tail.source),
            )  # fmt: skip
        if clear:
            yield verdict(
                "F118", case, True, "mind",
                measured=millimetres(min(away.values())), limit=millimetres(limit_mm),
                bird=bird.bird.name, fitting=perch.name, sources=(bird.tail.source,),
            )  # fmt: skip


def face_distance_mm(quarters: Quarters, perch: Perch, side: Side) -> float:
    """Level distance from the nearest place on a perch to a side [mm], whichever way it runs."""
    ends = perch_ends_mm(perch)
    if side in ("left", "right"):
        xs = [x for x, _ in ends]
        return min(xs) if side == "left" else quarters.width_mm - max(xs)
    ys = [y for _, y in ends]
    return min(ys) if side == "front" else quarters.depth_mm - max(ys)


def _rubs(face: Face) -> tuple[Status, str, tuple[Evidence, ...]]:
    """How bad it is, by what fills the face; feathers slide along upright bars and net."""
    if face.infill in ("barred", "slatted"):
        kind = mesh_kind("vertical_bars" if face.infill == "barred" else "vertical_slats")
        if face.direction == "horizontal":
            return "short", "its tail catches on the level bars", asked.judgement("level bars")
        return "mind", "as it turns, its tail sweeps the bars", asked.witnesses(kind.source)
    if face.mesh_kind is None or face.mesh_kind == "woven":
        return "mind", "its tail rubs on the mesh", asked.judgement("woven mesh")
    kind = mesh_kind(face.mesh_kind)
    status: Status = "mind" if kind.reach == "good" else "short"
    return status, f"its tail rubs on the {kind.name}", asked.witnesses(kind.source)


def _aside(quarters: Quarters, perch: Perch, side: Side, by_mm: float) -> str:
    """Move a perch away from a face, or end it sooner where it runs towards the face."""
    ends = perch_ends_mm(perch)
    axis = 0 if side in ("left", "right") else 1
    run_mm = abs(ends[0][axis] - ends[1][axis])
    other: dict[Side, Side] = {"left": "right", "right": "left", "front": "back", "back": "front"}
    behind_mm = face_distance_mm(quarters, perch, other[side])
    if run_mm > by_mm and behind_mm < run_mm:
        return f"end it {whole_mm(by_mm)} farther from the {face_name(side)}"
    return f"move it {whole_mm(by_mm)} away from the {face_name(side)}"


@cache
def _mode(name: str) -> HousingMode:
    """Asked by id: a species is slow to hash."""
    return housing_mode(species(name))


@quarters_check("F119", "Sides that a nervous bird sees through")
def nervous(case: Case) -> Iterator[Finding]:
    """F119: round a nervous bird all sides but one are boarded."""
    if case.quarters.faces is None:
        return
    through = [side for side, face in sides(case) if not _is_blind(face)]
    for resident in {r.bird.name: r for r in reversed(case.residents)}.values():
        mode = _mode(resident.species.id)
        by_kind = "nervous" in mode.reason
        if not (resident.bird.nervous or by_kind):
            continue
        board = sorted(through, key=lambda side: side != "front")[SEEN_THROUGH_MAX:]
        shy = "this bird" if resident.bird.nervous else "its kind"
        yield verdict(
            "F119", case, not board, "short" if resident.bird.nervous else "mind",
            measured=Quantity(value=len(through), unit="sides"),
            limit=Quantity(value=SEEN_THROUGH_MAX, unit="sides"), bird=resident.bird.name,
            why=f"{shy} is nervous, and flies at every side that it sees through",
            remedy=f"board the {' and the '.join(face_name(side) for side in sorted(board))}",
            sources=(
                *(asked.witnesses(mode.source) if by_kind else ()),
                *asked.judgement("sides that a nervous bird sees through"),
            ),
        )  # fmt: skip


def _is_blind(face: Face) -> bool:
    return face.is_solid or (face.outer is not None and face.outer.infill == "boarded")
