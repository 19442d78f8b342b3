"""Compression, tension, and either of them together with bending."""

from math import pi, sqrt

from mewswright import handbook
from mewswright.build.strength.bending import bending_stresses
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.design import DesignStrengths
from mewswright.build.strength.section import Rect
from mewswright.handbook.timber import TimberClass

BETA_C = 0.2  # solid timber, EN 1995-1-1 (6.29)
STOCKY = 0.3  # relative slenderness below which nothing buckles, 6.3.2(2)


def relative_slenderness(length_mm: float, radius_mm: float, fc0_k: float, e05: float) -> float:
    """Slenderness against that of a perfect column, *lambda_rel* [-].

    Args:
        length_mm: Buckling length, zero or more [mm].
        radius_mm: Radius of gyration in that direction [mm].
        fc0_k: Characteristic compression strength [N/mm2].
        e05: Fifth percentile of the modulus of elasticity [N/mm2].

    Raises:
        ValueError: If the length is negative.

    Source:
        EN 1995-1-1:2004, 6.3.2 (6.21), (6.22).
    """
    if not length_mm >= 0:
        raise ValueError(f"a buckling length is 0 mm or more, got {length_mm:g}")
    return length_mm / radius_mm / pi * sqrt(fc0_k / e05)


def instability(slenderness: float, beta_c: float = BETA_C) -> tuple[float, float]:
    """Buckling of a column of this relative slenderness: *k* and *kc* [-].

    Source:
        EN 1995-1-1:2004, 6.3.2 (6.25) to (6.28).
    """
    k = 0.5 * (1 + beta_c * (slenderness - STOCKY) + slenderness**2)
    if slenderness <= STOCKY:
        return k, 1.0
    return k, min(1.0, 1 / (k + sqrt(k**2 - slenderness**2)))


def kc_both(
    section: Rect, timber: TimberClass, length_y_mm: float, length_z_mm: float
) -> tuple[float, float]:
    """Factors kc for buckling about y and about z [-].

    Args:
        section: The section.
        timber: Its strength class.
        length_y_mm: Buckling length for bending about y [mm].
        length_z_mm: Buckling length for bending about z, sideways [mm].
    """
    about_y = relative_slenderness(length_y_mm, section.radius_y_mm, timber.fc0_k, timber.e05)
    about_z = relative_slenderness(length_z_mm, section.radius_z_mm, timber.fc0_k, timber.e05)
    return instability(about_y)[1], instability(about_z)[1]


def compression(
    section: Rect, compression_kn: float, strengths: DesignStrengths, kc: tuple[float, float]
) -> Check:
    """Compression along the grain with buckling in the weaker direction.

    Args:
        section: The section.
        compression_kn: Compression, zero or more [kN].
        strengths: Design strengths.
        kc: kc about y and about z [-].

    Source:
        EN 1995-1-1:2004, 6.1.4 (6.2), 6.3.2 (6.23), (6.24) without bending.
    """
    stress = compression_kn * 1e3 / section.area_mm2
    weaker = min(kc)
    if weaker == 1.0:
        return check("compression", "EN 1995-1-1 6.1.4 (6.2)", stress, strengths.fc0, "N/mm2")
    axis = "y" if kc[0] <= kc[1] else "z"
    return check(
        "compression with buckling", "EN 1995-1-1 6.3.2", stress, weaker * strengths.fc0,
        "N/mm2", f"about {axis}, kc {weaker:.2f}",
    )  # fmt: skip


def tension(section: Rect, tension_kn: float, strengths: DesignStrengths) -> Check:
    """Tension along the grain.

    Holes and notches are not taken off: give the section that is left.

    Args:
        section: The section that is left.
        tension_kn: Tension, zero or more [kN].
        strengths: Design strengths.

    Source:
        EN 1995-1-1:2004, 6.1.2 (6.1).
    """
    stress = tension_kn * 1e3 / section.area_mm2
    return check("tension", "EN 1995-1-1 6.1.2 (6.1)", stress, strengths.ft0, "N/mm2")


def bending_and_compression(
    section: Rect,
    moment_y_kn_m: float,
    moment_z_kn_m: float,
    compression_kn: float,
    strengths: DesignStrengths,
    kc: tuple[float, float],
) -> Check:
    """Bending about both axes together with compression, the worse of both sums.

    Args:
        section: The section.
        moment_y_kn_m: Moment about y [kNm].
        moment_z_kn_m: Moment about z [kNm].
        compression_kn: Compression, zero or more [kN].
        strengths: Design strengths.
        kc: kc about y and about z [-]; both 1 means stocky.

    Returns:
        The check of a share of 1.

    Source:
        EN 1995-1-1:2004, 6.2.4 (6.19), (6.20) for stocky members, else 6.3.2 (6.23), (6.24).
    """
    about_y, about_z = bending_stresses(section, moment_y_kn_m, moment_z_kn_m)
    share_y, share_z = about_y / strengths.fm_y, about_z / strengths.fm_z
    stress = compression_kn * 1e3 / section.area_mm2
    km = handbook.timber_factor("km").value
    if kc == (1.0, 1.0):
        axial = ((stress / strengths.fc0) ** 2,) * 2
        clauses = ("6.2.4 (6.19)", "6.2.4 (6.20)")
    else:
        axial = (stress / (kc[0] * strengths.fc0), stress / (kc[1] * strengths.fc0))
        clauses = ("6.3.2 (6.23)", "6.3.2 (6.24)")
    sums = (axial[0] + share_y + km * share_z, axial[1] + km * share_y + share_z)
    clause = clauses[0] if sums[0] >= sums[1] else clauses[1]
    return check("bending and compression", f"EN 1995-1-1 {clause}", max(sums), 1.0, "-")


def bending_and_tension(
    section: Rect,
    moment_y_kn_m: float,
    moment_z_kn_m: float,
    tension_kn: float,
    strengths: DesignStrengths,
) -> Check:
    """Bending about both axes together with tension, the worse of both sums.

    Args:
        section: The section.
        moment_y_kn_m: Moment about y [kNm].
        moment_z_kn_m: Moment about z [kNm].
        tension_kn: Tension, zero or more [kN].
        strengths: Design strengths.

    Returns:
        The check of a share of 1.

    Source:
        EN 1995-1-1:2004, 6.2.3 (6.17), (6.18).
    """
    about_y, about_z = bending_stresses(section, moment_y_kn_m, moment_z_kn_m)
    share_y, share_z = about_y / strengths.fm_y, about_z / strengths.fm_z
    axial = tension_kn * 1e3 / section.area_mm2 / strengths.ft0
    km = handbook.timber_factor("km").value
    sums = (axial + share_y + km * share_z, axial + km * share_y + share_z)
    clause = "(6.17)" if sums[0] >= sums[1] else "(6.18)"
    return check("bending and tension", f"EN 1995-1-1 6.2.3 {clause}", max(sums), 1.0, "-")
