"""Which birds are in quarters at which hours, and what they make of the air at their perches.

Cold: the air is under what the bird's warmth class bears, or in this wind it would have to make
more than three times its basal heat. Heat: the air, warmer in the sun, is at the caution of its
class. Wet: rain reaches the perch and it is cool.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from typing import TYPE_CHECKING

from mewswright import handbook
from mewswright.air.weather import DAYS, HOURS
from mewswright.handbook.air import air_figure
from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Lines = NDArray[np.float64]

BODY_C = 40.0  # Source: table allometry, standard_operative_temp_bakken
WIND_CHILL = 0.26
WET_CHILLS_BELOW_C = 15.0  # a judgement; kestrels spent more in rain from 5 to 25 C
DAY_MIDDLE_H = 13.0
DAY_HOURS = 8.0  # of a stay by day alone that does not say how long: a judgement
NIGHT = (18, 8)  # from this hour to that
STAND_IN_CLASS, STAND_IN_G = "C", 600.0
NO_LIMIT_C = -273.15


@dataclass(frozen=True, eq=False)
class Lodger:
    """A bird in quarters.

    Attributes:
        name: The bird; `stand-in` where nobody lives there.
        species: Its species' id, or `any`.
        temp_class: Its warmth class.
        mass_g: Its mass.
        cold_limit_c: Air that it bears; None where dry shelter is enough.
        heat_caution_c: Air from which it is watched.
        perches: Rows of the perches that it may take.
        there: Hours that it is there (8760,).
        stand_in: Whether it only stands for whoever may come.
    """

    name: str
    species: str
    temp_class: str
    mass_g: float
    cold_limit_c: float | None
    heat_caution_c: float
    perches: tuple[int, ...]
    there: "NDArray[np.bool_]"
    stand_in: bool = False

    @property
    def heat_limit_w(self) -> float:
        """Heat that it makes for long, at most [W]."""
        return air_figure("heat_work_limit").value * basal_w(self.mass_g)


@cache
def _constants(name: str) -> tuple[float, float]:
    found = handbook.equation(name)
    return float(found.a), float(found.b)


def basal_w(mass_g: float) -> float:
    """Basal heat of a bird of prey [W]. Source: 34.62 M^0.64 mW, Wasser 1986 (read)."""
    a, b = _constants("rmr_falconiform_wasser")
    return float(a * mass_g**b) / 1000


def conductance_w_k(mass_g: float) -> float:
    """Heat that it loses for a kelvin [W/K]. Source: 2.96 M^0.55 mW/K, Wasser 1986."""
    a, b = _constants("conductance_whole_bird_wasser")
    return float(a * mass_g**b)


def feels_c(air_c: "Lines", wind_m_s: "Lines") -> "Lines":
    """Temperature in still air that would cost a bird as much heat [C].

    Source:
        Tb - (1 + 0.26 sqrt(u)) (Tb - Te), Bakken 1990 (read in part); holds for some birds that
        are no songbirds, not all.
    """
    import numpy as np

    told: Lines = BODY_C - (1 + WIND_CHILL * np.sqrt(wind_m_s)) * (BODY_C - air_c)
    return told


def lodgers(yard: Yard, quarters: Quarters) -> tuple[Lodger, ...]:
    """Birds of quarters, each once, by name; a stand-in where none lives."""
    import numpy as np

    stays: dict[str, list[Stay]] = {}
    for stay in yard.stays_in(quarters.name):
        stays.setdefault(stay.bird, []).append(stay)
    every = tuple(range(len(quarters.perches)))
    if not stays:
        warmth = handbook.warmth(handbook.species("peregrine_falcon"))
        cold = warmth.cold_limit_c
        return (Lodger(
            "stand-in", "any", STAND_IN_CLASS, STAND_IN_G, cold.value if cold else None,
            warmth.heat_caution_c.value, every, np.ones(HOURS, bool), True,
        ),)  # fmt: skip
    return tuple(
        _lodger(yard.bird_named(name), some, quarters) for name, some in sorted(stays.items())
    )


def _lodger(bird: Bird, stays: Sequence[Stay], quarters: Quarters) -> Lodger:
    import numpy as np

    kind = handbook.species(bird.species)
    warmth = handbook.warmth(kind)
    there = np.logical_or.reduce([_hours_of(stay) for stay in stays])
    sex = bird.sex if bird.sex != "unknown" else "any"
    tied = {stay.perch for stay in stays if stay.mode == "tethered"}
    bound = tied if len(tied) == 1 and None not in tied and len(stays) == 1 else set()
    rows = tuple(n for n, perch in enumerate(quarters.perches) if not bound or perch.name in bound)
    return Lodger(
        name=bird.name,
        species=kind.id,
        temp_class=warmth.temp_class,
        mass_g=bird.mass_g or kind.mass(sex).value,
        cold_limit_c=warmth.cold_limit_c.value if warmth.cold_limit_c else None,
        heat_caution_c=warmth.heat_caution_c.value,
        perches=rows,
        there=there,
    )


def _hours_of(stay: Stay) -> "NDArray[np.bool_]":
    """Hours of a year that a stay takes (8760,)."""
    import numpy as np

    days = np.ones(DAYS, bool)
    if stay.starts_on and stay.ends_on and (stay.ends_on - stay.starts_on).days < DAYS - 1:
        days[:] = False
        for day in _days(stay.starts_on, stay.ends_on):
            days[min((day - date(day.year, 1, 1)).days - _after_leap_day(day), DAYS - 1)] = True
    hours = np.ones(24, bool)
    if stay.daytime_only:
        half = (stay.hours_a_day or DAY_HOURS) / 2
        hours = np.abs(np.arange(24) + 0.5 - DAY_MIDDLE_H) <= half
    told: NDArray[np.bool_] = (days[:, None] & hours).reshape(HOURS)
    return told


def _days(first: date, last: date) -> Iterator[date]:
    for n in range((last - first).days + 1):
        yield first + timedelta(days=n)


def _after_leap_day(day: date) -> int:
    leap = (date(day.year, 12, 31) - date(day.year, 1, 1)).days == DAYS
    return int(leap and day > date(day.year, 2, 28))


@dataclass(frozen=True, eq=False)
class PerchAir:
    """The air at each perch, hour by hour (perches, 8760).

    Attributes:
        air_c: Air.
        wind_m_s: Wind.
        sun_w_m2: Beam that falls on a bird.
        wet: Whether rain reaches it.
    """

    air_c: "Lines"
    wind_m_s: "Lines"
    sun_w_m2: "Lines"
    wet: "NDArray[np.bool_]"

    @property
    def sunny_c(self) -> "Lines":
        """Air, warmer where the sun falls on a bird, less so in wind."""
        import numpy as np

        gain = air_figure("sun_on_bird_k_w_m2").value * self.sun_w_m2
        told: Lines = self.air_c + gain / (1 + WIND_CHILL * np.sqrt(self.wind_m_s))
        return told


@dataclass(frozen=True, eq=False)
class Verdict:
    """What one bird makes of each hour, whichever perch it takes (8760,).

    `hot`, `cold` and `wet` hold where every perch is so; `none` where no perch suits.
    `best_c` is the air at its warmest perch, `feels_c` what the mildest of them feels like.
    """

    hot: "NDArray[np.bool_]"
    cold: "NDArray[np.bool_]"
    wet: "NDArray[np.bool_]"
    none: "NDArray[np.bool_]"
    best_c: "Lines"
    feels_c: "Lines"


def verdict_of(bird: Lodger, perches: PerchAir) -> Verdict | None:
    """What a bird makes of its perches; None without a perch."""
    rows = list(bird.perches)
    if not rows:
        return None
    air, wind = perches.air_c[rows], perches.wind_m_s[rows]
    sunny = perches.sunny_c[rows]
    feels = feels_c(sunny, wind)
    hot = sunny >= bird.heat_caution_c
    limit = NO_LIMIT_C if bird.cold_limit_c is None else bird.cold_limit_c
    work = conductance_w_k(bird.mass_g) * (BODY_C - feels)
    cold = (air < limit) | (work > bird.heat_limit_w)
    wet = perches.wet[rows] & (air < WET_CHILLS_BELOW_C)
    there = bird.there
    return Verdict(
        hot=hot.all(axis=0) & there,
        cold=cold.all(axis=0) & there,
        wet=wet.all(axis=0) & there,
        none=(hot | cold | wet).all(axis=0) & there,
        best_c=air.max(axis=0),
        feels_c=feels.max(axis=0),
    )


def nights_with(flags: "NDArray[np.bool_]") -> int:
    """Nights, evening to morning, in which something holds in some hour."""
    import numpy as np

    hour = np.arange(HOURS)
    dark = (hour % 24 >= NIGHT[0]) | (hour % 24 < NIGHT[1])
    night = ((hour + 12) // 24) % DAYS
    return len(np.unique(night[flags & dark]))


__all__ = [
    "Lodger", "PerchAir", "Verdict", "basal_w", "conductance_w_k", "feels_c", "lodgers",
    "nights_with", "verdict_of",
]  # fmt: skip
