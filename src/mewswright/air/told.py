"""What `air` tells: the models of its JSON."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

Months = tuple[float, ...]  # January first
HelpName = Literal["heater", "wind_cloth", "shade_net", "roof_vent"]


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class WeatherTold(_Told):
    """The weather that was taken."""

    kind: Literal["epw", "csv", "made"]
    source: str
    seed: int | None
    hours: int
    mean_c: float
    min_c: float
    max_c: float
    mean_wind_m_s: float
    rain_mm: float | None
    notes: tuple[str, ...]


class AirTold(_Told):
    """Air at half height, and heat in and out over the year [kWh]; in is positive."""

    mean_c: float
    min_c: float
    max_c: float
    mean_c_by_month: Months
    min_c_by_month: Months
    max_c_by_month: Months
    warmer_than_outside_k: float
    frost_hours: int
    frost_nights: int
    heat_kwh: dict[str, float]


class DampTold(_Told):
    """Damp: humidity of the air, and water that settles under the roof."""

    mean_humidity_pct: float
    humid_hours: int
    humid_over_pct: float
    mould_hours: int
    mould_over_c: float
    drip_hours: int
    drip_hours_by_month: Months


class AirChangeTold(_Told):
    """Ventilation; null for quarters without walls. Changes of air in an hour."""

    open_m2: float
    volume_m3: float
    median_per_h: float
    still_per_h: float
    wanted_per_h: float
    hours_below_wanted: int
    by_wind_m3_s: float
    by_warmth_m3_s: float


class PerchTold(_Told):
    """The air at one perch."""

    name: str
    height_mm: float
    mean_c: float
    min_c: float
    max_c: float
    frost_nights: int
    mean_wind_m_s: float
    strong_wind_hours: int
    coldest_feels_c: float
    sun_hours: float
    wet_hours: int | None


class LodgerTold(_Told):
    """One bird and its year there; hours in which every perch that it may take is so."""

    bird: str
    species: str
    stand_in: bool
    temp_class: str
    mass_g: float
    hours_there: int
    perches: tuple[str, ...]
    heat_caution_c: float
    heat_hours: int
    cold_limit_c: float | None
    cold_hours: int
    cold_nights: int | None
    frost_nights: int
    wet_cold_hours: int | None
    coldest_feels_c: float | None
    no_comfort_hours: int
    no_comfort_hours_by_month: Months


class HelpTold(_Told):
    """What one help is worth: hours of the year that it saves, negative where it costs some."""

    help: HelpName
    what: str
    months: tuple[int, ...]
    no_comfort_saved_h: int
    heat_saved_h: int
    cold_saved_h: int
    humid_saved_h: int
    drip_saved_h: int
    energy_kwh: float | None
    words: str


class QuartersAir(_Told):
    """A year of air in one quarters."""

    name: str
    kind: str
    air: AirTold
    damp: DampTold
    change: AirChangeTold | None
    perches: tuple[PerchTold, ...]
    birds: tuple[LodgerTold, ...]
    no_comfort_hours: int | None
    helps: tuple[HelpTold, ...]
    words: tuple[str, ...]
    validity: tuple[str, ...]


class AirReport(_Told):
    """A year of air in the unheated quarters of a yard."""

    yard: str
    weather: WeatherTold
    quarters: tuple[QuartersAir, ...]
    method: str
    assumptions: tuple[str, ...]
