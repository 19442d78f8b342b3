"""Room to land: how far a bird can come in on a perch before a wall or a thing ends the way.

Millimetres in the frame of the quarters.
"""

from collections.abc import Sequence
from math import cos, hypot, inf, radians, sin, sqrt

from mewswright.build import room
from mewswright.build.flight import HAIR_MM, Slab, Thing, low_and_high_mm
from mewswright.model.fitting import Perch
from mewswright.model.quarters import Quarters

Spot2 = tuple[float, float]


def landing_room_mm(quarters: Quarters, perch: Perch, around: Sequence[Thing]) -> float:
    """Level room to come in on the freer side, square to a perch [mm].

    To the wall that way, or to the first thing straight ahead of its middle that rises
    above the foot. On a block that stands free a bird comes in from any of four
    sides. Infinity through an open face.
    """
    turns = (90.0, 0.0) if room.faces_any_way(perch) else (perch.turn_deg + 90.0,)
    ways = [turn + back for turn in turns for back in (0.0, 180.0)]
    return max(room_towards_mm(quarters, perch, around, way) for way in ways)


def room_towards_mm(
    quarters: Quarters, perch: Perch, around: Sequence[Thing], turn_deg: float
) -> float:
    """Level room on one side of a perch [mm], towards a direction [deg, 0 = along the front]."""
    way = cos(radians(turn_deg)), sin(radians(turn_deg))
    found_mm, _ = room.wall_distance_mm(quarters, perch.at_mm, way)
    for thing in around:
        if thing.name == perch.name or low_and_high_mm(thing)[1] <= perch.height_mm:
            continue
        gap_mm = _level_ahead_mm(perch, thing, way)
        found_mm = min(found_mm, gap_mm)
    return found_mm


def _level_ahead_mm(perch: Perch, thing: Thing, way: Spot2) -> float:
    """Level way to a thing that stands straight ahead of the middle [mm]; infinity beside it.

    What lies all behind the middle, or over it, is no thing ahead.
    """
    if isinstance(thing, Slab):
        return _way_into_box(perch.at_mm, way, thing.low[:2], thing.high[:2])
    a, b = thing.start[:2], thing.end[:2]
    if max(_turned(end, perch.at_mm, way)[0] for end in (a, b)) <= HAIR_MM:
        return inf
    found_mm = min(_way_into_disc(perch.at_mm, way, end, thing.half_mm) for end in (a, b))
    long_mm = hypot(b[0] - a[0], b[1] - a[1])
    if long_mm > 0:
        axis = (b[0] - a[0]) / long_mm, (b[1] - a[1]) / long_mm
        spot, pace = _turned(perch.at_mm, a, axis), _turned(way, (0.0, 0.0), axis)
        low, high = (0.0, -thing.half_mm), (long_mm, thing.half_mm)
        found_mm = min(found_mm, _way_into_box(spot, pace, low, high))
    return found_mm


def _turned(spot: Spot2, origin: Spot2, axis: Spot2) -> Spot2:
    """A spot in the frame that has an axis of length 1 at an origin."""
    x, y = spot[0] - origin[0], spot[1] - origin[1]
    return x * axis[0] + y * axis[1], y * axis[0] - x * axis[1]


def _way_into_disc(spot: Spot2, way: Spot2, middle: Spot2, half_mm: float) -> float:
    ahead, aside = _turned(middle, spot, way)
    if abs(aside) > half_mm:
        return inf
    deep_mm = sqrt(half_mm * half_mm - aside * aside)
    return max(0.0, ahead - deep_mm) if ahead + deep_mm >= 0 else inf


def _way_into_box(spot: Spot2, way: Spot2, low: Spot2, high: Spot2) -> float:
    near, far = 0.0, inf
    for at, pace, start, end in zip(spot, way, low, high, strict=True):
        if abs(pace) <= 1e-12:
            if not start <= at <= end:
                return inf
            continue
        ways = (start - at) / pace, (end - at) / pace
        near, far = max(near, min(ways)), min(far, max(ways))
    return near if near <= far else inf
