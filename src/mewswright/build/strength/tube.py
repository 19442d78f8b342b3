"""A steel tube as a post: its section and its buckling.

Elastic throughout, which is on the safe side. Tubes do not twist away sideways.
"""

from math import pi, sqrt

from mewswright.build.strength.check import Check, check
from mewswright.build.strength.member import Forces
from mewswright.build.tube import STEEL, Tube
from mewswright.handbook.steel import SteelGrade, steel_grade

SLENDEREST_WALL = 42.0  # c/t of a wall in compression, class 3, for fy of 235 N/mm2
IMPERFECT_FROM = 0.2  # slenderness up to which a column does not buckle


def reduction(slenderness: float, alpha: float) -> float:
    """Share of its squash load that a column carries (chi) [-].

    Args:
        slenderness: Non-dimensional slenderness [-], 0 or more.
        alpha: Imperfection factor of its buckling curve [-].

    Source:
        EN 1993-1-1:2005, 6.3.1.2, equation 6.49.
    """
    if slenderness <= IMPERFECT_FROM:
        return 1.0
    phi = 0.5 * (1 + alpha * (slenderness - IMPERFECT_FROM) + slenderness**2)
    return min(1.0, 1 / (phi + sqrt(phi**2 - slenderness**2)))


def slenderness(length_mm: float, radius_mm: float, grade: SteelGrade) -> float:
    """Non-dimensional slenderness (lambda-bar) [-]. Source: EN 1993-1-1:2005, 6.3.1.3."""
    return length_mm / radius_mm / (pi * sqrt(grade.e_n_mm2 / grade.fy_n_mm2))


def wall_check(tube: Tube) -> Check:
    """Whether its flat walls are thick enough to be wholly pressed: class 3."""
    flat = max(tube.b_mm, tube.h_mm) - 3 * tube.t_mm
    return check(
        "wall of the tube", "EN 1993-1-1, Table 5.2", flat / tube.t_mm,
        SLENDEREST_WALL * sqrt(235 / steel_grade(STEEL).fy_n_mm2), "-",
        "width of the flat wall by its thickness",
    )  # fmt: skip


def tube_checks(tube: Tube, length_mm: float, forces: Forces) -> list[Check]:
    """Check a post held level at head and foot under one combination.

    Args:
        tube: Its section.
        length_mm: Height between what holds it [mm].
        forces: Design forces; compression is below zero.

    Source:
        EN 1993-1-1:2005, Table 5.2, 6.2.1(7), 6.2.6, 6.3.3 with annex B for elastic
        sections: k = 1 + 0.6 n at the most, and Cm taken as 1.
    """
    grade = steel_grade(STEEL)
    fy = grade.fy_n_mm2
    squash = tube.area_mm2 * fy / grade.gamma_m0 / 1000
    bends = tube.modulus_mm3() * fy / grade.gamma_m0 / 1e6
    moment, axial = abs(forces.moment_y_kn_m), forces.axial_kn
    found = [wall_check(tube)]
    section = abs(axial) / squash + moment / bends
    found.append(check("section", "EN 1993-1-1, 6.2.1(7)", section, 1.0, "-"))
    shear_mm2 = tube.area_mm2 * tube.h_mm / (tube.b_mm + tube.h_mm)
    found.append(
        check("shear", "EN 1993-1-1, 6.2.6", abs(forces.shear_kn),
              shear_mm2 * fy / sqrt(3) / grade.gamma_m0 / 1000, "kN")
    )  # fmt: skip
    if axial < 0:
        radius = min(tube.radius_mm(), tube.radius_mm(across=False))
        chi = reduction(slenderness(length_mm, radius, grade), grade.alpha)
        n = -axial / (chi * tube.area_mm2 * fy / grade.gamma_m1 / 1000)
        k = 1 + 0.6 * min(n, 1.0)
        found.append(
            check("buckling", "EN 1993-1-1, 6.3.3", n + k * moment / bends, 1.0, "-", "curve c")
        )
    return found
