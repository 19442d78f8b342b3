"""The layers that the ground page can lay over the plan, and what each of them asks for."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from functools import partial
from zoneinfo import ZoneInfo

from mewswright.checks.outlook_told import OutlookReport
from mewswright.drawing.scene import Scene
from mewswright.ground.layer import Layer
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.web.shown import Reading

Asked = Mapping[str, str]
QUARTER_H = 0.25


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


@dataclass(frozen=True)
class Offered:
    """One layer: its name in the address, its word, what it asks for, and how it is made."""

    key: str
    word: str
    asks: tuple[str, ...]  # of "day", "hour", "month", "bird"
    make: Callable[[Reading, Choices], Layer]


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


def _shade(reading: Reading, chosen: Choices) -> Layer:
    from mewswright.ground.sun_layers import shade_layer

    yard = reading.yard
    return shade_layer(yard, chosen.moment(yard.yard.time_zone))


def _sun_hours(reading: Reading, chosen: Choices) -> Layer:
    from mewswright.ground.sun_layers import sun_hours_layer

    return sun_hours_layer(reading.yard, chosen.month or None)


def _wind(reading: Reading, _chosen: Choices) -> Layer:
    from mewswright.ground.wind_layer import wind_layer
    from mewswright.ground.wind_report import wind_report

    return wind_layer(reading.yard, wind_report(reading.yard))


def _sight(reading: Reading, chosen: Choices) -> Layer:
    from mewswright.checks.sight_layer import sight_layer
    from mewswright.checks.sight_report import sight_report

    if not chosen.bird:
        return Layer(
            name="sight", title="No bird lives here yet", shapes=(), legend=(),
            how="a [[bird]] table names one, a [[stay]] houses it", sure="nothing is drawn yet",
        )  # fmt: skip
    yard = reading.yard
    report = reading.keep("sight report", lambda: sight_report(yard))
    return sight_layer(yard, report, chosen.bird)


def outlook_of(reading: Reading) -> OutlookReport:
    """The outlook of a yard, worked out once for a reading."""
    from mewswright.checks.outlook_report import outlook_report

    return reading.keep("outlook", lambda: outlook_report(reading.yard))


def _outlook(name: str, reading: Reading, _chosen: Choices) -> Layer:
    from mewswright.checks.outlook_layers import outlook_layers

    return outlook_layers(reading.yard, outlook_of(reading))[name]


def _doors(reading: Reading, _chosen: Choices) -> Layer:
    """The words of the graph of doors, which is a drawing of its own."""
    outlook = outlook_of(reading)
    return Layer(
        name="doors", title="Rooms and doors", shapes=(), legend=(), how=outlook.how["doors"],
        sure=outlook.sure["doors"],
    )  # fmt: skip


LAYERS: tuple[Offered, ...] = (
    Offered("shade", "shade", ("day", "hour"), _shade),
    Offered("sun-hours", "hours of sun", ("month",), _sun_hours),
    Offered("wind", "wind", (), _wind),
    Offered("sight", "sight", ("bird",), _sight),
    Offered("sound", "sound", (), partial(_outlook, "sound")),
    Offered("spores", "spores", (), partial(_outlook, "spores")),
    Offered("falls", "what can fall", (), partial(_outlook, "falls")),
    Offered("cameras", "cameras", (), partial(_outlook, "cameras")),
    Offered("doors", "doors", (), _doors),
    Offered("round", "walks", (), partial(_outlook, "round")),
)


def scene_of(reading: Reading, layer: Layer, *, for_paper: bool) -> Scene:
    """Draw a layer: over the plan of the yard, or, of doors, as a graph.

    Raises:
        ValueError: If the yard has nothing on the ground.
    """
    from mewswright.drawing.door_graph import door_graph_plan
    from mewswright.drawing.ground_layer import layer_plan

    if layer.name == "doors":
        return replace(door_graph_plan(reading.yard, outlook_of(reading)), name="ground-doors")
    return layer_plan(reading.yard, layer, legend=for_paper)
