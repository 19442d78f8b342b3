"""The layer of wind: the rose beside the plan, and each unit's sides as the wind meets them."""

from collections.abc import Iterator
from math import cos, radians, sin

from mewswright.ground.layer import Layer, Shape, Tone
from mewswright.ground.wind_report import COMPASS
from mewswright.ground.wind_told import QuartersWind, WindReport, WindySide
from mewswright.model.place import Point
from mewswright.model.quantity import mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

ROSE_M = 4.0  # length of the longest petal
BESIDE_M = 0.35  # how far outside its side the stroke of a side is drawn
SECTOR_DEG = 360 / len(COMPASS)
TONES: tuple[tuple[float, Tone], ...] = ((16.0, "good"), (28.0, "mind"), (1e9, "bad"))


def wind_layer(yard: Yard, report: WindReport) -> Layer:
    """Wind at every unit.

    Args:
        yard: The yard.
        report: Its wind.
    """
    return Layer(
        name="wind",
        title="Wind at open sides, and where it comes from",
        shapes=(*_rose(yard, report), *_units(yard, report)),
        legend=(
            ("bad", "an open side is exposed: more than 28 % of the open wind blows into it"),
            ("mind", "open to some wind: 16 to 28 %"),
            ("good", "sheltered"),
            ("plain", "the rose: a petal for each eighth, as long as its share of the hours"),
        ),
        how=report.method,
        sure="; ".join(report.assumptions[:2]) + ". Shelter lowers no load of a frame",
    )


def _rose(yard: Yard, report: WindReport) -> Iterator[Shape]:
    points = [*yard.yard.boundary_m, *(c for q in yard.quarters for c in q.corners_m)]
    points = points or [(0.0, 0.0)]
    west, north = min(x for x, _ in points), max(y for _, y in points)
    middle = (west - ROSE_M - 1.5, north - ROSE_M)
    most = max((share for _, share, _ in report.wind.sectors), default=0.0)
    for n, (name, share, speed) in enumerate(report.wind.sectors):
        if most <= 0 or share <= 0:
            continue
        told = f"{name}: {share:g} % of all hours" + ("" if speed is None else f", {speed:g} m/s")
        bearing = n * SECTOR_DEG
        length = ROSE_M * share / most
        tips = [_out(middle, bearing + off, length) for off in (-SECTOR_DEG / 3, SECTOR_DEG / 3)]
        yield Shape(kind="area", points_m=(middle, *tips), tone="plain", title=told)
        yield Shape(
            kind="line", points_m=(middle, tips[0], tips[1], middle), tone="quiet", title=told
        )
        if share == most:
            yield Shape(
                kind="word", points_m=(_out(middle, bearing, length * 0.6),), word=name, title=told
            )


def _out(start: Point, bearing_deg: float, far_m: float) -> Point:
    turn = radians(bearing_deg)
    return round(start[0] + far_m * sin(turn), 3), round(start[1] + far_m * cos(turn), 3)


def _units(yard: Yard, report: WindReport) -> Iterator[Shape]:
    units = {q.name: q for q in yard.quarters}
    for told in report.quarters:
        quarters = units[told.name]
        for side in told.sides:
            if side.open_m2 > 0:
                yield _stroke(quarters, side)
        middle = quarters.on_ground_m(quarters.width_mm / 2, quarters.depth_mm / 2)
        yield Shape(
            kind="word", points_m=(middle,), word=told.exposure_word, tone=_tone(told.exposure),
            title=_title(told),
        )  # fmt: skip


def _title(told: QuartersWind) -> str:
    frost = "" if told.frost is None else "; cold air can lie here on still nights"
    return f"{told.name}: {told.exposure:g} % of the open wind{frost}"


def _tone(exposure: float) -> Tone:
    return next(tone for limit, tone in TONES if exposure <= limit + 1e-9)


def _stroke(quarters: Quarters, side: WindySide) -> Shape:
    w, d, out = quarters.width_mm, quarters.depth_mm, mm_from_m(BESIDE_M)
    ends = {
        "front": ((0.0, -out), (w, -out)),
        "back": ((0.0, d + out), (w, d + out)),
        "left": ((-out, 0.0), (-out, d)),
        "right": ((w + out, 0.0), (w + out, d)),
    }[side.side]
    a, b = (quarters.on_ground_m(*end) for end in ends)
    told = f"{side.side}: {side.exposure:g} % of the open wind"
    if side.sheltered_by:
        told += ", sheltered by " + ", ".join(one.name for one in side.sheltered_by)
    return Shape(kind="line", points_m=(a, b), tone=_tone(side.exposure), title=told)
