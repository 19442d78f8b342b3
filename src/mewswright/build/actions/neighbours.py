"""What stands taller beside a unit, so that snow drifts against it. Metres on the ground.

The ground is taken as level. Hedges and fences count like walls; trees do not.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from mewswright.build.actions.snow import Drift, drift, exceptional_drift_at_wall
from mewswright.build.rafters import rafter_ends_mm
from mewswright.build.roofing import across_mm
from mewswright.build.row import row_named, row_with
from mewswright.build.shell import Shell, shell_of
from mewswright.ground.distances import (
    Edge,
    edge_distance_m,
    feature_edges,
    is_inside,
    outline_distance_m,
    outline_edges,
)
from mewswright.handbook import load_factor
from mewswright.model.fitting import Side
from mewswright.model.place import Feature, FeatureKind, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

# Things that may stand like a wall; a yard that gives no height for one nearby must say it.
LIKE_A_WALL: tuple[FeatureKind, ...] = (
    "building", "wall", "hedge", "fence", "weighing_room", "kennel", "dog_run", "log_stack",
    "hay", "straw", "compost", "leaf_mould", "rotting_timber", "other",
)  # fmt: skip
BUILDINGS: tuple[FeatureKind, ...] = ("building", "weighing_room", "kennel")
STEEP_DEG = 30.0  # judgement: a building's roof, whose slope no yard file tells, sheds its snow
EDGES: tuple[Side, ...] = ("front", "right", "back", "left")  # as the corners of quarters run
TOUCHES_M = 0.05
DECK_MM = 22.0  # judgement: deck and covering, for heights in wind and snow


@dataclass(frozen=True)
class Neighbour:
    """Something near, its top, and its size across the joint with the unit."""

    name: str
    kind: str
    side: Side
    distance_m: float
    top_m: float
    across_m: float  # its size across the joint, b1
    roof_m: float  # the unit's size across the joint, b2
    pitch_deg: float
    slope_m: float

    @property
    def touches(self) -> bool:
        """It stands against the unit's roof."""
        return self.distance_m <= TOUCHES_M


@dataclass(frozen=True)
class DriftOnRoof:
    """A drift on the unit's roof: shares at its near and far edge and on the mean."""

    neighbour: Neighbour
    taller_by_m: float
    drift: Drift
    near_mu: float
    far_mu: float
    mean_mu: float


def roof_outline_m(shell: Shell) -> tuple[Point, ...]:
    """Corners of the roof, or of the frame where there is none: front left, then round."""
    quarters = shell.quarters
    if quarters.has_roof:
        (left, right), (front, back) = across_mm(shell), rafter_ends_mm(shell)
    else:
        wall = shell.wall_mm
        left, right = -wall, shell.width_mm + wall
        front, back = -wall, shell.depth_mm + wall
    spots = ((left, front), (right, front), (right, back), (left, back))
    return tuple(quarters.on_ground_m(x, y) for x, y in spots)


def edge_heights_m(shell: Shell) -> tuple[float, ...]:
    """Top of the roof at its front and back edge, and at its ridge, deck included [m]."""
    front, back = -shell.wall_mm, shell.depth_mm + shell.wall_mm
    if not shell.quarters.has_roof:
        return m_from_mm(shell.ceiling_mm(front)), m_from_mm(shell.ceiling_mm(back))
    front, back = rafter_ends_mm(shell)
    places = (front, back) if shell.ridge_mm is None else (front, back, shell.ridge_mm[0])
    rafter = shell.size_mm("rafter")[1]
    return tuple(
        m_from_mm(shell.ceiling_mm(y) + rafter / shell.slope_at(y).cos_pitch + DECK_MM)
        for y in places
    )


