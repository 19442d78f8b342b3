"""The files of standards, shipped ones and keepers' own, made ready to be asked.

Shipped files lie in `mewswright/standards/`, one a standard, and are read one by one when
they are first asked. Tests hold them against the handbook; a keeper's own file is held
against it when it is read.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from mewswright.handbook.evidence import Figure, SourceRef, sources
from mewswright.handbook.species import Species, all_species
from mewswright.handbook.standard_shapes import STATES, Rule, SizeLimit, Standard
from mewswright.model.standard_file import (
    Members,
    RuleRow,
    Size,
    StandardFile,
    parse_standard,
    read_standard,
)
from mewswright.model.standard_names import Known

K = TypeVar("K")
V = TypeVar("V")


@dataclass(frozen=True)
class Membership:
    """That some birds belong to a class, and how we know."""

    bird_class: str
    class_name: str
    source: SourceRef
    basis: str
    note: str
    confidence: str


@dataclass(frozen=True)
class Book:
    """One standard, ready to be asked."""

    standard: Standard
    rules: tuple[Rule, ...]
    by_topic: Mapping[str, tuple[Rule, ...]]
    sizes: Mapping[tuple[str, str], tuple[SizeLimit, ...]]  # class and purpose
    members: Mapping[str, tuple[Membership, ...]]  # species id, group:NAME or genus:NAME
    is_dated: bool

    def memberships(self, species: Species) -> tuple[Membership, ...]:
        """Classes of a bird: named itself first, then by its genus, then by its group."""
        genus = species.scientific_name.split()[0]
        names = (species.id, f"genus:{genus}", f"group:{species.group}")
        return tuple(one for name in names for one in self.members.get(name, ()))


@cache
def shipped_keys() -> tuple[str, ...]:
    """Keys of all shipped standards, sorted."""
    names = (entry.name for entry in (files("mewswright") / "standards").iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


@cache
def shipped_file(key: str) -> StandardFile:
    """The file of one shipped standard."""
    name = f"{key}.toml"
    text = (files("mewswright") / "standards" / name).read_text(encoding="utf-8")
    return parse_standard(text, name)


@cache
def shipped_book(key: str) -> Book:
    """One shipped standard, ready to be asked."""
    return book_of(shipped_file(key), own=False)


@cache
def known_in_rows() -> Known:
    """What the rows of a standard's file may name."""
    topics: dict[str, list[str]] = {}
    for key in shipped_keys():
        for row in shipped_file(key).rule:
            units = topics.setdefault(row.topic, [])
            if row.unit not in units:
                units.append(row.unit)
    birds = all_species()
    return Known(
        species=tuple(bird.id for bird in birds),
        groups=frozenset(bird.group for bird in birds),
        genera=frozenset(bird.scientific_name.split()[0] for bird in birds),
        states=STATES,
        topics={topic: tuple(topics[topic]) for topic in sorted(topics)},
        sources={key: one.second_hand for key, one in sources().items()},
    )


def own_standard(path: Path) -> StandardFile:
    """Read a keeper's own file, its names held against the handbook.

    Raises:
        Problem: If it cannot be read, or is not a standard; then with all its faults.
    """
    return read_standard(path, known_in_rows())


def book_of(file: StandardFile, own: bool = True) -> Book:
    """Make a standard's file ready to be asked."""
    about = file.standard
    gaps = tuple(f"{gap.missing} ({gap.matters_for})" for gap in file.gap)
    named = Standard(
        about.key, about.name, about.jurisdiction, about.strength, about.summary, gaps, own
    )
    cites = {source.key: source.cite for source in file.source}
    rules = tuple(_rule(file.key, row, cites) for row in file.rule)
    by_topic: dict[str, list[Rule]] = {}
    for rule in rules:
        by_topic.setdefault(rule.topic, []).append(rule)
    sizes: dict[tuple[str, str], list[SizeLimit]] = {}
    for size in file.size:
        sizes.setdefault((size.bird_class, size.purpose), []).append(_size(file.key, size, cites))
    members: dict[str, list[Membership]] = {}
    for one in file.classes:
        for row in one.members:
            for bird in row.of:
                place = f"standards/{file.key}.toml, class {one.id} {bird}"
                ref = _reference(row, place, cites)
                of = Membership(one.id, one.name, ref, row.basis, row.note, row.confidence)
                members.setdefault(bird, []).append(of)
    return Book(
        named,
        rules,
        _frozen(by_topic),
        _frozen(sizes),
        _frozen(members),
        any(row.valid_from or row.valid_to for row in file.rows()),
    )


def _frozen(lists: Mapping[K, list[V]]) -> Mapping[K, tuple[V, ...]]:
    return MappingProxyType({key: tuple(of) for key, of in lists.items()})


def _reference(row: Size | RuleRow | Members, place: str, cites: Mapping[str, str]) -> SourceRef:
    cite = cites.get(row.source) or sources()[row.source].cite
    return SourceRef(cite, row.where or place, row.how_known)


def _size(key: str, row: Size, cites: Mapping[str, str]) -> SizeLimit:
    place = f"standards/{key}.toml, {row.bird_class} {row.quantity}"
    ref = _reference(row, place, cites)
    figure = Figure(row.value, row.unit, ref, row.note, row.basis, row.confidence, place)
    published = row.value if row.original_value is None else row.original_value
    return SizeLimit(
        row.quantity,
        row.value,
        row.unit,
        figure,
        row.basis,
        row.condition,
        f"{published:.15g}",
        row.original_unit or row.unit,
        row.valid_from,
        row.valid_to,
        row.lapsed,
    )


def _rule(key: str, row: RuleRow, cites: Mapping[str, str]) -> Rule:
    return Rule(
        key,
        row.topic,
        row.applies_to,
        row.place,
        (row.value or "") if row.number is None else f"{row.number:.15g}",
        row.number,
        row.unit,
        row.basis,
        row.condition,
        _reference(row, f"standards/{key}.toml, {row.topic} {row.applies_to}", cites),
        row.confidence,
        row.note,
        row.valid_from,
        row.valid_to,
        row.lapsed,
    )
