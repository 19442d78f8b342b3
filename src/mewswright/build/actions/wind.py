"""Wind: the peak pressure of a place, and what every face of it is multiplied with.

m/s, metres and kN/m2. Wind is taken from its worst direction in its worst season: a
rougher terrain than that of the open side is never credited, nor is shelter by trees.
"""

from dataclasses import dataclass
from math import log, log10

from mewswright.handbook import load_factor, terrain

SMALL_M2, LARGE_M2 = 1.0, 10.0  # areas of the two columns of coefficients, 7.2.1


@dataclass(frozen=True)
class PeakPressure:
    """Peak velocity pressure at a height, with the steps to it."""

    qp_kn_m2: float
    qb_kn_m2: float  # of the basic speed
    kr: float  # terrain factor
    cr: float  # roughness factor at that height
    vm_m_s: float  # mean speed there
    iv: float  # intensity of turbulence
    ce: float  # qp / qb
    z_m: float  # height used: never below the terrain's least height


def peak_pressure(
    basic_m_s: float,
    category: str,
    z_m: float,
    altitude_factor: float = 1,
    orography: float = 1,
) -> PeakPressure:
    """Peak velocity pressure (*q_p*).

    Holds for ground that slopes up to the place by less than about 3 deg; hills and
    edges need `orography` from somebody who has reckoned it.

    Args:
        basic_m_s: Basic wind speed (*v_b*), 10 minutes, 50 years [m/s].
        category: Terrain, `0` to `IV`. Many annexes have a rule of their own for 0, the sea
            coast: the figure is then no more than a hint.
        z_m: Height above the ground of what is loaded, the top of the roof [m].
        altitude_factor: Factor on the speed by national rules.
        orography: Factor on the mean speed (*c_o*).

    Returns:
        The pressure and the steps to it.

    Raises:
        Problem: For a category that is not known.
        ValueError: If speed, height or a factor is not above 0.

    Source:
        EN 1991-1-4:2005+A1, 4.3.1 to 4.5, k_l = 1.
    """
    if min(basic_m_s, z_m, altitude_factor, orography) <= 0:
        raise ValueError(
            f"wind needs numbers above 0: got {basic_m_s:g} m/s, height {z_m:g} m, "
            f"altitude factor {altitude_factor:g}, orography {orography:g}"
        )
    ground = terrain(category)
    density = load_factor("air_density_kg_m3").value
    z = max(z_m, ground.zmin_m)
    kr = 0.19 * (ground.z0_m / 0.05) ** 0.07
    cr = kr * log(z / ground.z0_m)
    vb = altitude_factor * basic_m_s
    vm = cr * orography * vb
    iv = 1 / (orography * log(z / ground.z0_m))
    qb = density * vb**2 / 2000
    qp = (1 + 7 * iv) * density * vm**2 / 2000
    return PeakPressure(qp, qb, kr, cr, vm, iv, qp / qb, z)


def return_period_factor(years: float) -> float:
    """Factor on the basic wind speed for another return period than 50 years (*c_prob*).

    Below 1 it must not be used by default: a unit for birds stands as long as a shed.

    Args:
        years: Mean return period [years], above 1.

    Raises:
        ValueError: If it is 1 or less.

    Source:
        EN 1991-1-4:2005, (4.2) note 4, K = 0.2, n = 0.5.
    """
    if not years > 1:
        raise ValueError(f"a return period is more than 1 year, got {years:g}")
    k, n = load_factor("cprob_k").value, load_factor("cprob_n").value

    def grown(chance: float) -> float:
        return 1 - k * log(-log(1 - chance))

    return float((grown(1 / years) / grown(0.02)) ** n)


def edge_strip_m(across_m: float, height_m: float) -> float:
    """Reach of the fierce zones at edges (*e*) [m].

    Args:
        across_m: Breadth of the building across the wind (*b*) [m].
        height_m: Its height (*h*) [m].

    Source:
        EN 1991-1-4:2005, 7.2.2(2): the smaller of b and 2h.
    """
    if min(across_m, height_m) <= 0:
        raise ValueError(f"a building has a size, got {across_m:g} m across, {height_m:g} m high")
    return min(across_m, 2 * height_m)


def cpe_for_area(cpe_10: float, cpe_1: float, area_m2: float) -> float:
    """Pressure coefficient of a loaded area [-].

    Args:
        cpe_10: Coefficient of 10 m2 and more.
        cpe_1: Coefficient of 1 m2 and less.
        area_m2: The area that the part takes load from [m2].

    Raises:
        ValueError: If the area is not above 0.

    Source:
        EN 1991-1-4:2005, 7.2.1, Figure 7.2: straight in the logarithm of the area.
    """
    if not area_m2 > 0:
        raise ValueError(f"a loaded area is above 0 m2, got {area_m2:g}")
    if area_m2 <= SMALL_M2:
        return cpe_1
    if area_m2 >= LARGE_M2:
        return cpe_10
    return cpe_1 - (cpe_1 - cpe_10) * log10(area_m2)
