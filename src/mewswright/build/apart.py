"""How far apart two upright rectangles lie in plan, and which way parts them.

Millimetres in the frame of the quarters.
"""

from math import ceil, hypot

from mewswright.build.room import Rectangle, ledge_plan
from mewswright.model.fitting import Hatch, Side
from mewswright.model.quarters import Quarters

ABOVE_A_HAIR = 1e-6  # a float's hair must not round a move up by a whole millimetre


def gap_mm(one: Rectangle, other: Rectangle) -> float:
    """Clear distance between two rectangles [mm]; 0 where they touch or overlap."""
    across = max(0.0, one[0] - other[2], other[0] - one[2])
    along = max(0.0, one[1] - other[3], other[1] - one[3])
    return hypot(across, along)


def way_clear(
    quarters: Quarters, moved: Rectangle, other: Rectangle, clear_mm: float
) -> tuple[int, Side] | None:
    """Give the shortest straight way to bring a rectangle clear of another.

    Args:
        quarters: Where both are; what is moved stays inside.
        moved: Outline of the thing to move [mm].
        other: Outline of the thing that stays [mm].
        clear_mm: Distance that is wanted [mm].

    Returns:
        How far [whole mm] and towards which side; None where the room has no place.
    """
    ways: tuple[tuple[float, Side, float], ...] = (
        (moved[2] - other[0] + clear_mm, "left", moved[0]),
        (other[2] - moved[0] + clear_mm, "right", quarters.width_mm - moved[2]),
        (moved[3] - other[1] + clear_mm, "front", moved[1]),
        (other[3] - moved[1] + clear_mm, "back", quarters.depth_mm - moved[3]),
    )
    whole = [(ceil(by - ABOVE_A_HAIR), side, free) for by, side, free in ways]
    fits = [(by, side, free) for by, side, free in whole if by <= free + ABOVE_A_HAIR]
    best = min(fits, key=lambda way: (way[0], -way[2]), default=None)
    return None if best is None else best[:2]


def feeding_plan(quarters: Quarters, hatch: Hatch, landing_mm: float) -> Rectangle:
    """Where food from a hatch comes to lie, in plan [mm].

    Args:
        quarters: Where the hatch is.
        hatch: The hatch; on its ledge, or on the floor before it where it has none.
        landing_mm: How far out from the face food falls without a ledge [mm].
    """
    depth_mm = hatch.ledge_mm or landing_mm
    plan = ledge_plan(quarters, hatch.model_copy(update={"ledge_mm": depth_mm}))
    assert plan is not None
    return plan


def feeding_height_mm(hatch: Hatch) -> float:
    """Height at which food from a hatch comes to lie [mm]."""
    return hatch.sill_mm if hatch.ledge_mm > 0 else 0.0
