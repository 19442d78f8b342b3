"""Carrying and walking: the barrow's way, and the way to the scale and to the flying ground."""

from collections.abc import Iterator, Sequence

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, door_graph, listed
from mewswright.checks.finding import TAPE_MM, Finding
from mewswright.checks.limits import whole_cm, whole_mm
from mewswright.checks.registry import yard_check
from mewswright.ground.distances import outline_distance_m
from mewswright.ground.doors import shortest_way_out
from mewswright.ground.walks import features_distance_m, there_and_back_m
from mewswright.model.place import Feature
from mewswright.model.quantity import Quantity, m_from_mm, metres, millimetres
from mewswright.model.ways import OUTSIDE
from mewswright.model.yard import Yard

HANDS_MM = 100.0  # 50 mm of air on each side of a barrow: a judgement
# How far a bird is carried, or a forgotten glove fetched, without a sigh: all judgements.
WALK_M = 50.0
ROUND_M = 1000.0
TO_FLY_M = 150.0
STRAIGHT = "along a straight line"


def _yard_wide(code: str, status: str, **more: object) -> Finding:
    return Finding.model_validate({"code": code, "status": status} | more)


@yard_check("V109", "Width for the barrow")
def barrow(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """The barrow goes from the open air to every bird without grazed knuckles."""
    widths = _widths(yard, cases)
    if not widths:
        return
    sources = asked.judgement("100 mm more than the barrow")
    given_mm = yard.service.barrow_mm
    name = min(widths, key=lambda one: (widths[one], one))
    if given_mm is None:
        yield _yard_wide(
            "V109", "mind", fitting=name, measured=millimetres(widths[name]),
            why="the yard file does not say how wide the barrow is",
            remedy="give service.barrow_mm", sources=sources,
        )  # fmt: skip
        return
    limit_mm = given_mm + HANDS_MM
    narrow = [one for one in widths if not asked.reaches(widths[one], limit_mm)]
    yield _yard_wide(
        "V109", "short" if narrow else "sound", fitting=name,
        measured=millimetres(widths[name]), limit=millimetres(limit_mm),
        why=f"too narrow: {listed(narrow)}" if narrow else "",
        remedy=f"make them {whole_mm(limit_mm)} wide, or take a barrow that is "
        f"{whole_mm(limit_mm - widths[name])} narrower" if narrow else "",
        sources=sources,
    )  # fmt: skip


def _widths(yard: Yard, cases: Sequence[Case]) -> dict[str, float]:
    """Clear widths on the shortest way out of every lived-in quarters [mm], by name."""
    graph = door_graph(yard)
    spaces = {space.name: space for space in yard.space}
    widths: dict[str, float] = {}
    for case in cases:
        if not case.residents or case.quarters.name not in graph:
            continue
        way = shortest_way_out(case.quarters.name, graph, frozenset({OUTSIDE}))
        for door in () if way is None else way.doors:
            name = door_between(door)
            widths[name] = min(door.width_mm, widths.get(name, door.width_mm))
        for room in () if way is None else way.rooms:
            if room in spaces:
                widths[room] = spaces[room].width_mm
    return widths


@yard_check("V110", "Walk from the weighing room to the quarters")
def to_the_scale(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """No quarters lie so far from the scale that weighing is put off."""
    homes = [case for case in cases if case.residents]
    rooms = [feature for feature in yard.feature if feature.kind == "weighing_room"]
    if not homes:
        return
    sources = asked.judgement(f"walk to the weighing room, {STRAIGHT}")
    if not rooms:
        yield _yard_wide(
            "V110", "mind", measured=Quantity(value="no weighing room"),
            why="the yard file does not say where birds are weighed",
            remedy="give the weighing room as a feature", sources=sources,
        )  # fmt: skip
        return
    away_m = [min(outline_distance_m(c.quarters.corners_m, r) for r in rooms) for c in homes]
    for case, far_m in zip(homes, away_m, strict=True):
        yield verdict(
            "V110", case, _is_near(far_m, WALK_M), "mind",
            measured=metres(far_m), limit=metres(WALK_M),
            why="what is far is weighed and looked at less often",
            remedy=f"bring them {whole_cm(far_m - WALK_M)} nearer, or set up a second scale there",
            sources=sources,
        )  # fmt: skip
    total_m = there_and_back_m(away_m)
    near = _is_near(total_m, ROUND_M)
    yield _yard_wide(
        "V110", "sound" if near else "mind", fitting="all quarters",
        measured=metres(total_m), limit=metres(ROUND_M),
        why="" if near else "to each and back once a day is a long walk with a bird on the fist",
        remedy="" if near else "set up a second scale nearer to the far quarters", sources=sources,
    )  # fmt: skip


@yard_check("V111", "Walk from the weighing room to the flying ground")
def to_the_flying_ground(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A bird that is sharp set is not carried past everything first."""
    if not any(r.bird.use == "flown" for case in cases for r in case.residents):
        return
    sources = asked.judgement(f"walk to the flying ground, {STRAIGHT}")
    rooms = _of_kind(yard, "weighing_room")
    gates = _of_kind(yard, "flying_ground_gate")
    missing = [kind for kind, of in (("weighing_room", rooms), ("flying_ground_gate", gates))
               if not of]  # fmt: skip
    if missing:
        yield _yard_wide(
            "V111", "mind", measured=Quantity(value="not given"),
            why="the yard file does not say where it is",
            remedy=f"give a feature of kind {' and one of kind '.join(missing)}", sources=sources,
        )  # fmt: skip
        return
    far_m = min(features_distance_m(room, gate) for room in rooms for gate in gates)
    near = _is_near(far_m, TO_FLY_M)
    yield _yard_wide(
        "V111", "sound" if near else "mind", fitting=gates[0].name if len(gates) == 1 else None,
        measured=metres(far_m), limit=metres(TO_FLY_M),
        why="" if near else "a long walk past dogs and people spends the bird before it flies",
        remedy="" if near else f"make a gate {whole_cm(far_m - TO_FLY_M)} nearer", sources=sources,
    )  # fmt: skip


def _of_kind(yard: Yard, kind: str) -> list[Feature]:
    return [feature for feature in yard.feature if feature.kind == kind]


def _is_near(far_m: float, limit_m: float) -> bool:
    return far_m - limit_m <= m_from_mm(TAPE_MM)
