"""A plan of a year in days and names, and what there is to do for it: moves and cleanings.

Days are inclusive at both ends. Nothing here knows how the plan was found; a plan's JSON is read
back into it, so that a calendar, a chart or a new plan can be made of one that lies in a file.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal

Mode = Literal["loose", "tethered"]
DAY = timedelta(days=1)


@dataclass(frozen=True)
class PlannedStay:
    """One bird in one quarters, first and last day inclusive."""

    bird: str
    quarters: str
    mode: Mode
    starts_on: date
    ends_on: date
    perch: str | None = None
    isolated: bool = False

    @property
    def days(self) -> int:
        """Length [days]."""
        return (self.ends_on - self.starts_on).days + 1

    @property
    def where(self) -> tuple[str, Mode]:
        """The quarters, and whether the bird is tied there."""
        return self.quarters, self.mode


@dataclass(frozen=True)
class Span:
    """Days on which something holds: of quarters (cleaning, rest, closed) or a bird (a window)."""

    who: str
    kind: str  # "clean", "rest", "closed"; "moult", "breeding", "isolation"
    starts_on: date
    ends_on: date


MoveKind = Literal["move", "arrival", "departure", "mode"]


@dataclass(frozen=True)
class Move:
    """What is to be done with a bird, or with several that go the same way, on one day."""

    on: date
    kind: MoveKind
    birds: tuple[str, ...]
    was: tuple[str, Mode] | None
    now: tuple[str, Mode] | None

    @property
    def words(self) -> str:
        """What is to be done, in words."""
        who = told(self.birds)
        if self.was is None and self.now is not None:
            return f"{who} {_does(self.birds, 'arrives')}: {place_words(self.now)}"
        if self.now is None and self.was is not None:
            return f"{who} {_does(self.birds, 'leaves')} {self.was[0]}"
        assert self.was is not None
        assert self.now is not None
        if self.kind == "mode":
            return f"{who}: {self.now[1]} in {self.now[0]}"
        return f"{who}: {self.was[0]} to {place_words(self.now)}"


@dataclass(frozen=True)
class YearPlan:
    """A plan of a year.

    Args:
        yard: Name of the yard.
        starts_on: First day.
        ends_on: Last day.
        birds: Names, in the order in which they are shown.
        quarters: Names of the quarters, in the order in which they are shown.
        stays: Every stay.
        shut: Days on which quarters are empty on purpose: "clean", "rest", "closed".
        windows: Times of a bird that matter to where it lives: "moult", "breeding", "isolation".
        step_days: Moves are planned for every so many days from `starts_on` [days].
    """

    yard: str
    starts_on: date
    ends_on: date
    birds: tuple[str, ...]
    quarters: tuple[str, ...]
    stays: tuple[PlannedStay, ...]
    shut: tuple[Span, ...] = ()
    windows: tuple[Span, ...] = field(default=())
    step_days: int = 7

    def of_bird(self, bird: str) -> tuple[PlannedStay, ...]:
        """The stays of one bird, in order of time."""
        return tuple(
            sorted(
                (s for s in self.stays if s.bird == bird), key=lambda s: (s.starts_on, s.ends_on)
            )
        )

    @property
    def moves(self) -> tuple[Move, ...]:
        """Every move, arrival, departure and change between loose and tethered, by day."""
        alone = [move for bird in self.birds for move in self._moves_of(bird)]
        together: dict[tuple[date, MoveKind, object, object], list[Move]] = {}
        for move in alone:
            together.setdefault((move.on, move.kind, move.was, move.now), []).append(move)
        joined = (
            Move(moves[0].on, moves[0].kind, tuple(m.birds[0] for m in moves), moves[0].was,
                 moves[0].now)
            for moves in together.values()
        )  # fmt: skip
        return tuple(sorted(joined, key=lambda m: (m.on, self.birds.index(m.birds[0]))))

    def _moves_of(self, bird: str) -> Iterable[Move]:
        stays = self.of_bird(bird)
        if not stays:
            return
        if stays[0].starts_on > self.starts_on:
            yield Move(stays[0].starts_on, "arrival", (bird,), None, stays[0].where)
        for was, now in pairwise(stays):
            if was.ends_on + DAY < now.starts_on:  # away between the two
                yield Move(was.ends_on + DAY, "departure", (bird,), was.where, None)
                yield Move(now.starts_on, "arrival", (bird,), None, now.where)
            elif was.where != now.where:
                kind: MoveKind = "mode" if was.quarters == now.quarters else "move"
                yield Move(now.starts_on, kind, (bird,), was.where, now.where)
        if stays[-1].ends_on < self.ends_on:
            yield Move(stays[-1].ends_on + DAY, "departure", (bird,), stays[-1].where, None)


def told(names: Iterable[str]) -> str:
    """Names in a row: "Tansy", "Tansy and Rook", "Tansy, Rook and Moth"."""
    listed = list(names)
    return " and ".join(filter(None, (", ".join(listed[:-1]), *listed[-1:])))


def place_words(where: tuple[str, str]) -> str:
    """Quarters, and that the bird is tied there where it is."""
    return f"{where[0]}, tethered" if where[1] == "tethered" else where[0]


def day_words(day: date) -> str:
    """A day as a person writes it: 12 May 2027."""
    return f"{day.day} {day:%B %Y}"


def _does(names: tuple[str, ...], verb: str) -> str:
    if len(names) == 1:
        return verb
    return {"arrives": "arrive", "leaves": "leave"}[verb]


def joined(stays: Iterable[PlannedStay]) -> tuple[PlannedStay, ...]:
    """Stays with those that follow each other in the same place made one."""
    runs: list[PlannedStay] = []
    for stay in sorted(stays, key=lambda s: (s.bird, s.starts_on)):
        last = runs[-1] if runs else None
        if (
            last is not None
            and replace(last, starts_on=stay.starts_on, ends_on=stay.ends_on) == stay
            and last.ends_on + DAY >= stay.starts_on
        ):
            ends_on = max(last.ends_on, stay.ends_on)
            runs[-1] = replace(last, ends_on=ends_on)
        else:
            runs.append(stay)
    return tuple(runs)
