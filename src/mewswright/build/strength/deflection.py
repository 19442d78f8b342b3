"""How far a beam bends, at once and in the end, and whether rain would stay on it."""

from dataclasses import dataclass
from math import radians, tan

from mewswright import handbook
from mewswright.build.strength.check import Check, check
from mewswright.build.strength.section import Rect

SHEAR_SHARE = 5 / 6  # of the area of a rectangle that carries shear


@dataclass(frozen=True)
class Limits:
    """Span over deflection at most [-]; None asks nothing.

    `inst` at once, `net_final` under the line of the supports, `final` with all creep
    (the same where there is no camber). A cantilever may bend twice as much of its length.

    Source:
        EN 1995-1-1:2004, Table 7.2: 300 to 500, 250 to 350, 150 to 300.
    """

    inst: float | None = 300.0
    net_final: float | None = 250.0
    final: float | None = 150.0


@dataclass(frozen=True)
class Deflections:
    """Deflection at once under unfactored loads [mm]; up and down differ by sign.

    `permanent_mm` comes of what always stays, `variable_mm` of all the rest in its
    combination, of which the share `psi2` stays for good; `camber_mm` was built in upwards.
    """

    permanent_mm: float = 0.0
    variable_mm: float = 0.0
    psi2: float = 0.0
    camber_mm: float = 0.0

    @property
    def inst_mm(self) -> float:
        """At once, *w_inst*."""
        return self.permanent_mm + self.variable_mm

    def final_mm(self, kdef: float) -> float:
        """With creep, *w_fin*; EN 1995-1-1:2004, 2.2.3 (2.3), (2.4)."""
        return self.permanent_mm * (1 + kdef) + self.variable_mm * (1 + self.psi2 * kdef)

    def long_term_mm(self, kdef: float) -> float:
        """What stays when the passing load has gone: permanent and psi2, with creep."""
        return (self.permanent_mm + self.psi2 * self.variable_mm) * (1 + kdef)


def spread_load_mm(section: Rect, span_mm: float, load_kn_m: float, e: float, g: float) -> float:
    """Mid-span deflection of a simple beam under a spread load, shear part included [mm].

    Args:
        section: The section.
        span_mm: Span [mm].
        load_kn_m: Load along the span [kN/m], the same as N/mm.
        e: Modulus of elasticity [N/mm2].
        g: Shear modulus [N/mm2].

    Source:
        5 q L^4 / (384 E I) + q L^2 / (8 G A 5/6); elementary beam theory.
    """
    bent = 5 * load_kn_m * span_mm**4 / (384 * e * section.inertia_y_mm4)
    return bent + load_kn_m * span_mm**2 / (8 * g * section.area_mm2 * SHEAR_SHARE)


def point_load_mm(section: Rect, span_mm: float, load_kn: float, e: float, g: float) -> float:
    """Mid-span deflection of a simple beam under a load there, shear part included [mm].

    Args:
        section: The section.
        span_mm: Span [mm].
        load_kn: Load at mid-span [kN].
        e: Modulus of elasticity [N/mm2].
        g: Shear modulus [N/mm2].

    Source:
        P L^3 / (48 E I) + P L / (4 G A 5/6); elementary beam theory.
    """
    bent = load_kn * 1e3 * span_mm**3 / (48 * e * section.inertia_y_mm4)
    return bent + load_kn * 1e3 * span_mm / (4 * g * section.area_mm2 * SHEAR_SHARE)


def cantilever_mm(
    section: Rect, reach_mm: float, spread_kn_m: float, tip_kn: float, e: float, g: float
) -> float:
    """Tip deflection of a cantilever held fast at its root, shear part included [mm].

    Args:
        section: The section.
        reach_mm: Its length [mm].
        spread_kn_m: Load along it [kN/m].
        tip_kn: Load at its tip [kN].
        e: Modulus of elasticity [N/mm2].
        g: Shear modulus [N/mm2].

    Source:
        q L^4 / (8 E I) + P L^3 / (3 E I), and (q L^2 / 2 + P L) / (G A 5/6).
    """
    ei = e * section.inertia_y_mm4
    bent = spread_kn_m * reach_mm**4 / (8 * ei) + tip_kn * 1e3 * reach_mm**3 / (3 * ei)
    sheared = spread_kn_m * reach_mm**2 / 2 + tip_kn * 1e3 * reach_mm
    return bent + sheared / (g * section.area_mm2 * SHEAR_SHARE)


def deflection_checks(
    span_mm: float,
    deflections: Deflections,
    service_class: int,
    limits: Limits,
    *,
    cantilever: bool = False,
) -> list[Check]:
    """Deflection at once and in the end against the limits that are asked for.

    Args:
        span_mm: Span, or reach of a cantilever [mm].
        deflections: What the loads do at once.
        service_class: 1, 2 or 3, for kdef.
        limits: Span over deflection.
        cantilever: True for a cantilever, whose limits are half as strict.

    Source:
        EN 1995-1-1:2004, 2.2.3, 7.2, Table 7.2.
    """
    kdef = handbook.timber_kdef("solid", service_class).value
    final = deflections.final_mm(kdef)
    asked = (
        ("deflection at once", deflections.inst_mm, limits.inst),
        ("deflection in the end, net", final - deflections.camber_mm, limits.net_final),
        ("deflection in the end", final, limits.final),
    )
    return [
        check(
            name, "EN 1995-1-1 7.2, Table 7.2", abs(bent_mm),
            span_mm / (limit / 2 if cantilever else limit), "mm",
            f"{'reach' if cantilever else 'span'}/{limit / 2 if cantilever else limit:g}, "
            f"kdef {kdef:g}",
        )
        for name, bent_mm, limit in asked
        if limit is not None
    ]  # fmt: skip


def fall_mm(run_mm: float, pitch_deg: float) -> float:
    """How far a roof falls over a run [mm].

    Args:
        run_mm: Level run [mm].
        pitch_deg: Pitch from level [deg], 0 to below 90.
    """
    if not 0 <= pitch_deg < 90:
        raise ValueError(f"a pitch is 0 to below 90 deg, got {pitch_deg:g}")
    return run_mm * tan(radians(pitch_deg))


def ponding(fall_mm: float, deflections: Deflections, service_class: int) -> Check:
    """Long-term sag against a quarter of the fall, so that no pool is left on the roof.

    A parabola that sags a quarter of its fall has just lost its slope at the low end.

    Args:
        fall_mm: Fall of the roof over this span, zero or more [mm].
        deflections: What the loads do at once.
        service_class: 1, 2 or 3, for kdef.

    Source:
        Our rule; derived: a sag w over a span L takes 4 w / L off the slope at its end.
    """
    kdef = handbook.timber_kdef("solid", service_class).value
    sag = max(0.0, deflections.long_term_mm(kdef) - deflections.camber_mm)
    return check(
        "ponding", "long-term sag against a quarter of the fall", sag, fall_mm / 4, "mm",
        "steepen the roof or deepen the rafter where it fails",
    )  # fmt: skip
