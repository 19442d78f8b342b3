"""Wind at perches, within walls and without, by bearing.

Good to a factor of two: what flows through a room, and of the wind into an open side a part that
dies away with distance.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from mewswright.ground.lee import is_covered
from mewswright.ground.openness import top_open_share
from mewswright.ground.rose import BINS
from mewswright.ground.wind_faces import FaceWind, spot_speed
from mewswright.ground.windbreak import Shelter
from mewswright.model.fitting import Perch, Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# Judgements.
DRAUGHT = 0.5  # of the wind into an open side, that is felt just inside it
DIES_AWAY = 0.5  # heights of the room, over which a draught falls to a third
OVER_WALLS = 0.2  # of the wind at the top of the walls, that is felt under an open top


def perch_winds(
    q: Quarters,
    faces: Sequence[FaceWind],
    each: "dict[Side, NDArray[np.float64]]",
    roof_wind: "NDArray[np.float64]",
    side_left: float,
    top_left: float,
) -> "NDArray[np.float64]":
    """Wind at each perch as a share of that 10 m up: what flows through, and draughts.

    Args:
        q: The quarters.
        faces: Their sides in the wind.
        each: Air through each side for 1 m/s 10 m up, by bearing [m3/s].
        roof_wind: Wind over the roof, by bearing.
        side_left: Share of the openings in sides that is left.
        top_left: The same of the open top.

    Returns:
        Shares by bearing (perches, bins).
    """
    import numpy as np

    high_m = (q.volume_m3 or 0.0) / q.floor_area_m2
    across = {"front": q.width_mm, "back": q.width_mm, "left": q.depth_mm, "right": q.depth_mm}
    told = np.zeros((len(q.perches), BINS))
    for row, perch in enumerate(q.perches):
        for face in faces:
            if face.joined is not None:
                continue
            section = m_from_mm(across[face.side]) * high_m
            stream = np.abs(each[face.side]) / section if face.side in each else 0.0
            away_m = m_from_mm(_away_mm(q, perch, face.side))
            inside = np.exp(-away_m / (DIES_AWAY * high_m))
            draught = DRAUGHT * face.into * face.open_share * side_left * inside
            told[row] = np.maximum(told[row], stream + draught)
        if not is_covered(q, perch.at_mm[1]) and top_open_share(q) > 0:
            told[row] = np.maximum(told[row], OVER_WALLS * roof_wind * top_left)
    return told


def _away_mm(q: Quarters, perch: Perch, side: Side) -> float:
    x, y = perch.at_mm
    return {"front": y, "back": q.depth_mm - y, "left": x, "right": q.width_mm - x}[side]


def pitch_winds(yard: Yard, q: Quarters, shelter: Shelter) -> "NDArray[np.float64]":
    """Wind at each perch of quarters without walls, as a share of that 10 m up (perches, bins)."""
    import numpy as np

    found = [
        spot_speed(yard, shelter, (*q.on_ground_m(*p.at_mm), m_from_mm(p.height_mm)), q.name)
        for p in q.perches
    ]
    return np.array(found).reshape(-1, BINS)
