"""Which quarters have the sun in winter, and which the shade in summer.

Straight lines from the perches towards the sun on the shortest and the longest day, past roofs,
walls and crowns. Coarse on purpose: it ranks quarters, and `mewswright sun` gives hours.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from mewswright.checks.case import cases
from mewswright.ground.lookers import places_of
from mewswright.ground.screens import Eye
from mewswright.ground.sight import Body, feature_screens, in_the_way, sees
from mewswright.ground.sun import Sun, sun_at
from mewswright.model.bird import Stay
from mewswright.model.yard import Yard

SOLSTICE_DEG = 23.44
WINTER_HOURS = (10.0, 12.0, 14.0)  # solar time, when a low sun warms
SUMMER_HOURS = (11.0, 13.0, 15.0)  # when it is hottest
FAR_M = 200.0  # so far off whatever throws shade is passed


@dataclass(frozen=True)
class Sunny:
    """Share of the sampled lines from the perches that reach the sun, 0 to 1."""

    winter: float
    summer: float


def sunny(yard: Yard) -> Mapping[str, Sunny]:
    """The sun of each quarters that stand and are no pitch."""
    bodies = tuple(case.body for case in cases(yard))
    south = yard.yard.latitude_deg < 0
    winter = _suns(yard, SOLSTICE_DEG if south else -SOLSTICE_DEG, WINTER_HOURS)
    summer = _suns(yard, -SOLSTICE_DEG if south else SOLSTICE_DEG, SUMMER_HOURS)
    cold, hot = (feature_screens(yard.feature, m) for m in ((6, 12) if south else (12, 6)))
    found = {}
    for body in bodies:
        q = body.quarters
        if q.kind == "pitch" or not q.built:
            continue
        stay = Stay.model_construct(bird="", quarters=q.name, mode="loose", perch=None)
        eyes = [eye for _, eye in places_of(body, stay)]
        near = tuple(b for b in bodies if _apart_m(b, body) <= FAR_M)
        found[q.name] = Sunny(_share(eyes, winter, near, cold), _share(eyes, summer, near, hot))
    return found


def _suns(yard: Yard, declination_deg: float, hours: tuple[float, ...]) -> list[Sun]:
    return [sun_at(yard.yard.latitude_deg, declination_deg, hour) for hour in hours]


def _apart_m(one: Body, other: Body) -> float:
    return hypot(one.centre_m[0] - other.centre_m[0], one.centre_m[1] - other.centre_m[1])


def _share(
    eyes: list[Eye], suns: list[Sun], bodies: tuple[Body, ...], screens: tuple[object, ...]
) -> float:
    lit = 0
    for eye in eyes:
        for sun in suns:
            if sun.altitude_deg <= 0:
                continue
            end = _towards(eye, sun)
            lit += sees(eye, end, *in_the_way((eye,), (end,), bodies, screens))  # type: ignore[arg-type]
    return lit / (len(eyes) * len(suns))


def _towards(eye: Eye, sun: Sun) -> Eye:
    up, turn = radians(sun.altitude_deg), radians(sun.bearing_deg)
    level_m = FAR_M * cos(up)
    return eye[0] + level_m * sin(turn), eye[1] + level_m * cos(turn), eye[2] + FAR_M * sin(up)
