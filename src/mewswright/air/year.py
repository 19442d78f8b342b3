"""A year of air in one quarters, hour by hour: what the kernel is given, and what comes of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.air.birds import Lodger, PerchAir
from mewswright.air.change import heat_of_hens_w
from mewswright.air.moist import (
    SEA_LEVEL_PA,
    VAPOUR_TO_AIR,
    dew_point_of_c,
    humidity_of_pct,
)
from mewswright.air.outside import Outside, by_bearing
from mewswright.air.room import KEPT_SUN, Room
from mewswright.air.sunlit import Sunlit
from mewswright.air.weather import HOURS
from mewswright.ground.rose import BINS
from mewswright.handbook.air import air_figure
from mewswright.model.fitting import Side
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Line = NDArray[np.float64]

SUN_TO_AIR = 0.3  # of the sun that comes in, that warms the air at once: a judgement
GROUND_LIGHT = 0.2  # of the light on the ground, that it throws back: usual for grass and gravel
FILM_STILL, FILM_WIND = 10.0, 4.0  # W/m2 K outside, and more for each m/s; from memory
FILM_ROOF = 6.0  # under a roof
ROOF_SHINE, WALL_SHINE = 0.9, 0.45  # of a black surface that sees only sky: walls see half
BATH_G_H_M2 = 50.0  # a bath gives off so much water: a judgement
WATER_A, WATER_B = 0.432, 0.585  # g a day, Crawford and Lasiewski 1968 (from memory)
AIR_G_M3 = 1200.0
WETTING_MM = 0.1  # an hour with less rain wets nothing
LOW_COLD_K = 1.0  # still, clear nights: K for each e-fold of height under LOW_FROM_M; a judgement
LOW_FROM_M = 1.5
POOL_K = 2.0  # air that stands behind a dam is so much colder on such nights; a judgement
UNDER_ROOF = 0.5  # of that, that comes in under a roof; a judgement


@dataclass(frozen=True, eq=False)
class AirYear:
    """A year in quarters (8760,).

    Attributes:
        air_c: Air at half height.
        humidity_pct: Its humidity.
        change_m3_s: Air change.
        drips: Whether water settles under the roof.
        heater_w: What a heater gives.
        sums_kwh: Heat in and out: wind and warmth, walls and roof, ground, sky, sun, birds, heater,
            and what is stored.
        perches: At each perch.
    """

    air_c: "Line"
    humidity_pct: "Line"
    change_m3_s: "Line"
    drips: "NDArray[np.bool_]"
    heater_w: "Line"
    sums_kwh: "Line"
    perches: PerchAir


def year_in(
    room: Room,
    out: Outside,
    sunlit: Sunlit,
    wetting: "Line",
    birds: Sequence[Lodger],
    heater: tuple[float, float] = (0.0, 0.0),
    pool_m: float = 0.0,
) -> AirYear:
    """Run a year of a room.

    Args:
        room: The room.
        out: Weather and sun.
        sunlit: Sun on it.
        wetting: Open wind that brings rain to each perch, by bearing (perches, bins).
        birds: Who lives there.
        heater: Air that it holds [C], and the most that it gives [W].
        pool_m: Depth of still, cold air over the floor.
    """
    import numpy as np

    from mewswright.air.hours_kernel import hours

    weather = out.weather
    shell, roof_sees = _shell(room, out, sunlit)
    sun_in = room.sun_through * _sun_in(room, out, sunlit)
    watts = _bird_heat_w(birds)
    air, change, heat, sums = hours(
        weather.temp_c, by_bearing(room.wind_flow, out) * weather.wind_m_s, shell, out.ground_c,
        weather.sky_c, SUN_TO_AIR * sun_in, (1 - SUN_TO_AIR) * sun_in,
        sum(room.wall_w_k.values()) + room.roof_w_k, room.stack, room.mass_w_k, room.ground_w_k,
        room.sky_w_k, room.store_j_k, watts, heater[0], heater[1],
    )  # fmt: skip
    vapour = _vapour(room, out, birds, change)
    under_c = air - (room.roof_w_k / max(room.roof_m2, 1e-9)) / FILM_ROOF * (air - roof_sees)
    drips = (dew_point_of_c(vapour) > under_c) if room.roof_m2 > 0 else np.zeros(HOURS, bool)
    wind = by_bearing(room.perch_wind, out) * weather.wind_m_s
    return AirYear(
        air_c=air,
        humidity_pct=humidity_of_pct(air, vapour),
        change_m3_s=change,
        drips=drips,
        heater_w=heat,
        sums_kwh=sums,
        perches=PerchAir(
            air_c=_perch_c(room.quarters, air, room.high_m, out, pool_m),
            wind_m_s=wind,
            sun_w_m2=room.sun_through * sunlit.perches * weather.beam_w_m2,
            wet=_wet(out, wetting),
        ),
    )


def year_out(
    quarters: Quarters, perch_wind: "Line", out: Outside, sunlit: Sunlit, pool_m: float = 0.0,
    sun_left: float = 1.0,
) -> AirYear:  # fmt: skip
    """A year of quarters without walls: the weather itself, near the ground."""
    import numpy as np

    weather = out.weather
    nothing = np.zeros(HOURS)
    count = len(quarters.perches)
    return AirYear(
        air_c=weather.temp_c,
        humidity_pct=weather.humidity_pct,
        change_m3_s=nothing,
        drips=np.zeros(HOURS, bool),
        heater_w=nothing,
        sums_kwh=np.zeros(8),
        perches=PerchAir(
            air_c=_perch_c(quarters, weather.temp_c, 0.0, out, pool_m),
            wind_m_s=by_bearing(perch_wind, out) * weather.wind_m_s,
            sun_w_m2=sun_left * sunlit.perches * weather.beam_w_m2,
            wet=_wet(out, np.zeros((count, BINS))),
        ),
    )


def sol_air_c(
    air_c: "Line", light_w_m2: "Line", takes: float, sky_loss_w_m2: "Line", wind_m_s: "Line"
) -> "Line":
    """Temperature of air that would warm a surface as much as air, sun and sky do [C].

    Args:
        air_c: Air.
        light_w_m2: Sun and light that fall on it.
        takes: Share of it that the surface takes up.
        sky_loss_w_m2: What it shines at the sky beyond what it gets back.
        wind_m_s: Wind over it.

    Source:
        Sol-air temperature, air + (takes light - loss) / film; films from memory. Dark felt in
        full sun comes out 35 to 48 K over the air, on a clear night 3 to 8 K under it.
    """
    told: Line = air_c + (takes * light_w_m2 - sky_loss_w_m2) / (FILM_STILL + FILM_WIND * wind_m_s)
    return told


def _on_side(side: Side, out: Outside, sunlit: Sunlit) -> "Line":
    """Sun, sky and light of the ground on a square metre of a side [W/m2] (8760,)."""
    weather = out.weather
    told: Line = (
        weather.beam_w_m2 * sunlit.sides[side]
        + 0.5 * weather.diffuse_w_m2
        + 0.5 * GROUND_LIGHT * out.level
    )
    return told


def _shell(room: Room, out: Outside, sunlit: Sunlit) -> "tuple[Line, Line]":
    """Walls and roof: W/K times the temperature that each sees; and what the roof sees [C]."""
    import numpy as np

    weather = out.weather
    wind = by_bearing(room.roof_wind, out) * weather.wind_m_s
    boards = air_figure("sun_taken_boards").value
    total = np.zeros(HOURS)
    for side, watts in room.wall_w_k.items():
        if watts > 0:
            light = _on_side(side, out, sunlit)
            loss = WALL_SHINE * out.sky_loss
            total += watts * sol_air_c(weather.temp_c, light, boards, loss, wind)
    over = weather.beam_w_m2 * sunlit.roof + weather.diffuse_w_m2
    loss = ROOF_SHINE * out.sky_loss
    roof = sol_air_c(weather.temp_c, over, room.roof_takes, loss, wind)
    return total + room.roof_w_k * roof, roof


def _sun_in(room: Room, out: Outside, sunlit: Sunlit) -> "Line":
    """Sun that comes in through openings and a clear roof, and stays [W] (8760,)."""
    import numpy as np

    weather = out.weather
    total = np.zeros(HOURS)
    for one in room.openings:
        if one.side is not None:
            total += one.area_m2 * _on_side(one.side, out, sunlit)
    over = weather.beam_w_m2 * sunlit.roof + weather.diffuse_w_m2
    told: Line = KEPT_SUN * (total + (room.open_top_m2 + room.roof_passes * room.roof_m2) * over)
    return told


def _bird_heat_w(birds: Sequence[Lodger]) -> "Line":
    """Heat of birds that warms the air (8760,)."""
    import numpy as np

    share = air_figure("sensible_share").value
    total = np.zeros(HOURS)
    for one in birds:
        if not one.stand_in:
            total += share * heat_of_hens_w(one.mass_g / 1000) * one.there
    return total


def _vapour(room: Room, out: Outside, birds: Sequence[Lodger], change: "Line") -> "Line":
    """Pressure of the vapour inside: that outside, and what birds and bath give off (8760,)."""
    import numpy as np

    water_g_s = np.zeros(HOURS)
    for one in birds:
        if not one.stand_in:
            water_g_s += WATER_A * one.mass_g**WATER_B / 86_400 * one.there
    bath_m2 = sum(m_from_mm(b.size_mm[0]) * m_from_mm(b.size_mm[1]) for b in room.quarters.baths)
    mild = out.weather.temp_c > 0
    water_g_s += BATH_G_H_M2 * bath_m2 / 3600 * mild
    mixing = water_g_s / (AIR_G_M3 * np.maximum(change, 1e-4))
    told: Line = out.weather.vapour_pa + mixing * SEA_LEVEL_PA / VAPOUR_TO_AIR
    return told


def _perch_c(q: Quarters, air: "Line", high_m: float, out: Outside, pool_m: float) -> "Line":
    """Air at each perch: warmer up under a warm roof, colder near the ground by night."""
    import numpy as np

    told = np.empty((len(q.perches), HOURS))
    roofed = q.roof is not None and q.has_roof and q.roof.covered_share > 0
    for row, perch in enumerate(q.perches):
        up_m = max(m_from_mm(perch.height_mm), 0.05)
        line = air.copy()
        if high_m > 0:
            warmer = np.maximum(air - out.weather.temp_c, 0.0)
            slope = np.minimum(2 * warmer / high_m, air_figure("stratification_high").value)
            line += slope * (min(up_m, high_m) - high_m / 2)
        low_k = LOW_COLD_K * max(0.0, float(np.log(LOW_FROM_M / up_m)))
        if up_m < pool_m:
            low_k += POOL_K
        line -= low_k * (UNDER_ROOF if roofed else 1.0) * out.still_cold
        told[row] = line
    return told


def _wet(out: Outside, wetting: "Line") -> "NDArray[np.bool_]":
    """Whether rain reaches each perch in each hour (perches, 8760)."""
    import numpy as np

    rain = np.nan_to_num(out.weather.rain_mm) > WETTING_MM
    wide = np.concatenate((wetting, wetting.min(axis=-1, keepdims=True)), axis=-1)
    told: NDArray[np.bool_] = rain & (out.weather.wind_m_s >= wide[:, out.bearing])
    return told
