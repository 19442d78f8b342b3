"""The longest span of a simple rafter or joist that passes what it is asked.

A quick table for choosing; the frame itself is judged from its own analysis.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import floor

from mewswright import handbook
from mewswright.build.strength.check import Check
from mewswright.build.strength.deflection import (
    Deflections,
    Limits,
    point_load_mm,
    spread_load_mm,
)
from mewswright.build.strength.member import Forces, Member, Use, member_checks
from mewswright.build.strength.section import Rect

GRAVITY = 9.81  # m/s2
SPREAD_LIMITS = Limits(inst=None, net_final=250.0, final=None)
POINT_LIMITS = Limits(inst=None, net_final=None, final=150.0)


@dataclass(frozen=True)
class RoofLoad:
    """Load on a roof [kN/m2], and a foot in the middle of one rafter [kN], unfactored.

    The weight of the rafters themselves is not among it: it follows from their section.
    """

    permanent_kn_m2: float
    variable_kn_m2: float
    point_kn: float
    spacing_mm: float


def rafter_checks(
    section: Rect, strength_class: str, span_mm: float, load: RoofLoad, service_class: int = 2
) -> list[Check]:
    """Checks of a simple rafter, its top edge held by the deck, under short-term load.

    The rafter's own weight at its mean density is added to the permanent load.

    The spread load is shared between rafters (ksys 1.1), the foot is not. Both stand
    beside the permanent load, never beside each other.

    Args:
        section: The rafter's section.
        strength_class: EN 338 class.
        span_mm: Clear span [mm].
        load: Unfactored loads.
        service_class: 2 under felt.

    Source:
        EN 1995-1-1:2004; EN 1990:2002 (6.10) with the handbook's gamma_G and gamma_Q.
    """
    down = handbook.load_factor("gamma_g_unfavourable").value
    gamma_q = handbook.load_factor("gamma_q").value
    shared = handbook.timber_factor("ksys").value
    timber = handbook.timber_class(strength_class)
    span_m, width_m = span_mm / 1e3, load.spacing_mm / 1e3
    own_kn_m = section.area_mm2 * 1e-6 * timber.rho_mean * GRAVITY / 1e3
    g_kn_m = load.permanent_kn_m2 * width_m + own_kn_m
    q_kn_m = load.variable_kn_m2 * width_m
    member = Member(section, strength_class, span_mm, service_class, top_held_mm=0)
    e, shear_modulus = timber.e_mean, timber.g_mean
    sag_g = spread_load_mm(section, span_mm, g_kn_m, e, shear_modulus)
    sag_q = spread_load_mm(section, span_mm, q_kn_m, e, shear_modulus)
    sag_p = point_load_mm(section, span_mm, load.point_kn, e, shear_modulus)
    total = down * g_kn_m + gamma_q * q_kn_m
    spread = Forces(
        moment_y_kn_m=total * span_m**2 / 8,
        shear_kn=total * span_m / 2,
        deflections=Deflections(sag_g, sag_q),
    )
    foot = Forces(  # at mid-span for the moment, at the support for the shear
        moment_y_kn_m=down * g_kn_m * span_m**2 / 8 + gamma_q * load.point_kn * span_m / 4,
        shear_kn=down * g_kn_m * span_m / 2 + gamma_q * load.point_kn,
        deflections=Deflections(sag_g, sag_p),
    )
    return [
        *member_checks(member, spread, Use("short", ksys=shared, limits=SPREAD_LIMITS)),
        *member_checks(member, foot, Use("short", limits=POINT_LIMITS)),
    ]


def longest_span_m(
    section: Rect, strength_class: str, load: RoofLoad, service_class: int = 2
) -> float:
    """The longest span of a simple rafter that passes `rafter_checks`, to 0.01 m below.

    Args:
        section: The rafter's section.
        strength_class: EN 338 class.
        load: Unfactored loads.
        service_class: 2 under felt.

    Returns:
        Span [m], 0 to 10; 0 where not even the shortest passes.
    """
    return longest_m(
        lambda span_m: all(
            one.passes
            for one in rafter_checks(section, strength_class, span_m * 1e3, load, service_class)
        )
    )


def longest_m(passes: Callable[[float], bool], step_m: float = 0.01, most_m: float = 10.0) -> float:
    """The longest length that passes, in whole steps, for a rule that fails once for all.

    Args:
        passes: Whether a length [m] passes.
        step_m: Step [m].
        most_m: Where to stop [m].

    Returns:
        Length [m]; 0 where the first step fails.
    """
    low, high = 0, floor(most_m / step_m + 1e-9)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if passes(middle * step_m) else (low, middle - 1)
    return low * step_m
