"""Rain that runs off a roof: how much, over which edge, and what it would fall on.

The ground is taken as level: a yard file knows no slopes.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

from mewswright.build.openings import doors_of
from mewswright.build.roofing import across_mm, covered_mm
from mewswright.build.shell import Shell, Slope
from mewswright.ground.distances import (
    is_inside,
    outline_distance_m,
    outlines_overlap_m,
)
from mewswright.handbook.water import drain_figure
from mewswright.model.fitting import Side
from mewswright.model.place import Feature, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

TOUCHING_M = 0.3  # judgement: a wall so near to a roof sheds its rain onto it
WET = {
    "building": "water stands against it",
    "weighing_room": "water stands against it",
    "kennel": "water stands against it",
    "wall": "water stands against it",
    "dog_run": "it wets a neighbour's dogs",
    "path": "people walk there, on ice in frost",
    "lane": "people pass there, on ice in frost",
    "road": "people pass there, on ice in frost",
    "gate": "people walk there, on ice in frost",
    "flying_ground_gate": "people walk there, on ice in frost",
    "hay": "wet hay grows mould",
    "straw": "wet straw grows mould",
    "compost": "what it washes out reaches the ground",
    "leaf_mould": "wet leaves grow mould",
}


def effective_area_m2(length_m: float, run_m: float, rise_m: float) -> float:
    """Area that a pitched roof catches of slanting rain [m2].

    Args:
        length_m: Length along the eave [m].
        run_m: Level size across the eave [m].
        rise_m: Rise over that size [m].

    Returns:
        L (W + H / 2).

    Raises:
        ValueError: If a size is less than 0.

    Source:
        Approved Document H3 as gutter makers quote it.
    """
    if min(length_m, run_m, rise_m) < 0:
        raise ValueError(
            f"a roof has sizes of 0 or more, got {length_m:g}, {run_m:g} and {rise_m:g} m"
        )
    return length_m * (run_m + rise_m / 2)


def flow_l_s(area_m2: float, rain_l_s_m2: float) -> float:
    """Water that runs off [l/s]: everything that falls. Source: Q = r A C, C 1."""
    if area_m2 < 0 or rain_l_s_m2 < 0:
        raise ValueError(
            f"area and rain must be 0 or more, got {area_m2:g} m2 and {rain_l_s_m2:g} l/s m2"
        )
    return area_m2 * rain_l_s_m2


def wall_onto_roof_m2(length_m: float, height_m: float) -> float:
    """Area that a wall above a roof adds to it [m2].

    Args:
        length_m: Length of the wall along the roof [m].
        height_m: Height above the roof [m]; more than 10 m counts as 10 m.

    Source:
        Half of the wall: Approved Document H3 as gutter makers quote it.
    """
    most = drain_figure("wall_share_up_to_m").value
    return drain_figure("wall_share").value * length_m * min(max(0.0, height_m), most)


@dataclass(frozen=True)
class Eave:
    """The low edge of the covered roof, and the way out from it."""

    side: Side
    y_mm: float
    from_m: Point  # left end, seen from the front
    to_m: Point
    out: tuple[float, float]  # unit vector, level, away from the unit
    inside: bool  # it drips into the open part of the unit itself

    @property
    def length_m(self) -> float:
        """Length of the eave [m]."""
        return hypot(self.to_m[0] - self.from_m[0], self.to_m[1] - self.from_m[1])

    def strip_m(self, reach_m: float) -> tuple[Point, ...]:
        """Ground before the eave, as far as water splashes and runs [m]."""
        dx, dy = self.out[0] * reach_m, self.out[1] * reach_m
        (ax, ay), (bx, by) = self.from_m, self.to_m
        return (ax, ay), (bx, by), (bx + dx, by + dy), (ax + dx, ay + dy)


def eave_of(shell: Shell) -> Eave | None:
    """Where the roof drips, a duopitch at its front; None for a level roof."""
    eaves = eaves_of(shell)
    return eaves[0] if eaves else None


def eaves_of(shell: Shell) -> tuple[Eave, ...]:
    """Every edge that the roof drips over: none of a level roof, both of a duopitch."""
    return tuple(_eave(shell, slope) for slope in shell.slopes if slope.rise != 0)


def _eave(shell: Shell, slope: Slope) -> Eave:
    start, end = covered_mm(shell)
    side: Side = "back" if slope.rise < 0 else "front"
    y = end if side == "back" else start
    left, right = across_mm(shell)
    quarters = shell.quarters
    ahead = quarters.on_ground_m(0, 0), quarters.on_ground_m(0, -1000)
    east, north = (ahead[1][i] - ahead[0][i] for i in (0, 1))
    sign = 1 if side == "front" else -1
    return Eave(
        side=side,
        y_mm=y,
        from_m=quarters.on_ground_m(left, y),
        to_m=quarters.on_ground_m(right, y),
        out=(sign * east, sign * north),
        inside=0 < y < shell.depth_mm,
    )


def roof_m(shell: Shell, slope: Slope | None = None) -> tuple[float, float, float]:
    """Length along the eave, level run and rise of the covered roof, or of one slope [m]."""
    start, end = covered_mm(shell)
    left, right = across_mm(shell)
    if slope is not None:
        start, end = max(start, slope.from_mm), min(end, slope.to_mm)
    rise = sum(
        abs(one.rise) * (min(end, one.to_mm) - max(start, one.from_mm))
        for one in (shell.slopes if slope is None else (slope,))
    )
    return m_from_mm(right - left), m_from_mm(end - start), m_from_mm(rise)


def roof_outline_m(shell: Shell) -> tuple[Point, ...]:
    """Corners of the covered roof on the ground [m]."""
    start, end = covered_mm(shell)
    left, right = across_mm(shell)
    at = shell.quarters.on_ground_m
    return at(left, start), at(right, start), at(right, end), at(left, end)


def without_own_units(yard: Yard, quarters: Quarters) -> Yard:
    """A yard without the units that a row seen as one is made of: they are the row itself."""
    row = next((row for row in yard.row if row.name == quarters.name), None)
    if row is None:
        return yard
    kept = tuple(one for one in yard.quarters if one.name not in row.quarters)
    rest = tuple(one for one in yard.row if one is not row)
    return yard.model_copy(update={"quarters": kept, "row": rest})


def taller_beside_m2(yard: Yard, shell: Shell) -> tuple[float, tuple[str, ...]]:
    """Area that taller walls beside a roof shed onto it, and their names [m2].

    A feature is taken to run along the longest side of the roof, which is safe, and quarters
    along no more of it than their own longest side. Units of one row stand under one roof.
    """
    name = shell.quarters.name
    own = {name, *(row.name for row in yard.row)}  # a row seen as one stands for its units
    for row in yard.row:
        if name == row.name or name in row.quarters:
            own |= set(row.quarters)
    outline = roof_outline_m(shell)
    top_m = m_from_mm(min(shell.front_mm, shell.back_mm))
    longest = max(roof_m(shell)[:2])
    beside: list[tuple[str, float, float]] = [
        (feature.name, feature.height_m, longest)
        for feature in yard.feature
        if feature.kind in ("building", "wall", "weighing_room")
        and feature.height_m is not None
        and feature.at_m is None
        and outline_distance_m(outline, feature) <= TOUCHING_M
    ]
    beside += [
        (
            other.name,
            m_from_mm(other.highest_mm),
            min(longest, m_from_mm(max(other.width_mm, other.depth_mm))),
        )
        for other in yard.quarters
        if other.name not in own
        and other.front_height_mm is not None
        and other.back_height_mm is not None
        and outlines_overlap_m(outline, other.corners_m) > -TOUCHING_M
    ]
    taller = [(name, high - top_m, long) for name, high, long in beside if high - top_m > 0.5]
    area = sum(wall_onto_roof_m2(long, high) for _, high, long in taller)
    return area, tuple(name for name, *_ in taller)


@dataclass(frozen=True)
class Meeting:
    """Something that water off the eave would fall on, and why that is bad."""

    name: str
    why: str


def meetings(yard: Yard, quarters: Quarters, eave: Eave) -> tuple[Meeting, ...]:
    """What lies before an eave, within the metre that the ground should fall away over.

    Args:
        yard: Doors, neighbours, features and boundary.
        quarters: The unit.
        eave: Its low edge.
    """
    strip = eave.strip_m(drain_figure("ground_run_m").value)
    return (
        *_own_openings(yard, quarters, eave),
        *_neighbours(yard, quarters, strip),
        *_features(yard.feature, strip),
        *_boundary(yard.yard.boundary_m, strip),
    )


def _own_openings(yard: Yard, quarters: Quarters, eave: Eave) -> Iterable[Meeting]:
    if eave.inside:
        yield Meeting("the open part of the unit", "the roof drips on the birds' own floor")
        return
    for door in doors_of(yard, quarters):
        if door.face == eave.side:
            yield Meeting(_door(door), "people and birds pass there, on ice in frost")
        elif door.face is None:
            yield Meeting(_door(door), "the yard file does not say in which face it is")
    for hatch in quarters.hatches:
        if hatch.face == eave.side:
            yield Meeting(f"hatch {hatch.name}", "it is served from there")
    if quarters.faces is not None and not quarters.faces.side(eave.side).is_solid:
        yield Meeting(f"the open {eave.side}", "spray comes in to the birds")


def _door(door: Door) -> str:
    return f"the door between {door.between[0]} and {door.between[1]}"


def _neighbours(yard: Yard, quarters: Quarters, strip: tuple[Point, ...]) -> Iterable[Meeting]:
    for other in yard.quarters:
        if other.name == quarters.name:
            continue
        if outlines_overlap_m(strip, other.corners_m) > 0:
            yield Meeting(other.name, "a bird lives there" if other.kind != "pitch" else
                          "a bird weathers there")  # fmt: skip
        for door in doors_of(yard, other):
            if quarters.name in door.between:
                continue
            at = door_m(other, door)
            if at is not None and is_inside(at, strip):
                yield Meeting(_door(door), "people pass there, on ice in frost")


def door_m(quarters: Quarters, door: Door) -> Point | None:
    """Middle of a door on the ground [m], or None where the file does not place it."""
    if door.face is None or door.at_mm is None:
        return None
    spots = {
        "front": (door.at_mm, 0.0),
        "back": (door.at_mm, quarters.depth_mm),
        "left": (0.0, door.at_mm),
        "right": (quarters.width_mm, door.at_mm),
    }
    return quarters.on_ground_m(*spots[door.face])


def _features(features: Iterable[Feature], strip: tuple[Point, ...]) -> Iterable[Meeting]:
    for feature in features:
        if feature.kind in WET and outline_distance_m(strip, feature) == 0:
            yield Meeting(feature.name, WET[feature.kind])


def _boundary(boundary: tuple[Point, ...], strip: tuple[Point, ...]) -> Iterable[Meeting]:
    if len(boundary) >= 3 and not all(is_inside(corner, boundary) for corner in strip):
        yield Meeting("the boundary", "water must not run onto a neighbour's ground")
