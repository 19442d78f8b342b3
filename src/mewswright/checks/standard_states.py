"""What is known of each standard: how many of its rows are law, read, in force.

A keeper reads it to see how far to trust a verdict, and a federation to see whether its own
file says what it meant.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date

from pydantic import BaseModel, ConfigDict

from mewswright.checks.limits import missed
from mewswright.checks.standard_topics import ASKED_OF_ALL
from mewswright.handbook.shelf import Shelf, shelf_of
from mewswright.handbook.standard_shapes import Rule, SizeLimit, in_force
from mewswright.model.standard_file import StandardFile
from mewswright.model.yard import Yard


class StandardState(BaseModel):
    """One standard and the state of its rows.

    `by_basis` and `by_how_known` count its rows: sizes and rules. `unlawful` counts those
    whose miss is harm by law; all others are short at most.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    key: str
    name: str
    jurisdiction: str
    strength: str
    summary: str
    own: bool
    binds: bool | None  # None = no yard was named
    sizes: int
    rules: int
    by_basis: dict[str, int]
    by_how_known: dict[str, int]
    unlawful: int
    in_force: int
    not_yet: int
    ended: int
    lapsed: int
    unasked: tuple[str, ...]  # topics of its rules that no check asks of a standard
    gaps: tuple[str, ...]


class StandardStates(BaseModel):
    """Every standard, as `mewswright standards --json` prints them."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    on: date | None
    yard: str | None
    standards: tuple[StandardState, ...]


def states_of(yard: Yard | None, on: date | None) -> StandardStates:
    """Give the state of every standard, shipped and of the keeper's own.

    Args:
        yard: The yard whose own standards lie beside it; None = shipped ones alone.
        on: The day on which rows must bind; None = no day in mind.
    """
    shelf = shelf_of(yard.own_standards if yard else ())
    keys = shelf.keys()
    binding = yard.yard.standards if yard else None
    return StandardStates(
        on=on,
        yard=yard.yard.name if yard else None,
        standards=tuple(_state(shelf, key, on, binding) for key in keys),
    )


def state_of_file(file: StandardFile, on: date | None) -> StandardState:
    """Give the state of one own file, whose key must be free.

    Raises:
        Problem: If a shipped standard has its key.
    """
    return _state(shelf_of((file,)), file.key, on, None)


def _state(shelf: Shelf, key: str, on: date | None, binding: Sequence[str] | None) -> StandardState:
    named, rows = shelf.standard(key), shelf.rows(key)
    dated = [row for row in rows if on is not None and not in_force(row, on)]
    ended = [row for row in dated if row.valid_to is not None and on and row.valid_to < on]
    ended += [row for row in rows if on is None and not in_force(row, None)]
    return StandardState(
        key=key,
        name=named.name,
        jurisdiction=named.jurisdiction,
        strength=named.strength,
        summary=named.summary,
        own=named.own,
        binds=None if binding is None else key in binding,
        sizes=sum(isinstance(row, SizeLimit) for row in rows),
        rules=sum(isinstance(row, Rule) for row in rows),
        by_basis=_counted(row.basis for row in rows),
        by_how_known=_counted(row.source.how_known for row in rows),
        unlawful=sum(missed(row) == "harm" and in_force(row, on) for row in rows),
        in_force=sum(in_force(row, on) for row in rows),
        not_yet=len(dated) - len([row for row in dated if row in ended]),
        ended=len(ended),
        lapsed=sum(row.lapsed for row in rows),
        unasked=tuple(
            dict.fromkeys(
                row.topic for row in rows if isinstance(row, Rule) and row.topic not in ASKED_OF_ALL
            )
        ),
        gaps=named.gaps,
    )


def _counted(words: Iterable[str]) -> dict[str, int]:
    return dict(sorted(Counter(words).items()))
