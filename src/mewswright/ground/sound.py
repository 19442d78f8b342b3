"""How loud a thing is some way off, in the open or behind a wall.

One source, small beside its distance, over level ground. Echo, wind, rain and the ground
itself are left out; at night, down-wind or in a walled yard it may be louder by 5 dB.
"""

from collections.abc import Iterable
from math import dist, log10, pi, sqrt, tanh

from mewswright.ground.distances import crossing_share
from mewswright.ground.screens import Eye, Screen
from mewswright.model.place import Feature, Point

SOUND_M_S = 343.0  # in air of 20 C
MIDDLE_HZ = 500.0  # stands for voices, dogs and engines alike: a judgement
MOST_LOSS_DB = 20.0  # over one edge, however deep the shadow: ISO 9613-2, from memory


def level_db(at_1m_db: float, distance_m: float) -> float:
    """Level of a small source at a distance [dB].

    Args:
        at_1m_db: Level one metre from it [dB].
        distance_m: Distance [m]; nearer than a metre counts as a metre.

    Source:
        Spreading on a sphere: 20 log10 of the distances' ratio, 6.02 dB for each doubling
        (ISO 9613-2, from memory).
    """
    return at_1m_db - 20 * log10(max(distance_m, 1.0))


def distance_for_m(at_1m_db: float, limit_db: float) -> float:
    """Distance at which a source in the open is down to a limit [m]: undoes `level_db`."""
    return max(1.0, 10 ** ((at_1m_db - limit_db) / 20))


def barrier_loss_db(detour_m: float, hz: float = MIDDLE_HZ, running: bool = False) -> float:
    """Loss by a long thin wall in the way [dB]; 5 where sound just grazes its top.

    Args:
        detour_m: Way over its top less the straight way through it [m], 0 or more.
        hz: Frequency [Hz].
        running: True for a line of sources, such as a lane, against which a wall helps less.

    Raises:
        ValueError: If the detour is below 0 (then no wall is in the way), or the frequency is
            not above 0.

    Source:
        Kurze and Anderson 1971: 5 + 20 log10(x / tanh x) for one source, 15 in place of 20 for a
        line of them, x the root of 2 pi N, N = 2 detour / wave length; never more than 20 dB.
        Formula from memory; the worked example of the INCE course (a barrier, 125 to 4000 Hz)
        was read, and agrees with the form for a line within 0.5 dB.
    """
    if not detour_m >= 0:
        raise ValueError(f"a detour is 0 m or more, got {detour_m:g}")
    if not hz > 0:
        raise ValueError(f"a frequency is above 0 Hz, got {hz:g}")
    x = sqrt(2 * pi * 2 * detour_m * hz / SOUND_M_S)
    rise = 0.0 if x < 1e-6 else log10(x / tanh(x))
    return min(MOST_LOSS_DB, 5 + (15 if running else 20) * rise)


def detour_m(start: Eye, end: Eye, screens: Iterable[Screen]) -> float | None:
    """Longest detour over any one screen that stands in the line [m]; None where none does."""
    found = [
        detour
        for screen in screens
        if screen.stops(start, end)
        if (detour := _over(screen, start, end)) is not None
    ]
    return max(found, default=None)


def detour_round_m(start: Point, end: Point, feature: Feature) -> float:
    """Shortest detour round the ends of a wall, or round a building, in plan [m].

    Round a building it is never longer than the real one: each side is passed by its farthest
    corner alone.
    """
    straight = dist(start, end)
    if feature.line_m is not None:
        ends = (feature.line_m[0], feature.line_m[-1])
        return min(dist(start, p) + dist(p, end) for p in ends) - straight
    sides: dict[bool, float] = {True: 0.0, False: 0.0}
    for p in feature.outline_m or (feature.at_m or start,):
        cross = (end[0] - start[0]) * (p[1] - start[1]) - (end[1] - start[1]) * (p[0] - start[0])
        longer = dist(start, p) + dist(p, end) - straight
        sides[cross > 0] = max(sides[cross > 0], longer)
    return max(0.0, min(sides.values()))


def _over(screen: Screen, start: Eye, end: Eye) -> float | None:
    line, edge = (start[:2], end[:2]), screen.edge
    share, along = crossing_share(line, edge), crossing_share(edge, line)
    if share is None:
        return None
    low, high = screen.top_m
    top: Eye = (
        start[0] + (end[0] - start[0]) * share,
        start[1] + (end[1] - start[1]) * share,
        low + (high - low) * (along or 0.0),
    )
    return dist(start, top) + dist(top, end) - dist(start, end)
