"""What one nail or screw carries across its shank, and what it holds against pull.

Characteristic capacities are newtons, strengths N/mm2, lengths millimetres. The rope
effect is left out, which is safe. Clauses of EN 1995-1-1:2004 section 8.
"""

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from mewswright.handbook.fasteners import Fastener

Side = Literal["timber", "osb3", "plywood"]
HEAD_RHO = 350.0  # density up to which the head's hold in a sheet is counted, our choice


@dataclass(frozen=True)
class Grip:
    """One side of a joint: what it is, how much of it the fastener runs through, density."""

    material: Side
    thickness_mm: float
    rho_k: float
    predrilled: bool = False


@dataclass(frozen=True)
class Lateral:
    """Characteristic capacity by each way of failing, a to f [N], and the least of them."""

    modes: dict[str, float]

    @property
    def mode(self) -> str:
        """The way it fails."""
        return min(self.modes, key=lambda name: self.modes[name])

    @property
    def capacity_n(self) -> float:
        """Capacity of one fastener in one shear plane [N]."""
        return self.modes[self.mode]


def embedment(side: Grip, diameter_mm: float) -> float:
    """Embedment strength under a nail or thin screw, *fh,k* [N/mm2].

    Args:
        side: Material, density [kg/m3] and for OSB the thickness [mm].
        diameter_mm: Diameter, or effective diameter of a screw [mm], to 8 mm.

    Raises:
        ValueError: If the diameter is not above 0 and at most 8 mm.

    Source:
        EN 1995-1-1:2004, 8.3.1.1 (8.15), (8.16), 8.3.1.3 (8.20) plywood, (8.22) OSB.
    """
    if not 0 < diameter_mm <= 8:
        raise ValueError(f"a nail is up to 8 mm thick, got {diameter_mm:g} mm")
    if side.material == "osb3":
        return float(65 * diameter_mm**-0.7 * side.thickness_mm**0.1)
    if side.material == "plywood":
        return float(0.11 * side.rho_k * diameter_mm**-0.3)
    if side.predrilled:
        return 0.082 * (1 - 0.01 * diameter_mm) * side.rho_k
    return float(0.082 * side.rho_k * diameter_mm**-0.3)


def yield_moment_nmm(fu: float, diameter_mm: float, shank: str = "round") -> float:
    """Moment at which a nail bends for good, *My,Rk* [Nmm].

    Args:
        fu: Tensile strength of the wire [N/mm2].
        diameter_mm: Diameter, side of a square nail, or effective diameter of a screw [mm].
        shank: round, square or screw.

    Source:
        EN 1995-1-1:2004, 8.3.1.1 (8.14); screws to 6 mm by 8.7.1 as nails.
    """
    return float((0.45 if shank == "square" else 0.3) * fu * diameter_mm**2.6)


def johansen(
    fh_1: float, t1_mm: float, fh_2: float, t2_mm: float, diameter_mm: float, yield_nmm: float
) -> Lateral:
    """Lateral capacity of one fastener in single shear, without rope effect.

    Args:
        fh_1: Embedment strength of the side under the head [N/mm2].
        t1_mm: Its thickness [mm].
        fh_2: Embedment strength of the side with the point [N/mm2].
        t2_mm: Penetration there [mm].
        diameter_mm: Diameter [mm].
        yield_nmm: Yield moment [Nmm].

    Raises:
        ValueError: If a value is not above zero.

    Source:
        EN 1995-1-1:2004, 8.2.2 (8.6) a to f.
    """
    values = (fh_1, t1_mm, fh_2, t2_mm, diameter_mm, yield_nmm)
    if not all(value > 0 for value in values):
        raise ValueError(f"every value of a joint is above zero, got {values}")
    beta, t = fh_2 / fh_1, t2_mm / t1_mm
    a, d, my = fh_1 * t1_mm * diameter_mm, diameter_mm, yield_nmm
    root_c = sqrt(beta + 2 * beta**2 * (1 + t + t**2) + beta**3 * t**2)
    root_d = sqrt(2 * beta * (1 + beta) + 4 * beta * (2 + beta) * my / (fh_1 * d * t1_mm**2))
    root_e = sqrt(2 * beta**2 * (1 + beta) + 4 * beta * (1 + 2 * beta) * my / (fh_1 * d * t2_mm**2))
    return Lateral(
        {
            "a": a,
            "b": fh_2 * t2_mm * d,
            "c": a / (1 + beta) * (root_c - beta * (1 + t)),
            "d": 1.05 * a / (2 + beta) * (root_d - beta),
            "e": 1.05 * fh_1 * t2_mm * d / (1 + 2 * beta) * (root_e - beta),
            "f": 1.15 * sqrt(2 * beta / (1 + beta)) * sqrt(2 * my * fh_1 * d),
        }
    )


