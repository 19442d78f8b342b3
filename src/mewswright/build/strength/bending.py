"""Bending, shear and falling over sideways of a beam."""

from math import sqrt

from mewswright import handbook
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.design import DesignStrengths
from mewswright.build.strength.section import Rect

SHEAR_CLAUSE = "EN 1995-1-1 6.1.7 (6.13)"


def bending_stresses(
    section: Rect, moment_y_kn_m: float, moment_z_kn_m: float = 0.0
) -> tuple[float, float]:
    """Bending stress about y and about z [N/mm2], without sign.

    Args:
        section: The section.
        moment_y_kn_m: Moment about y, of either sign [kNm].
        moment_z_kn_m: Moment about z, of either sign [kNm].
    """
    return (
        abs(moment_y_kn_m) * 1e6 / section.modulus_y_mm3,
        abs(moment_z_kn_m) * 1e6 / section.modulus_z_mm3,
    )


def shear_stress(section: Rect, shear_kn: float, kcr: float | None = None) -> float:
    """Greatest shear stress of a rectangle, with its cracks counted out [N/mm2].

    Args:
        section: The section.
        shear_kn: Shear force, of either sign [kN].
        kcr: Share of the breadth that is whole [-]; None for the handbook's 0.67. The
            shear strengths of 2003 went with 1.0: never mix the pairs.

    Source:
        EN 1995-1-1:2004+A1, 6.1.7(2) (6.13a).
    """
    whole = handbook.timber_factor("kcr").value if kcr is None else kcr
    return 1.5 * abs(shear_kn) * 1e3 / (whole * section.area_mm2)


def shear(
    section: Rect, shear_kn: float, fv_d: float, kcr: float | None = None, axis: str = "depth"
) -> Check:
    """Shear along the depth or the breadth, each by itself; a rectangle is the same to both."""
    return check(
        f"shear along the {axis}", SHEAR_CLAUSE, shear_stress(section, shear_kn, kcr), fv_d,
        "N/mm2",
    )  # fmt: skip


def bending(
    section: Rect, moment_y_kn_m: float, moment_z_kn_m: float, strengths: DesignStrengths
) -> Check:
    """Bending about both axes, the worse of both sums.

    Args:
        section: The section.
        moment_y_kn_m: Moment about y [kNm].
        moment_z_kn_m: Moment about z [kNm].
        strengths: Design strengths.

    Returns:
        The check of a share of 1.

    Source:
        EN 1995-1-1:2004, 6.1.6 (6.11), (6.12); km of a rectangle is 0.7.
    """
    about_y, about_z = bending_stresses(section, moment_y_kn_m, moment_z_kn_m)
    if not about_z:
        return check("bending", "EN 1995-1-1 6.1.6 (6.11)", about_y, strengths.fm_y, "N/mm2")
    share_y, share_z = about_y / strengths.fm_y, about_z / strengths.fm_z
    km = handbook.timber_factor("km").value
    strong, weak = share_y + km * share_z, km * share_y + share_z
    clause = "(6.11)" if strong >= weak else "(6.12)"
    return check("bending", f"EN 1995-1-1 6.1.6 {clause}", max(strong, weak), 1.0, "-")


def critical_bending_stress(section: Rect, effective_mm: float, e05: float) -> float:
    """Stress at which a softwood beam would fall over sideways, *sigma_m,crit* [N/mm2].

    Args:
        section: The section.
        effective_mm: Effective length of the edge in compression [mm].
        e05: Fifth percentile of the modulus of elasticity [N/mm2].

    Raises:
        ValueError: If the length is not above zero.

    Source:
        EN 1995-1-1:2004, 6.3.3 (6.32): 0.78 b^2 E0.05 / (h lef), solid softwood rectangles.
    """
    if not effective_mm > 0:
        raise ValueError(f"an effective length is above 0 mm, got {effective_mm:g}")
    return 0.78 * section.b_mm**2 * e05 / (section.h_mm * effective_mm)


def lateral_factor(fm_k: float, critical: float) -> float:
    """Strength left for fear of falling over, *kcrit* [-], 0 to 1.

    Args:
        fm_k: Characteristic bending strength [N/mm2].
        critical: Critical stress [N/mm2], above zero.

    Source:
        EN 1995-1-1:2004, 6.3.3 (6.30), (6.34).
    """
    slenderness = sqrt(fm_k / critical)
    if slenderness <= 0.75:
        return 1.0
    return 1.56 - 0.75 * slenderness if slenderness <= 1.4 else 1 / slenderness**2


def effective_length_mm(
    section: Rect, length_mm: float, held_mm: float | None, *, load_on_it: bool
) -> float:
    """Length of the edge in compression that may swing out [mm]; 0 where it is held.

    Between holds the moment is nearly even, so nothing is taken off there; over a whole
    span under a spread load 0.9 of it counts. What the standard lets off for a load on
    the edge in tension is not used.

    Args:
        section: The section.
        length_mm: Span [mm].
        held_mm: Distance between holds of that edge [mm]; 0 held all along, None not held
            between the supports.
        load_on_it: True where the load sits on that edge and falls with it.

    Raises:
        ValueError: If `held_mm` is negative.

    Source:
        EN 1995-1-1:2004, Table 6.1 and its note.
    """
    if held_mm is not None and not held_mm >= 0:
        raise ValueError(f"the distance between holds is 0 mm or more, got {held_mm:g}")
    if held_mm == 0:
        return 0.0
    free = 0.9 * length_mm if held_mm is None or held_mm >= length_mm else held_mm
    return free + (2 * section.h_mm if load_on_it else 0.0)


def kcrit(section: Rect, effective_mm: float, strength_class: str) -> float:
    """Factor kcrit of a stick of this class [-]; 1 where the edge is held (length 0)."""
    if effective_mm == 0:
        return 1.0
    timber = handbook.timber_class(strength_class)
    return lateral_factor(timber.fm_k, critical_bending_stress(section, effective_mm, timber.e05))


def lateral_torsional(
    section: Rect,
    moment_y_kn_m: float,
    factor: float,
    strengths: DesignStrengths,
    compression_share: float = 0.0,
) -> Check:
    """Falling over sideways, under compression too.

    Args:
        section: The section.
        moment_y_kn_m: Moment about y [kNm]; negative puts the bottom edge in compression.
        factor: kcrit of the edge in compression [-].
        strengths: Design strengths.
        compression_share: Compression over its strength with buckling sideways [-].

    Source:
        EN 1995-1-1:2004, 6.3.3 (6.33), (6.35).
    """
    stress, _ = bending_stresses(section, moment_y_kn_m)
    edge = "bottom edge" if moment_y_kn_m < 0 else "top edge"
    note = f"{edge} in compression, kcrit {factor:.2f}"
    name = "lateral-torsional buckling"
    if not compression_share:
        clause = "EN 1995-1-1 6.3.3 (6.33)"
        return check(name, clause, stress, factor * strengths.fm_y, "N/mm2", note)
    share = (stress / (factor * strengths.fm_y)) ** 2 + compression_share
    return check(name, "EN 1995-1-1 6.3.3 (6.35)", share, 1.0, "-", note)
