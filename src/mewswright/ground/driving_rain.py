"""Rain that the wind drives into a side, and how far it flies in.

Rain and wind are taken to come apart: it rains alike in every wind. Where rain comes with the
leading wind, the side that looks there gets more than is told.
"""

from typing import TYPE_CHECKING

from mewswright.ground.lee import is_covered
from mewswright.ground.rose import BINS, Rose
from mewswright.ground.wind_faces import FaceWind
from mewswright.handbook.air import air_figure
from mewswright.model.fitting import Perch, Side
from mewswright.model.quarters import Quarters

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NEVER = 1e9  # a wind that does not blow [m/s]


def driving_rain_l_m2(rain_mm: float, wind_m_s: float, rate_mm_h: float | None = None) -> float:
    """Rain that a wind square to a wall drives into it [l/m2].

    Args:
        rain_mm: Rain on level ground [mm].
        wind_m_s: Wind square to the wall and at it, while it rains [m/s].
        rate_mm_h: Rain in an hour while it rains [mm]; None = the handbook's usual rate.

    Source:
        ISO 15927-3:2009, I = 2/9 v r^(8/9) for each hour (from memory), summed over
        `rain_mm / rate_mm_h` hours.
    """
    rate = air_figure("rain_rate").value if rate_mm_h is None else rate_mm_h
    return float(air_figure("driving_rain").value * wind_m_s * rain_mm * rate ** (8 / 9 - 1))


def face_rain_l_m2(face: FaceWind, rose: Rose, rain_mm: float) -> float:
    """Rain driven into a square metre of a side in a year [l/m2]."""
    into_m_s = float((rose.share * rose.speed_m_s * face.into).sum())
    return driving_rain_l_m2(rain_mm, into_m_s)


def reach_mm(fall_mm: float, wind_m_s: float) -> float:
    """How far rain flies level while it falls from one height to another [mm].

    Args:
        fall_mm: From the edge that it passes under down to where it lands [mm].
        wind_m_s: Wind square to the opening [m/s].

    Source:
        A drop of 1 mm falls 4.03 m/s (Gunn and Kinzer 1949, from memory) and flies with the wind.
    """
    return max(0.0, fall_mm) * wind_m_s / air_figure("drop_fall_m_s").value


def wetting_wind(
    quarters: Quarters, perch: Perch, faces: tuple[FaceWind, ...]
) -> "NDArray[np.float64]":
    """Open wind 10 m up from which rain reaches a perch, by bearing [m/s] (bins,).

    0 where nothing solid lies over it; `NEVER` where no wind brings rain to it.
    """
    import numpy as np

    told = np.full(BINS, NEVER)
    if not is_covered(quarters, perch.at_mm[1]):
        return np.zeros_like(told)
    for face in faces:
        if face.joined is not None or not (face.open_share > 0 or _over_the_front(quarters, face)):
            continue
        way_mm, top_mm = _way_in_mm(quarters, perch, face.side)
        fall_mm = top_mm - perch.height_mm
        if fall_mm <= 0:
            continue
        needed = way_mm / fall_mm * air_figure("drop_fall_m_s").value
        wind = np.divide(needed, face.into, out=np.full(len(told), NEVER), where=face.into > 1e-6)
        told = np.minimum(told, wind)
    return told


def _over_the_front(q: Quarters, face: FaceWind) -> bool:
    """Rain comes in over the front through the part of the top that has no roof."""
    return face.side == "front" and q.roof is not None and q.roof.covered_share < 1


def _way_in_mm(q: Quarters, perch: Perch, side: Side) -> tuple[float, float]:
    """From the edge of the roof over a side to a perch, and the height of that edge [mm]."""
    x, y = perch.at_mm
    roof = q.roof
    over = {"front": 0.0, "back": 0.0, "left": 0.0, "right": 0.0}
    if roof is not None and q.has_roof:
        over = {
            "front": roof.overhang_front_mm if roof.covered_share == 1 else 0.0,
            "back": roof.overhang_back_mm,
            "left": roof.overhang_side_mm,
            "right": roof.overhang_side_mm,
        }
    open_mm = 0.0 if roof is None else q.depth_mm * (1 - roof.covered_share)
    in_mm = {"front": y - open_mm, "back": q.depth_mm - y, "left": x, "right": q.width_mm - x}[side]
    at_mm = {"front": open_mm, "back": q.depth_mm}.get(side, y)
    return in_mm + over[side], q.ceiling_mm(at_mm)
