"""How close nails may stand, how many fit, and how many are needed."""

from dataclasses import dataclass
from math import ceil, cos, floor, radians, sin


@dataclass(frozen=True)
class Spacing:
    """Least distances of fasteners [mm]: along and across the grain, to ends and edges.

    `end_loaded_mm` and `edge_loaded_mm` hold where the force points at that end or edge.
    """

    along_mm: float
    across_mm: float
    end_loaded_mm: float
    end_free_mm: float
    edge_loaded_mm: float
    edge_free_mm: float


def nail_spacing(
    diameter_mm: float, *, predrilled: bool = False, rho_k: float = 420.0, angle_deg: float = 0.0
) -> Spacing:
    """Least distances of nails, and of screws up to 6 mm, in timber.

    Without drilling first, the least a1 of 5 d to 10 d by angle, and so on: the formulas
    of the table with the cosine and sine of the angle between force and grain.

    Args:
        diameter_mm: Diameter, below 8 mm [mm].
        predrilled: True where holes are drilled first.
        rho_k: Density [kg/m3], up to 500.
        angle_deg: Force to grain [deg], 0 to 90. The distances at 0 are the safe ones along.

    Raises:
        ValueError: If the density is above 500 and nothing is drilled.

    Source:
        EN 1995-1-1:2004, Table 8.2, recalled.
    """
    c, s = abs(cos(radians(angle_deg))), abs(sin(radians(angle_deg)))
    d, thick = diameter_mm, diameter_mm >= 5
    if predrilled:
        factors = (4 + c, 3 + s, 7 + 5 * c, 7.0, 3 + (4 if thick else 2) * s, 3.0)
    elif rho_k <= 420:
        factors = (
            5 + (7 if thick else 5) * c, 5.0, 10 + 5 * c, 10.0, 5 + (5 if thick else 2) * s, 5.0,
        )  # fmt: skip
    elif rho_k <= 500:
        factors = (7 + 8 * c, 7.0, 15 + 5 * c, 15.0, 7 + (5 if thick else 2) * s, 7.0)
    else:
        raise ValueError(f"timber of {rho_k:g} kg/m3 is drilled before it is nailed")
    return Spacing(*(factor * d for factor in factors))


def number_needed(force_kn: float, each_n: float, least: int = 2) -> int:
    """How many fasteners carry a force, two at least.

    Args:
        force_kn: Design force, zero or more [kN].
        each_n: Design capacity of one [N], above zero.
        least: The fewest that are ever used.

    Raises:
        ValueError: If the force is negative, or one carries nothing.
    """
    if not (force_kn >= 0 and each_n > 0):
        raise ValueError(
            "fasteners are counted for a force of zero or more and a capacity above zero, got "
            f"{force_kn:g} kN and {each_n:g} N"
        )
    return max(least, ceil(force_kn * 1e3 / each_n - 1e-9))


def number_that_fit(length_mm: float, breadth_mm: float, spacing: Spacing) -> int:
    """How many fasteners fit on a face, its end loaded and its edges not.

    Args:
        length_mm: Length of the lapped face along the grain [mm].
        breadth_mm: Its breadth [mm].
        spacing: Least distances.

    Returns:
        Rows times columns; 0 where not even one fits.
    """
    along = length_mm - spacing.end_loaded_mm - spacing.end_free_mm
    across = breadth_mm - 2 * spacing.edge_free_mm
    if along < 0 or across < 0:
        return 0
    return (floor(along / spacing.along_mm) + 1) * (floor(across / spacing.across_mm) + 1)
