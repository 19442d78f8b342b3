"""How loud each named source is at a place: over the straight way, or over the walls in it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import dist, log10

from mewswright.ground.distances import nearest_point_m
from mewswright.ground.screens import Eye, Screen, upright_screens
from mewswright.ground.sound import barrier_loss_db, detour_m, detour_round_m, level_db
from mewswright.model.place import Feature

SOURCE_M = 1.0  # height that sound comes from: a dog's head, an engine
# A hedge hides, but lets sound by; crowns as well.
DULLS = ("wall", "fence", "building", "weighing_room", "hay", "straw", "log_stack")
RUNNING = ("road", "lane")  # a line of sources: a wall helps less against it


@dataclass(frozen=True)
class Heard:
    """One source at one place.

    Attributes:
        distance_m: Straight way.
        detour_m: How much longer the way over the wall is; None where no wall is in the way.
        loss_db: What that wall takes off.
        level_db: Level here; None where nobody has said how loud the source is.
    """

    distance_m: float
    detour_m: float | None
    loss_db: float
    level_db: float | None


@dataclass(frozen=True)
class Dulls:
    """What of the ground dulls sound: each feature with its upright screens."""

    by: tuple[tuple[Feature, tuple[Screen, ...]], ...]


def dulls(features: Iterable[Feature]) -> Dulls:
    """Walls, solid fences, buildings and stacks; hedges and crowns let sound by."""
    return Dulls(tuple((one, upright_screens((one,))) for one in features if one.kind in DULLS))


def heard(source: Feature, eye: Eye, between: Dulls) -> Heard:
    """How loud a source is at one place.

    Sound takes the easier way, over the top of a wall or round its end; of several walls the one
    that makes the longest detour counts alone.

    Args:
        source: The source; its nearest place sounds.
        eye: The place.
        between: What dulls, from `dulls`.
    """
    at: Eye = (*nearest_point_m(eye[:2], source), SOURCE_M)
    detours = [
        min(over, detour_round_m(at[:2], eye[:2], wall))
        for wall, screens in between.by
        if wall.name != source.name
        if (over := detour_m(at, eye, screens)) is not None
    ]
    longer = max(detours, default=None)
    loss = 0.0 if longer is None else barrier_loss_db(longer, running=source.kind in RUNNING)
    away = dist(eye, at)
    level = None if source.sound_db_1m is None else level_db(source.sound_db_1m, away) - loss
    return Heard(away, longer, loss, level)


def loudest(source: Feature, eyes: Sequence[Eye], between: Dulls) -> Heard:
    """The same at the loudest of some places; of a source of unknown level at the nearest."""
    every = [heard(source, eye, between) for eye in eyes]
    if source.sound_db_1m is None:
        return min(every, key=lambda one: one.distance_m)
    return max(every, key=lambda one: -1e9 if one.level_db is None else one.level_db)


def together_db(levels: Sequence[float]) -> float | None:
    """Level of several sources at once [dB]: their energies add up; None for none."""
    if not levels:
        return None
    return float(10 * log10(sum(10 ** (level / 10) for level in levels)))
