"""What a door takes of the floor of quarters: its opening, and the leaf that swings in.

Millimetres in the frame of the quarters. Which side a door hangs on is not known, so
the leaf is given the whole square that it may sweep.
"""

from mewswright.build.circle import Spot
from mewswright.model.fitting import Side
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door


def doorway_mm(quarters: Quarters, door: Door) -> tuple[Spot, tuple[float, float]] | None:
    """Middle and size of the rectangle that a door takes of the floor [mm].

    Args:
        quarters: Where the door is in a face.
        door: The door. It takes no depth unless it swings into the quarters.

    Returns:
        Middle and size along x and y, or None where the file does not say where it is.
    """
    if door.face is None or door.at_mm is None:
        return None
    depth_mm = door.width_mm if door.opens_into == quarters.name else 0.0
    inward, at_mm = depth_mm / 2, door.at_mm
    middle: dict[Side, Spot] = {
        "front": (at_mm, inward),
        "back": (at_mm, quarters.depth_mm - inward),
        "left": (inward, at_mm),
        "right": (quarters.width_mm - inward, at_mm),
    }
    along = door.face in ("front", "back")
    size = (door.width_mm, depth_mm) if along else (depth_mm, door.width_mm)
    return middle[door.face], size


def depth_behind_mm(quarters: Quarters, door: Door, spot: Spot) -> float:
    """How far a spot lies inside the face that a door is in [mm]."""
    x, y = spot
    return {
        "front": y,
        "back": quarters.depth_mm - y,
        "left": x,
        "right": quarters.width_mm - x,
    }[door.face or "front"]
