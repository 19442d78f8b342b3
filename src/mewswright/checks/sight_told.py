"""The shapes in which sight is told: who looks, what is seen, and what would hide it."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright.ground.screens import Eye


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class SeenThing(_Told):
    """What one bird sees, or does not see, of one thing. Metres on the ground; eyes are x, y, z."""

    bird: str
    quarters: str
    target: str
    kind: str  # bird, feeding, or the kind of the feature
    place: str  # quarters of the target; blank on the ground
    together: bool  # they live in the same quarters
    seen: bool
    months: tuple[int, ...]  # in which it is seen
    distance_m: float | None  # of the nearest line that is clear in some month
    from_perch: str
    eye_m: Eye | None
    spot_m: Eye | None
    forbidden: bool
    why: str
    hidden_by: tuple[str, ...]  # what stands in the nearest line where none is clear


class Looker(_Told):
    """A bird in quarters, and where it looks from."""

    bird: str
    quarters: str
    perches: tuple[str, ...]
    eyes_m: tuple[Eye, ...]


class ScreenPart(_Told):
    """An upright piece: from one place on the ground to another, and its height."""

    from_m: tuple[float, float]
    to_m: tuple[float, float]
    height_m: float


class ScreenPlan(_Told):
    """A screen that breaks all lines from one bird in one quarters to one thing, or to several."""

    bird: str
    quarters: str
    targets: tuple[str, ...]
    kind: Literal["free-standing", "on a face"]
    at: str
    parts: tuple[ScreenPart, ...]
    length_m: float
    height_m: float
    breaks: int  # lines that are clear without it
    still_seen: bool  # asked again with the screen set up


class NoScreen(_Told):
    """A bird and things that no screen was found for, and why."""

    bird: str
    quarters: str
    targets: tuple[str, ...]
    why: str


class SightReport(_Told):
    """Who sees whom and what in a yard."""

    yard: str
    birds: tuple[Looker, ...]
    unhoused: tuple[str, ...]
    sees: tuple[SeenThing, ...]
    matrix: dict[str, dict[str, float | None]]  # bird by bird: nearest clear line [m], or null
    forbidden_seen: int
    screens: tuple[ScreenPlan, ...]
    no_screen: tuple[NoScreen, ...]
    range_m: float
    method: str
    sure: str
    assumptions: tuple[str, ...]
