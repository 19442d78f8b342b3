"""Changes that might make a plan possible without giving up a whole rule.

A newcomer that comes later, a quiet time that is shorter, one room more: each is a rule of its
own ("it does not come later") that is left out like any other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from mewswright.year.ask import Problem, RuleLike
from mewswright.year.instance import Instance, Unit
from mewswright.year.more import like, with_rooms
from mewswright.year.rooms import rooms_of

STEPS = (1, 2, 4, 8, 12)  # weeks
# How dear, against the middle price of what a keeper might give up: judgements. A new room is
# dearer than most wishes; a date that moves a little is cheaper than a wish given up.
LATER, LATER_WEEK, ROOM = 0.5, 0.1, 6.0
SHORTER, SHORTER_ALL = 0.2, 0.7  # of the price of a quiet time
PLAIN = 20  # where nothing has a price


@dataclass(frozen=True)
class Change:
    """A change, as a rule that says that it is not made.

    Args:
        key: What it is called.
        says: The change, in words.
        kind: Always the same: no wish of the keeper's, nor a fact.
        price: How dear it is.
        chain: Changes of one chain are steps of one change: the greatest one holds.
        unit: The unit that it is about, by its name; None where it is about all.
        made: Gives the year with the change.
    """

    key: str
    says: str
    price: int
    chain: str
    unit: str | None
    made: Callable[[Instance], Instance]
    kind: str = "change"


class Widened:
    """A problem with its changes among its rules."""

    def __init__(self, problem: Problem, changes: tuple[Change, ...]) -> None:
        """Add changes to a problem.

        Args:
            problem: Its rules.
            changes: What may be changed.
        """
        self.problem, self.changes = problem, changes
        self.rules: tuple[RuleLike, ...] = (*problem.rules, *changes)

    def instance(self, without: frozenset[str] = frozenset()) -> Instance:
        """The year without some rules, and with the changes whose rules are left out."""
        found = self.problem.instance(without)
        made: dict[str, Change] = {}
        for change in self.changes:  # greater steps come later
            if change.key in without:
                made[change.chain] = change
        for change in made.values():
            found = change.made(found)
        return found


def changes_of(
    problem: Problem, kinds: Mapping[str, tuple[int, ...]], step_days: int = 7
) -> tuple[Change, ...]:
    """All changes that could be asked for.

    Args:
        problem: Its rules.
        kinds: Rooms of which one more could be built: what it is called, and its places.
        step_days: Length of a step of the plan [days].
    """
    steps = tuple(dict.fromkeys(weeks * 7 // step_days for weeks in STEPS))
    whole = problem.instance()
    prices = [rule.price for rule in problem.rules if rule.price is not None]
    middle = median(prices) if prices else PLAIN
    found: list[Change] = []
    kin = {u for pair in whole.kin for u in pair}
    for u, unit in enumerate(whole.units):
        if u not in kin:  # who comes from another unit does not come to the yard
            found += _later(whole, unit, middle, steps, step_days)
        for nth, span in enumerate(unit.undisturbed):
            found += _shorter(unit, nth, span, middle, steps, step_days)
    for kind, places in kinds.items():
        found.append(
            Change(
                f"more:{kind}", f"build one more {kind}", max(1, round(middle * ROOM)),
                f"more:{kind}", None, _one_more(places),
            )
        )  # fmt: skip
    return tuple(found)


def sorts_of_rooms(instance: Instance) -> dict[str, tuple[int, ...]]:
    """Rooms of which another could help: of those that suit the same units, one."""
    rooms, seen = rooms_of(instance), dict[object, str]()
    found = {}
    for places in rooms.places:
        suits = frozenset(
            (u, instance.places[p].tethered)
            for p in places
            for u, unit in enumerate(instance.units)
            if p in unit.suitable or (unit.entry is not None and p in unit.entry.places)
        )
        if suits and suits not in seen:
            name = f"room like {instance.places[places[0]].name}"
            seen[suits] = name
            found[name] = places
    return found


def _one_more(places: tuple[int, ...]) -> Callable[[Instance], Instance]:
    return lambda instance: with_rooms(instance, [like(instance, places)])


def _changed(unit: Unit, change: Callable[[Unit], Unit]) -> Callable[[Instance], Instance]:
    """Change a unit wherever it is among the units."""
    who = unit.name, unit.arrival
    return lambda instance: replace(
        instance,
        units=tuple(
            change(one) if (one.name, one.arrival) == who else one for one in instance.units
        ),
    )


def _weeks(steps: int, step_days: int) -> str:
    weeks = steps * step_days / 7
    return "1 week" if weeks == 1 else f"{weeks:g} weeks"


def _later(
    whole: Instance, unit: Unit, middle: float, steps: Sequence[int], step_days: int
) -> Iterator[Change]:
    if unit.arrival == 0:
        return
    end = whole.weeks if unit.departure is None else unit.departure
    for step in steps:
        arrival = unit.arrival + step
        if arrival >= end:
            return
        price = middle * (LATER + LATER_WEEK * step * step_days / 7)
        yield Change(
            f"later:{unit.name}:{step}", f"let {unit.name} come {_weeks(step, step_days)} later",
            max(1, round(price)), f"later:{unit.name}", unit.name,
            _changed(unit, _arriving(arrival)),
        )  # fmt: skip


def _arriving(week: int) -> Callable[[Unit], Unit]:
    return lambda unit: replace(unit, arrival=week)


def _shorter(
    unit: Unit,
    nth: int,
    span: tuple[int, int],
    middle: float,
    steps: Sequence[int],
    step_days: int,
) -> Iterator[Change]:
    first, last = span
    weeks = last - first + 1
    for step in steps:
        if step >= weeks:
            return
        price = max(1, round(middle * (SHORTER + SHORTER_ALL * step / weeks)))
        for word, kept in (("sooner", (first, last - step)), ("late", (first + step, last))):
            what = (
                f"end {unit.name}'s quiet time {_weeks(step, step_days)} sooner"
                if word == "sooner"
                else f"begin {unit.name}'s quiet time {_weeks(step, step_days)} later"
            )
            chain = f"{word}:{unit.name}:{nth}"
            yield Change(
                f"{chain}:{step}", what, price, chain, unit.name,
                _changed(unit, _shortened(span, kept)),
            )  # fmt: skip


def _shortened(span: tuple[int, int], kept: tuple[int, int]) -> Callable[[Unit], Unit]:
    """Shorten a quiet time, and what is barred for as long."""

    def shortened(unit: Unit) -> Unit:
        return replace(
            unit,
            undisturbed=tuple(kept if one == span else one for one in unit.undisturbed),
            barred=tuple(
                (*kept, places) if (first, last) == span else (first, last, places)
                for first, last, places in unit.barred
            ),
        )

    return shortened