def lateral(fastener: Fastener, head: Grip, point: Grip) -> Lateral:
    """Lateral capacity of one nail or screw through `head` into `point` [N].

    Args:
        fastener: From the handbook.
        head: The side under the head.
        point: The other side; its thickness is what there is, the penetration follows.

    Raises:
        ValueError: If the point goes in less than 8 d (a smooth nail) or 6 d (others).

    Source:
        EN 1995-1-1:2004, 8.2.2, 8.3.1.2(1), 8.7.1(5).
    """
    into_mm = penetration_mm(fastener, head, point)
    d = fastener.effective_mm
    least = (8 if fastener.shank == "round" else 6) * fastener.diameter_mm
    if into_mm < least - 1e-9:
        raise ValueError(
            f"{fastener.what} through {head.thickness_mm:g} mm goes {into_mm:g} mm in, "
            f"{least:g} are needed: take a longer one"
        )
    return johansen(
        embedment(head, d), head.thickness_mm, embedment(point, d), into_mm, d,
        yield_moment_nmm(fastener.fu, d, fastener.shank),
    )  # fmt: skip


def penetration_mm(fastener: Fastener, head: Grip, point: Grip) -> float:
    """How far the fastener goes into the far side [mm], no more than there is of it."""
    return max(0.0, min(fastener.length_mm - head.thickness_mm, point.thickness_mm))


def thin_plate_lateral(fastener: Fastener, point: Grip, plate_mm: float) -> float:
    """Lateral capacity of one nail or screw through a thin steel plate [N].

    Args:
        fastener: From the handbook.
        point: The timber.
        plate_mm: Thickness of the plate, counted as thin whatever it is [mm].

    Source:
        EN 1995-1-1:2004, 8.2.3 (8.9), thin plate, without rope effect.
    """
    d = fastener.effective_mm
    into_mm = min(fastener.length_mm - plate_mm, point.thickness_mm)
    fh = embedment(point, d)
    my = yield_moment_nmm(fastener.fu, d, fastener.shank)
    return min(0.4 * fh * into_mm * d, 1.15 * sqrt(2 * my * fh * d))


def nail_withdrawal(
    diameter_mm: float, into_mm: float, rho_k: float, *, wet_when_driven: bool = False
) -> float:
    """What the point of a smooth nail holds against pull, across the grain [N].

    Nothing is held in end grain, and nothing for good where the load is permanent.

    Args:
        diameter_mm: Diameter [mm].
        into_mm: Penetration [mm]; none is counted below 8 d, part of it below 12 d.
        rho_k: Density [kg/m3].
        wet_when_driven: True where the timber will dry afterwards.

    Source:
        EN 1995-1-1:2004, 8.3.2 (8.23), (8.25), (7), (8), recalled.
    """
    share = into_mm / (4 * diameter_mm) - 2 if into_mm < 12 * diameter_mm else 1.0
    strength = 20e-6 * rho_k**2 * (2 / 3 if wet_when_driven else 1.0)
    return max(0.0, share) * strength * diameter_mm * into_mm


def head_pull_through(fastener: Fastener, head: Grip) -> float:
    """What the head holds against being pulled through [N].

    The rule is that of a smooth nail in timber; in sheets no more density is counted than
    350 kg/m3, and screws are held to the same: their makers declare more.

    Source:
        EN 1995-1-1:2004, 8.3.2 (8.24), (8.26), recalled.
    """
    return 70e-6 * min(head.rho_k, HEAD_RHO) ** 2 * fastener.head_mm**2


def screw_withdrawal(diameter_mm: float, thread_mm: float, rho_k: float) -> float:
    """What the thread of a screw holds against pull, across the grain [N].

    The rule is made for 6 to 12 mm; below, *kd* = d/8 takes it down. A maker's own figure
    goes before it.

    Args:
        diameter_mm: Outer diameter of the thread [mm].
        thread_mm: Thread in the timber with the point [mm]; none is counted below 6 d.
        rho_k: Density [kg/m3].

    Source:
        EN 1995-1-1:2004+A1, 8.7.2 (8.38) to (8.40), recalled.
    """
    if thread_mm < 6 * diameter_mm - 1e-9:
        return 0.0
    strength = 0.52 * diameter_mm**-0.5 * thread_mm**-0.1 * rho_k**0.8
    return float(strength * diameter_mm * thread_mm * min(diameter_mm / 8, 1.0))


def pull_out(fastener: Fastener, head: Grip, point: Grip) -> float:
    """What one nail or screw through `head` into `point` holds against pull [N].

    Source:
        EN 1995-1-1:2004, 8.3.2 (8.24), 8.7.2: the lesser of point and head.
    """
    into_mm = penetration_mm(fastener, head, point)
    if fastener.thread_mm is None:
        held = nail_withdrawal(fastener.diameter_mm, into_mm, point.rho_k)
    else:
        thread = min(into_mm, fastener.thread_mm)
        held = screw_withdrawal(fastener.diameter_mm, thread, point.rho_k)
    return min(held, head_pull_through(fastener, head))
