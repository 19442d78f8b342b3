"""One member under one combination of loads: every check of EN 1995-1-1 that applies.

Lengths are millimetres, forces kN, moments kNm. What one would have to know and does not
is taken the unkind way: not held between its supports, load on the edge that may swing out.
"""

from dataclasses import dataclass

from mewswright import handbook
from mewswright.build.strength import bending, column, deflection, support
from mewswright.build.strength.check import Check
from mewswright.build.strength.deflection import Deflections, Limits
from mewswright.build.strength.design import DesignStrengths, design_strengths
from mewswright.build.strength.section import Rect
from mewswright.build.strength.support import Notch
from mewswright.build.tube import Tube

COMMON_LIMITS = Limits()


@dataclass(frozen=True)
class Member:
    """A stick of solid timber, or a steel tube, and how it is held.

    `buckling_y_mm` and `buckling_z_mm` are the buckling lengths for bending about y (along
    its depth) and about z (sideways); None stands for the whole length. `top_held_mm` and
    `bottom_held_mm` are the distances between holds of that edge against swinging out:
    0 held all along (a nailed deck), None not held between the supports. `fall_mm` is the
    roof's fall over this span, None for a member that rain does not lie on.
    """

    section: Rect
    strength_class: str
    length_mm: float
    service_class: int
    buckling_y_mm: float | None = None
    buckling_z_mm: float | None = None
    top_held_mm: float | None = None
    bottom_held_mm: float | None = None
    bearing_mm: float | None = None
    notch: Notch | None = None
    fall_mm: float | None = None
    cantilever: bool = False
    tube: Tube | None = None  # of steel; `section` is then its outline

    def __post_init__(self) -> None:
        """Refuse a member without length."""
        if not self.length_mm > 0:
            raise ValueError(f"a member is longer than 0 mm, got {self.length_mm:g}")


@dataclass(frozen=True)
class Forces:
    """Design forces of one combination, and the deflections of its unfactored loads.

    `moment_y_kn_m` above zero sags and presses the top edge, below zero (uplift) the
    bottom edge. `axial_kn` above zero is tension, below zero compression. `shear_kn` runs
    along the depth, `shear_z_kn` along the breadth. `load_on_top` is false where nothing
    that rests on the top edge bends the member, as for a post or under suction.
    """

    moment_y_kn_m: float = 0.0
    moment_z_kn_m: float = 0.0
    shear_kn: float = 0.0
    shear_z_kn: float = 0.0
    axial_kn: float = 0.0
    bearing_kn: float = 0.0
    deflections: Deflections | None = None
    load_on_top: bool = True


@dataclass(frozen=True)
class Use:
    """What the combination and the yard ask.

    `duration` is that of the shortest load in the combination: permanent, long, medium,
    short or instantaneous. `gamma_m` is the partial factor of solid timber, None for the
    handbook's. `ksys` is 1.1 for a spread load on members that share a deck, else 1.
    """

    duration: str
    gamma_m: float | None = None
    ksys: float = 1.0
    limits: Limits = COMMON_LIMITS


def member_checks(member: Member, forces: Forces, use: Use) -> list[Check]:
    """Every check that applies to a member under one combination of loads.

    A check whose force is absent is left out; the rest stand in the order of the standard.
    Utilisation above 1 fails.

    Args:
        member: The stick and how it is held.
        forces: Design forces and unfactored deflections.
        use: Duration, factors and limits.

    Returns:
        Checks with demand, capacity and clause.

    Raises:
        Problem: If the strength class is not known.
        ValueError: If the handbook has no kmod for this, or a bearing force has no bearing.

    Source:
        EN 1995-1-1:2004+A1+A2, 6.1.2 to 6.1.7, 6.2.3, 6.2.4, 6.3.2, 6.3.3, 6.5.2, 7.2.
    """
    if member.tube is not None:
        from mewswright.build.strength.tube_beam import tube_beam_checks  # it asks for a Member

        return tube_beam_checks(member.tube, member, forces, use)
    strengths = design_strengths(
        member.strength_class,
        member.section,
        member.service_class,
        use.duration,
        use.gamma_m,
        use.ksys,
    )
    return [
        *_bending_and_axial(member, forces, strengths),
        *_shear(member, forces, strengths),
        *_bearing(member, forces, strengths),
        *_deflection(member, forces, use.limits),
    ]


