"""The layers that the ground page can lay over the plan, and what each of them asks for."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from mewswright.ground.layer import Layer
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

Asked = Mapping[str, str]
MONTHS = tuple(range(1, 13))
QUARTER_H = 0.25


@dataclass(frozen=True)
class Offered:
    """One layer: its name in the address, its word, what it asks for, and how it is made."""

    key: str
    word: str
    asks: tuple[str, ...]  # of "day", "hour", "month", "bird"
    make: Callable[[Yard, Asked], Layer]


@dataclass(frozen=True)
class Choices:
    """What the controls of a layer show: the answers given, or those that stand for them."""

    day: date
    hour: float
    month: int  # 0: the whole year
    bird: str

    @property
    def clock(self) -> str:
        """The hour as a clock shows it."""
        return f"{self._time:%H:%M}"

    @property
    def _time(self) -> time:
        minutes = round(self.hour * 60)
        return time(min(23, minutes // 60), minutes % 60 if minutes < 24 * 60 else 59)

    def moment(self, time_zone: str) -> datetime:
        """The day and the hour by the clock of a place."""
        return datetime.combine(self.day, self._time, ZoneInfo(time_zone))


def choices(yard: Yard, asked: Asked, today: date) -> Choices:
    """Read the controls; what is left blank gets today, 14:00, the year, and the first bird.

    Raises:
        Problem: For an answer that cannot be.
    """
    birds = [bird.name for bird in yard.bird]
    bird = asked.get("bird") or (birds[0] if birds else "")
    if bird and bird not in birds:
        raise Problem(f"bird: there is no {bird!r} here; birds are: {', '.join(birds) or 'none'}")
    try:
        day = date.fromisoformat(asked["day"]) if asked.get("day") else today
    except ValueError:
        raise Problem(f"day: {asked['day']!r} is no day; write it as 2026-06-21") from None
    return Choices(
        day,
        _number(asked, "hour", 14.0, 0.0, 24 - QUARTER_H),
        int(_number(asked, "month", 0, 0, 12)),
        bird,
    )


def _number(asked: Asked, key: str, blank: float, least: float, most: float) -> float:
    given = asked.get(key)
    if not given:
        return blank
    try:
        value = float(given)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise Problem(f"{key}: {given!r} is not a number from {least:g} to {most:g}")
    return value


def offered(key: str) -> Offered | None:
    """Find a layer; None for the bare plan.

    Raises:
        Problem: For a layer that there is not.
    """
    if key in ("", "plan"):
        return None
    for one in LAYERS:
        if one.key == key:
            return one
    raise Problem(f"there is no layer {key!r}; layers are: {', '.join(o.key for o in LAYERS)}")


def layer_of(yard: Yard, one: Offered, chosen: Choices) -> Layer:
    """Make a layer for what was chosen."""
    return one.make(yard, {
        "moment": chosen.moment(yard.yard.time_zone).isoformat(),
        "month": str(chosen.month),
        "bird": chosen.bird,
    })  # fmt: skip


def _shade(yard: Yard, asked: Asked) -> Layer:
    from mewswright.ground.sun_layers import shade_layer

    return shade_layer(yard, datetime.fromisoformat(asked["moment"]))


def _sun_hours(yard: Yard, asked: Asked) -> Layer:
    from mewswright.ground.sun_layers import sun_hours_layer

    return sun_hours_layer(yard, int(asked["month"]) or None)


def _sight(yard: Yard, asked: Asked) -> Layer:
    from mewswright.checks.sight_layer import sight_layer
    from mewswright.checks.sight_report import sight_report

    if not asked["bird"]:
        raise Problem("no bird lives here yet: a [[bird]] table names one, a [[stay]] houses it")
    return sight_layer(yard, sight_report(yard, bird=asked["bird"]), asked["bird"])


LAYERS: tuple[Offered, ...] = (
    Offered("shade", "shade", ("day", "hour"), _shade),
    Offered("sun-hours", "hours of sun", ("month",), _sun_hours),
    Offered("sight", "sight", ("bird",), _sight),
)
