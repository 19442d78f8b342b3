"""Clear height at a place under the roof: to the rafters, or to a ridge beam that hangs lower.

Millimetres in the frame of the quarters. The one answer for perches, people and heads.
"""

from math import inf

from mewswright.build.ridge import ridge_of
from mewswright.build.shell import shell_of
from mewswright.model.quarters import Quarters

HAIR_MM = 1e-6


def beam_mm(quarters: Quarters) -> tuple[float, float, float] | None:
    """A ridge beam that hangs below the rafters: its faces behind the front, its underside [mm].

    None without a ridge, or where the rafters at the beam's faces come down as low.
    """
    if quarters.ridge_mm is None:
        return None
    ridge = ridge_of(shell_of(quarters))
    assert ridge is not None
    near, far = ridge.at_mm - ridge.breadth_mm / 2, ridge.at_mm + ridge.breadth_mm / 2
    rafters = min(quarters.ceiling_mm(near), quarters.ceiling_mm(far))
    return (near, far, ridge.under_mm) if ridge.under_mm < rafters - HAIR_MM else None


def under_beam_mm(quarters: Quarters, from_mm: float, to_mm: float) -> float:
    """Underside of the ridge beam over a strip along the front [mm]; infinity beside it.

    Args:
        quarters: Whose roof.
        from_mm: Where the strip begins, behind the front.
        to_mm: And where it ends.
    """
    beam = beam_mm(quarters)
    if beam is None or to_mm < beam[0] or from_mm > beam[1]:
        return inf
    return beam[2]


def clear_height_mm(quarters: Quarters, from_mm: float, to_mm: float | None = None) -> float:
    """Least clear height over a place, or over a strip along the front [mm].

    Args:
        quarters: Whose roof.
        from_mm: The place, or where the strip begins, behind the front.
        to_mm: Where the strip ends.

    Returns:
        The least of rafters and beam. Between its ends no slope is lower than at them.

    Raises:
        ValueError: For a pitch, which has no height.
    """
    to_mm = from_mm if to_mm is None else to_mm
    ends = (quarters.ceiling_mm(from_mm), quarters.ceiling_mm(to_mm))
    return min(*ends, under_beam_mm(quarters, from_mm, to_mm))
