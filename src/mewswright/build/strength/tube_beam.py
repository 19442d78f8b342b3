"""A steel tube as a rafter, a head plate or a ridge beam.

Elastic throughout, which is on the safe side. Deflections are held to the limits that are
asked of timber; steel does not creep.
"""

from math import sqrt

from mewswright import handbook
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.deflection import Deflections
from mewswright.build.strength.design import design_value
from mewswright.build.strength.member import Forces, Member, Use
from mewswright.build.strength.tube import reduction, slenderness, wall_check
from mewswright.build.tube import STEEL, Tube
from mewswright.handbook.steel import steel_grade

SEAT_CLASS = "C16"  # the timber that it bears on or that stands under it, the weakest there is
SLIM = 2.0  # judgement: deeper tubes by their breadth might twist away, and are not reckoned


def tube_beam_checks(tube: Tube, member: Member, forces: Forces, use: Use) -> list[Check]:
    """Check a tube that is bent across its breadth under one combination.

    Args:
        tube: As it stands to what bends it.
        member: Its span, its seat and the fall of the roof on it.
        forces: Design forces, and unfactored deflections.
        use: Duration for the timber under it, and limits.

    Source:
        EN 1993-1-1:2005, Table 5.2, 6.2.5 elastic, 6.2.6, 6.2.8, 6.3.2.1(2); EN 1993-1-8,
        Table 7.11, side walls that a load presses; EN 1995-1-1, 6.1.5 for the timber.
    """
    found: list[Check] = []
    if forces.moment_y_kn_m or forces.shear_kn:
        found += _section(tube, forces)
    if forces.bearing_kn and member.bearing_mm:
        found += _seat(tube, member, forces.bearing_kn, use.duration)
    if forces.deflections is not None:
        found += _bent(member, forces.deflections, use)
    return found


def bending_kn_m(tube: Tube) -> float:
    """Design moment that a tube carries, elastic [kNm]. Source: EN 1993-1-1, 6.2.5 (6.14)."""
    grade = steel_grade(STEEL)
    return tube.modulus_mm3() * grade.fy_n_mm2 / grade.gamma_m0 / 1e6


def shear_kn(tube: Tube) -> float:
    """Design shear that it carries [kN]. Source: EN 1993-1-1, 6.2.6 (6.18), A h / (b + h)."""
    grade = steel_grade(STEEL)
    area = tube.area_mm2 * tube.h_mm / (tube.b_mm + tube.h_mm)
    return area * grade.fy_n_mm2 / sqrt(3) / grade.gamma_m0 / 1e3


def _section(tube: Tube, forces: Forces) -> list[Check]:
    moment, shear = abs(forces.moment_y_kn_m), abs(forces.shear_kn)
    used = shear / shear_kn(tube)
    # Where shear uses more than half, it takes from the bending: EN 1993-1-1, 6.2.8(3).
    left = 1 - (2 * min(used, 1.0) - 1) ** 2 if used > 0.5 else 1.0
    return [
        wall_check(tube),
        check("slimness against twisting", "EN 1993-1-1, 6.3.2.1(2)", tube.h_mm / tube.b_mm, SLIM,
              "-", "depth by breadth: flatter tubes do not twist away"),
        check("bending", "EN 1993-1-1, 6.2.5, 6.2.8", moment, bending_kn_m(tube) * left, "kNm"),
        check("shear", "EN 1993-1-1, 6.2.6", shear, shear_kn(tube), "kN"),
    ]  # fmt: skip


def _seat(tube: Tube, member: Member, bearing_kn: float, lasts: str) -> list[Check]:
    """Its two walls over the seat, and the timber under it."""
    assert member.bearing_mm is not None
    grade = steel_grade(STEEL)
    clear = tube.h_mm - 2 * tube.t_mm
    radius = tube.t_mm / sqrt(12)
    chi = reduction(slenderness(clear, radius, grade), grade.alpha)
    walls_kn = 2 * tube.t_mm * member.bearing_mm * chi * grade.fy_n_mm2 / grade.gamma_m1 / 1e3
    timber = handbook.timber_class(SEAT_CLASS)
    across = design_value(
        timber.fc90_k,
        handbook.timber_kmod("solid", member.service_class, lasts).value,
        handbook.gamma_m("solid").value,
    )
    return [
        check("walls over the seat", "EN 1993-1-8, Table 7.11", bearing_kn, walls_kn, "kN",
              "as columns of curve c, the load not spread"),
        check("timber under the seat", "EN 1995-1-1, 6.1.5",
              bearing_kn * 1e3 / (tube.b_mm * member.bearing_mm), across, "N/mm2",
              f"taken as {SEAT_CLASS}, pressed across its grain"),
    ]  # fmt: skip


def _bent(member: Member, deflections: Deflections, use: Use) -> list[Check]:
    found = []
    if use.limits.inst is not None:
        found.append(
            check("deflection", "EN 1993-1-1, 7.2; limit as for timber", abs(deflections.inst_mm),
                  member.length_mm / use.limits.inst, "mm", f"span/{use.limits.inst:g}")
        )  # fmt: skip
    if member.fall_mm is not None:
        sag = max(0.0, deflections.long_term_mm(0.0))
        found.append(
            check("ponding", "sag that stays against a quarter of the fall", sag,
                  member.fall_mm / 4, "mm", "steepen the roof or deepen the rafter")
        )  # fmt: skip
    return found
