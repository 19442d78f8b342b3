"""The shelf of standards that one yard is judged by: shipped ones and the keeper's own.

A shelf is a value. It stands for one day, or for none, and shows only the rows that bind
then. Two yards with files of the same key each have their own shelf and never meet.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from mewswright.handbook.evidence import Unknown
from mewswright.handbook.nearest import unknown
from mewswright.handbook.species import Species
from mewswright.handbook.standard_files import Book, book_of, shipped_book, shipped_keys
from mewswright.handbook.standard_shapes import (
    PURPOSES,
    ClassLimits,
    Rule,
    SizeLimit,
    Standard,
    applies,
    in_force,
)
from mewswright.model.problem import Problem
from mewswright.model.standard_file import StandardFile

Answer = ClassLimits | Unknown


@dataclass(frozen=True, eq=False)
class Shelf:
    """Standards that can be asked.

    Attributes:
        own: The keeper's own files.
        on: The day on which rows must bind; None = rows without an end.
    """

    own: tuple[StandardFile, ...] = ()
    on: date | None = None
    _books: dict[str, Book] = field(default_factory=dict, repr=False)
    _rules: dict[tuple[str, str | None], tuple[Rule, ...]] = field(default_factory=dict, repr=False)
    _sizes: dict[tuple[str, Species, str], Answer] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        """Put the keeper's own files on the shelf.

        Raises:
            Problem: If a key is taken.
        """
        for file in self.own:
            if file.key in shipped_keys() or file.key in self._books:
                other = (self._books.get(file.key) or shipped_book(file.key)).standard
                raise Problem(
                    f"two standards have the key {file.key!r}: {other.name} and "
                    f"{file.standard.name}; give the own one another key"
                )
            self._books[file.key] = book_of(file)

    def keys(self) -> tuple[str, ...]:
        """Keys of all standards, sorted."""
        return tuple(sorted({*shipped_keys(), *(file.key for file in self.own)}))

    def standards(self) -> tuple[Standard, ...]:
        """Every standard, sorted by key."""
        return tuple(self._book(key).standard for key in self.keys())

    def standard(self, key: str) -> Standard:
        """The standard with this key.

        Raises:
            Problem: If there is none; the sentence names the nearest keys.
        """
        return self._book(key).standard

    def rules(
        self,
        key: str,
        topic: str | None = None,
        species: Species | None = None,
        place: str | None = None,
    ) -> tuple[Rule, ...]:
        """Rules of one standard that bind, narrowed as asked; none gives an empty tuple.

        Args:
            key: Such as `dk`.
            topic: Such as `perches_min`; every topic if left out.
            species: Keep what can hold for this species; see `applies`.
            place: Keep what applies there; rules for any place are kept too.

        Raises:
            Problem: If there is no such standard.
        """
        found = self._rules.get((key, topic))
        if found is None:
            book = self._book(key)
            found = book.rules if topic is None else book.by_topic.get(topic, ())
            found = tuple(rule for rule in found if in_force(rule, self.on))
            self._rules[key, topic] = found
        if species is None and place is None:
            return found
        return tuple(
            rule
            for rule in found
            if (place is None or rule.place in ("any", place))
            and (species is None or applies(rule.applies_to, species))
        )

    def rows(self, key: str) -> tuple[Rule | SizeLimit, ...]:
        """Every row of one standard, whatever the day.

        Raises:
            Problem: If there is no such standard.
        """
        book = self._book(key)
        return (*(size for found in book.sizes.values() for size in found), *book.rules)

    def is_dated(self, key: str) -> bool:
        """Whether a standard has a row that begins or ends on some day.

        Raises:
            Problem: If there is no such standard.
        """
        return self._book(key).is_dated

    def size_limits(
        self, key: str, species: Species, purpose: str = "loft"
    ) -> ClassLimits | Unknown:
        """Smallest sizes that a standard asks for a bird, or why they are not known.

        Args:
            key: Such as `ch-tschv`.
            species: The bird's species.
            purpose: `loft`, `flight_cage` (before release) or `isolation`.

        Raises:
            Problem: If there is no such standard.
            ValueError: If the purpose is none of the three.
        """
        if purpose not in PURPOSES:
            raise ValueError(f"{purpose!r} is none of {', '.join(PURPOSES)}")
        asked = (key, species, purpose)
        if asked not in self._sizes:
            self._sizes[asked] = self._asked_sizes(self._book(key), species, purpose)
        return self._sizes[asked]

    def _asked_sizes(self, book: Book, species: Species, purpose: str) -> Answer:
        named = book.standard
        sizes = {
            of: {size.quantity: size for size in found if in_force(size, self.on)}
            for of, found in book.sizes.items()
        }
        sizes = {of: limits for of, limits in sizes.items() if limits}
        if book.sizes and not sizes:
            return Unknown(f"the sizes of {named.name} do not bind {_day(self.on)}")
        if not sizes:
            on = named.summary.rstrip(".")
            return Unknown(f"{named.name} gives no sizes that were read: {on}")
        mine = book.memberships(species)
        for one in mine:
            if limits := sizes.get((one.bird_class, purpose)):
                return ClassLimits(
                    named.key,
                    one.bird_class,
                    one.class_name,
                    purpose,
                    one.source,
                    limits,
                    one.note,
                    one.confidence,
                )
        if limits := sizes.get(("any", purpose)):
            ref = _first(limits.values()).source
            return ClassLimits(named.key, "any", "any bird", purpose, ref, limits)
        if purpose not in {of for _, of in sizes}:
            return Unknown(f"{named.name} gives no sizes for the purpose {_words(purpose)}")
        classes = {one.bird_class for one in mine}
        if other := [of for name, of in sizes if name in classes]:
            word = _words(other[0])
            return Unknown(f"{named.name} sizes only a {word} for {species.common_name}")
        return Unknown(
            f"the class of {species.common_name} in {named.name} is not known{_gap_tail(named)}"
        )

    def _book(self, key: str) -> Book:
        found = self._books.get(key)
        if found is None:
            if key not in shipped_keys():
                raise unknown("standard", key, self.keys())
            found = self._books[key] = shipped_book(key)
        return found


def _first(limits: Iterable[SizeLimit]) -> SizeLimit:
    return next(iter(limits))


def _day(on: date | None) -> str:
    return "any more" if on is None else f"on {on}"


def _words(purpose: str) -> str:
    return purpose.replace("_", " ")


def _gap_tail(named: Standard) -> str:
    return f": {'; '.join(named.gaps)}" if named.gaps else " from what was read"


SHIPPED = Shelf()


@lru_cache(maxsize=64)
def shelf_of(own: tuple[StandardFile, ...] = (), on: date | None = None) -> Shelf:
    """The shelf with a keeper's own files on a day; the same shelf for the same of both.

    Raises:
        Problem: If two standards have the same key.
    """
    return Shelf(own, on) if own or on else SHIPPED
