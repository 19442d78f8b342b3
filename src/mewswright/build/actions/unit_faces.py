"""The sides of one unit in wind: their sizes and openings, the pressure inside, the worst on each.

Metres and shares of the peak pressure. A side of bars, slats, mesh or net may be sheeted
in winter, so it counts once as open and once as shut.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from mewswright.build.actions.neighbours import edge_heights_m
from mewswright.build.actions.open_sides import Inside, closed_cpi, dominant_share, inside
from mewswright.build.actions.screens import SOLID_FROM, free_standing, lattice, porous_face
from mewswright.build.actions.zones import Zone, mean_cpe, roof_zones, wall_zones
from mewswright.build.actions.zones_duopitch import SlopeSize, zones_across, zones_along
from mewswright.build.rafters import rafter_ends_mm
from mewswright.build.roofing import across_mm
from mewswright.build.shell import Shell
from mewswright.ground.openness import face_open_share, mean_height_mm, side_area_m2
from mewswright.handbook import wind_pressures
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES

OPPOSITE: Mapping[Side, Side] = {
    "front": "back", "back": "front", "left": "right", "right": "left",
}  # fmt: skip
CM2_PER_M2 = 10_000


@dataclass(frozen=True)
class Box:
    """Sizes and openings of a unit, in metres."""

    width_m: float  # over the frame
    depth_m: float
    roof_width_m: float  # over the overhangs
    roof_depth_m: float
    height_m: float  # top of the roof
    pitch_deg: float  # of the steepest slope
    high_side: Side
    slopes: tuple[SlopeSize, ...]  # front and back slope of a duopitch; else none
    covered: bool  # some of its top is roofed
    porous: Mapping[Side, float]  # solid share of the faces that air passes
    open_m2: Mapping[str, float]  # each of them above its upstand, and the vents
    open_share: Mapping[str, float]  # the same over the face, and of the roof
    areas_m2: Mapping[Side, float]

    def across_m(self, wind_from: Side) -> float:
        """Size of the frame across the wind [m]."""
        return self.width_m if wind_from in ("front", "back") else self.depth_m

    def along_m(self, wind_from: Side) -> float:
        """Size of the frame along the wind [m]."""
        return self.depth_m if wind_from in ("front", "back") else self.width_m

    def roof_in(self, wind_from: Side) -> tuple[Zone, ...]:
        """Zones of the roof with the wind from a side; none where nothing is roofed.

        Raises:
            Problem: For a roof steeper than 60 deg.
        """
        if not self.covered:
            return ()
        if self.slopes:
            front, back = self.slopes
            first, second = (back, front) if wind_from == "back" else (front, back)
            if wind_from in ("front", "back"):
                return zones_across(first, second, self.roof_width_m, self.height_m)
            return zones_along(first, second, self.roof_width_m, self.height_m)
        across, along, theta = self.roof_depth_m, self.roof_width_m, 90
        if wind_from in ("front", "back"):
            across, along = along, across
            theta = 180 if wind_from == self.high_side else 0
        return roof_zones(self.pitch_deg, theta, across, along, self.height_m)


@dataclass(frozen=True)
class Inner:
    """The pressure inside that pushes most and that sucks most, and what state brings it."""

    high: float
    high_state: str
    low: float
    low_state: str


@dataclass(frozen=True)
class FaceWind:
    """The worst wind on one side: as a mean, in its fiercest zone, and on a small sheet."""

    side: Side
    area_m2: float
    porous: bool
    into_kn_m2: float
    out_kn_m2: float
    into_edge_kn_m2: float
    out_edge_kn_m2: float
    out_sheet_kn_m2: float


def box_of(shell: Shell) -> Box:
    """Sizes and openings of a unit. Bars, slats, mesh and net count as open for air."""
    quarters = shell.quarters
    assert quarters.faces is not None
    width, depth = m_from_mm(shell.outer_width_mm), m_from_mm(shell.outer_depth_mm)
    roof_width, roof_depth = width, depth
    if quarters.has_roof:
        (left, right), (front, back) = across_mm(shell), rafter_ends_mm(shell)
        roof_width, roof_depth = m_from_mm(right - left), m_from_mm(back - front)
    porous: dict[Side, float] = {}
    open_m2: dict[str, float] = {}
    shares: dict[str, float] = {}
    for side in SIDES:
        face = quarters.faces.side(side)
        if open_share := face_open_share(face):
            porous[side] = 1 - open_share
            open_m2[side] = side_area_m2(quarters, side, face.upstand_mm)
            shares[side] = open_m2[side] / side_area_m2(quarters, side)
    if quarters.vent_cm2:
        open_m2["vents"] = quarters.vent_cm2 / CM2_PER_M2
    roof = quarters.roof
    covered = roof.covered_share if roof is not None and quarters.has_roof else 0.0
    gable = depth * m_from_mm(mean_height_mm(quarters))
    if covered < 1:
        shares["top"] = 1 - covered
        open_m2["top"] = (1 - covered) * quarters.floor_area_m2
    return Box(
        width_m=width,
        depth_m=depth,
        roof_width_m=roof_width,
        roof_depth_m=roof_depth,
        height_m=max(edge_heights_m(shell)),
        pitch_deg=abs(shell.steepest.pitch_deg),
        high_side="front" if shell.slopes[0].pitch_deg >= 0 else "back",
        slopes=_slopes(shell),
        covered=covered > 0,
        porous=porous,
        open_m2=open_m2,
        open_share=shares,
        areas_m2={
            "front": width * m_from_mm(shell.front_mm),
            "back": width * m_from_mm(shell.back_mm),
            "left": gable,
            "right": gable,
        },
    )


def _slopes(shell: Shell) -> tuple[SlopeSize, ...]:
    """Pitch and level size of both slopes of a duopitch, overhangs included; else none."""
    if shell.ridge_mm is None:
        return ()
    front, back = rafter_ends_mm(shell)
    return tuple(
        SlopeSize(
            abs(slope.pitch_deg),
            m_from_mm(min(back, slope.to_mm) - max(front, slope.from_mm)),
        )
        for slope in shell.slopes
    )


def as_it_stands(box: Box) -> Inside:
    """How the standard itself sorts the openings, with every face as open as it is built."""
    return inside(box.open_m2, box.open_share)


def full_push() -> float:
    """Coefficient of a windward wall [-]: the higher of the table's, for every shape."""
    return max(row.cpe_10 for row in wind_pressures("wall") if row.zone == "D")


