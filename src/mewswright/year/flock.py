"""Who moves with whom, and when: the units of a plan.

Birds that live together move as one. Over a plan a bird may pass from one unit to another: a pair
is made and parted, a sick bird leaves its cast. A unit is a set of birds over steps on end.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from mewswright.model.bird import Bird, Stay
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.year.steps import Steps


@dataclass(frozen=True)
class Group:
    """Birds that live as one over some steps.

    Args:
        birds: Their names, in the yard file's order.
        steps: When.
        why: What makes them a group, in words.
        named: True where the keeper names the days; such a group goes before a cast.
    """

    birds: tuple[str, ...]
    steps: range
    why: str
    named: bool = False


@dataclass(frozen=True)
class Member:
    """A unit: birds that move as one, from one step to before another; or one that is sick."""

    birds: tuple[str, ...]
    first: int
    after: int
    sick: bool = False


def here(bird: Bird, steps: Steps) -> range:
    """Steps in which a bird is in the yard, if only for a part of one."""
    return steps.touched(bird.arrives_on or date.min, bird.leaves_on or date.max)


def home_on(yard: Yard, bird: str, day: date) -> Stay | None:
    """The stay under which a bird lives day and night on a day; None where the file has none.

    Of several at once the one that began last counts, then the first in the file.
    """
    found = [
        stay
        for stay in yard.stay
        if stay.bird == bird
        and not stay.daytime_only
        and (stay.starts_on or date.min) <= day <= (stay.ends_on or date.max)
        and yard.quarters_named(stay.quarters).kind != "pitch"
    ]
    return max(found, key=lambda stay: stay.starts_on or date.min, default=None)


def home_before(yard: Yard, bird: Bird, start: date) -> Stay | None:
    """Where a bird lives as a plan begins: the day before, or on the day itself."""
    if bird.arrives_on is not None and bird.arrives_on >= start:
        return None
    eve = start - timedelta(days=1)
    return home_on(yard, bird.name, eve) or home_on(yard, bird.name, start)


def are_companions(one: Bird, other: Bird) -> bool:
    """The yard file says of one of them that they live in peace."""
    return one.name in other.companions or other.name in one.companions


def casts(yard: Yard, steps: Steps) -> tuple[Group, ...]:
    """Companions that live loose in one place as the plan begins, or that arrive on one day."""
    met: dict[object, list[Bird]] = {}
    for bird in yard.bird:
        if not here(bird, steps):
            continue
        home = home_before(yard, bird, steps.start)
        if home is not None and home.mode == "loose":
            met.setdefault(home.quarters, []).append(bird)
        elif home is None and bird.arrives_on is not None and bird.arrives_on >= steps.start:
            met.setdefault(bird.arrives_on, []).append(bird)
    found = []
    for where, birds in met.items():
        for friends in _circles(birds):
            if len(friends) > 1:
                why = (
                    f"they live together in {where}"
                    if isinstance(where, str)
                    else (f"they arrive together on {where}")
                )
                names = tuple(b.name for b in friends)
                found.append(Group(names, range(steps.count), why))
    return tuple(found)


def _circles(birds: Sequence[Bird]) -> list[list[Bird]]:
    """Companions, and companions of companions."""
    circles: list[list[Bird]] = []
    for bird in birds:
        joined = [c for c in circles if any(are_companions(bird, other) for other in c)]
        circles = [c for c in circles if c not in joined]
        circles.append([*(b for c in joined for b in c), bird])
    order = {b.name: i for i, b in enumerate(birds)}
    return [sorted(circle, key=lambda b: order[b.name]) for circle in circles]


def members(
    yard: Yard,
    steps: Steps,
    groups: Iterable[Group],
    alone: Iterable[tuple[str, range]],
    isolated: dict[str, range],
) -> tuple[Member, ...]:
    """Cut the plan into units.

    Args:
        yard: The yard.
        steps: The plan.
        groups: Who lives together when; the casts come first.
        alone: Steps in which a bird is alone: the sick.
        isolated: Steps of isolation of newcomers; those of one day that are of one group share it.

    Raises:
        Problem: If two named groups claim a bird for the same step.
    """
    present = {b.name: here(b, steps) for b in yard.bird}
    arrival = {b.name: b.arrives_on for b in yard.bird}
    of: list[dict[str, Group]] = [{} for _ in range(steps.count)]
    for group in groups:
        for step in group.steps:
            for name in group.birds:
                old = of[step].get(name)
                if old is not None and old.named and old.birds != group.birds:
                    raise Problem(
                        f"{name} is to live with {_and(old.birds, name)} ({old.why}) and with "
                        f"{_and(group.birds, name)} ({group.why}) at once: change the days of one"
                    )
                of[step][name] = group
    kept_alone = {(name, step) for name, span in alone for step in span}

    def mates(name: str, step: int) -> tuple[tuple[str, ...], bool] | None:
        if step not in present[name]:
            return None
        if (name, step) in kept_alone:
            return (name,), True
        group = of[step].get(name)
        new = step in isolated.get(name, range(0))
        found = tuple(
            other
            for other in (group.birds if group else (name,))
            if step in present[other]
            and (other == name or of[step].get(other) is group)
            and (other, step) not in kept_alone
            and (step in isolated.get(other, range(0))) == new
            and (not new or arrival[other] == arrival[name])
        )
        return found, False

    found = []
    for name in present:
        begun, last = 0, None
        for step in range(steps.count + 1):
            now = mates(name, step) if step < steps.count else None
            if now != last:
                if last is not None and last[0][0] == name:
                    found.append(Member(last[0], begun, step, last[1]))
                begun, last = step, now
    order = list(present)
    return tuple(sorted(found, key=lambda m: (m.first, order.index(m.birds[0]))))


def _and(birds: Sequence[str], but: str) -> str:
    return " and ".join(b for b in birds if b != but)
