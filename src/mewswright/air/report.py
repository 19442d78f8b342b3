"""A year of air in the unheated quarters of a yard, told for people."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, SupportsFloat

from mewswright.air.birds import Lodger, Verdict, feels_c, lodgers, nights_with
from mewswright.air.helps import Help, Troubles, heater_holds_c, helps_for, troubles_of
from mewswright.air.outside import Outside, by_bearing, outside
from mewswright.air.perch_wind import pitch_winds
from mewswright.air.room import Room, room_of, wind_over_roof
from mewswright.air.sun_hours import standard_offset_h, sun_hours
from mewswright.air.sunlit import Sunlit, sunlit
from mewswright.air.told import (
    AirChangeTold,
    AirReport,
    AirTold,
    DampTold,
    HelpTold,
    LodgerTold,
    PerchTold,
    QuartersAir,
    WeatherTold,
)
from mewswright.air.weather import HOURS, Weather, months
from mewswright.air.weather_made import made_year
from mewswright.air.words import ASSUMPTIONS, METHOD, help_words, validity, words
from mewswright.air.year import AirYear, year_in, year_out
from mewswright.ground.cold_air import cold_pool
from mewswright.ground.driving_rain import wetting_wind
from mewswright.ground.rose import BINS, rose_of
from mewswright.ground.solids import yard_solids
from mewswright.ground.wind_faces import face_winds
from mewswright.ground.windbreak import Shelter, feature_breaks
from mewswright.handbook import rules
from mewswright.model.fitting import Device
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STRONG_M_S = 5.0
SUM_NAMES = ("wind_and_warmth", "walls_and_roof", "ground", "sky", "sun", "birds", "heater")
SUN_UP_W_M2 = 120.0  # beam from which meteorologists call it sunshine (WMO; from memory)


def air_report(
    yard: Yard, names: Sequence[str] = (), weather: Weather | None = None, seed: int = 0
) -> AirReport:
    """A year of air in quarters.

    Args:
        yard: The yard.
        names: Of which quarters; all where none is named.
        weather: A year that was read; None to make one from the yard's climate.
        seed: For a year that is made.

    Raises:
        Problem: For quarters that the yard has not, or without weather and climate.
    """
    wanted = [yard.quarters_named(name) for name in names] if names else list(yard.quarters)
    made = weather is None
    if weather is None:
        weather = _made(yard, seed)
    out = outside(weather, sun_hours(yard.yard, weather.offset_h))
    shelter, breaks = Shelter(yard), feature_breaks(yard.feature)
    lights = sunlit(yard_solids(yard), wanted, out.sun)
    told = []
    for quarters, light in zip(wanted, lights, strict=True):
        pool = cold_pool(yard, quarters, breaks)
        told.append(_Unit(yard, quarters, out, light, shelter, pool.depth_m if pool else 0).told())
    return AirReport(
        yard=yard.yard.name,
        weather=_weather_told(weather, seed if made else None),
        quarters=tuple(told),
        method=METHOD,
        assumptions=ASSUMPTIONS,
    )


def _made(yard: Yard, seed: int) -> Weather:
    if yard.climate is None:
        raise Problem(
            f"{yard.yard.name!r} has no [climate], and no weather is given: give [climate], or "
            "--weather with an EPW file or a CSV of a year's hours"
        )
    offset = standard_offset_h(yard.yard)
    return made_year(yard.climate, rose_of(yard), sun_hours(yard.yard, offset), offset, seed)


def _weather_told(weather: Weather, seed: int | None) -> WeatherTold:
    import numpy as np

    rain = None if np.isnan(weather.rain_mm).all() else float(np.nansum(weather.rain_mm))
    return WeatherTold(
        kind=weather.kind,
        source=weather.source,
        seed=seed,
        hours=HOURS,
        mean_c=_round(weather.temp_c.mean()),
        min_c=_round(weather.temp_c.min()),
        max_c=_round(weather.temp_c.max()),
        mean_wind_m_s=_round(weather.wind_m_s.mean()),
        rain_mm=None if rain is None else _round(rain, 1),
        notes=weather.notes,
    )


class _Unit:
    """One quarters, and its year as it is and with each help."""

    def __init__(
        self, yard: Yard, q: Quarters, out: Outside, light: Sunlit, shelter: Shelter, pool_m: float
    ) -> None:
        self.yard, self.q, self.out, self.light = yard, q, out, light
        self.shelter, self.pool_m = shelter, pool_m
        self.birds = lodgers(yard, q)
        self.faces = face_winds(yard, q, shelter)
        self.humid = rules("house", "aspergillus_humidity_pct")[0].as_figure().value
        self.mould = rules("house", "aspergillus_growth_low_c")[0].as_figure().value
        self.wanted = rules("house", "air_changes_per_h_min")[0].as_figure().value
        self.room: Room | None = None
        if q.faces is not None:
            self.room = room_of(q, self.faces, wind_over_roof(yard, q, shelter))
        powers = [
            one.power_w
            for one in q.fitting
            if isinstance(one, Device) and one.kind == "heater" and one.power_w
        ]
        self.heater = (heater_holds_c(self.birds), float(sum(powers))) if powers else (0.0, 0.0)

    def _wetting(self, left: float) -> "NDArray[np.float64]":
        """Open wind that brings rain to each perch; more of it where openings are hung."""
        import numpy as np

        found = [wetting_wind(self.q, perch, self.faces) / left for perch in self.q.perches]
        return np.array(found).reshape(-1, BINS)

    def run(self, help_: Help | None = None) -> AirYear:
        """The year, as it is or with a help."""
        heater = self.heater if help_ is None or not help_.heater[1] else help_.heater
        if self.room is None:
            winds = pitch_winds(self.yard, self.q, self.shelter)
            sun_left = 1.0 if help_ is None else help_.change.sun_left
            return year_out(self.q, winds, self.out, self.light, self.pool_m, sun_left)
        room, left = self.room, 1.0
        if help_ is not None:
            room = room_of(self.q, self.faces, room.roof_wind, help_.change)
            left = help_.change.side_left
        return year_in(
            room, self.out, self.light, self._wetting(left), self.birds, heater, self.pool_m
        )

    def told(self) -> QuartersAir:
        """All that is told of it."""
        year = self.run()
        base, verdicts = troubles_of(year, self.birds, self.humid)
        perches = tuple(self._perches(year))
        birds = tuple(
            _lodger(one, verdict, self.q, self.out)
            for one, verdict in zip(self.birds, verdicts, strict=True)
        )
        change = None if self.room is None else self._change(year)
        damp = self._damp(year)
        helps = tuple(self._helps(base)) if self.q.perches else ()
        air = _air(year, self.out)
        none = int(base.none.sum()) if self.q.perches else None
        return QuartersAir(
            name=self.q.name,
            kind=self.q.kind,
            air=air,
            damp=damp,
            change=change,
            perches=perches,
            birds=birds,
            no_comfort_hours=none,
            helps=helps,
            words=tuple(words(self.q, air, damp, change, birds, helps)),
            validity=tuple(validity(self.q, self.out.weather, change, bool(self.heater[1]))),
        )

    def _change(self, year: AirYear) -> AirChangeTold:
        import numpy as np

        assert self.room is not None
        per_h = 3600 * year.change_m3_s / self.room.volume_m3
        wind = by_bearing(self.room.wind_flow, self.out) * self.out.weather.wind_m_s
        warmth = np.sqrt(np.maximum(year.change_m3_s**2 - wind**2, 0))
        return AirChangeTold(
            open_m2=_round(self.room.open_m2, 3),
            volume_m3=_round(self.room.volume_m3),
            median_per_h=_round(np.median(per_h), 1),
            still_per_h=_round(np.quantile(per_h, 0.05), 1),
            wanted_per_h=self.wanted,
            hours_below_wanted=int((per_h < self.wanted).sum()),
            by_wind_m3_s=_round(wind.mean(), 3),
            by_warmth_m3_s=_round(warmth.mean(), 3),
        )

    def _damp(self, year: AirYear) -> DampTold:
        humid = year.humidity_pct >= self.humid
        return DampTold(
            mean_humidity_pct=_round(year.humidity_pct.mean(), 1),
            humid_hours=int(humid.sum()),
            humid_over_pct=self.humid,
            mould_hours=int((humid & (year.air_c >= self.mould)).sum()),
            mould_over_c=self.mould,
            drip_hours=int(year.drips.sum()),
            drip_hours_by_month=_by_month(year.drips),
        )

    def _perches(self, year: AirYear) -> Iterator[PerchTold]:
        import numpy as np

        told = self.out.weather.rain_mm
        rain_known = not np.isnan(told).all()
        beam = self.out.weather.beam_w_m2
        for row, perch in enumerate(self.q.perches):
            air, wind = year.perches.air_c[row], year.perches.wind_m_s[row]
            sunny = self.light.perches[row] * (beam >= SUN_UP_W_M2)
            yield PerchTold(
                name=perch.name,
                height_mm=perch.height_mm,
                mean_c=_round(air.mean()),
                min_c=_round(air.min()),
                max_c=_round(air.max()),
                frost_nights=nights_with(air < 0),
                mean_wind_m_s=_round(wind.mean()),
                strong_wind_hours=int((wind > STRONG_M_S).sum()),
                coldest_feels_c=_round(feels_c(air, wind).min(), 1),
                sun_hours=_round(float((sunny * self.out.sun.up_share).sum()), 0),
                wet_hours=int(year.perches.wet[row].sum()) if rain_known else None,
            )

    def _helps(self, base: Troubles) -> Iterator[HelpTold]:
        import numpy as np

        floor = self.q.floor_area_m2
        for one in helps_for(
            self.birds, self.out, floor, self.room is not None, self.heater[1] > 0
        ):
            if not one.months:
                continue
            year = self.run(one)
            after, _ = troubles_of(year, self.birds, self.humid)
            mine = np.isin(months(), one.months)

            numbers = {
                f"{key}_saved_h": int((before & mine).sum()) - int((now & mine).sum())
                for key, before, now in (
                    ("no_comfort", base.none, after.none),
                    ("heat", base.hot, after.hot),
                    ("cold", base.cold, after.cold),
                    ("humid", base.humid, after.humid),
                    ("drip", base.drips, after.drips),
                )
            }
            energy = _round(float(year.heater_w.sum()) / 1000, 0) if one.heater[1] else None
            yield HelpTold(
                help=one.name,
                what=one.what,
                months=one.months,
                energy_kwh=energy,
                words=help_words(one.name, numbers, energy),
                **numbers,
            )


def _air(year: AirYear, out: Outside) -> AirTold:
    air = year.air_c
    month = months()
    by = [air[month == m] for m in range(1, 13)]
    return AirTold(
        mean_c=_round(air.mean()),
        min_c=_round(air.min()),
        max_c=_round(air.max()),
        mean_c_by_month=tuple(_round(one.mean()) for one in by),
        min_c_by_month=tuple(_round(one.min()) for one in by),
        max_c_by_month=tuple(_round(one.max()) for one in by),
        warmer_than_outside_k=_round((air - out.weather.temp_c).mean(), 3),
        frost_hours=int((air < 0).sum()),
        frost_nights=nights_with(air < 0),
        heat_kwh={
            name: _round(float(value), 1)
            for name, value in zip(SUM_NAMES, year.sums_kwh, strict=False)
        }
        | {"stored": _round(float(year.sums_kwh[-1]), 1)},
    )


def _lodger(bird: Lodger, verdict: Verdict | None, q: Quarters, out: Outside) -> LodgerTold:
    import numpy as np

    there = bird.there
    rain_known = not np.isnan(out.weather.rain_mm).all()
    nothing = np.zeros(HOURS, bool)
    limit = bird.cold_limit_c
    cold_nights = None
    if verdict is not None and limit is not None:
        cold_nights = nights_with((verdict.best_c < limit) & there)
    return LodgerTold(
        bird=bird.name,
        species=bird.species,
        stand_in=bird.stand_in,
        temp_class=bird.temp_class,
        mass_g=_round(bird.mass_g, 1),
        hours_there=int(there.sum()),
        perches=tuple(q.perches[n].name for n in bird.perches),
        heat_caution_c=bird.heat_caution_c,
        heat_hours=int(verdict.hot.sum()) if verdict else 0,
        cold_limit_c=limit,
        cold_hours=int(verdict.cold.sum()) if verdict else 0,
        cold_nights=cold_nights,
        frost_nights=nights_with((verdict.best_c < 0) & there) if verdict else 0,
        wet_cold_hours=int(verdict.wet.sum()) if verdict and rain_known else None,
        coldest_feels_c=_round(verdict.feels_c[there].min(), 1)
        if verdict and there.any()
        else None,
        no_comfort_hours=int(verdict.none.sum()) if verdict else 0,
        no_comfort_hours_by_month=_by_month(verdict.none if verdict else nothing),
    )


def _by_month(flags: "NDArray[np.bool_]") -> tuple[float, ...]:
    month = months()
    return tuple(float(flags[month == m].sum()) for m in range(1, 13))


def _round(value: SupportsFloat, digits: int = 2) -> float:
    return round(float(value), digits) + 0.0  # no minus before a nought
