"""Design strength: the characteristic one, for this moisture, this duration and this size.

All strengths are N/mm2.
"""

from dataclasses import dataclass
from functools import cache
from math import sqrt

from mewswright import handbook
from mewswright.build.strength.section import Rect


@dataclass(frozen=True)
class DesignStrengths:
    """Design strengths of solid timber [N/mm2] and the factors [-] that led to them."""

    fm_y: float
    fm_z: float
    ft0: float
    fc0: float
    fc90: float
    fv: float
    kmod: float
    gamma_m: float
    ksys: float


def design_value(characteristic: float, kmod: float, gamma_m: float, k_more: float = 1.0) -> float:
    """Design value of a strength or a capacity, in the unit of `characteristic`.

    Args:
        characteristic: Characteristic value, zero or more.
        kmod: For moisture and load duration [-].
        gamma_m: Partial factor of the material [-].
        k_more: Further factors, such as kh or ksys [-].

    Raises:
        ValueError: If a value is negative or a factor not above zero.

    Source:
        EN 1995-1-1:2004, 2.4.1 (2.14) and 2.4.3 (2.17).
    """
    if not (characteristic >= 0 and kmod > 0 and gamma_m > 0 and k_more > 0):
        raise ValueError(
            "a design value takes a strength of zero or more and factors above zero, got "
            f"{characteristic:g}, kmod {kmod:g}, gamma_M {gamma_m:g}, {k_more:g}"
        )
    return k_more * kmod * characteristic / gamma_m


def depth_factor(depth_mm: float) -> float:
    """Gain of small solid sections in bending and tension, *kh* [-], 1 to 1.3.

    Args:
        depth_mm: Depth in bending, or the greater side in tension [mm].

    Raises:
        ValueError: If the depth is not above zero.

    Source:
        EN 1995-1-1:2004, 3.2(3), for a characteristic density up to 700 kg/m3.
    """
    if not depth_mm > 0:
        raise ValueError(f"a depth is above 0 mm, got {depth_mm:g}")
    return max(1.0, min(float((150 / depth_mm) ** 0.2), 1.3))


def connection_kmod(kmod_1: float, kmod_2: float) -> float:
    """Factor kmod of a joint of two materials [-].

    Source:
        EN 1995-1-1:2004, 2.3.2.1(2), recalled.
    """
    return sqrt(kmod_1 * kmod_2)


@cache
def design_strengths(
    strength_class: str,
    section: Rect,
    service_class: int,
    duration: str,
    gamma_m: float | None = None,
    ksys: float = 1.0,
) -> DesignStrengths:
    """Design strengths of a stick of solid timber.

    Args:
        strength_class: EN 338 class, such as `C24`.
        section: Its section, for kh.
        service_class: 1, 2 or 3.
        duration: Of the shortest load in the combination: permanent, long, medium, short
            or instantaneous.
        gamma_m: Partial factor [-]; None for the handbook's.
        ksys: Load sharing [-]: 1.1 where a deck shares a spread load between equal
            members, 1.0 for a point load on one of them. Applied to bending, shear,
            tension and compression, not to bearing.

    Raises:
        Problem: If the class is not known.
        ValueError: If the handbook has no kmod for this, or ksys is below 1.

    Source:
        EN 1995-1-1:2004, 2.4.1, 3.2(3), 6.6; handbook timber_classes and timber_factors.
    """
    if not 1.0 <= ksys <= 1.2:
        raise ValueError(f"ksys is 1 to 1.2, got {ksys:g}")
    timber = handbook.timber_class(strength_class)
    kmod = handbook.timber_kmod("solid", service_class, duration).value
    gamma = handbook.gamma_m("solid").value if gamma_m is None else gamma_m

    def design(characteristic: float, more: float = 1.0) -> float:
        return design_value(characteristic, kmod, gamma, more)

    return DesignStrengths(
        fm_y=design(timber.fm_k, depth_factor(section.h_mm) * ksys),
        fm_z=design(timber.fm_k, depth_factor(section.b_mm) * ksys),
        ft0=design(timber.ft0_k, depth_factor(max(section.b_mm, section.h_mm)) * ksys),
        fc0=design(timber.fc0_k, ksys),
        fc90=design(timber.fc90_k),
        fv=design(timber.fv_k, ksys),
        kmod=kmod,
        gamma_m=gamma,
        ksys=ksys,
    )