def neighbours(yard: Yard, shell: Shell) -> tuple[tuple[Neighbour, ...], tuple[str, ...]]:
    """Everything near a unit that may stand taller, and near things of unknown height.

    Args:
        yard: The yard, for its features and its other quarters.
        shell: The unit.

    Returns:
        What lies within the longest drift's length, nearest first; and the names of things
        like walls within `engineer_wall_m` whose height the yard does not give.
    """
    roof = roof_outline_m(shell)
    reach = load_factor("drift_length_max_m").value
    near = load_factor("engineer_wall_m").value
    found: list[Neighbour] = []
    unknown: list[str] = []
    name = shell.quarters.name
    row = row_named(yard, name) or row_with(yard, name)
    of_row = () if row is None else row.quarters
    for feature in yard.feature:
        if feature.kind not in LIKE_A_WALL or _inside_another(feature, yard.feature):
            continue
        distance = outline_distance_m(roof, feature)
        if feature.height_m is None:
            if distance < near:
                unknown.append(f"{feature.name}, {distance:.1f} m away")
        elif distance < reach:
            found.append(_of_feature(feature, distance, roof))
    for quarters in yard.quarters:
        if quarters.name == shell.quarters.name or quarters.kind == "pitch":
            continue
        if quarters.name in of_row:  # of one height with it, wall to wall
            continue
        found += _of_quarters(quarters, roof, reach)
    return tuple(sorted(found, key=lambda n: (n.distance_m, n.name))), tuple(unknown)


def drifts_on_roof(
    shell: Shell, beside: Iterable[Neighbour], ground_kn_m2: float
) -> tuple[DriftOnRoof, ...]:
    """Drifts that reach the unit's roof, the heaviest mean first.

    A roof that falls is lower at one edge than at the other; of all heights between, the
    one with the heaviest drift is taken.

    Args:
        shell: The unit.
        beside: What stands near it.
        ground_kn_m2: Snow on the ground [kN/m2].

    Source:
        `snow.drift`, EN 1991-1-3:2003, 5.3.6; across a gap the drift is read from where
        the roof begins (judgement).
    """
    low, high = min(edge_heights_m(shell)), max(edge_heights_m(shell))
    found = []
    for one in beside:
        if ground_kn_m2 <= 0 or one.top_m <= low + 1e-3:
            continue
        tried = [h for h in (one.top_m - low, one.top_m - high) if h > 1e-3]
        gamma = load_factor("drift_gamma_kn_m3").value
        worst = sqrt((one.across_m + one.roof_m) * ground_kn_m2 / (2 * gamma))
        if min(tried) < worst < max(tried):
            tried.append(worst)
        found += [_on_roof(one, h, ground_kn_m2) for h in tried]
    heaviest: dict[str, DriftOnRoof] = {}
    for each in found:
        if each.near_mu <= each.drift.mu_roof + 1e-9:
            continue
        known = heaviest.get(each.neighbour.name)
        if known is None or each.mean_mu > known.mean_mu:
            heaviest[each.neighbour.name] = each
    return tuple(sorted(heaviest.values(), key=lambda d: (-d.mean_mu, d.neighbour.name)))


def exceptional_snow_kn_m2(shell: Shell, beside: Iterable[Neighbour], ground_kn_m2: float) -> float:
    """The heaviest exceptional drift at the near edge of the unit's roof [kN/m2 of plan].

    Of all heights between the roof's low and its high edge the fiercest is taken.

    Args:
        shell: The unit.
        beside: What stands near it.
        ground_kn_m2: Snow on the ground [kN/m2].

    Source:
        `snow.exceptional_drift_at_wall`, EN 1991-1-3:2003, Annex B; across a gap the drift
        is read from where the roof begins (judgement). Ce and Ct do not come into it.
    """
    low, high = min(edge_heights_m(shell)), max(edge_heights_m(shell))
    heaviest = 0.0
    for one in beside:
        other = one.across_m or one.roof_m
        # Where what feeds the drift is as much as what fits below the wall's top.
        fiercest = sqrt(max(other, one.roof_m) * ground_kn_m2 / 5)
        within = min(max(fiercest, one.top_m - high), one.top_m - low)
        for taller in (one.top_m - low, one.top_m - high, within):
            if taller > 1e-3 and ground_kn_m2 > 0:
                lies = exceptional_drift_at_wall(taller, one.roof_m, other, ground_kn_m2)
                heaviest = max(heaviest, lies.mu_at(one.distance_m) * ground_kn_m2)
    return heaviest


