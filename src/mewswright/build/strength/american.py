"""The same questions by American allowable-stress design: a second opinion.

Formulas of the NDS for wood construction. Units as there: pounds, inches, psi; results
that leave this file say theirs. Used to judge ourselves by American worked examples and
span tables. Nothing here stands beside European factors in one sum: never mix codes.
"""

from math import sqrt

N_PER_LB = 4.4482216152605
MM_PER_IN = 25.4
SAWN_C = 0.8  # buckling of sawn lumber, NDS 3.7.1


def nail_withdrawal_lb_in(specific_gravity: float, diameter_in: float) -> float:
    """Reference withdrawal of a plain nail in side grain, *W* [lb per inch of penetration].

    Args:
        specific_gravity: *G* of the wood [-].
        diameter_in: Nail diameter [in].

    Source:
        NDS 2018, 12.2.3 (12.2-3): 1380 G^2.5 D.
    """
    return float(1380 * specific_gravity**2.5 * diameter_in)


def nail_bearing_psi(specific_gravity: float) -> float:
    """Dowel bearing strength under a nail below 1/4 in, *Fe* [psi], not rounded.

    Source:
        NDS 2018, Table 12.3.3: 16600 G^1.84.
    """
    return float(16600 * specific_gravity**1.84)


def nail_mode_iiis_lb(
    diameter_in: float, fyb_psi: float, fes_psi: float, fem_psi: float, side_in: float, rd: float
) -> float:
    """Lateral value of a nail that bends in the main member, mode IIIs [lb].

    Args:
        diameter_in: Nail diameter [in].
        fyb_psi: Bending yield strength of the nail [psi].
        fes_psi: Bearing strength of the side member [psi].
        fem_psi: Bearing strength of the main member [psi].
        side_in: Thickness of the side member [in].
        rd: Reduction term, *KD* of nails [-].

    Source:
        NDS 2018, Table 12.3.1A (12.3-9).
    """
    ratio = fem_psi / fes_psi
    steel = 2 * fyb_psi * (2 + ratio) * diameter_in**2 / (3 * fem_psi * side_in**2)
    k3 = -1 + sqrt(2 * (1 + ratio) / ratio + steel)
    return k3 * diameter_in * side_in * fem_psi / ((2 + ratio) * rd)


def euler_psi(e_min_psi: float, length_in: float, side_in: float) -> float:
    """Critical compression stress, *FcE* [psi]; NDS 2018, 3.7.1: 0.822 Emin / (le/d)^2."""
    return 0.822 * e_min_psi / (length_in / side_in) ** 2


def column_stability(fc_star_psi: float, fce_psi: float) -> float:
    """Column stability factor *CP* of sawn lumber [-]; NDS 2018, 3.7.1 (3.7-1)."""
    ratio = fce_psi / fc_star_psi
    half = (1 + ratio) / (2 * SAWN_C)
    return half - sqrt(half**2 - ratio / SAWN_C)


def beam_column(
    fc_psi: float, fc_design_psi: float, fb_psi: float, fb_design_psi: float, fce_psi: float
) -> float:
    """Bending about one axis together with compression, as a share of 1 [-].

    Args:
        fc_psi: Compression stress [psi].
        fc_design_psi: Its adjusted design value with CP [psi].
        fb_psi: Bending stress [psi].
        fb_design_psi: Its adjusted design value [psi].
        fce_psi: Critical compression stress in the plane of bending, above `fc_psi` [psi].

    Raises:
        ValueError: If the compression reaches the critical stress.

    Source:
        NDS 2018, 3.9.2 (3.9-3).
    """
    if fc_psi >= fce_psi:
        raise ValueError(f"the column buckles: {fc_psi:g} psi against {fce_psi:g} psi")
    return (fc_psi / fc_design_psi) ** 2 + fb_psi / (fb_design_psi * (1 - fc_psi / fce_psi))
