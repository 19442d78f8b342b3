"""What stands between a spot in the yard and the sun, as boxes and crowns.

Metres on the ground. A box is upright, turned as it likes; its bottom and top may slope. Some
let a share of the sun through: bars and mesh by the angle at which it strikes them, crowns and
hedges by the month. `ground/light.py` casts rays at them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin

from mewswright import handbook
from mewswright.ground.distances import Edge, feature_edges
from mewswright.model.fitting import Side
from mewswright.model.place import Feature
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Face, Layer, Quarters
from mewswright.model.yard import Yard

THICK_M = 0.1  # a wall of boards and studs: what stands beside an open face
ROOF_M = 0.1
WALL_M = 0.3  # of a wall or fence whose width the yard file does not give
TRUNK_SHARE = 0.03  # of a tree's height: thickness of its trunk; a judgement
DENSE = ("wall", "building", "weighing_room", "hay", "straw", "log_stack")
SCREENS = ("hedge", "fence")


@dataclass(frozen=True)
class Grille:
    """Bars, slats or wires: what the sun finds of them depends on where it stands.

    Attributes:
        normal: Unit vector out of its plane, east, north, up.
        along: Unit vector in its plane along bars that run one way; None for a mesh.
        pitch_m: From one bar to the next, middle to middle.
        thick_m: Thickness of a bar.
    """

    normal: tuple[float, float, float]
    along: tuple[float, float, float] | None
    across: tuple[float, float, float]
    pitch_m: float
    thick_m: float


@dataclass(frozen=True)
class Leaves:
    """Share of the sun that passes in each month, January first."""

    share: tuple[float, ...]


Thin = Grille | Leaves | tuple[Grille, ...]


@dataclass(frozen=True)
class SolidBox:
    """An upright box: middle, turn, half sizes, and its bottom and top with their slopes.

    `u` runs along (cos, sin) of the turn, `v` along (-sin, cos). `of` names whose it is.
    """

    of: str
    at_m: tuple[float, float]
    turn: tuple[float, float]
    half_m: tuple[float, float]
    bottom: tuple[float, float, float]
    top: tuple[float, float, float]
    thin: Thin | None = None


@dataclass(frozen=True)
class SolidCrown:
    """A tree's crown: a ball, or one drawn out upwards by `squash`."""

    of: str
    at_m: tuple[float, float, float]
    radius_m: float
    squash: float
    thin: Thin | None = None


Solid = SolidBox | SolidCrown


def yard_solids(yard: Yard, leave_out: Iterable[str] = ()) -> tuple[Solid, ...]:
    """Everything in a yard that keeps sun away.

    Args:
        yard: The yard.
        leave_out: Names of quarters or features that are to be left out.
    """
    out = set(leave_out)
    found: list[Solid] = []
    for feature in yard.feature:
        if feature.name not in out:
            found += feature_solids(feature)
    for quarters in yard.quarters:
        if quarters.name not in out:
            found += quarters_solids(quarters)
    return tuple(found)


def feature_solids(feature: Feature) -> Iterator[Solid]:
    """Solids of one feature; things of no height have none.

    A roof over a building is left out: its height is the one given, all over.
    """
    height_m = feature.height_m or 0
    if feature.kind == "tree":
        yield from _tree(feature)
    elif height_m and feature.kind in (*DENSE, *SCREENS):
        thin = _screen(feature) if feature.kind in SCREENS else None
        wide = feature.width_m if feature.line_m is not None else None
        for edge in feature_edges(feature):
            box = _upright(feature.name, edge, wide or WALL_M, height_m, thin)
            if box is not None:
                yield box


def _screen(feature: Feature) -> Thin | None:
    if feature.porosity is not None:
        return Leaves((feature.porosity,) * 12) if feature.porosity > 0 else None
    if feature.kind == "fence":
        return None
    return _leaves(feature, "hedge")


