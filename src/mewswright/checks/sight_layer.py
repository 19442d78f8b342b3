"""The layer of one bird: the ground in its view, a line to each thing seen, and who sees it."""

from collections.abc import Iterator

from mewswright.checks.sight_told import Looker, SeenThing, SightReport
from mewswright.ground.layer import Layer, Shape, Tone, areas
from mewswright.ground.screens import feature_screens
from mewswright.ground.sight import Body
from mewswright.ground.visible import ground_of, visible_ground
from mewswright.model.yard import Yard

REACH_M = 40.0
BREAST_M = 1.0  # of what is looked for on the ground: a dog's back, a child


def sight_layer(yard: Yard, report: SightReport, bird: str) -> Layer:
    """What a bird sees, and who sees it.

    Args:
        yard: The yard.
        report: Who sees whom in the whole of it.
        bird: Its name.
    """
    looks = [one for one in report.birds if one.bird == bird]
    seen = [one for one in report.sees if one.bird == bird]
    watched = [one for one in report.sees if one.target == bird and one.seen and not one.together]
    return Layer(
        name="sight",
        title=f"What {bird} sees, and who sees it",
        shapes=(*_ground(yard, looks), *_lines(seen), *_watchers(watched)),
        legend=(
            ("good", f"ground over which {bird} sees a thing {BREAST_M:g} m high, leaves or not"),
            ("plain", "it sees this bird, lane, run, window or place of food"),
            ("bad", "it sees what it fears"),
            ("quiet", "seen only while trees and hedges are bare"),
            ("mind", f"this bird sees {bird}"),
        ),
        how=f"{report.method}; ground to {REACH_M:g} m, bearings 2 degrees apart",
        sure=report.sure,
    )


def _ground(yard: Yard, looks: list[Looker]) -> Iterator[Shape]:
    bodies = [Body(q) for q in yard.quarters]
    eyes = tuple(dict.fromkeys(eye for look in looks for eye in look.eyes_m))
    if not eyes:
        return
    found = visible_ground(eyes, bodies, feature_screens(yard.feature), BREAST_M, REACH_M)
    shown = found.intersection(ground_of(yard).buffer(8.0))
    yield from areas(shown, "good", "in sight")


def _lines(seen: list[SeenThing]) -> Iterator[Shape]:
    for one in seen:
        if one.eye_m is None or one.spot_m is None:
            continue
        tone: Tone = "bad" if one.forbidden else "plain" if len(one.months) == 12 else "quiet"
        told = f"{one.distance_m:.1f} m" if one.distance_m is not None else ""
        yield Shape(
            kind="arrow", points_m=(one.eye_m[:2], one.spot_m[:2]), tone=tone,
            word=one.target if one.kind in ("bird", "window") else "",
            title=f"{one.target}, {told}{': ' + one.why if one.why else ''}",
        )  # fmt: skip


def _watchers(watched: list[SeenThing]) -> Iterator[Shape]:
    """An arrow from each bird that sees this one; it starts at the watcher and ends half way."""
    for one in watched:
        if one.eye_m is None or one.spot_m is None:
            continue
        (ax, ay), (bx, by) = one.eye_m[:2], one.spot_m[:2]
        half = (round((ax + bx) / 2, 3), round((ay + by) / 2, 3))
        feared = ", which it fears" if one.forbidden else ""
        yield Shape(
            kind="arrow", points_m=((ax, ay), half), tone="mind",
            title=f"{one.bird} in {one.quarters} sees {one.target}{feared}, {one.distance_m:.1f} m",
        )  # fmt: skip
