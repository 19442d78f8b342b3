"""The end plate of a steel post: its weld, its bending, its screws, what it presses on.

The plate is as wide as the timber that it lies on and goes on past the tube along it; two
screws stand beyond each end of the tube. No moment is taken at it: the post is pinned.
"""

from math import hypot, inf, sqrt

from mewswright import handbook
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.design import design_value
from mewswright.build.strength.fasteners import Grip, screw_withdrawal, thin_plate_lateral
from mewswright.build.strength.member import Forces
from mewswright.build.tube import STEEL, Tube
from mewswright.handbook.fasteners import fastener
from mewswright.handbook.steel import plate_figure, steel_grade

SCREW = "structural_screw_5x80"
SCREWS = 4
WET = 3  # service class of the timber at head and foot


def weld_n_per_mm(throat_mm: float) -> float:
    """Design strength of a fillet weld along a millimetre [N/mm], however it is pulled.

    Args:
        throat_mm: Effective throat [mm], 3 or more.

    Raises:
        ValueError: If the throat is less than 3 mm.

    Source:
        EN 1993-1-8:2005, 4.5.3.3 (4.3), (4.4): fu / (sqrt 3 beta_w gamma_M2) a; 4.5.2(2).
    """
    if not throat_mm >= 3:
        raise ValueError(f"a fillet weld has a throat of 3 mm or more, got {throat_mm:g} mm")
    fu, beta, gamma = (plate_figure(name).value for name in ("fu", "beta_w", "gamma_m2"))
    return fu / (sqrt(3) * beta * gamma) * throat_mm


def weld_length_mm(tube: Tube) -> float:
    """Weld that counts round a tube [mm]: its flats, the rounded corners left out."""
    return 2 * (tube.b_mm + tube.h_mm - 8 * tube.t_mm)


def pressed_mm2(tube: Tube, plate_mm: tuple[float, float], thick_mm: float, fj: float) -> float:
    """Timber that a plate presses on evenly [mm2].

    Args:
        tube: The post.
        plate_mm: Length and width of the plate.
        thick_mm: Its thickness.
        fj: Design strength of the timber across the grain [N/mm2].

    Source:
        EN 1993-1-8:2005, 6.2.5 (6.5): c = t sqrt(fy / 3 fj gamma_M0) round the tube.
    """
    grade = steel_grade(STEEL)
    c = thick_mm * sqrt(grade.fy_n_mm2 / (3 * fj * grade.gamma_m0))
    return min(plate_mm[0], tube.b_mm + 2 * c) * min(plate_mm[1], tube.h_mm + 2 * c)


def end_plate_checks(
    tube: Tube, timber: tuple[str, str], forces: Forces, lasts: str
) -> list[Check]:
    """Check the plate at the head or the foot of a steel post under one combination.

    Args:
        tube: The post.
        timber: Section, lying flat, and class of the plate of timber there.
        forces: Design forces in the post; compression is below zero.
        lasts: How long the shortest of the loads stays.

    Source:
        EN 1993-1-8:2005, 4.5.3.3, 6.2.5; EN 1993-1-1, 6.2.5; EN 1995-1-1, 8.2.3, 8.7.2,
        8.3.3 (8.28), 6.1.5. Sizes of plate and weld are in handbook/steel_plates.csv.
    """
    section, name = timber
    deep, wide = breadth_depth_mm(section)
    thick, beyond, hole = (plate_figure(key).value for key in ("thick", "beyond", "hole_from_end"))
    grade, of_timber = steel_grade(STEEL), handbook.timber_class(name)
    lift, press = max(0.0, forces.axial_kn), max(0.0, -forces.axial_kn)
    shear = abs(forces.shear_kn)
    throat = plate_figure("throat").value
    found = [
        check("weld of its end plates", "EN 1993-1-8, 4.5.3.3", hypot(forces.axial_kn, shear),
              weld_n_per_mm(throat) * weld_length_mm(tube) / 1e3, "kN",
              f"fillet of {throat:g} mm throat, all round"),
        check("bending of its end plates", "EN 1993-1-1, 6.2.5", lift / 2 * (beyond - hole),
              wide * thick**2 / 6 * grade.fy_n_mm2 / grade.gamma_m0 / 1e3, "kN mm"),
    ]  # fmt: skip
    kmod = handbook.timber_kmod("solid", WET, lasts).value
    gamma = handbook.gamma_m("connection").value
    screw = fastener(SCREW)
    into = min(screw.length_mm - thick, deep, screw.thread_mm or deep)
    pull = SCREWS**0.9 * design_value(
        screw_withdrawal(screw.diameter_mm, into, of_timber.rho_k), kmod, gamma
    ) / 1e3  # fmt: skip
    side = SCREWS * design_value(
        thin_plate_lateral(screw, Grip("timber", deep, of_timber.rho_k), thick), kmod, gamma
    ) / 1e3  # fmt: skip
    pulled = lift / pull if pull > 0 else (inf if lift else 0.0)
    found.append(
        check("screws of its end plates", "EN 1995-1-1, 8.3.3 (8.28)", hypot(pulled, shear / side),
              1.0, "-", f"{SCREWS} {screw.what}, drilled first")
    )  # fmt: skip
    across = design_value(of_timber.fc90_k, kmod, handbook.gamma_m("solid").value)
    area = pressed_mm2(tube, (tube.b_mm + 2 * beyond, wide), thick, across)
    found.append(
        check("timber under its end plates", "EN 1995-1-1, 6.1.5; EN 1993-1-8, 6.2.5",
              press * 1e3 / area, across, "N/mm2")
    )  # fmt: skip
    return found