def _leaves(feature: Feature, what: str) -> Leaves:
    """Share by month; a thing without leaf months is taken as evergreen, a dead one as bare."""
    leaf = handbook.sun_transmittance(f"{what}_leaf").value
    bare = handbook.sun_transmittance(f"{what}_bare").value
    months = () if feature.condition == "dead" else feature.leaf_months
    return Leaves(
        tuple(leaf if months is None or month in months else bare for month in range(1, 13))
    )


def _tree(tree: Feature) -> Iterator[Solid]:
    assert tree.at_m is not None
    assert tree.height_m is not None
    x, y = tree.at_m
    if tree.crown_radius_m:
        radius = min(tree.crown_radius_m, tree.height_m / 2)
        yield SolidCrown(
            tree.name,
            (x, y, tree.height_m - radius),
            tree.crown_radius_m,
            radius / tree.crown_radius_m,
            _leaves(tree, "crown"),
        )
    half = tree.height_m * TRUNK_SHARE / 2
    yield SolidBox(tree.name, (x, y), (1, 0), (half, half), (0, 0, 0), (tree.height_m / 2, 0, 0))


def _upright(
    name: str, edge: Edge, wide_m: float, height_m: float, thin: Thin | None
) -> SolidBox | None:
    (ax, ay), (bx, by) = edge
    long = hypot(bx - ax, by - ay)
    if long == 0:
        return None
    return SolidBox(
        name,
        ((ax + bx) / 2, (ay + by) / 2),
        ((bx - ax) / long, (by - ay) / long),
        (long / 2, wide_m / 2),
        (0, 0, 0),
        (height_m, 0, 0),
        thin,
    )


def quarters_solids(quarters: Quarters) -> Iterator[Solid]:
    """Roof and faces of quarters; a pitch has none.

    Walls stand outside the clear sizes. A roof is as thick as a deck on its rafters, and reaches
    out by its overhangs.
    """
    if quarters.faces is None:
        return
    for side in SIDES:
        yield from _face(quarters, side, quarters.faces.side(side))
    yield from _roof(quarters)


def _box(
    q: Quarters,
    x: tuple[float, float],
    y: tuple[float, float],
    bottom: tuple[float, float],
    top: tuple[float, float],
    thin: Thin | None = None,
) -> SolidBox:
    """A box in the quarters' own frame [mm]: heights at its near and at its far end along y."""
    east, north = q.on_ground_m((x[0] + x[1]) / 2, (y[0] + y[1]) / 2)
    facing = radians(q.facing_deg)
    long = m_from_mm(y[1] - y[0])

    def plane(heights: tuple[float, float]) -> tuple[float, float, float]:
        near, far = m_from_mm(heights[0]), m_from_mm(heights[1])
        return (near + far) / 2, 0.0, (far - near) / long

    return SolidBox(
        q.name,
        (east, north),
        (-cos(facing), sin(facing)),
        (m_from_mm(x[1] - x[0]) / 2, long / 2),
        plane(bottom),
        plane(top),
        thin,
    )


def _runs(q: Quarters, start: float, end: float) -> Iterator[tuple[float, float]]:
    """Parts of the depth [mm] under one slope each."""
    corners = [start, *(y for y, _ in q.ceiling_line_mm if start < y < end), end]
    yield from pairwise(corners)


def _ceiling(q: Quarters, y: float, roof_run: tuple[float, float]) -> float:
    """Height of the slope that lies over a run, drawn on beyond the walls [mm]."""
    inside = [min(max(at, 0.0), q.depth_mm) for at in roof_run]
    low, high = (q.ceiling_mm(at) for at in inside)
    if inside[1] - inside[0] <= 0:
        return low
    return low + (high - low) * (y - inside[0]) / (inside[1] - inside[0])


