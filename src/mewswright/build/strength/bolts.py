"""What one bolt carries across its shank, how near it may stand, and what splits its timber.

Characteristic capacities are newtons, strengths N/mm2, lengths millimetres. The rope effect
of the washers is left out, which is safe.
"""

from math import cos, radians, sin, sqrt

from mewswright.build.strength.fasteners import Lateral, johansen
from mewswright.build.strength.spacing import Spacing
from mewswright.handbook.bolts import Bolt

SPLITS = 14.0  # N/mm1.5, EN 1995-1-1, (8.4)


def bolt_embedment(diameter_mm: float, rho_k: float, angle_deg: float = 0.0) -> float:
    """Embedment strength of softwood under a bolt, *fh,a,k* [N/mm2].

    Args:
        diameter_mm: Diameter of the bolt, 6 to 30 mm.
        rho_k: Density of the timber [kg/m3].
        angle_deg: Force to grain [deg], 0 to 90.

    Raises:
        ValueError: If the diameter is out of range.

    Source:
        EN 1995-1-1:2004, 8.5.1.1 (8.31) to (8.33), softwood.
    """
    if not 6 <= diameter_mm <= 30:
        raise ValueError(f"a bolt is 6 to 30 mm thick, got {diameter_mm:g} mm")
    along = 0.082 * (1 - 0.01 * diameter_mm) * rho_k
    k90 = 1.35 + 0.015 * diameter_mm
    s, c = sin(radians(angle_deg)), cos(radians(angle_deg))
    return float(along / (k90 * s**2 + c**2))


def bolt_lateral(
    bolt: Bolt, side_mm: float, side_deg: float, other_mm: float, other_deg: float, rho_k: float
) -> Lateral:
    """Lateral capacity of one bolt in single shear between two pieces of one class [N].

    Args:
        bolt: From the handbook.
        side_mm: Thickness of the piece under the head [mm].
        side_deg: Force to its grain [deg].
        other_mm: Thickness of the other piece [mm].
        other_deg: Force to its grain [deg].
        rho_k: Density of both [kg/m3].

    Source:
        EN 1995-1-1:2004, 8.2.2 (8.6), 8.5.1.1 (8.30).
    """
    d = bolt.diameter_mm
    return johansen(
        bolt_embedment(d, rho_k, side_deg), side_mm, bolt_embedment(d, rho_k, other_deg), other_mm,
        d, 0.3 * bolt.fu * d**2.6,
    )  # fmt: skip


def bolt_spacing(diameter_mm: float, angle_deg: float = 0.0) -> Spacing:
    """Least distances of bolts [mm].

    Args:
        diameter_mm: Diameter [mm].
        angle_deg: Force to grain [deg], 0 to 90.

    Source:
        EN 1995-1-1:2004, Table 8.4, from memory.
    """
    c, s = abs(cos(radians(angle_deg))), abs(sin(radians(angle_deg)))
    d = diameter_mm
    return Spacing(
        (4 + c) * d, 4 * d, max(7 * d, 80.0), max((1 + 6 * s) * d, 4 * d),
        max((2 + 2 * s) * d, 3 * d), 3 * d,
    )  # fmt: skip


def splitting_n(breadth_mm: float, depth_mm: float, to_edge_mm: float) -> float:
    """Shear beside a joint at which its bolts split the timber along the grain [N].

    Args:
        breadth_mm: Thickness of the piece [mm].
        depth_mm: Its depth, across the grain [mm].
        to_edge_mm: From the edge that the force points at to the farthest bolt [mm].

    Returns:
        *F90,Rk*. Infinity where the bolt stands at the far edge or past it.

    Source:
        EN 1995-1-1:2004, 8.1.4 (8.4), w = 1.
    """
    free = 1 - to_edge_mm / depth_mm
    if free <= 0:
        return float("inf")
    return SPLITS * breadth_mm * sqrt(to_edge_mm / free)
