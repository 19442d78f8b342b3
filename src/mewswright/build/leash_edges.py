"""Edges of the quarters themselves that a leash can be drawn round or over.

Millimetres in the frame of the quarters.
"""

from mewswright.model.fitting import Side
from mewswright.model.quarters import Quarters

Spot = tuple[float, float]

# Corners: their two faces, and their place as shares of width and depth.
CORNERS: tuple[tuple[Side, Side, float, float], ...] = (
    ("front", "left", 0, 0), ("front", "right", 1, 0),
    ("back", "left", 0, 1), ("back", "right", 1, 1),
)  # fmt: skip


def stands_open(quarters: Quarters, side: Side) -> bool:
    """Nothing stands in a face, not even a sill. False on a pitch, which has no faces."""
    if quarters.faces is None:
        return False
    face = quarters.faces.side(side)
    return face.infill == "open" and face.upstand_mm == 0 and face.outer is None


def wall_ends_mm(quarters: Quarters) -> tuple[tuple[Side, Side, Spot], ...]:
    """Where a standing face ends at an open one: (the standing face, the open one, place)."""
    found: list[tuple[Side, Side, Spot]] = []
    for one, other, across, into in CORNERS if quarters.faces is not None else ():
        open_one, open_other = stands_open(quarters, one), stands_open(quarters, other)
        if open_one != open_other:
            at = (across * quarters.width_mm, into * quarters.depth_mm)
            found.append((other, one, at) if open_one else (one, other, at))
    return tuple(found)


def sills_mm(quarters: Quarters) -> tuple[tuple[Side, float], ...]:
    """Faces that stand open over an upstand, with the height of its edge."""
    if quarters.faces is None:
        return ()
    sides: tuple[Side, ...] = ("front", "back", "left", "right")
    found = [(side, quarters.faces.side(side)) for side in sides]
    return tuple(
        (side, face.upstand_mm)
        for side, face in found
        if face.infill == "open" and face.upstand_mm > 0 and face.outer is None
    )


def hangs_over_edge(step_mm: float, past_mm: float) -> bool:
    """Whether a bird that steps off an edge hangs from its leash.

    Args:
        step_mm: Height of the edge over the ground outside [mm].
        past_mm: How far past the edge its feet can come along the floor [mm].

    Returns:
        True where what is left of the leash does not let its feet down to the ground.
    """
    return step_mm > past_mm
