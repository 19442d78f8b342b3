"""A shortage of rooms in the keeper's words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from mewswright.year.counting import Shortage
from mewswright.year.instance import Instance

FEW_ROOMS = 4  # are named one by one


@dataclass(frozen=True)
class Names:
    """What to call rooms and weeks.

    Args:
        room: Name of the room that a place is in.
        kind: Kind of room of a place, in the singular: loft.
        when: Words for the days from one week to another: from 7 June to 8 August 2027.
        long: Words for so many steps: 3 weeks.
    """

    room: Callable[[int], str]
    kind: Callable[[int], str]
    when: Callable[[int, int], str]
    long: Callable[[int], str]


def plain_names(instance: Instance, when: Callable[[int, int], str]) -> Names:
    """Names for an instance of which only the figures are known."""
    return Names(lambda p: instance.places[p].name, lambda _: "place", when, lambda n: f"{n} weeks")


def headline(instance: Instance, short: Shortage, names: Names) -> str:
    """Say in one sentence who needs what when, and how much there is of it."""
    who = listed([instance.units[u].name for u in short.units], "and")
    places = [min(p for p, c in enumerate(instance.cell_of) if c == room) for room in short.rooms]
    when = names.when(short.first, short.last)
    if not places:
        return f"{who} {_verb(short)} a place {when}; places that suit: none."
    kinds = sorted({names.kind(p) for p in places})
    of_kind = {kind: [names.room(p) for p in places if names.kind(p) == kind] for kind in kinds}
    rooms = "; ".join(f"{_plural(kind)} that suit: {_count(of_kind[kind])}" for kind in kinds)
    what = listed([f"{_article(kind)} {kind}" for kind in kinds], "or")
    one = f"{who} {_verb(short)} {what} {when}"
    need, there = names.long(short.needed), names.long(short.there)
    if short.why == "rooms":
        return f"{one}; {rooms}."
    if short.why == "moves":
        return (
            f"{one} and must move in that time, each time leaving one empty to be cleaned: {need} "
            f"in all, and there are {there}; {rooms}."
        )
    if short.why == "rest":
        return (
            f"{one}, {need} in all, and beside the rest that they need there are {there}; {rooms}."
        )
    return f"{one} to be loose for {need} in all, and there are {there}; {rooms}."


def _verb(short: Shortage) -> str:
    count = len(short.units)
    return "needs" if count == 1 else "both need" if count == 2 else "all need"


def _plural(kind: str) -> str:
    return f"{kind}s" if kind != "isolation" else "isolation quarters"


def _article(kind: str) -> str:
    return "" if kind == "isolation" else "an" if kind[0] in "aeiou" else "a"


def _count(names: Sequence[str]) -> str:
    rooms = list(dict.fromkeys(names))
    if len(names) > FEW_ROOMS or len(rooms) < len(names):
        return str(len(names))
    return f"{len(names)} ({', '.join(rooms)})"


def listed(names: Sequence[str], word: str) -> str:
    """Names as they are said: A, B and C."""
    said = [" ".join(name.split()) for name in names]
    if len(said) < 2:
        return "".join(said)
    return f"{', '.join(said[:-1])} {word} {said[-1]}"
