"""Where still, cold air gathers on a slope on a clear night.

Cold air runs down a slope like slow water, and a wall or a dense hedge across it is a dam: the
air stands behind it about as deep as the dam is high, less what the ground rises to the quarters.
Only what the yard file tells is seen: a plain slope and what stands on it, no hollows of the
ground itself.
"""

from dataclasses import dataclass
from math import cos, radians, sin

from mewswright.ground.distances import centre_m, crossing_share
from mewswright.ground.windbreak import Windbreak
from mewswright.model.place import Point
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

LETS_COLD_OUT = 0.35  # through a windbreak of this open share or more: a judgement
FAN_DEG = (-40, -20, 0, 20, 40)  # a dam shorter than this is passed by at its ends: a judgement
FARTHEST_M = 200.0


@dataclass(frozen=True)
class ColdPool:
    """Cold air that may stand in quarters: how deep [m], and what dams it."""

    depth_m: float
    dam: str


def cold_pool(yard: Yard, quarters: Quarters, breaks: tuple[Windbreak, ...]) -> ColdPool | None:
    """Cold air that a dam below quarters holds over their floor; None on level ground or without.

    Args:
        yard: The yard.
        quarters: The quarters.
        breaks: What breaks the wind on the ground, from `feature_breaks`.
    """
    fall = yard.yard.ground_fall_pct / 100
    if fall <= 0:
        return None
    middle = centre_m(quarters.corners_m)
    depths: list[tuple[float, str]] = []
    for turn in FAN_DEG:
        way = radians(yard.yard.ground_falls_to_deg + turn)
        end = (middle[0] + FARTHEST_M * sin(way), middle[1] + FARTHEST_M * cos(way))
        depth = max(
            (
                (one.height_m - share * FARTHEST_M * cos(radians(turn)) * fall, one.of)
                for one in breaks
                if one.porosity < LETS_COLD_OUT and (share := _met(middle, end, one)) is not None
            ),
            default=(0.0, ""),
        )
        if depth[0] <= 0:
            return None  # it runs off there
        depths.append(depth)
    depth_m, dam = min(depths)
    return ColdPool(round(depth_m, 2), dam)


def _met(start: Point, end: Point, one: Windbreak) -> float | None:
    return crossing_share((start, end), one.edge)
