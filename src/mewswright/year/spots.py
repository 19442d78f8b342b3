"""The places of a yard in which a bird may live through the night: quarters, and how it is kept.

A pitch is for the day and holds nobody overnight; quarters that are not built hold nobody.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.year.flock import home_before
from mewswright.year.suits import Mode, serves

Use = Literal["home", "newcomer", "sick"]


@dataclass(frozen=True)
class Spot:
    """One way to live in quarters.

    Args:
        quarters: Their name.
        mode: Loose or tethered.
        use: A home; or kept apart as a newcomer, or as a sick bird.
        stand: Perch of a bird that is tied beside others; None where it lives there alone.
        cell: Number of the room; places of one room hold one unit at a time between them.
    """

    quarters: str
    mode: Mode
    use: Use
    stand: str | None
    cell: int

    def __str__(self) -> str:
        """Name it as a keeper would."""
        apart = {"home": "", "newcomer": ", as a newcomer", "sick": ", sick"}[self.use]
        stand = f" at {self.stand}" if self.stand else ""
        return f"{self.quarters}, {self.mode}{stand}{apart}"


def spots(yard: Yard, start: date, sick: bool) -> tuple[Spot, ...]:
    """Every place of a yard.

    Args:
        yard: The yard.
        start: First day of the plan: the ways in which quarters are used then stay open.
        sick: Whether places for the sick are wanted.
    """
    found: list[Spot] = []
    cell = 0
    for quarters in yard.quarters:
        if quarters.kind == "pitch" or not quarters.built:
            continue
        stands = stands_of(yard, quarters, start)
        if len(stands) > 1:
            for stand in stands:
                found.append(Spot(quarters.name, "tethered", "home", stand, cell))
                cell += 1
            continue
        found += _alone_in(yard, quarters, start, cell, sick)
        cell += 1
    return tuple(found)


def _alone_in(yard: Yard, quarters: Quarters, start: date, cell: int, sick: bool) -> Iterator[Spot]:
    """Places of quarters that hold one unit at a time."""
    used = {
        home.mode
        for bird in yard.bird
        if (home := home_before(yard, bird, start)) and home.quarters == quarters.name
    }
    modes: list[Mode] = [m for m in ("loose", "tethered") if serves(quarters, m) or m in used]
    for mode in modes:
        if quarters.kind != "isolation":
            yield Spot(quarters.name, mode, "home", None, cell)
            if kept_apart(yard, quarters.name):
                yield Spot(quarters.name, mode, "newcomer", None, cell)
                if sick:
                    yield Spot(quarters.name, mode, "sick", None, cell)
        else:
            yield Spot(quarters.name, mode, "newcomer", None, cell)
            if sick:
                yield Spot(quarters.name, mode, "sick", None, cell)


def kept_apart(yard: Yard, quarters: str) -> bool:
    """The yard file keeps a newcomer or a sick bird apart in quarters not built for it."""
    return any(stay.isolated for stay in yard.stays_in(quarters))


def stands_of(yard: Yard, quarters: Quarters, start: date) -> tuple[str, ...]:
    """Perches to which as many birds may be tied at once; none where one bird lives there.

    Without a word of the keeper's it is as many as stand there as the plan begins, each at a perch
    that its stay names.
    """
    now = [
        home.perch
        for bird in yard.bird
        if (home := home_before(yard, bird, start))
        and home.quarters == quarters.name
        and home.mode == "tethered"
        and home.perch is not None
    ]
    taken = tuple(dict.fromkeys(now))
    wanted = quarters.year.stands
    if wanted is None:
        return taken if len(taken) > 1 else ()
    rest = (p.name for p in quarters.perches if p.name not in taken)
    return (*taken, *rest)[:wanted] if wanted > 1 else ()