def _on_roof(one: Neighbour, taller_by_m: float, ground_kn_m2: float) -> DriftOnRoof:
    lies = drift(taller_by_m, one.across_m, one.roof_m, ground_kn_m2, one.pitch_deg, one.slope_m)
    far = one.distance_m + one.roof_m
    return DriftOnRoof(
        neighbour=one,
        taller_by_m=taller_by_m,
        drift=lies,
        near_mu=lies.mu_at(one.distance_m),
        far_mu=lies.mu_at(far),
        mean_mu=lies.mean_mu(one.distance_m, far),
    )


def _inside_another(feature: Feature, features: Sequence[Feature]) -> bool:
    """A room within a building that has a height needs none of its own."""
    at = feature_edges(feature)[0][0]
    return any(
        other is not feature
        and other.outline_m is not None
        and other.height_m is not None
        and other.kind in BUILDINGS
        and is_inside(at, other.outline_m)
        for other in features
    )


def _of_feature(feature: Feature, distance_m: float, roof: tuple[Point, ...]) -> Neighbour:
    side, normal = _joint(roof, feature_edges(feature))
    across = feature.width_m or 0.0
    if feature.outline_m is not None:
        across = _extent_m(feature.outline_m, normal)
    sheds = feature.kind in BUILDINGS
    assert feature.height_m is not None
    return Neighbour(
        name=feature.name,
        kind=feature.kind,
        side=side,
        distance_m=distance_m,
        top_m=feature.height_m,
        across_m=across,
        roof_m=_extent_m(roof, normal),
        pitch_deg=STEEP_DEG if sheds else 0.0,
        slope_m=across / 2 if sheds else 0.0,  # a ridge in the middle
    )


def _of_quarters(quarters: Quarters, roof: tuple[Point, ...], reach_m: float) -> list[Neighbour]:
    other = shell_of(quarters)
    outline = roof_outline_m(other)
    edges = outline_edges(outline)
    distance = min(edge_distance_m(a, b) for a in outline_edges(roof) for b in edges)
    if distance >= reach_m:
        return []
    side, normal = _joint(roof, edges)
    across = _extent_m(outline, normal)
    return [
        Neighbour(
            name=quarters.name,
            kind="quarters",
            side=side,
            distance_m=distance,
            top_m=max(edge_heights_m(other)),
            across_m=across,
            roof_m=_extent_m(roof, normal),
            pitch_deg=abs(other.steepest.pitch_deg),
            slope_m=across * _longest_slope(other),
        )
    ]


def _longest_slope(shell: Shell) -> float:
    """Share of the depth that the longest slope takes [-]: 1 for a monopitch."""
    if shell.ridge_mm is None:
        return 1.0
    return max(shell.ridge_mm[0], shell.depth_mm - shell.ridge_mm[0]) / shell.depth_mm


def _joint(roof: tuple[Point, ...], edges: Sequence[Edge]) -> tuple[Side, Point]:
    """The side of the unit that a thing stands at, and the unit vector across the joint."""
    sides = outline_edges(roof)

    def away(index: int) -> tuple[float, float]:
        """Distance of a side, and of its middle: two sides share a nearest corner."""
        side = sides[index]
        (ax, ay), (bx, by) = side
        middle = ((ax + bx) / 2, (ay + by) / 2)
        return (
            round(min(edge_distance_m(side, edge) for edge in edges), 6),
            min(edge_distance_m((middle, middle), edge) for edge in edges),
        )

    index = min(range(len(sides)), key=away)
    (ax, ay), (bx, by) = sides[index]
    length = hypot(bx - ax, by - ay)
    return EDGES[index], ((by - ay) / length, (ax - bx) / length)


def _extent_m(corners: Sequence[Point], along: Point) -> float:
    reaches = [x * along[0] + y * along[1] for x, y in corners]
    return max(reaches) - min(reaches)
