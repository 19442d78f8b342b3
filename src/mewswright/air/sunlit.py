"""Sun on quarters by the hour: on each side, on the roof, and on a bird at each perch."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import TYPE_CHECKING

from mewswright.air.sun_hours import SunHours
from mewswright.air.weather import HOURS
from mewswright.ground.lee import looks_deg
from mewswright.ground.light import Spot, light
from mewswright.ground.solids import Solid
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

OUT_M = 0.25  # past a wall of 0.1 m
OVER_M = 0.4  # over a roof of 0.1 m and its slope
BREAST_M = 0.1
BATCH = 16  # quarters whose rays are cast at a time: a bound on memory


@dataclass(frozen=True, eq=False)
class Sunlit:
    """What part of the beam falls on things, means of the time that the sun is up in each hour.

    Attributes:
        sides: Of a beam of 1 W/m2, W on a square metre of each side (8760,).
        roof: The same of level ground over the roof (8760,).
        perches: Share of the beam that reaches a bird at each perch (perches, 8760).
    """

    sides: "dict[Side, NDArray[np.float64]]"
    roof: "NDArray[np.float64]"
    perches: "NDArray[np.float64]"


def sunlit(solids: Sequence[Solid], wanted: Sequence[Quarters], sun: SunHours) -> Iterator[Sunlit]:
    """Sun on quarters, in their order."""
    for start in range(0, len(wanted), BATCH):
        batch = wanted[start : start + BATCH]
        spots = [tuple(_spots(q)) for q in batch]
        shares = light(solids, [spot for some in spots for spot in some], sun.year)
        row = 0
        for q, some in zip(batch, spots, strict=True):
            yield _of(q, shares[row : row + len(some)], sun)
            row += len(some)


def _of(q: Quarters, shares: "NDArray[np.float32]", sun: SunHours) -> Sunlit:
    import numpy as np

    count = len(q.perches)
    perches = np.array([sun.mean(line) for line in shares[:count]]).reshape(count, HOURS)
    roof = sun.mean(shares[count] * sun.sine)
    sides = {
        side: sun.mean(shares[count + 1 + n] * sun.onto(looks_deg(q, side)))
        for n, side in enumerate(SIDES if q.faces is not None else ())
    }
    return Sunlit(sides, roof, perches)


def _spots(q: Quarters) -> Iterator[Spot]:
    """Perches, the roof, the sides."""
    for perch in q.perches:
        yield (*q.on_ground_m(*perch.at_mm), m_from_mm(perch.height_mm) + BREAST_M)
    w, d = q.width_mm, q.depth_mm
    middle = q.on_ground_m(w / 2, d / 2)
    yield (*middle, m_from_mm(q.highest_mm) + OVER_M)
    if q.faces is None:
        return
    for side in SIDES:
        x, y = {"front": (w / 2, 0), "back": (w / 2, d), "left": (0, d / 2), "right": (w, d / 2)}[
            side
        ]
        east, north = q.on_ground_m(x, y)
        way = radians(looks_deg(q, side))
        high = {"front": q.front_height_mm, "back": q.back_height_mm}.get(side, q.highest_mm)
        yield east + OUT_M * sin(way), north + OUT_M * cos(way), m_from_mm(high or 0.0) / 2
