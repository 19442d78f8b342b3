"""Where a figure comes from and how far it was checked.

`how_known` is the mark that the figure carried when it was collected and is never
raised: *read* in a stored copy, *second hand* (read where another text tells of it),
*from memory*, *derived* from other rows, *judgement*.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import Row

BASES = ("law", "standard", "study", "guide", "practice", "derived", "judgement")
HOW_KNOWN = ("read", "second hand", "from memory", "derived", "judgement")
CONFIDENCES = ("", "high", "medium", "low")


@dataclass(frozen=True)
class Source:
    """One published or private witness, as `sources.toml` has it."""

    key: str
    cite: str
    trust: str
    address: str | None = None
    second_hand: bool = False  # it tells what another text says: press, club, charity


@dataclass(frozen=True)
class SourceRef:
    """The witness of one figure: the three things that a finding prints.

    `name` is the source's citation, `locator` the place in it, or the handbook row
    where no place is known.
    """

    name: str
    locator: str
    how_known: str

    def as_dict(self) -> dict[str, str]:
        """The reference as findings carry it in JSON."""
        return {"name": self.name, "locator": self.locator, "how_known": self.how_known}


@dataclass(frozen=True)
class Figure:
    """A number with its unit and its witness."""

    value: float
    unit: str
    source: SourceRef
    note: str = ""
    basis: str = ""
    confidence: str = ""
    row: str = ""


@dataclass(frozen=True)
class Unknown:
    """Nothing known, and why: false where a found answer is true."""

    reason: str

    def __bool__(self) -> bool:
        return False


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its key."""
    text = (files("mewswright.handbook") / "sources.toml").read_text(encoding="utf-8")
    found = {
        key: Source(
            key, row["cite"], row["trust"], row.get("address"), row.get("second_hand", False)
        )
        for key, row in tomllib.loads(text).items()
    }
    return MappingProxyType(found)


def source(key: str) -> Source:
    """The source with this key.

    Raises:
        Problem: If there is none; the sentence names the nearest keys.
    """
    try:
        return sources()[key]
    except KeyError:
        raise unknown("source", key, sources()) from None


def reference(row: Row, place: str) -> SourceRef:
    """The witness of a table's row; `place` names the row where no locator is given."""
    return SourceRef(sources()[row["source"]].cite, row["where"] or place, row["how_known"])


def figure(row: Row, place: str, column: str = "value", unit: str | None = None) -> Figure:
    """The number in one column of a row, with the row's witness.

    Args:
        row: One row of a table with the columns of evidence.
        place: The row's name, such as `species_sizes.csv, merlin mass_g`.
        column: The column that holds the number.
        unit: The unit of the number; the row's own `unit` column if left out.
    """
    return Figure(
        value=float(row[column]),
        unit=row["unit"] if unit is None else unit,
        source=reference(row, place),
        note=row["note"],
        basis=row["basis"],
        confidence=row["confidence"],
        row=place,
    )