def _bending_and_axial(member: Member, forces: Forces, strengths: DesignStrengths) -> list[Check]:
    section, found = member.section, []
    moment_y, moment_z = forces.moment_y_kn_m, forces.moment_z_kn_m
    pressed_kn, pulled_kn = max(0.0, -forces.axial_kn), max(0.0, forces.axial_kn)
    sideways = 0.0
    if moment_y or moment_z:
        found.append(bending.bending(section, moment_y, moment_z, strengths))
    if pulled_kn:
        found.append(column.tension(section, pulled_kn, strengths))
        if moment_y or moment_z:
            found.append(
                column.bending_and_tension(section, moment_y, moment_z, pulled_kn, strengths)
            )
    if pressed_kn:
        kc = column.kc_both(
            section,
            handbook.timber_class(member.strength_class),
            _whole(member.buckling_y_mm, member),
            _whole(member.buckling_z_mm, member),
        )
        found.append(column.compression(section, pressed_kn, strengths, kc))
        if moment_y or moment_z:
            found.append(
                column.bending_and_compression(
                    section, moment_y, moment_z, pressed_kn, strengths, kc
                )
            )
        sideways = pressed_kn * 1e3 / section.area_mm2 / (kc[1] * strengths.fc0)
    if moment_y:
        factor = kcrit_of(member, moment_y, load_on_top=forces.load_on_top)
        found.append(bending.lateral_torsional(section, moment_y, factor, strengths, sideways))
    return found


def kcrit_of(member: Member, moment_y_kn_m: float, *, load_on_top: bool = True) -> float:
    """Factor kcrit [-] of the edge that this moment presses: the bottom one under uplift.

    A cantilever's moment has the other sign for the same load, so the load may sit on
    its free top edge while the bottom one is pressed; then nothing is added for it.

    Source:
        EN 1995-1-1:2004, 6.3.3, Table 6.1.
    """
    top_pressed = moment_y_kn_m >= 0
    effective = bending.effective_length_mm(
        member.section,
        member.length_mm,
        member.top_held_mm if top_pressed else member.bottom_held_mm,
        load_on_it=top_pressed and load_on_top,
    )
    return bending.kcrit(member.section, effective, member.strength_class)


def _whole(length_mm: float | None, member: Member) -> float:
    return member.length_mm if length_mm is None else length_mm


def _shear(member: Member, forces: Forces, strengths: DesignStrengths) -> list[Check]:
    section, found = member.section, []
    if forces.shear_kn:
        found.append(bending.shear(section, forces.shear_kn, strengths.fv))
        if member.notch:
            found.append(
                support.notched_shear(section, member.notch, forces.shear_kn, strengths.fv)
            )
    if forces.shear_z_kn:
        found.append(bending.shear(section, forces.shear_z_kn, strengths.fv, axis="breadth"))
    return found


def _bearing(member: Member, forces: Forces, strengths: DesignStrengths) -> list[Check]:
    if not forces.bearing_kn:
        return []
    if member.bearing_mm is None:
        raise ValueError(
            f"a force of {forces.bearing_kn:g} kN bears on this member, but not over what "
            "length: give bearing_mm"
        )
    return [
        support.bearing(member.section.b_mm, member.bearing_mm, forces.bearing_kn, strengths.fc90)
    ]


def _deflection(member: Member, forces: Forces, limits: Limits) -> list[Check]:
    if forces.deflections is None:
        return []
    found = deflection.deflection_checks(
        member.length_mm,
        forces.deflections,
        member.service_class,
        limits,
        cantilever=member.cantilever,
    )
    if member.fall_mm is not None:
        found.append(deflection.ponding(member.fall_mm, forces.deflections, member.service_class))
    return found
