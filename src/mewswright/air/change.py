"""How much air passes through openings, by wind and by warmth, and what that does to heat.

Areas are clear areas [m2], flows m3/s. Holds for openings that are small beside the room; a front
that is open all over passes more than is told.
"""

from collections.abc import Sequence
from math import sqrt
from typing import TYPE_CHECKING

from mewswright.handbook.air import air_figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

GRAVITY = 9.81
KELVIN = 273.15
SECONDS_PER_H = 3600
HALVINGS = 60


def single_sided_wind_m3_s(area_m2: float, wind_m_s: float) -> float:
    """Air that wind changes through openings in one wall alone.

    Source:
        0.025 A v, BS 5925:1991 (from memory).
    """
    return air_figure("single_sided_wind").value * area_m2 * wind_m_s


def single_sided_stack_m3_s(area_m2: float, high_m: float, warmer_k: float, air_c: float) -> float:
    """Air that warmth changes through one opening.

    Args:
        area_m2: Its area.
        high_m: From its foot to its top.
        warmer_k: Inside less outside, either way.
        air_c: Mean temperature of both [C].

    Source:
        Cd A / 3 sqrt(g H dT / T), BS 5925:1991 (from memory).
    """
    part = air_figure("discharge").value * area_m2 / air_figure("single_sided_stack_divisor").value
    return part * sqrt(GRAVITY * high_m * abs(warmer_k) / (air_c + KELVIN))


def in_series_m2(one_m2: float, other_m2: float) -> float:
    """One opening that stands for two, one behind the other. Source: 1/A^2 = 1/A1^2 + 1/A2^2."""
    if one_m2 <= 0 or other_m2 <= 0:
        return 0.0
    return one_m2 * other_m2 / sqrt(one_m2**2 + other_m2**2)


def two_level_stack_m3_s(
    low_m2: float, high_m2: float, rise_m: float, warmer_k: float, air_c: float
) -> float:
    """Air that warmth draws in low and lets out high.

    Source:
        Cd Ab sqrt(2 g H dT / T), BS 5925:1991 (from memory).
    """
    between = air_figure("discharge").value * in_series_m2(low_m2, high_m2)
    return between * sqrt(2 * GRAVITY * rise_m * abs(warmer_k) / (air_c + KELVIN))


def cross_wind_m3_s(in_m2: float, out_m2: float, wind_m_s: float, pressures: float) -> float:
    """Air that wind drives in on one side and out on another.

    Args:
        in_m2: Openings of one side.
        out_m2: Openings of the other.
        wind_m_s: The wind that both pressure coefficients refer to.
        pressures: Difference of these coefficients [-].

    Source:
        Cd Aw v sqrt(dCp), Aw as in `in_series_m2`; read on a page on cross ventilation.
    """
    through = air_figure("discharge").value * in_series_m2(in_m2, out_m2)
    return through * wind_m_s * sqrt(max(0.0, pressures))


def pressure_share(turn_deg: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """Mean pressure coefficient of a low wall, by the turn of the wind from square [-].

    Source:
        0.6 windward, -0.6 along the wind, -0.3 in the lee (from memory), a wave between them.
    """
    import numpy as np

    front, aside, lee = (air_figure(f"cp_{name}").value for name in ("windward", "side", "lee"))
    # a + b cos x + c cos 2x through the three.
    b = (front - lee) / 2
    a = ((front + lee) / 2 + aside) / 2
    turn = np.radians(turn_deg)
    told: NDArray[np.float64] = a + b * np.cos(turn) + (a - aside) * np.cos(2 * turn)
    return told


def through_flow(
    areas_m2: Sequence[float], pressures: "NDArray[np.float64]"
) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """Air through a room with openings that wind presses on, for a wind of 1 m/s.

    The pressure inside is the one at which as much comes in as goes out.

    Args:
        areas_m2: Of each opening (openings,).
        pressures: Coefficient times the square of the wind's share, at each opening on each
            bearing (openings, bins).

    Returns:
        Flow into the room in all (bins,), and through each opening, inwards positive
        (openings, bins) [m3/s].
    """
    import numpy as np

    area = np.asarray(areas_m2, float)[:, None]
    bins = pressures.shape[1]
    if (area > 0).sum() < 2:
        return np.zeros(bins), np.zeros_like(pressures)
    open_ones = pressures[area[:, 0] > 0]
    low, high = open_ones.min(axis=0), open_ones.max(axis=0)

    def flows(inside: "NDArray[np.float64]") -> "NDArray[np.float64]":
        push = pressures - inside
        told: NDArray[np.float64] = (
            air_figure("discharge").value * area * np.sign(push) * np.sqrt(np.abs(push))
        )
        return told

    for _ in range(HALVINGS):
        middle = (low + high) / 2
        too_low = flows(middle).sum(axis=0) > 0
        low, high = np.where(too_low, middle, low), np.where(too_low, high, middle)
    each = flows((low + high) / 2)
    return np.clip(each, 0, None).sum(axis=0), each


def warmer_by_k(heat_w: float, ua_w_k: float, changes_per_h: float, volume_m3: float) -> float:
    """How much warmer a room stays than outside, in the steady state [K].

    Source:
        Q / (sum U A + 0.33 N V), CIBSE (from memory).
    """
    return heat_w / (ua_w_k + air_figure("heat_of_air").value * changes_per_h * volume_m3)


def heat_of_hens_w(mass_kg: float) -> float:
    """Heat of a laying hen, for a flock of any bird where no better is known [W].

    Source:
        6.20 M^0.71, Chepete and Xin 2001 (abstract read).
    """
    return float(6.20 * mass_kg**0.71)


__all__ = [
    "cross_wind_m3_s", "heat_of_hens_w", "in_series_m2", "pressure_share",
    "single_sided_stack_m3_s", "single_sided_wind_m3_s", "through_flow", "two_level_stack_m3_s",
    "warmer_by_k",
]  # fmt: skip
