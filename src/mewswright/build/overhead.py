"""What lies over the ground that a tethered bird can walk: lowest top, and where it stays dry.

Millimetres in the frame of the quarters. The part of the top that is not roofed may be
closed with mesh, net or bars. Eaves, rafters and gutters are not seen: heights are clear
heights, to the rafters or to a ridge beam that hangs lower.
"""

from math import inf

from mewswright.build.clear_height import clear_height_mm
from mewswright.build.room import has_top
from mewswright.model.quarters import Quarters

Spot = tuple[float, float]


def roof_from_mm(quarters: Quarters) -> float:
    """How far behind the front the solid part of the roof begins [mm]; infinity without one."""
    roof = quarters.roof
    if roof is None or not quarters.has_roof or roof.covered_share == 0:
        return inf
    return quarters.depth_mm * (1 - roof.covered_share)


def lowest_over_mm(quarters: Quarters, spot: Spot, reach_mm: float) -> float:
    """Least clear height over a circle on the floor, where roof, mesh or net lies over it [mm].

    Holds inside the quarters: what sticks out through an open face is left out.

    Args:
        quarters: Whose roof.
        spot: Middle of the circle, inside [mm].
        reach_mm: Radius of the circle [mm].

    Returns:
        The height at the lowest place; infinity under the open sky.
    """
    if quarters.kind == "pitch":
        return inf
    near_mm = max(0.0, spot[1] - reach_mm)
    far_mm = min(quarters.depth_mm, spot[1] + reach_mm)
    if not has_top(quarters, near_mm):  # open in front: only the roofed part counts
        near_mm = roof_from_mm(quarters)
        if near_mm > far_mm:
            return inf
    return clear_height_mm(quarters, near_mm, far_mm)


def dry_from_mm(quarters: Quarters, soaked_mm: float) -> float:
    """How far behind the front the floor stays dry in slanting rain [mm].

    Args:
        quarters: Whose roof.
        soaked_mm: How far rain drives in under an edge that no boards close [mm].

    Returns:
        The distance; it may lie beyond the back, and is infinity without a solid roof.
    """
    edge_mm = roof_from_mm(quarters)
    boarded = quarters.faces is not None and quarters.faces.front.is_solid
    return edge_mm if edge_mm <= 0 and boarded else edge_mm + soaked_mm
