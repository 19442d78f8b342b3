"""The lee in a room: which way each side looks, and where wind and rain do not come.

Millimetres in the frame of the quarters, bearings clockwise from north.
"""

from collections.abc import Mapping

from mewswright.model.fitting import Perch, Side
from mewswright.model.quarters import Face, Quarters

HAIR_MM = 1e-6
# Which way a side looks, from the way the front looks: x runs to the right of who stands
# before the front, and so the right side looks a quarter turn back.
TURNS_DEG: Mapping[Side, float] = {"front": 0, "back": 180, "left": 90, "right": -90}


def is_covered(quarters: Quarters, y_mm: float) -> bool:
    """Whether the solid part of the roof lies over a place so far behind the front."""
    if not quarters.has_roof or quarters.roof is None:
        return False
    open_depth_mm = quarters.depth_mm * (1 - quarters.roof.covered_share)
    return quarters.roof.covered_share > 0 and y_mm >= open_depth_mm - HAIR_MM


def looks_deg(quarters: Quarters, side: Side) -> float:
    """Bearing that a side looks towards [deg]."""
    return (quarters.facing_deg + TURNS_DEG[side]) % 360


def keeps_wind_off(face: Face) -> bool:
    """One of its skins is boarded."""
    return face.is_solid or (face.outer is not None and face.outer.infill == "boarded")


def windward_of(quarters: Quarters, perch: Perch) -> tuple[Side, ...]:
    """Sides near a perch that let wind in: of each two that face each other, the nearer.

    From the middle between two sides the boarded one counts. A pitch has no sides; then all
    four let wind in.
    """
    faces = quarters.faces
    if faces is None:
        return ("front", "back", "left", "right")
    x_mm, y_mm = perch.at_mm
    pairs: tuple[tuple[Side, float, Side, float], ...] = (
        ("left", x_mm, "right", quarters.width_mm - x_mm),
        ("front", y_mm, "back", quarters.depth_mm - y_mm),
    )
    found: list[Side] = []
    for one, one_mm, other, other_mm in pairs:
        near: list[Side] = []
        if one_mm <= other_mm + HAIR_MM:
            near.append(one)
        if other_mm <= one_mm + HAIR_MM:
            near.append(other)
        if not any(keeps_wind_off(faces.side(side)) for side in near):
            found += near
    return tuple(found)


def is_in_the_lee(quarters: Quarters, perch: Perch) -> bool:
    """A perch under the solid roof, with boards on the two sides that are nearest."""
    return is_covered(quarters, perch.at_mm[1]) and not windward_of(quarters, perch)
