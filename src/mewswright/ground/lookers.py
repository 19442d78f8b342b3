"""Where a bird looks from, and the nearest thing that it sees.

Metres. A bird looks from each of its perches, a tethered one from the perch that it is tied to;
without a perch it looks from the middle of the floor.
"""

from collections.abc import Callable, Iterable, Sequence
from math import dist, hypot, inf

from mewswright.ground.distances import Edge, feature_edges, nearest_on_edge
from mewswright.ground.screens import Blocker, Eye
from mewswright.ground.sight import Body, in_the_way, sees
from mewswright.model.bird import Stay
from mewswright.model.place import Feature, Point

EYE_WITHOUT_PERCH_MM = 300.0
PERSON_EYE_M, DOG_EYE_M, PANE_M = 1.6, 0.8, 1.5  # judgements
# Height at which a thing is looked for. A window has its own where the file gives it.
WATCHED_M: dict[str, float] = {
    "road": PERSON_EYE_M, "lane": PERSON_EYE_M, "path": PERSON_EYE_M, "playground": PERSON_EYE_M,
    "dog_run": DOG_EYE_M, "kennel": DOG_EYE_M, "window": PANE_M,
}  # fmt: skip
STEP_M = 1.0  # between places that are tried along a thing
STANDS_IN_M = 0.3  # a window lies in its wall, and is not hidden by it

Sight = tuple[float, Eye, Eye]  # how far [m], and the two eyes


def places_of(body: Body, stay: Stay) -> tuple[tuple[str, Eye], ...]:
    """Where a bird looks from under a stay: the perch, blank for the floor, and the eye."""
    q = body.quarters
    spots = tuple(
        (p.name, body.eye(*p.at_mm, p.height_mm))
        for p in q.perches
        if stay.mode != "tethered" or stay.perch in (None, p.name)
    )
    return spots or (("", body.eye(q.width_mm / 2, q.depth_mm / 2, EYE_WITHOUT_PERCH_MM)),)


def nearest_sight(
    starts: Sequence[Eye],
    ends: Sequence[Eye],
    own: Sequence[Body],
    others: Callable[[], Iterable[Body]],
    screens: Sequence[Blocker],
    range_m: float = inf,
    level: bool = False,
) -> Sight | None:
    """Shortest clear line from some eyes to others.

    Args:
        starts: Eyes at one end.
        ends: Eyes at the other.
        own: The quarters of both ends: most lines end at their boards, so they are asked first.
        others: What else may stand between; asked once, and only where a line gets past the own.
        screens: What the ground puts between, from `feature_screens`.
        range_m: Longer lines do not count [m].
        level: True to measure on the ground, not along the line.

    Returns:
        Its length and its ends; None where no line is clear.
    """
    lines = sorted(
        (length_m, a, b)
        for a in starts
        for b in ends
        if (length_m := dist(a[:2], b[:2]) if level else dist(a, b)) <= range_m
    )
    near: tuple[tuple[Body, ...], tuple[Blocker, ...]] | None = None
    for length_m, a, b in lines:
        if any(body.stops(a, b) for body in own):
            continue
        if near is None:
            near = in_the_way(starts, ends, others(), screens)
        if sees(a, b, *near):
            return length_m, a, b
    return None


def clear_lines(
    starts: Sequence[Eye], ends: Sequence[Eye], bodies: Iterable[Body], screens: Iterable[Blocker]
) -> tuple[tuple[Eye, Eye], ...]:
    """Every clear line from some eyes to others."""
    near = in_the_way(starts, ends, bodies, screens)
    return tuple((a, b) for a in starts for b in ends if sees(a, b, *near))


def hidden_by(
    start: Eye, end: Eye, bodies: Iterable[Body], screens: Iterable[Blocker]
) -> tuple[str, ...]:
    """Names of what stands in one line, each once."""
    near, between = in_the_way((start,), (end,), bodies, screens)
    names = [body.quarters.name for body in near if body.stops(start, end)]
    names += [screen.of for screen in between if screen.stops(start, end)]
    return tuple(dict.fromkeys(names))


def spots_along(feature: Feature, eye: Eye, range_m: float) -> tuple[Point, ...]:
    """Places of a feature in range of an eye, nearest first.

    Of each edge the nearest, its ends, and one each metre to both sides of the nearest.
    """
    found = {p for edge in feature_edges(feature) for p in _steps(edge, eye, range_m)}
    return tuple(sorted(found, key=lambda p: (hypot(p[0] - eye[0], p[1] - eye[1]), p)))


def _steps(edge: Edge, eye: Eye, range_m: float) -> Iterable[Point]:
    near = nearest_on_edge(eye[:2], edge)
    away_m = hypot(near[0] - eye[0], near[1] - eye[1])
    if away_m > range_m:
        return
    yield near
    half_m = (range_m * range_m - away_m * away_m) ** 0.5
    for end in edge:
        long_m = hypot(end[0] - near[0], end[1] - near[1])
        if 0 < long_m <= half_m:
            yield end
        for i in range(1, int(min(long_m, half_m) / STEP_M) + 1):
            share = i * STEP_M / long_m
            yield near[0] + (end[0] - near[0]) * share, near[1] + (end[1] - near[1]) * share


def spots_of(feature: Feature, eye: Eye, range_m: float) -> tuple[Eye, ...]:
    """Those places at the height at which the feature is looked for."""
    height_m = WATCHED_M.get(feature.kind, PERSON_EYE_M)
    if feature.kind == "window" and feature.height_m:
        height_m = feature.height_m
    return tuple((*p, height_m) for p in spots_along(feature, eye, range_m))


def feature_in_sight(
    eyes: Sequence[Eye],
    feature: Feature,
    bodies: Sequence[Body],
    screens: Sequence[Blocker],
    range_m: float,
) -> Sight | None:
    """Nearest part of a feature that some eye sees, measured on the ground.

    It is looked for at the height of `WATCHED_M`; a window at the height that the file gives.
    What bears the feature's own name hides none of it.
    """
    others = [screen for screen in screens if screen.of != feature.name]
    best: Sight | None = None
    for eye in eyes:
        reach_m = range_m if best is None else min(range_m, best[0])
        spots = spots_of(feature, eye, reach_m)
        near = in_the_way((eye,), spots, bodies, others) if spots else ((), ())
        for spot in spots:
            away_m = hypot(spot[0] - eye[0], spot[1] - eye[1])
            if best is not None and away_m >= best[0]:
                break
            if sees(eye, short_of(eye, spot, feature), *near):
                best = away_m, eye, spot
                break
    return best


def short_of(eye: Eye, spot: Eye, feature: Feature) -> Eye:
    """Where a line to a feature ends: a window's before the wall that it lies in."""
    away_m = dist(eye, spot)
    if feature.kind != "window" or away_m <= STANDS_IN_M:
        return spot
    left = 1 - STANDS_IN_M / away_m
    x, y, z = (a + (b - a) * left for a, b in zip(eye, spot, strict=True))
    return x, y, z
