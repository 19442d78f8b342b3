"""What happens at a support: crushing across the grain, and the notch over the plate."""

from dataclasses import dataclass
from math import sqrt

from mewswright import handbook
from mewswright.build.strength.bending import shear_stress
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.section import Rect

K_N = 5.0  # solid timber, EN 1995-1-1 (6.63)


@dataclass(frozen=True)
class Notch:
    """A cut at the supported edge over a support [mm].

    `left_mm` is the depth left, `reach_mm` runs from the line of the support to the
    corner of the cut, `slope` is its run over its rise (0 a square cut).
    """

    left_mm: float
    reach_mm: float
    slope: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a cut that is none."""
        if not (self.left_mm > 0 and self.reach_mm >= 0 and self.slope >= 0):
            raise ValueError(
                "a notch leaves some depth and reaches 0 mm or more, got "
                f"{self.left_mm:g} mm left, {self.reach_mm:g} mm, slope {self.slope:g}"
            )


def bearing(breadth_mm: float, length_mm: float, force_kn: float, fc90_d: float) -> Check:
    """Crushing across the grain over a support.

    kc90 is 1 and the 30 mm at each side are not added: the safe reading.

    Args:
        breadth_mm: Breadth of the timber that is pressed [mm].
        length_mm: Length of the contact along its grain [mm].
        force_kn: Force, of either sign [kN].
        fc90_d: Design strength across the grain [N/mm2].

    Source:
        EN 1995-1-1:2004, 6.1.5 (6.3).
    """
    if not (breadth_mm > 0 and length_mm > 0):
        raise ValueError(f"a bearing has breadth and length, got {breadth_mm:g} x {length_mm:g} mm")
    stress = abs(force_kn) * 1e3 / (breadth_mm * length_mm)
    return check("bearing", "EN 1995-1-1 6.1.5 (6.3)", stress, fc90_d, "N/mm2", "kc90 1")


def notch_factor(depth_mm: float, notch: Notch) -> float:
    """Shear strength left at a notch, *kv* [-], 0 to 1.

    Args:
        depth_mm: Depth of the whole section [mm].
        notch: The cut.

    Raises:
        ValueError: If the notch leaves more than the depth.

    Source:
        EN 1995-1-1:2004, 6.5.2 (6.62), solid timber.
    """
    alpha = notch.left_mm / depth_mm
    if alpha > 1:
        raise ValueError(
            f"a notch leaves at most the depth of {depth_mm:g} mm, got {notch.left_mm:g} mm"
        )
    root = sqrt(depth_mm)
    down = sqrt(alpha * (1 - alpha)) + 0.8 * notch.reach_mm / depth_mm * sqrt(
        max(0.0, 1 / alpha - alpha**2)
    )
    if down == 0:  # nothing is cut off
        return 1.0
    return float(min(1.0, K_N * (1 + 1.1 * notch.slope**1.5 / root) / (root * down)))


def notched_shear(section: Rect, notch: Notch, shear_kn: float, fv_d: float) -> Check:
    """Shear at a support over which the timber is cut.

    The reduction is used whichever way the force goes, for uplift turns it round.

    Args:
        section: The whole section.
        notch: The cut.
        shear_kn: Shear force, of either sign [kN].
        fv_d: Design shear strength [N/mm2].

    Source:
        EN 1995-1-1:2004, 6.5.2 (6.60), with kcr of 6.1.7 as well.
    """
    factor = notch_factor(section.h_mm, notch)
    stress = shear_stress(Rect(section.b_mm, notch.left_mm), shear_kn)
    kcr = handbook.timber_factor("kcr").value
    return check(
        "shear at the notch", "EN 1995-1-1 6.5.2 (6.60)", stress, factor * fv_d, "N/mm2",
        f"kv {factor:.2f}, kcr {kcr:g}",
    )  # fmt: skip
