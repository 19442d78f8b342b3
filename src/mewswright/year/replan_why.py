"""Why a bird is not where the old plan had it: found by comparing, and where cheap by asking."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from mewswright.year.instance import Instance, Rows
from mewswright.year.plan import YearPlan, day_words, told
from mewswright.year.replan import Anew, place_of

Feasible = Callable[[Instance], Literal["plan", "none", "unknown"]]
Where = tuple[str, str]
MOST_ASKED = 3  # questions to the solver in one report: it is asked where nothing else tells


@dataclass(frozen=True)
class Cause:
    """A change whose cause is looked for."""

    bird: str
    first: date
    last: date
    was: Where | None
    now: Where | None


@dataclass
class Why:
    """Finds causes.

    Args:
        asked: The year that was planned anew.
        new: The new plan.
        rows: The same in the abstract.
        changes: All changes, for one may be the cause of another.
        feasible: Tells whether there is a plan; None = nothing is asked.
    """

    asked: Anew
    new: YearPlan
    rows: Rows
    changes: tuple[Cause, ...]
    feasible: Feasible | None = None
    _asked: int = 0

    def of(self, change: Cause) -> str:
        """The cause of a change, in a sentence."""
        return (
            self.came_or_went(change)
            or self.shut(change)
            or self.unsuitable(change)
            or self.taken(change)
            or self.cleaned(change)
            or self.parted(change)
            or self.impossible(change)
            or self.fewer(change)
        )

    def goes(self, change: Cause) -> str:
        """What the bird does instead."""
        assert change.now is not None
        quarters, mode = change.now
        if change.was is not None and change.was[0] == quarters:
            return f"{change.bird} is {mode} there"
        return f"{change.bird} {'is tied in' if mode == 'tethered' else 'goes to'} {quarters}"

    def came_or_went(self, change: Cause) -> str:
        """A bird that is gone, that arrives, or whose days in the yard are others now."""
        if change.now is None:
            return f"{change.bird} is gone from {day_words(change.first)}"
        if change.was is None:
            earlier = [
                other for other in self.changes
                if other.bird == change.bird and other.was is None and other.first < change.first
            ]  # fmt: skip
            if earlier:
                return (
                    f"{change.bird} is new here since {day_words(earlier[0].first)}: "
                    f"{self.goes(change)}"
                )
            return f"{change.bird} arrives on {day_words(change.first)}: {self.goes(change)}"
        return ""

    def shut(self, change: Cause) -> str:
        """The old quarters cannot be used."""
        assert change.was is not None
        yard, name = self.asked.problem.yard, change.was[0]
        if name not in {q.name for q in yard.quarters}:
            return f"there is no {name} any more: {self.goes(change)}"
        for span in yard.quarters_named(name).year.closed:
            if span.starts_on <= change.last and span.ends_on >= change.first:
                to = (
                    ""
                    if span.ends_on >= self.asked.old.ends_on
                    else f" to {day_words(span.ends_on)}"
                )
                note = f" ({span.note})" if span.note else ""
                return (
                    f"{name} is closed from {day_words(span.starts_on)}{to}{note}: "
                    f"{self.goes(change)}"
                )  # fmt: skip
        return ""

    def unsuitable(self, change: Cause) -> str:
        """The bird may not live there any more, as the yard file now is."""
        laid = self.asked.problem.laid()
        step = self.step(change)
        for u, member in enumerate(laid.members):
            if change.bird in member.birds and member.first <= step < member.after:
                unit = laid.instance.units[u]
                homes = [p for p, s in enumerate(laid.places) if (s.quarters, s.mode) == change.was]
                entry = unit.entry.places if unit.entry else frozenset()
                isolated = unit.entry and step < unit.arrival + unit.entry.weeks
                allowed = entry if isolated else unit.suitable
                if not any(p in allowed for p in homes):
                    apart = "while kept apart" if isolated else "as the yard file now is"
                    assert change.was is not None
                    return (
                        f"{told(member.birds)} may not live in {change.was[0]}, "
                        f"{change.was[1]}, {apart}: {self.goes(change)}"
                    )
        return ""

    def taken(self, change: Cause) -> str:
        """Others live there now; where they were moved too, that is why."""
        assert change.was is not None
        others = [
            other
            for other in self.changes
            if other.bird != change.bird
            and other.now is not None
            and other.now[0] == change.was[0]
            and other.first <= change.last
            and other.last >= change.first
        ]
        if not others:
            return ""
        names = list(dict.fromkeys(other.bird for other in others))
        first = min(others, key=lambda other: other.first)
        since = "already" if first.first < change.first else f"from {day_words(first.first)}"
        return f"{change.was[0]} is needed for {told(names)} {since}: {self.goes(change)}"

    def cleaned(self, change: Cause) -> str:
        """The old quarters are being cleaned after somebody else, who left on another day."""
        assert change.was is not None
        name = change.was[0]
        before = [
            s for s in self.new.stays
            if s.quarters == name and s.bird != change.bird and s.ends_on < change.first
        ]  # fmt: skip
        last = max(before, key=lambda s: s.ends_on, default=None)
        if last is None:
            return ""
        yard = self.asked.problem.yard
        days = yard.quarters_named(name).year.clean_days
        days = yard.year.clean_days if days is None else days
        if (change.first - last.ends_on).days > days:
            return ""
        return f"{name} is cleaned after {last.bird}: {self.goes(change)}"

    def parted(self, change: Cause) -> str:
        """A mate that is gone, or goes elsewhere."""
        old = self.asked.old
        mates = [
            bird
            for bird in old.birds
            if bird != change.bird
            and (stay := place_of(old, bird, change.first)) is not None
            and change.was is not None
            and stay.quarters == change.was[0]
        ]
        gone = [bird for bird in mates if bird in self.asked.happened.gone]
        if gone:
            return f"{told(gone)}, who lived with {change.bird}, is gone: {self.goes(change)}"
        return ""

    def impossible(self, change: Cause) -> str:
        """With the bird where it was no plan keeps every rule, says the solver."""
        if self.feasible is None or self._asked >= MOST_ASKED or change.was is None:
            return ""
        instance = self.kept(change)
        if instance is None:
            return ""
        self._asked += 1
        if self.feasible(instance) != "none":
            return ""
        return (
            f"with {change.bird} in {change.was[0]} on these days no plan keeps every rule "
            f"(proven): {self.goes(change)}"
        )

    def fewer(self, change: Cause) -> str:
        """Nothing forbids the old stay: others would have to change more, or it costs more."""
        what = self.happened()
        return f"{what} and so the fewest stays change: {self.goes(change)}"

    def happened(self) -> str:
        """What happened, in a few words."""
        h = self.asked.happened
        parts = [f"{told(h.gone)} {'is' if len(h.gone) == 1 else 'are'} gone"] if h.gone else []
        parts += [f"{b.quarters} is closed" for b in h.broken]
        parts += [f"{bird.name} arrives" for bird in h.arrives]
        return told(parts) if parts else f"planned anew from {day_words(h.on)}"

    def step(self, change: Cause) -> int:
        """The step in which a change begins."""
        return max(0, self.asked.problem.calendar.of(change.first))

    def kept(self, change: Cause) -> Instance | None:
        """The year in which the bird stays where it was; None where it has no place for that."""
        problem = self.asked.problem
        laid = problem.laid()
        steps = problem.calendar.touched(change.first, change.last)
        homes = [p for p, s in enumerate(laid.places) if (s.quarters, s.mode) == change.was]
        units = list(laid.instance.units)
        touched = False
        for u, member in enumerate(laid.members):
            mine = [s for s in steps if change.bird in member.birds
                    and member.first <= s < member.after]  # fmt: skip
            home = next((p for p in homes if p in units[u].suitable), None)
            if mine and home is not None:
                fixed = (*units[u].fixed, *((s, home) for s in mine))
                units[u] = replace(units[u], fixed=fixed)
                touched = True
        return replace(laid.instance, units=tuple(units)) if touched else None
