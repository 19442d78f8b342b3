"""What `air` says in sentences: findings of a year, worth of helps, and where it stops holding."""

from collections.abc import Iterator, Mapping, Sequence

from mewswright.air.told import (
    AirChangeTold,
    AirTold,
    DampTold,
    HelpName,
    HelpTold,
    LodgerTold,
)
from mewswright.air.weather import Weather
from mewswright.model.quarters import Quarters

METHOD = (
    "hour by hour: air without mass, floor and boards with it; air change by wind (pressures on "
    "each opening, what comes in goes out) and by warmth (BS 5925), joined as the root of the sum "
    "of their squares; sun on each side by rays, walls and roof as warm as sun and sky make them"
)
DEAREST_KWH = 5.0  # for an hour saved: a heater that takes more is no advice; a judgement
ASSUMPTIONS = (
    "doors and hatches are shut; boards leak 5 cm2 for a square metre",
    "openings are clear of ice, leaves and snow",
    "the bath stands full, floors are no wetter than that; droppings and litter give off no water",
    "a bird takes the best perch that it may use; birds do not shade or warm each other",
    "cold: below what its warmth class bears, or wind in which it would make more than three times "
    "its basal heat (Bakken 1990, Wasser 1986: diurnal birds of prey, taken for owls too)",
    "heat: air, up to 10 K warmer in full sun, at the caution of its warmth class",
    "wet: rain reaches the perch and the air is below 15 C",
    "on clear, still nights air near the ground is colder than at the height of a thermometer",
)


def words(
    q: Quarters,
    air: AirTold,
    damp: DampTold,
    change: AirChangeTold | None,
    birds: Sequence[LodgerTold],
    helps: Sequence[HelpTold],
) -> Iterator[str]:
    """A year in a few sentences."""
    yield (
        f"air {air.min_c:.0f} to {air.max_c:.0f} C, {_times(air.frost_nights, 'frost night')}, "
        f"{air.warmer_than_outside_k:+.1f} K against outside"
    )
    if change is not None:
        told = f"{change.median_per_h:.0f} changes of air an hour as a rule"
        if change.hours_below_wanted:
            told += (
                f", fewer than {change.wanted_per_h:g} in {change.hours_below_wanted} hours of the "
                "year"
            )
        yield told
    if damp.mould_hours:
        yield f"humid and mild enough for mould in {_times(damp.mould_hours, 'hour')}"
    if damp.drip_hours:
        yield f"water or rime settles under the roof in {_times(damp.drip_hours, 'hour')}"
    if not q.perches:
        yield "no perch, so no bird's comfort was asked for"
        return
    for one in birds:
        name = f"a bird of class {one.temp_class}" if one.stand_in else one.bird
        if not one.no_comfort_hours:
            yield f"{name}: some perch suits in every one of {one.hours_there} hours"
            continue
        parts = [
            f"{hours} {what}"
            for hours, what in (
                (one.heat_hours, "too hot"),
                (one.cold_hours, "too cold or windy"),
                (one.wet_cold_hours or 0, "wet and cool"),
            )
            if hours
        ]
        yield (
            f"{name}: no perch suits in {one.no_comfort_hours} of {one.hours_there} hours "
            f"({', '.join(parts) or 'each perch for another reason'})"
        )
    worth = [
        one
        for one in helps
        if one.no_comfort_saved_h > 0
        and (one.energy_kwh or 0) <= DEAREST_KWH * one.no_comfort_saved_h
    ]
    best = max(worth, key=lambda one: one.no_comfort_saved_h, default=None)
    if best is not None:
        yield f"most worth: {best.what}: {best.words}"


def _times(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def help_words(name: HelpName, saved: Mapping[str, int], energy_kwh: float | None) -> str:
    """Worth of a help in a sentence."""
    hours = saved["no_comfort_saved_h"]
    told = (
        f"saves {_times(hours, 'hour')} without a perch that suits"
        if hours > 0
        else f"brings {_times(-hours, 'hour')} more without a perch that suits"
        if hours < 0
        else "saves no hour without a perch that suits"
    )
    if energy_kwh is not None:
        told += f", for {energy_kwh:.0f} kWh a year"
        if hours > 0 and energy_kwh / hours > 1:
            told += ", most of which goes out through the openings: close them first"
    if name == "wind_cloth" and saved["drip_saved_h"] < 0:
        told += f"; water settles under the roof in {_times(-saved['drip_saved_h'], 'hour')} more"
    return told


def validity(
    q: Quarters, weather: Weather, change: AirChangeTold | None, heated: bool
) -> Iterator[str]:
    """Where a result stops holding."""
    if weather.kind == "made":
        yield (
            "made weather: sums over months hold as the normals do; the coldest and hottest hours "
            "are milder than real ones"
        )
    if change is None:
        yield "no walls: the weather near the ground, with what stands up-wind"
        return
    if change.median_per_h > 100:
        yield (
            "very open: the air is that outside, and so are the figures; draughts at perches are "
            "good to a factor of two"
        )
    elif change.open_m2 < 0.005 * q.floor_area_m2:
        yield "nearly closed: damp and warmth hang on cracks that nobody measured"
    else:
        yield "air good to about 1 K, air change and draughts to a factor of two"
    if heated:
        yield "its heater is taken to hold what the birds' classes ask, by a thermostat"
    if q.roof is not None and q.roof.deck is not None and change is not None:
        yield "boards take up some of the water that settles: drops fall in fewer hours than told"
    yield "not a judgement of a bird's health: watch the bird, and ask a vet"
