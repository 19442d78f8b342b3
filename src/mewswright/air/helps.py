"""What could be done about the air in quarters, each thing tried on the same year."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.air.birds import Lodger, Verdict, verdict_of
from mewswright.air.outside import Outside
from mewswright.air.room import AS_IT_IS, Change
from mewswright.air.told import HelpName
from mewswright.air.weather import HOURS, months
from mewswright.air.year import AirYear

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# Judgements: what is sold for gardens and farms.
CLOTH_LEFT = 0.45  # of the wind and air, through wind cloth over the open sides
NET_SUN, NET_AIR = 0.4, 0.7  # of the sun and of the air, through a shade net
VENT_SHARE = 0.02  # of the floor: free area of a roof vent
HEATER_W = 1000.0
HEATER_LEAST_C = 2.0  # air that it holds, where no bird asks for more
COLD_MONTH_C, WARM_MONTH_C = 10.0, 15.0  # mean of a month, to hang cloth or a net


@dataclass(frozen=True)
class Help:
    """One thing to try: what it changes in the room, in which months, and a heater's settings."""

    name: HelpName
    what: str
    months: tuple[int, ...]
    change: Change = AS_IT_IS
    heater: tuple[float, float] = (0.0, 0.0)


def helps_for(
    birds: Sequence[Lodger], out: Outside, floor_m2: float, walls: bool, has_heater: bool
) -> tuple[Help, ...]:
    """What may be tried in quarters; without walls only a net over the perches.

    Args:
        birds: Who lives there.
        out: The weather.
        floor_m2: Floor.
        walls: Whether there are walls.
        has_heater: Whether a heater is counted already.
    """
    cold, warm = _months_of(out)
    net = Help(
        "shade_net", "a net that stops 60 % of the sun over openings and the open top",
        warm, Change(side_left=NET_AIR, top_left=NET_AIR, sun_left=NET_SUN),
    )  # fmt: skip
    if not walls:
        return (net,)
    found = [
        Help(
            "wind_cloth", "cloth that leaves 45 % of the wind over all open sides, in the cold",
            cold, Change(side_left=CLOTH_LEFT, sun_left=CLOTH_LEFT),
        ),
        net,
        Help(
            "roof_vent", "a vent under the ridge of 2 % of the floor", tuple(range(1, 13)),
            Change(vent_m2=VENT_SHARE * floor_m2),
        ),
    ]  # fmt: skip
    if not has_heater:
        holds = heater_holds_c(birds)
        found.insert(0, Help(
            "heater", f"a heater of {HEATER_W:g} W that holds {holds:g} C", tuple(range(1, 13)),
            heater=(holds, HEATER_W),
        ))  # fmt: skip
    return tuple(found)


def heater_holds_c(birds: Sequence[Lodger]) -> float:
    """Air that a heater is set to hold: the most that a bird's class asks for [C]."""
    limits = [one.cold_limit_c for one in birds if one.cold_limit_c is not None]
    return max([HEATER_LEAST_C, *limits])


def _months_of(out: Outside) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Cold months and warm ones, by their mean."""
    mean = [float(out.weather.temp_c[months() == month].mean()) for month in range(1, 13)]
    cold = tuple(m for m in range(1, 13) if mean[m - 1] < COLD_MONTH_C)
    warm = tuple(m for m in range(1, 13) if mean[m - 1] >= WARM_MONTH_C)
    return cold, warm


@dataclass(frozen=True, eq=False)
class Troubles:
    """Hours of a year in quarters in which something is wrong for some bird (8760,)."""

    none: "NDArray[np.bool_]"
    hot: "NDArray[np.bool_]"
    cold: "NDArray[np.bool_]"
    humid: "NDArray[np.bool_]"
    drips: "NDArray[np.bool_]"


def troubles_of(
    year: AirYear, birds: Sequence[Lodger], humid_over_pct: float
) -> tuple[Troubles, tuple[Verdict | None, ...]]:
    """What is wrong at which hours, and what each bird makes of them."""
    import numpy as np

    verdicts = tuple(verdict_of(one, year.perches) for one in birds)
    known = [one for one in verdicts if one is not None]

    def some(lines: "list[NDArray[np.bool_]]") -> "NDArray[np.bool_]":
        told: NDArray[np.bool_] = np.logical_or.reduce([np.zeros(HOURS, bool), *lines])
        return told

    return (
        Troubles(
            none=some([one.none for one in known]),
            hot=some([one.hot for one in known]),
            cold=some([one.cold for one in known]),
            humid=year.humidity_pct >= humid_over_pct,
            drips=year.drips,
        ),
        verdicts,
    )
