"""The ground round the quarters: spores, trees, boundary, power lines, fences.

Metres, on level ground.
"""

from collections.abc import Iterator, Sequence
from functools import cache

from mewswright.checks import asked
from mewswright.checks.asked import verdict
from mewswright.checks.case import Case
from mewswright.checks.finding import TAPE_MM, Evidence, Finding, Status
from mewswright.checks.limits import whole_cm
from mewswright.checks.registry import quarters_check, yard_check
from mewswright.ground.distances import (
    box_squares,
    is_inside,
    nearest_on_edge,
    outline_distance_m,
    outline_edges,
    outlines_overlap_m,
)
from mewswright.ground.falling import leans_here
from mewswright.ground.spores import SporeReach, spore_reach
from mewswright.handbook import aspergillosis_prone, species
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm, metres
from mewswright.model.yard import Yard

TAPE_M = m_from_mm(TAPE_MM)
SQUARE_M = 10.0


@quarters_check("G101", "Distance from mould")
def spores(case: Case) -> Iterator[Finding]:
    """Nothing that gives off mould spores lies near, least of all up-wind."""
    for feature in case.yard.feature:
        reach = spore_reach(case.yard, case.quarters, feature)
        if reach is not None:
            yield _spore(case, feature, reach)


@cache
def is_prone(name: str) -> bool:
    """Asked by id: a species is slow to hash."""
    return aspergillosis_prone(species(name)) is not None


def _spore(case: Case, feature: Feature, reach: SporeReach) -> Finding:
    kind, limit_m, away_m = reach.kind, reach.limit_m, reach.distance_m
    own = case.yard.house.spore_distance_m
    prone = next((r for r in case.residents if is_prone(r.species.id)), None)
    near, carried, downwind = reach.near, reach.carried, reach.downwind
    serious = near and (kind.severity == "high" or downwind or prone is not None)
    told = [kind.reason]
    if downwind:
        told.append(f"the wind blows from there to here in {reach.wind_pct:g} % of all hours")
    if prone is not None:
        told.append(f"{prone.bird.name}'s kind falls ill of mould more than others")
    sources = (*asked.witnesses(kind.source), *asked.witnesses(kind.distance_m.source))
    if own is not None:
        sources = (*asked.keepers_own("house.spore_distance_m"), *sources)
    remedy = (
        f"move it {whole_cm(limit_m - away_m)} farther off"
        if near
        else "keep it covered, and leave it be in that wind"
    )
    return verdict(
        "G101", case, not near and not carried, "short" if serious else "mind",
        measured=metres(away_m), limit=metres(limit_m if near or not carried else 2 * limit_m),
        bird=prone.bird.name if prone else None, fitting=feature.name,
        why="; ".join(told), remedy=remedy, sources=sources,
    )  # fmt: skip


@quarters_check("G102", "Trees that can reach")
def trees(case: Case) -> Iterator[Finding]:
    """No tree that may fall reaches the roof."""
    near_rule = asked.house_rule("tree_fall_heights")
    far_rule = asked.house_rule("tree_warning_heights")
    own = case.yard.house.tree_reach_heights
    far = asked.number(far_rule) if own is None else own
    sources = asked.of_rule(near_rule, far_rule)
    if own is not None:
        sources = (*asked.keepers_own("house.tree_reach_heights"), *sources)
    corners = case.quarters.corners_m
    for tree in case.yard.feature:
        if tree.kind != "tree" or tree.height_m is None or tree.at_m is None:
            continue
        away_m = outline_distance_m(corners, tree)
        fall_m, warn_m = asked.number(near_rule) * tree.height_m, far * tree.height_m
        reaches = fall_m - away_m > TAPE_M
        warns = warn_m - away_m > TAPE_M
        leans = leans_here(tree, case.quarters)
        weak = tree.condition != "sound"
        missed: Status = "mind"
        if reaches:
            missed = "harm" if weak else "short"
        elif leans or weak:
            missed = "short" if leans and weak else "mind"
        state = f"{tree.condition} tree" + (", leaning this way" if leans else "")
        yield verdict(
            "G102", case, not reaches and not warns, missed,
            measured=metres(away_m), limit=metres(fall_m if reaches else warn_m),
            fitting=tree.name, why=f"a {state}: it reaches the quarters if it falls" if reaches
            else f"a {state}: its broken crown may reach the quarters",
            remedy="have it looked at by somebody who knows trees, or build "
            f"{whole_cm((fall_m if reaches else warn_m) - away_m)} farther off",
            sources=sources,
        )  # fmt: skip


