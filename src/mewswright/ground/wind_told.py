"""What `wind` tells: the models of its JSON."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.model.fitting import Side

Word = Literal[
    "closed to the wind", "well sheltered", "sheltered", "open to some wind", "exposed"
]  # fmt: skip


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class Breaker(_Told):
    """What takes wind from a side, and its share of what would blow square into it [%]."""

    name: str
    takes_pct: float


class WindySide(_Told):
    """One side in the wind. Speeds and rain are null where the file tells no wind or no rain."""

    side: Side
    looks_deg: float
    joined: str | None
    open_share: float
    open_m2: float
    hours_into_pct: float
    mean_into_m_s: float | None
    strong_h_year: float | None
    worst_from_deg: float | None
    wind_left_pct: float
    sheltered_by: tuple[Breaker, ...]
    driving_rain_l_m2: float | None
    exposure: float


class WetPerch(_Told):
    """Rain at one perch. `wet_from_m_s`: least open wind 10 m up that brings it there."""

    name: str
    roofed: bool
    wet_from_m_s: float | None
    wet_from_deg: float | None
    rain_hours_pct: float | None


class StillCold(_Told):
    """Cold air that a dam down the slope may hold over the floor on a clear, still night."""

    depth_m: float
    dam: str
    perches_in_it: tuple[str, ...]


class QuartersWind(_Told):
    """Wind, rain and still frost at one quarters."""

    name: str
    kind: str
    exposure: float
    exposure_word: Word
    worst_side: Side | None
    sides: tuple[WindySide, ...]
    perches: tuple[WetPerch, ...]
    frost: StillCold | None
    words: tuple[str, ...]


class RoseTold(_Told):
    """The wind that was taken, as a rose of eight. Speeds are null where none is told."""

    known: Literal["wind_rose", "climate", "unknown"]
    calm_pct: float
    mean_m_s: float | None
    sectors: tuple[tuple[str, float, float | None], ...]


class WindReport(_Told):
    """Wind, driving rain and still frost of a yard."""

    yard: str
    wind: RoseTold
    rain_mm_year: float | None
    terrain: str
    ground_fall_pct: float
    quarters: tuple[QuartersWind, ...]
    method: str
    assumptions: tuple[str, ...]
