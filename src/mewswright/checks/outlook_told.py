"""The shapes in which the outlook of a yard is told, from sound to walks."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.model.place import Point


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class Listener(_Told):
    """A bird that hears a source, and how it takes it."""

    bird: str
    newcomer: bool
    isolated: bool
    nervous: bool
    used_to: bool
    minds: bool  # loud, and it is new or nervous and not used to it


class SoundHere(_Told):
    """One source at one unit, at its loudest place. Metres and dB."""

    quarters: str
    source: str
    kind: str
    distance_m: float
    at_1m_db: float | None
    detour_m: float | None
    loss_db: float
    level_db: float | None
    loudness: Literal["quiet", "loud", "very loud", "unknown"]
    birds: tuple[Listener, ...]


class SporesHere(_Told):
    """One source of mould spores and one unit."""

    quarters: str
    source: str
    kind: str
    severity: str
    distance_m: float
    limit_m: float
    wind_share_pct: float | None  # of all hours, from the source to here; null without a wind rose
    near: bool
    carried: bool
    months: tuple[int, ...] | None  # in which mould grows in it; null without a climate
    prone_birds: tuple[str, ...]


class FallHere(_Told):
    """One tree and one unit."""

    quarters: str
    tree: str
    condition: str
    distance_m: float
    height_m: float
    fall_m: float
    warn_m: float
    leans_here: bool
    reaches: bool
    crown_may_reach: bool
    branch_overhangs: bool


class OverheadHere(_Told):
    """One overhead line and one unit."""

    quarters: str
    line: str
    distance_m: float
    height_m: float | None
    clear_m: float  # that is wanted
    falls_on: bool | None  # within its own height; null where the height is not given
    near: bool


class WaterHere(_Told):
    """Where water comes from and goes to at one unit."""

    quarters: str
    fall_pct: float
    falls_to_deg: float
    from_above: tuple[str, ...]
    to_below: tuple[str, ...]
    ponds: tuple["PondHere", ...]


class PondHere(_Told):
    """A pond and one unit."""

    pond: str
    distance_m: float
    above_m: float


class FireHere(_Told):
    """One thing that burns and one unit."""

    quarters: str
    thing: str
    kind: str
    distance_m: float
    wanted_m: float
    near: bool


class Camera(_Told):
    """One camera and how much ground it shows."""

    name: str
    at_m: Point
    looks_deg: float | None
    view_deg: float
    range_m: float
    assumed: tuple[str, ...]  # keys that the file leaves out
    shown_m2: float


class Covered(_Told):
    """A front or a gate, and the cameras that show it."""

    name: str
    kind: Literal["front", "gate"]
    shown_pct: float
    cameras: tuple[str, ...]


class CameraCover(_Told):
    """What the cameras of a yard show, and what they do not."""

    cameras: tuple[Camera, ...]
    cover: tuple[Covered, ...]
    ground_m2: float
    blind_m2: float
    blind: tuple[tuple[Point, ...], ...]  # outlines without holes
    seen: tuple[tuple[Point, ...], ...]


class DoorWay(_Told):
    """The weak way out of one unit: the one with the fewest doors."""

    quarters: str
    doors: int | None  # null where no way leads out, or no door is given
    rooms: tuple[str, ...]
    through: tuple[str, ...]
    weak: bool  # fewer than two doors between a loose bird and the open air
    ajar: tuple[str, ...]  # doors of that way that do not fall shut or have no lock
    cut: int  # fewest doors that stand in every way out
    why: str


class WalkHere(_Told):
    """A walk from one place to another; no points where no way leads there."""

    start: str
    end: str
    length_m: float | None
    straight_m: float
    points: tuple[Point, ...]


class Walks(_Told):
    """The daily round and the ways that are walked with a bird or a barrow."""

    start: str | None
    order: tuple[str, ...]
    round_m: float | None
    round_in_file_order_m: float | None
    proven: bool
    points: tuple[Point, ...]
    unreached: tuple[str, ...]
    barrow: tuple[WalkHere, ...]
    to_flying_ground: WalkHere | None
    missing: tuple[str, ...]


class OutlookReport(_Told):
    """All that reaches the quarters of a yard from round about."""

    yard: str
    sound: tuple[SoundHere, ...]
    sound_together_db: dict[str, float | None]
    spores: tuple[SporesHere, ...]
    falls: tuple[FallHere, ...]
    overhead: tuple[OverheadHere, ...]
    water: tuple[WaterHere, ...]
    fire: tuple[FireHere, ...]
    cameras: CameraCover
    doors: tuple[DoorWay, ...]
    walks: Walks
    how: dict[str, str]
    sure: dict[str, str]
