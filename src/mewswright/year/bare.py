"""A bare instance as a list of rules, each of which can be left out to see what it was worth.

A yard's own wishes and facts come from `problem.py`; this is for instances of which only the
figures are known, such as those that measure the solver. Weeks are counted as in the instance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from mewswright.year.instance import Instance, Place, Unit
from mewswright.year.rooms import weeks_in_words

Kind = Literal["wish", "fact", "standard"]
# How dear each is to give up, against each other: judgements for instances without a keeper.
PRICES: dict[str, int] = {
    "shortest": 10, "calm": 15, "due": 15, "rest": 20, "longest": 20, "barred": 20, "clean": 25,
    "apart": 30, "sight": 30, "fixed": 30, "closed": 40, "free": 50, "tether": 50,
    "isolation": 60,
}  # fmt: skip
KINDS: dict[str, Kind] = {
    "closed": "fact", "clean": "standard", "isolation": "standard", "free": "standard",
    "tether": "standard", "due": "standard",
}  # fmt: skip


@dataclass(frozen=True)
class Rule:
    """One wish or fact.

    Args:
        key: What it is called, the same for good.
        says: It, in words.
        kind: What it is.
        price: How dear it is to give up; None where it cannot be.
    """

    key: str
    says: str
    kind: Kind
    price: int | None


class Bare:
    """The rules of an instance, and the instance without some of them."""

    def __init__(self, instance: Instance) -> None:
        """List the rules.

        Args:
            instance: With all of them.
        """
        self.whole = instance
        self.names = _each_once([unit.name for unit in instance.units])
        self.rooms = _each_once([place.name for place in instance.places])
        self.units = tuple((name,) for name in self.names)
        self.rules = tuple(
            Rule(f"{what}:{of}", says, KINDS.get(what, "wish"), PRICES.get(what))
            if what != "bird"
            else Rule(f"bird:{of}", says, "fact", None)
            for what, of, says in self._said()
        )

    def when(self, first: int, last: int) -> str:
        """Some weeks in words."""
        return weeks_in_words(range(first, last + 1))

    def _said(self) -> Iterator[tuple[str, str, str]]:
        yield from self._said_of_all()
        for name, unit in zip(self.names, self.whole.units, strict=True):
            only = ", ".join(self.rooms[p] for p in sorted(unit.suitable)) or "no place"
            yield "bird", name, f"{name} is to be housed, in {only}"
            for k, (first, last) in enumerate(unit.undisturbed):
                yield (
                    "calm",
                    f"{name}:{k}",
                    f"{name} stays in one place in {self.when(first, last)}",
                )
            for k, (first, last, barred) in enumerate(unit.barred):
                names = ", ".join(self.rooms[p] for p in sorted(barred))
                yield "barred", f"{name}:{k}", f"{name} not in {names} in {self.when(first, last)}"
            if unit.entry is not None:
                names = " or ".join(self.rooms[p] for p in sorted(unit.entry.places))
                yield (
                    "isolation",
                    name,
                    f"{name} is isolated for {unit.entry.weeks} weeks in {names}",
                )
            for week, p in unit.fixed:
                yield "fixed", f"{name}:{week}", f"{name} is in {self.rooms[p]} in week {week}"
            if unit.tether_most is not None:
                yield "tether", name, f"{name} is tethered {unit.tether_most} weeks on end at most"
            if unit.free_least:
                yield "free", name, f"{name} is loose for {unit.free_least} weeks or more"
        for name, place in zip(self.rooms, self.whole.places, strict=True):
            if place.rest_weeks:
                yield "rest", name, f"{name} lies empty {place.rest_weeks} weeks in a row"
            if place.closed:
                yield "closed", name, f"{name} is closed in {weeks_in_words(place.closed)}"
            if place.most_weeks is not None:
                yield "due", name, f"{name} is cleaned after {place.most_weeks} weeks at the latest"
        for k, rule in enumerate(self.whole.apart):
            names = ", ".join(self.names[u] for u in sorted(rule.units))
            when = self.when(rule.first_week, rule.last_week)
            yield "apart", str(k), f"{names} are not side by side in {when}"
        for k, sight in enumerate(self.whole.sights):
            one, other = (
                ", ".join(self.names[u] for u in sorted(units))
                for units in (sight.afraid, sight.feared)
            )
            when = self.when(sight.first_week, sight.last_week)
            yield "sight", str(k), f"{one} not in sight of {other} in {when}"

    def _said_of_all(self) -> Iterator[tuple[str, str, str]]:
        """Figures that are the same for many are one rule."""
        for weeks in sorted({unit.max_stay for unit in self.whole.units}):
            if weeks < self.whole.weeks:
                yield "longest", str(weeks), f"who has to move after {weeks} weeks moves"
        for weeks in sorted({unit.min_stay for unit in self.whole.units} - {1}):
            yield "shortest", str(weeks), f"who is to stay {weeks} weeks or more stays so long"
        for weeks in sorted({place.clean_weeks for place in self.whole.places} - {0}):
            yield "clean", str(weeks), f"places are left empty {weeks} weeks to be cleaned"

    def instance(self, without: frozenset[str] = frozenset()) -> Instance:
        """The instance without some rules.

        Args:
            without: Keys of rules; a bird that need not be housed is left out.
        """
        whole = self.whole
        kept = [u for u, name in enumerate(self.names) if f"bird:{name}" not in without]
        new = {u: k for k, u in enumerate(kept)}
        places = tuple(
            self._place(place, name, without)
            for name, place in zip(self.rooms, whole.places, strict=True)
        )
        return replace(
            whole,
            places=places,
            units=tuple(self._unit(whole.units[u], self.names[u], places, without) for u in kept),
            apart=tuple(
                replace(rule, units=_renamed(rule.units, new))
                for k, rule in enumerate(whole.apart)
                if f"apart:{k}" not in without
            ),
            sights=tuple(
                replace(s, afraid=_renamed(s.afraid, new), feared=_renamed(s.feared, new))
                for k, s in enumerate(whole.sights)
                if f"sight:{k}" not in without
            ),
            kin=frozenset((new[a], new[b]) for a, b in whole.kin if a in new and b in new),
            extras=replace(whole.extras, sharing=_renamed(whole.extras.sharing, new)),
        )

    def _place(self, place: Place, name: str, without: frozenset[str]) -> Place:
        return replace(
            place,
            clean_weeks=0 if f"clean:{place.clean_weeks}" in without else place.clean_weeks,
            rest_weeks=0 if f"rest:{name}" in without else place.rest_weeks,
            closed=frozenset() if f"closed:{name}" in without else place.closed,
            most_weeks=None if f"due:{name}" in without else place.most_weeks,
        )

    def _unit(
        self, unit: Unit, name: str, places: Sequence[Place], without: frozenset[str]
    ) -> Unit:
        entry = None if f"isolation:{name}" in without else unit.entry
        # Without its isolation those quarters are like any other, so that nothing is forbidden
        # that was not before.
        suitable = unit.suitable | (unit.entry.places if unit.entry and not entry else set())
        least = max((places[p].clean_weeks for p in suitable), default=1)
        shortest = 1 if f"shortest:{unit.min_stay}" in without else unit.min_stay
        shortest = max(1, shortest, least)
        longest = self.whole.weeks if f"longest:{unit.max_stay}" in without else unit.max_stay
        return replace(
            unit,
            suitable=suitable,
            min_stay=shortest,
            max_stay=max(shortest, longest),
            entry=entry,
            undisturbed=tuple(
                span for k, span in enumerate(unit.undisturbed)
                if f"calm:{name}:{k}" not in without
            ),
            barred=tuple(
                span for k, span in enumerate(unit.barred) if f"barred:{name}:{k}" not in without
            ),
            fixed=tuple(at for at in unit.fixed if f"fixed:{name}:{at[0]}" not in without),
            tether_most=None if f"tether:{name}" in without else unit.tether_most,
            free_least=0 if f"free:{name}" in without else unit.free_least,
        )  # fmt: skip


def _each_once(names: Sequence[str]) -> tuple[str, ...]:
    """The names, with a number behind those that come more than once."""
    times = Counter(names)
    return tuple(n if times[n] == 1 else f"{n} ({k + 1})" for k, n in enumerate(names))


def _renamed(units: frozenset[int], new: dict[int, int]) -> frozenset[int]:
    return frozenset(new[u] for u in units if u in new)
