"""One quarters with everything that a check asks about it, looked up once."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from mewswright.checks.finding import Evidence
from mewswright.ground.sight import Body
from mewswright.handbook import SourceRef, Species, species
from mewswright.handbook.shelf import SHIPPED, Shelf, shelf_of
from mewswright.model.bird import Bird, Stay
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def evidence(*refs: SourceRef) -> tuple[Evidence, ...]:
    """Turn the handbook's references into a finding's, each once."""
    found = (Evidence(name=r.name, locator=r.locator, how_known=r.how_known) for r in refs)
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True)
class Size:
    """One size of a bird [mm or g], and whether it was measured on the bird itself."""

    value: float
    measured: bool
    source: Evidence


@dataclass(frozen=True)
class Known:
    """A bird with its species; its sizes are its own before the handbook's."""

    bird: Bird
    species: Species

    def _own(self, value: float | None) -> Size | None:
        if value is None:
            return None
        source = Evidence(name="measured on the bird", locator=self.bird.name, how_known="read")
        return Size(value, True, source)

    @property
    def _sex(self) -> str:
        return self.bird.sex if self.bird.sex != "unknown" else "any"

    @cached_property
    def span(self) -> Size:
        """Wing span [mm]."""
        if own := self._own(self.bird.wing_span_mm):
            return own
        figure = self.species.span(self._sex)
        return Size(figure.value, False, evidence(figure.source)[0])

    @cached_property
    def tail(self) -> Size | None:
        """Tail length [mm], or None where nobody knows it."""
        if own := self._own(self.bird.tail_mm):
            return own
        figure = self.species.tail(self._sex)
        return Size(figure.value, False, evidence(figure.source)[0]) if figure else None

    @cached_property
    def mass(self) -> Size:
        """Full weight [g]."""
        if own := self._own(self.bird.mass_g):
            return own
        figure = self.species.mass(self._sex)
        return Size(figure.value, False, evidence(figure.source)[0])

    @cached_property
    def body_length(self) -> Size:
        """Bill to tail tip [mm]."""
        if own := self._own(self.bird.body_length_mm):
            return own
        figure = self.species.body_length()
        return Size(figure.value, False, evidence(figure.source)[0])


@dataclass(frozen=True)
class Resident(Known):
    """A bird in quarters under one stay."""

    stay: Stay

    @property
    def tethered(self) -> bool:
        """The bird is on a leash here."""
        return self.stay.mode == "tethered"


def most_on_one_day(residents: Sequence[Resident], one: Resident) -> tuple[Resident, ...]:
    """Give the largest set of residents that share one day with a resident, itself included.

    Args:
        residents: Residents to choose from.
        one: The resident that must be among them.

    Returns:
        Each bird once, in the order given.
    """
    first = one.stay.starts_on or date.min
    last = one.stay.ends_on or date.max
    best: tuple[Resident, ...] = (one,)
    for anchor in residents:  # some stay's first day is when most are here
        day = max(first, anchor.stay.starts_on or date.min)
        if day > last:
            continue
        here = {r.bird.name: r for r in reversed(residents) if _holds_on(r.stay, day)}
        here[one.bird.name] = one
        if len(here) > len(best):
            names = {name: here[name] for name in dict.fromkeys(r.bird.name for r in residents)
                     if name in here}  # fmt: skip
            best = tuple(names.values())
    return best


def _holds_on(stay: Stay, day: date) -> bool:
    return (stay.starts_on or date.min) <= day <= (stay.ends_on or date.max)


@dataclass(frozen=True)
class Case:
    """One quarters, who lives in it, and the standards that bind.

    `residents` are in the order of their names and days, so that whom a finding names of
    several does not hang on the order of the file. `together` holds the largest
    set of residents whose stays share one day, for limits that count birds. `shelf` holds
    what the standards ask on the day of the run, the keeper's own standards among them.
    """

    yard: Yard
    quarters: Quarters
    standards: tuple[str, ...]
    residents: tuple[Resident, ...]
    shelf: Shelf = field(default=SHIPPED, repr=False)

    @cached_property
    def body(self) -> Body:
        """The quarters as something to look out of, into and past."""
        return Body(self.quarters)

    @cached_property
    def loose(self) -> tuple[Resident, ...]:
        """Residents that move free here."""
        return tuple(r for r in self.residents if not r.tethered)

    @cached_property
    def tethered(self) -> tuple[Resident, ...]:
        """Residents on a leash here."""
        return tuple(r for r in self.residents if r.tethered)

    @cached_property
    def together(self) -> tuple[Resident, ...]:
        """Largest set of residents that are here on one and the same day."""
        sets = (most_on_one_day(self.residents, one) for one in self.residents)
        return max(sets, key=len, default=())


def _name_and_days(stay: Stay) -> tuple[str, date, date, str, str]:
    first, last = stay.starts_on or date.min, stay.ends_on or date.max
    return stay.bird, first, last, stay.mode, stay.perch or ""


def cases(
    yard: Yard,
    standards: Sequence[str] | None = None,
    quarters: str | None = None,
    on: date | None = None,
) -> tuple[Case, ...]:
    """Give one case for each quarters of a yard.

    Args:
        yard: The yard.
        standards: Standards to judge by; None = those that bind the yard.
        quarters: Name of the only quarters wanted; None = all.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Returns:
        Cases in the order of the yard file.

    Raises:
        Problem: For an unknown quarters, bird or species.
    """
    names = tuple(standards) if standards else yard.yard.standards
    shelf = shelf_of(yard.own_standards, on)
    chosen = yard.quarters if quarters is None else (yard.quarters_named(quarters),)
    birds = {bird.name: bird for bird in yard.bird}
    kinds = {bird.name: species(bird.species) for bird in yard.bird}
    stays: dict[str, list[Stay]] = {}
    for stay in yard.stay:
        stays.setdefault(stay.quarters, []).append(stay)
    return tuple(
        Case(
            yard,
            place,
            names,
            tuple(
                Resident(birds[stay.bird], kinds[stay.bird], stay)
                for stay in sorted(stays.get(place.name, ()), key=_name_and_days)
            ),
            shelf,
        )
        for place in chosen
    )
