"""Whether a panel of a wall passes the narrowest way to its spot, and who can carry it."""

from dataclasses import dataclass
from math import inf, sqrt

from mewswright.model.problem import Problem
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

PLAY_MM = 50.0  # judgement: hands and a sway of the panel take so much of width and of height


@dataclass(frozen=True)
class Way:
    """The narrowest way [mm], infinite where there is no limit, and what a team carries [kg]."""

    width_mm: float
    height_mm: float
    carry_kg: float
    longest_mm: float

    @property
    def is_free(self) -> bool:
        """Nothing limits a panel."""
        return min(self.width_mm, self.height_mm, self.carry_kg, self.longest_mm) == inf

    def passes(self, width_mm: float, height_mm: float, thick_mm: float) -> bool:
        """Whether a panel passes, carried lengthwise, on edge, flat or tilted."""
        return rectangle_fits(
            min(width_mm, height_mm), thick_mm, self.width_mm - PLAY_MM, self.height_mm - PLAY_MM
        )


def rectangle_fits(a_mm: float, b_mm: float, width_mm: float, height_mm: float) -> bool:
    """Whether a rectangle fits into another, turned as it may be.

    Args:
        a_mm: One side of the rectangle.
        b_mm: Its other side.
        width_mm: Width of the opening.
        height_mm: Its height; both may be infinite.

    Source:
        Carver, W. B. (1957), American Mathematical Monthly 64, 114-116, from memory: with
        p >= q and P >= Q it fits if p <= P and q <= Q, or if p > P, q <= Q and
        Q >= (2pqP + (p2 - q2) sqrt(p2 + q2 - P2)) / (p2 + q2).
    """
    p, q = max(a_mm, b_mm), min(a_mm, b_mm)
    most, least = max(width_mm, height_mm), min(width_mm, height_mm)
    if q > least or least <= 0:
        return False
    if p <= most:
        return True
    square = p * p + q * q
    return least >= (2 * p * q * most + (p * p - q * q) * sqrt(square - most * most)) / square


def way_of(yard: Yard, quarters: Quarters) -> Way:
    """Read the limits of a unit's panels.

    Raises:
        Problem: If panels must pass the yard's gate and no gate has a width.
    """
    frame = quarters.frame
    width = frame.way_width_mm
    if width is None and frame.through_gate:
        gates = [mm_from_m(f.width_m) for f in yard.feature if f.kind == "gate" and f.width_m]
        if not gates:
            raise Problem(
                f"panels of {quarters.name!r} must pass the yard's narrowest gate, and no gate has "
                "width_m: give a feature of kind gate its width_m, or set frame.way_width_mm"
            )
        width = min(gates)
    carry = inf if frame.carry_kg is None else frame.carry_kg * frame.carry_people
    return Way(width or inf, frame.way_height_mm or inf, carry, frame.bay_max_mm or inf)
