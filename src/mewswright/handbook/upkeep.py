"""What keeping a unit up asks, and how long building one takes.

A figure is the middle of its band; both ends stay in the row.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import Row, rows


@dataclass(frozen=True)
class Band:
    """One claim: a band from low to high for one of `per`, with its witness.

    `place` names the row: `upkeep.csv, roof_felt life_years`.
    """

    place: str
    what: str
    per: str
    low: float
    high: float
    source: SourceRef
    note: str

    @property
    def middle(self) -> float:
        """The middle of the band."""
        return (self.low + self.high) / 2

    def __str__(self) -> str:
        """The band, such as `8 to 12`, or its one figure."""
        return f"{self.low:g}" if self.low == self.high else f"{self.low:g} to {self.high:g}"


def _band(row: Row, place: str, low: str, high: str) -> Band:
    return Band(
        place,
        row["what"],
        row["per"],
        float(row[low]),
        float(row[high]),
        reference(row, place),
        row["note"],
    )


@cache
def upkeep() -> Mapping[tuple[str, str], Band]:
    """Every claim of upkeep, by subject and quantity: ("roof_felt", "life_years")."""
    return MappingProxyType(
        {
            (row["subject"], row["quantity"]): _band(
                row, f"upkeep.csv, {row['subject']} {row['quantity']}", "low", "high"
            )
            for row in rows("upkeep")
        }
    )


@cache
def _build_hours() -> Mapping[str, Band]:
    return {
        row["id"]: _band(row, f"build_hours.csv, {row['id']}", "hours_low", "hours_high")
        for row in rows("build_hours")
    }


def build_hours(name: str) -> Band:
    """Hours of one person for one piece of building work [h].

    Raises:
        Problem: If there is no such work; the sentence names the nearest.
    """
    if name not in _build_hours():
        raise unknown("building work", name, _build_hours())
    return _build_hours()[name]
