"""Bad days: what a findings run for one assumes, leaves out, and asks beside its own checks.

A run for a scenario asks the checks made for it (codes E1xx), and of the ordinary ones those
that matter on such a day. Its assumptions come before its findings.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mewswright.checks.asked import judgement
from mewswright.checks.finding import Evidence
from mewswright.checks.months import NAMES
from mewswright.model.place import Climate, WindSector
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

# How much hotter the hottest day is than the mean daily maximum of its month, and how much
# colder the coldest night than the mean daily minimum of its month: judgements.
HOT_MARGIN_C = 10.0
COLD_MARGIN_C = 10.0
AIR_C = (-60.0, 60.0)  # outside this a temperature is a slip of the pen
JULY, JANUARY = 7, 1


@dataclass(frozen=True)
class Scenario:
    """One kind of bad day.

    `also` names the ordinary checks that matter in it, each with the reason.
    """

    name: str
    title: str
    also: tuple[tuple[str, str], ...]
    unseen: tuple[str, ...]

    @property
    def by_temperature(self) -> bool:
        """Whether it hangs on a temperature."""
        return self.name in ("heat", "frost")


SCENARIOS: Mapping[str, Scenario] = {
    one.name: one
    for one in (
        Scenario(
            "heat", "the hottest day",
            (("A101", "on a still day only open area changes the air"),
             ("T115", "a bird on the leash cools itself in the water that it can reach"),
             ("V103", "food spoils first where the cold is weak"),
             ("W101", "water to bathe in cools"),
             ("W108", "warm water is changed more often")),
            ("the heat inside a roof, and sun that comes in through bars",
             "damp air, which makes heat worse: no heat index for birds is published",
             "birds in a box or a car, and birds at work"),
        ),
        Scenario(
            "storm", "a storm from the worst side",
            (("D103", "a door that does not latch flies open"),
             ("F106", "a solid corner is where a bird sits a storm out"),
             ("G106", "a power line comes down"),
             ("K103", "a pitch is left before a storm"),
             ("P112", "a loose bird keeps dry on a covered perch"),
             ("R108", "whoever stays needs a roof"),
             ("T110", "a perch that a bate moves goes in the wind"),
             ("T117", "slanting rain reaches a tethered bird")),
            ("whether roof, frame and anchors stand the wind: an engineer's work",
             "snow and hail on nets and mesh: no load is worked out for them",
             "lightning, flood, and a stream that rises",
             "what neighbours leave lying about"),
        ),
        Scenario(
            "flu", "a housing order against bird flu",
            (("F116", "wild birds come no nearer than the mesh lets them"),
             ("K109", "a newcomer is kept apart"),
             ("K110", "isolation starts again with each newcomer"),
             ("V108", "mice and rats carry droppings into the store"),
             ("W111", "food filled from indoors is not carried under the open sky")),
            ("the order itself: zones, dates and duties are the authority's to say",
             "boots, clothes, visitors and vehicles",
             "food: wild-caught birds are not fed in such a time",
             "wild waterfowl on water near by",
             "who suits whom in one room"),
        ),
        Scenario(
            "frost", "the coldest night",
            (("A106", "a damp room chills more than a dry one"),
             ("F106", "a solid corner is out of the wind"),
             ("F117", "a heater that a bird can touch burns it"),
             ("R108", "a wet bird freezes"),
             ("W110", "water freezes")),
            ("how warm a room stays by night: read a minimum thermometer at the perch",
             "thin and wet birds: weigh and look at each",
             "wind, which makes cold worse: a wind-proof side is worth some degrees"),
        ),
        Scenario(
            "fire", "a fire in the yard",
            (("D104", "a door that does not open from inside shuts a person in"),
             ("D107", "who brings birds out must get in"),
             ("D110", "the keeper's own way out comes first"),
             ("F117", "a bare heater or lamp starts a fire")),
            ("wiring, and what stands near a heater: have it looked at",
             "how fast timber quarters that touch each other burn",
             "smoke, alarms and extinguishers",
             "the way of the fire brigade: ask it"),
        ),
    )
}  # fmt: skip


@dataclass(frozen=True)
class Assumed:
    """A scenario as it is assumed for one yard.

    `temp_c` is the air's temperature in the shade, in heat the highest and in frost the
    lowest; None where nobody knows. `month` is that of the hottest day or the coldest
    night, `storm_from_deg` where the storm comes from.
    """

    scenario: Scenario
    said: tuple[str, ...]
    temp_c: float | None = None
    month: int | None = None
    storm_from_deg: float | None = None
    sources: tuple[Evidence, ...] = ()

    @property
    def name(self) -> str:
        """Name of the scenario."""
        return self.scenario.name


def scenario_named(name: str) -> Scenario:
    """Give the scenario of a name.

    Raises:
        Problem: If there is none; names those that there are.
    """
    if name not in SCENARIOS:
        raise Problem(f"no scenario {name!r}; there are: {', '.join(sorted(SCENARIOS))}")
    return SCENARIOS[name]


def assume(yard: Yard, name: str | None, temp_c: float | None = None) -> Assumed | None:
    """Say what a scenario assumes for a yard.

    Args:
        yard: The yard.
        name: Name of the scenario; None = an ordinary run.
        temp_c: Temperature to assume in heat or frost [C]; None = from the climate.

    Returns:
        The assumptions; None in an ordinary run.

    Raises:
        Problem: For an unknown scenario, or a temperature that has no place in the run.
    """
    if name is None:
        if temp_c is not None:
            raise Problem(
                "a temperature is assumed for heat or frost alone: give --scenario beside --temp-c"
            )
        return None
    scenario = scenario_named(name)
    if temp_c is not None and not scenario.by_temperature:
        raise Problem(f"--temp-c goes with the scenarios heat and frost, not with {name!r}")
    if temp_c is not None and not AIR_C[0] <= temp_c <= AIR_C[1]:
        raise Problem(
            f"--temp-c {temp_c:g} is no temperature of the air: give {AIR_C[0]:g} to "
            f"{AIR_C[1]:g} °C"
        )
    if scenario.by_temperature:
        return _by_temperature(yard, scenario, temp_c)
    if name == "storm":
        return _storm(yard, scenario)
    return Assumed(scenario, _PLAIN[name])


_PLAIN: Mapping[str, tuple[str, ...]] = {
    "flu": ("an order is in force here: every bird under a roof or a close net",),
    "fire": ("it may start in any building or stack, at night, with one person at hand",),
}


def _by_temperature(yard: Yard, scenario: Scenario, own_c: float | None) -> Assumed:
    hot = scenario.name == "heat"
    month = _worst_month(yard.climate, hot, yard.yard.latitude_deg)
    when = f"birds are where their stays put them in {NAMES[month - 1]}"
    margin_c = HOT_MARGIN_C if hot else COLD_MARGIN_C
    kind = "maximum" if hot else "minimum"
    if own_c is not None:
        said = (f"air at {own_c:g} °C in the shade, as given", when)
        return Assumed(scenario, said, own_c, month)
    if yard.climate is None:
        told = "no temperature: the file has no [climate]; give it, or --temp-c"
        return Assumed(scenario, (told, when), None, month)
    climate = yard.climate
    mean_c = (climate.mean_daily_max_c if hot else climate.mean_daily_min_c)[month - 1]
    temp_c = round(mean_c + margin_c if hot else mean_c - margin_c, 1)
    said = (
        f"air at {temp_c:g} °C in the shade: the mean daily {kind} of {NAMES[month - 1]}, "
        f"{mean_c:g} °C ({climate.source}), and {margin_c:g} °C {'more' if hot else 'less'}, "
        "which is a judgement",
        when,
    )
    of_margin = f"{'hottest day' if hot else 'coldest night'}: {margin_c:g} °C beyond the mean"
    return Assumed(scenario, said, temp_c, month, sources=judgement(of_margin))


def _worst_month(climate: Climate | None, hot: bool, latitude_deg: float) -> int:
    """Month of the highest mean daily maximum, or of the lowest minimum."""
    if climate is None:
        return JULY if hot == (latitude_deg >= 0) else JANUARY
    if hot:
        return _first(climate.mean_daily_max_c, max(climate.mean_daily_max_c))
    return _first(climate.mean_daily_min_c, min(climate.mean_daily_min_c))


def _first(values: Sequence[float], wanted: float) -> int:
    return values.index(wanted) + 1


def _storm(yard: Yard, scenario: Scenario) -> Assumed:
    rose = [sector for sector in yard.wind_rose if sector.speed_m_s > 0]
    if not rose:
        told = "a storm from any side: the file has no [[wind_rose]]"
        return Assumed(scenario, (told,))
    worst: WindSector = max(rose, key=lambda s: (s.speed_m_s, s.share_pct, -s.from_deg))
    return Assumed(
        scenario,
        (f"a storm from {worst.from_deg:g}°, where the wind blows hardest on the mean "
         f"({worst.speed_m_s:g} m/s)",),
        storm_from_deg=worst.from_deg,
        sources=judgement("storms come from where the mean wind is strongest"),
    )  # fmt: skip