@yard_check("G105", "Quarters on their own ground")
def own_ground(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """No two quarters take up the same ground, and none lies over the boundary."""
    cells: dict[tuple[int, int], list[int]] = {}
    outlines = [case.quarters.corners_m for case in cases]
    for i, corners in enumerate(outlines):
        for cell in box_squares(corners, SQUARE_M):
            cells.setdefault(cell, []).append(i)
    for i, case in enumerate(cases):
        near = {j for cell in box_squares(outlines[i], SQUARE_M) for j in cells[cell] if j != i}
        deep = [(outlines_overlap_m(outlines[i], outlines[j]), j) for j in sorted(near)]
        depth_m, j = max(deep, default=(0.0, i))
        over_m = _over_boundary_m(outlines[i], yard.yard.boundary_m)
        if depth_m > TAPE_M:
            measured, why = depth_m, f"it lies in {cases[j].quarters.name}"
            remedy = f"move one of the two {whole_cm(depth_m)}"
        else:
            measured, why = over_m, "it lies over the boundary"
            remedy = f"move it {whole_cm(over_m)} in"
        yield verdict(
            "G105", case, depth_m <= TAPE_M and over_m <= TAPE_M, "short",
            measured=metres(max(0.0, measured)), limit=metres(0), why=why, remedy=remedy,
            sources=asked.judgement("two things cannot stand on one spot"),
        )  # fmt: skip


def _over_boundary_m(
    corners: Sequence[tuple[float, float]], boundary: Sequence[tuple[float, float]]
) -> float:
    """How far the farthest corner lies outside [m]; 0 without a boundary."""
    if len(boundary) < 3:
        return 0.0
    edges = outline_edges(boundary)
    out = [0.0]
    for corner in corners:
        if not is_inside(corner, boundary):
            near = (nearest_on_edge(corner, edge) for edge in edges)
            out.append(
                min(((p[0] - corner[0]) ** 2 + (p[1] - corner[1]) ** 2) ** 0.5 for p in near)
            )
    return max(out)


@quarters_check("G106", "Distance from a power line")
def power_line(case: Case) -> Iterator[Finding]:
    """No bird lands on, or flies into, a live line beside its quarters."""
    rule = asked.of_standard("us-guide", "power_line_clear_level_mm")[0]
    limit_m = m_from_mm(asked.number(rule))
    for line in case.yard.feature:
        if line.kind != "power_line":
            continue
        away_m = outline_distance_m(case.quarters.corners_m, line)
        yield verdict(
            "G106", case, limit_m - away_m <= TAPE_M, "mind",
            measured=metres(away_m), limit=metres(limit_m), fitting=line.name,
            why="a line so near is touched by a bird, or by whoever builds",
            remedy=f"ask its owner, and build {whole_cm(limit_m - away_m)} farther off",
            sources=asked.of_rule(rule),
        )  # fmt: skip


@quarters_check("G108", "A barrier to the public")
def public_barrier(case: Case) -> Iterator[Finding]:
    """Where the law asks a barrier, the keeper is asked for it: the file cannot tell."""
    for rule in asked.named(case, "public_barrier"):
        yield verdict(
            "G108", case, False, "mind", why="the file does not say where visitors stand",
            remedy="keep them behind a structure that stops a reaching arm",
            sources=asked.of_rule(rule),
        )  # fmt: skip


@yard_check("G107", "Height of the fence")
def fence(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """A fox does not come over the fence to birds on the lawn."""
    out = [case for case in cases if case.quarters.kind == "pitch" and case.residents]
    if not out:
        return
    rule = asked.house_rule("fox_fence_mm")
    limit_m = m_from_mm(asked.number(rule))
    sources: tuple[Evidence, ...] = asked.of_rule(rule)
    fences = [f for f in yard.feature if f.kind in ("fence", "wall") and f.height_m]
    if not fences:
        for case in out:
            yield verdict(
                "G107", case, False, "mind", limit=metres(limit_m), sources=sources,
                why="birds stand on the lawn, and the file has no fence or wall with a height",
                remedy="give the fence, or keep watch while they are out",
            )  # fmt: skip
        return
    for one in fences:
        high_m = one.height_m or 0.0
        sound = limit_m - high_m <= TAPE_M
        case = min(out, key=lambda case: case.quarters.name)  # once for the yard, on one lawn
        yield verdict(
            "G107", case, sound, "mind", measured=metres(high_m), limit=metres(limit_m),
            fitting=one.name, why="a fox jumps or climbs it",
            remedy=f"raise it {whole_cm(limit_m - high_m)}, with an overhang", sources=sources,
        )  # fmt: skip