def outer(box: Box, side: Side, wind_from: Side) -> tuple[Zone, ...]:
    """Outer pressure on a side with the wind from a side."""
    walls = wall_zones(box.across_m(wind_from), box.along_m(wind_from), box.height_m)
    if side == wind_from:
        one = walls.windward
        return (Zone(one.name, one.area_m2, full_push(), one.cpe_1),)
    return (walls.leeward,) if side == OPPOSITE[wind_from] else walls.side


def inner(box: Box, wind_from: Side, shut: Side | None = None) -> Inner:
    """Pressure inside in every state that the open sides can be in.

    Closed; or any one side open and all others sheeted: the part of its outer pressure
    that the vents leave. `shut` is a side that is sheeted in all of them.
    """
    high, low = closed_cpi()
    states = {"closed": (low, high)}
    vents = box.open_m2.get("vents", 0.0)
    for side in box.porous:
        times = box.open_m2[side] / vents if vents else 3.0
        if side != shut and (share := dominant_share(times)):
            felt = share * mean_cpe(outer(box, side, wind_from))
            states[f"open {side}"] = (felt, felt)
    if "top" in box.open_m2 and box.covered:
        felt = dominant_share(3) * mean_cpe(box.roof_in(wind_from))
        states["open top"] = (felt, felt)
    highest = max(states, key=lambda name: states[name][1])
    lowest = min(states, key=lambda name: states[name][0])
    return Inner(states[highest][1], highest, states[lowest][0], lowest)


def drag(box: Box, wind_from: Side) -> float:
    """Push on the unit along the wind, on its face across it, over the peak pressure [-].

    The worse of all sides shut, and each open one of the two that the wind meets: then the
    wall opposite takes the pressure inside too, and the open side what its bars catch.
    """
    lee = OPPOSITE[wind_from]
    if not box.covered:
        return _free_mean(box, wind_from) + _free_mean(box, lee)
    push = full_push()
    suck = -mean_cpe(outer(box, lee, wind_from))
    share = dominant_share(3)
    found = [push + suck]
    if wind_from in box.porous:
        found.append(lattice(box.porous[wind_from]) + share * push + suck)
    if lee in box.porous:
        found.append(lattice(box.porous[lee]) + push + share * suck)
    return max(found)


def face_wind(box: Box, side: Side, qp_kn_m2: float) -> FaceWind:
    """The worst wind on one side, of all directions and states [kN/m2]."""
    into, out, into_edge, out_edge, out_sheet = (0.0,) * 5
    for wind_from in SIDES:
        zones = outer(box, side, wind_from)
        within = inner(box, wind_from, shut=side)
        mean = mean_cpe(zones)
        into = max(into, mean - within.low)
        out = max(out, within.high - mean)
        into_edge = max(into_edge, *(zone.cpe_10 - within.low for zone in zones))
        out_edge = max(out_edge, *(within.high - zone.cpe_10 for zone in zones))
        out_sheet = max(out_sheet, *(within.high - zone.cpe_1 for zone in zones))
    worst = [into, out, into_edge, out_edge, out_sheet]
    if side in box.porous:
        caught = porous_face(box.porous[side])
        worst = [max(value, caught) for value in worst]
    if not box.covered:
        alone = _free(box, side)
        mean = _free_mean(box, side)
        most = max(alone.values())
        worst = [max(worst[0], mean), max(worst[1], mean), *(max(v, most) for v in worst[2:])]
    sized = [value * qp_kn_m2 for value in worst]
    return FaceWind(side, box.areas_m2[side], side in box.porous, *sized)


def _free(box: Box, side: Side) -> Mapping[str, float]:
    """Coefficients of a side that stands without a roof: a free-standing wall with corners."""
    solidity = box.porous.get(side, 1.0)
    if solidity < SOLID_FROM:
        return dict.fromkeys("ABCD", porous_face(solidity))
    return free_standing(_length_m(box, side), _height_m(box, side), solidity, returns=True)


def _free_mean(box: Box, side: Side) -> float:
    """Mean of these over the length: A to 0.3 h, B to 2 h, C to 4 h, D beyond (Figure 7.19)."""
    length, height = _length_m(box, side), _height_m(box, side)
    values = _free(box, side)
    ends = [0.0, *(min(times * height, length) for times in (0.3, 2, 4)), length]
    runs = [max(0.0, b - a) for a, b in pairwise(ends)]
    return sum(run * values[zone] for run, zone in zip(runs, "ABCD", strict=True)) / length


def _length_m(box: Box, side: Side) -> float:
    return box.width_m if side in ("front", "back") else box.depth_m


def _height_m(box: Box, side: Side) -> float:
    return box.areas_m2[side] / _length_m(box, side)