def _face(q: Quarters, side: Side, face: Face) -> Iterator[Solid]:
    thick = THICK_M * 1000
    w, d = q.width_mm, q.depth_mm
    if side in ("front", "back"):
        y = (-thick, 0.0) if side == "front" else (d, d + thick)
        places = [((-thick, w + thick), y, (q.ceiling_mm(0 if side == "front" else d),) * 2)]
    else:
        x = (-thick, 0.0) if side == "left" else (w, w + thick)
        places = [(x, run, (q.ceiling_mm(run[0]), q.ceiling_mm(run[1]))) for run in _runs(q, 0, d)]
    doubled = face.outer is not None and face.outer.infill == "boarded"
    for x, y, top in places:
        if face.is_solid or doubled:
            yield _box(q, x, y, (0, 0), top)
            continue
        foot = min(face.upstand_mm, *top)
        if foot > 0:
            yield _box(q, x, y, (0, 0), (foot, foot))
        grilles = tuple(_grilles(q, side, face))
        if grilles:
            yield _box(q, x, y, (foot, foot), top, grilles)


def _grilles(q: Quarters, side: Side, face: Face) -> Iterator[Grille]:
    if face.infill != "open":
        yield _grille(q, side, face.infill, face.direction, face.gap_mm, face.bar_mm)
    layer: Layer | None = face.outer
    if layer is not None and layer.infill not in ("open", "boarded"):
        yield _grille(q, side, layer.infill, "vertical", layer.gap_mm, None)


# Thickness of a bar or wire where the yard file does not give it [mm]; judgements.
USUAL_MM = {"barred": 20.0, "slatted": 47.0, "meshed": 2.5, "netted": 1.5}


def _grille(
    q: Quarters,
    side: Side | None,
    infill: str,
    direction: str,
    gap_mm: float | None,
    bar_mm: float | None,
) -> Grille:
    facing = radians(q.facing_deg)
    out = (sin(facing), cos(facing), 0.0)
    right = (-cos(facing), sin(facing), 0.0)
    up = (0.0, 0.0, 1.0)
    if side is None:
        normal, across, along = up, right, out
    else:
        normal, across = (out, right) if side in ("front", "back") else (right, out)
        along = up
    thick = bar_mm or USUAL_MM.get(infill, 2.5)
    if side is not None and direction == "horizontal":
        along, across = across, along
    one_way = infill in ("barred", "slatted")
    return Grille(
        normal=normal,
        along=along if one_way else None,
        across=across,
        pitch_m=m_from_mm((gap_mm or 50.0) + thick),
        thick_m=m_from_mm(thick),
    )


def _roof(q: Quarters) -> Iterator[Solid]:
    roof = q.roof
    if roof is None or not q.has_roof:
        return
    thick = ROOF_M * 1000
    x = (-thick - roof.overhang_side_mm, q.width_mm + thick + roof.overhang_side_mm)
    front = -thick - roof.overhang_front_mm
    back = q.depth_mm + thick + roof.overhang_back_mm
    edge = q.depth_mm * (1 - roof.covered_share)
    covered = (front if roof.covered_share >= 1 else edge, back)
    thin: Thin | None = None
    if roof.cover == "polycarbonate":
        thin = Leaves((handbook.sun_transmittance("polycarbonate").value,) * 12)
    if roof.covered_share > 0:
        for run in _runs(q, *covered):
            heights = (_ceiling(q, run[0], run), _ceiling(q, run[1], run))
            yield _box(q, x, run, heights, (heights[0] + thick, heights[1] + thick), thin)
    if roof.covered_share < 1 and roof.open_infill != "open":
        grille = _grille(q, None, roof.open_infill, "vertical", roof.open_gap_mm, None)
        for run in _runs(q, 0.0, edge if roof.covered_share > 0 else q.depth_mm):
            heights = (q.ceiling_mm(run[0]), q.ceiling_mm(run[1]))
            yield _box(q, x, run, heights, (heights[0] + 10, heights[1] + 10), (grille,))
