"""One unit against every standard, side by side.

The checks themselves are run once for each standard. What a check says the same whoever
binds (a perch too near a wall, a door to the sky) is no standard's word and is left out. A
check that never looks who binds need not be run again, and that is most of them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from pydantic import BaseModel, ConfigDict

from mewswright.checks.case import Case, cases
from mewswright.checks.finding import STATUSES, Finding, Status
from mewswright.checks.registry import Check, catalogue
from mewswright.handbook.shelf import Shelf, shelf_of
from mewswright.model.quantity import Quantity
from mewswright.model.yard import Yard

HOUSE = "house"


class Cell(BaseModel):
    """What one standard says on one question of the unit.

    `verdict`, `limit`, `measured` and `how_known` are those of the worst finding.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    standard: str
    verdict: Status
    limit: Quantity | None
    measured: Quantity | None
    how_known: str
    findings: tuple[Finding, ...]


class CompareRow(BaseModel):
    """One question, by the code of its check, and what each standard says on it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str
    title: str
    cells: tuple[Cell, ...]


class Compared(BaseModel):
    """A standard that has a column."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    key: str
    name: str
    strength: str
    binds: bool
    own: bool


class Comparison(BaseModel):
    """One unit against every standard, as `check --compare --json` prints it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    yard: str
    quarters: str
    on: date | None
    standards: tuple[Compared, ...]
    rows: tuple[CompareRow, ...]
    silent: tuple[str, ...]  # keys of standards that say nothing on this unit


def compare(yard: Yard, quarters: str, on: date | None = None) -> Comparison:
    """Hold one unit against every standard, shipped and of the keeper's own.

    Args:
        yard: The yard.
        quarters: Name of the unit.
        on: Day on which the rows of the standards must bind; None = rows without an end.

    Raises:
        Problem: If there are no such quarters.
    """
    yard.quarters_named(quarters)
    shelf = shelf_of(yard.own_standards, on)
    keys = shelf.keys()
    asking, by_house = _first_run(yard, quarters, on)
    whoever = set(by_house)
    said: dict[str, dict[str, list[Finding]]] = {}
    for key in keys:
        if key == HOUSE:
            continue
        every = cases(yard, [key], on=on)
        for check in asking:
            for finding in _found(check, yard, every, quarters):
                if finding not in whoever:
                    said.setdefault(finding.code, {}).setdefault(key, []).append(finding)
    _house_beside(said, by_house)
    titles = {check.code: check.title for check in catalogue()}
    speaking = sorted({key for cells in said.values() for key in cells})
    return Comparison(
        yard=yard.yard.name,
        quarters=quarters,
        on=on,
        standards=tuple(_column(shelf, key, yard.yard.standards) for key in speaking),
        rows=tuple(
            CompareRow(
                code=code,
                title=titles[code],
                cells=tuple(_cell(key, said[code][key]) for key in sorted(said[code])),
            )
            for code in sorted(said)
        ),
        silent=tuple(key for key in keys if key not in speaking),
    )


@dataclass(frozen=True)
class _Listening(Case):
    """A case that hears when a check looks who binds or what is asked."""

    heard: list[str] = field(default_factory=list, compare=False)

    def __getattribute__(self, name: str) -> object:
        if name in ("standards", "shelf"):
            object.__getattribute__(self, "heard").append(name)
        return object.__getattribute__(self, name)


def _first_run(yard: Yard, quarters: str, on: date | None) -> tuple[list[Check], list[Finding]]:
    """Give the checks that look who binds, and what they say by the house rules alone."""
    heard: list[str] = []
    every = [
        _Listening(one.yard, one.quarters, one.standards, one.residents, one.shelf, heard)
        for one in cases(yard, [HOUSE], on=on)
    ]
    asking, by_house = [], []
    for check in catalogue():
        heard.clear()
        found = list(_found(check, yard, every, quarters))
        if heard:
            asking.append(check)
            by_house += found
    return asking, by_house


def _found(check: Check, yard: Yard, every: Sequence[Case], quarters: str) -> Iterator[Finding]:
    if check.of_quarters is not None:
        for case in every:
            if case.quarters.name == quarters:
                yield from check.of_quarters(case)
    if check.of_yard is not None:
        yield from (one for one in check.of_yard(yard, every) if one.quarters == quarters)


def _house_beside(said: dict[str, dict[str, list[Finding]]], by_house: Sequence[Finding]) -> None:
    """Put the house's answer beside the standards', where both give a limit."""
    for finding in by_house:
        if finding.code in said and finding.limit is not None:
            said[finding.code].setdefault(HOUSE, []).append(finding)


def _column(shelf: Shelf, key: str, binding: Sequence[str]) -> Compared:
    named = shelf.standard(key)
    return Compared(
        key=key,
        name=named.name,
        strength=named.strength,
        binds=key in binding,
        own=named.own,
    )


def _cell(key: str, findings: Sequence[Finding]) -> Cell:
    worst = min(findings, key=lambda one: (STATUSES.index(one.status), one.limit is None))
    return Cell(
        standard=key,
        verdict=worst.status,
        limit=worst.limit,
        measured=worst.measured,
        how_known=worst.sources[0].how_known if worst.sources else "",
        findings=tuple(findings),
    )
