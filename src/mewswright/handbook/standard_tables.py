"""What the shipped standards ask, and every figure on them as it was collected.

A standard's own text decides over this summary of it. Where the class of a bird was
not read, the answer is `Unknown` with the reason: silence is not permission.
"""

from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, Unknown, reference
from mewswright.handbook.shelf import SHIPPED
from mewswright.handbook.species import Species
from mewswright.handbook.standard_shapes import PURPOSES, ClassLimits, SizeLimit, Standard
from mewswright.handbook.tables import number, rows

__all__ = [
    "PURPOSES",
    "ClassLimits",
    "PublishedRow",
    "SizeLimit",
    "Standard",
    "published_rows",
    "size_limits",
    "standard",
    "standards",
]


@dataclass(frozen=True)
class PublishedRow:
    """One figure as it was collected: original value and unit beside SI."""

    standard: str
    topic: str
    subject: str
    quantity: str
    value: str
    unit: str
    value_si: float | None
    unit_si: str
    condition: str
    jurisdiction: str
    basis: str
    source: SourceRef
    confidence: str


def standards() -> tuple[Standard, ...]:
    """Every shipped standard that a yard may name, sorted by key."""
    return SHIPPED.standards()


def standard(key: str) -> Standard:
    """The shipped standard with this key.

    Raises:
        Problem: If there is none; the sentence names the nearest keys.
    """
    return SHIPPED.standard(key)


def size_limits(
    standard_key: str, species: Species, purpose: str = "loft"
) -> ClassLimits | Unknown:
    """Smallest sizes that a shipped standard asks for a bird, or why they are not known.

    See `Shelf.size_limits`.
    """
    return SHIPPED.size_limits(standard_key, species, purpose)


@cache
def _published() -> tuple[PublishedRow, ...]:
    return tuple(
        PublishedRow(
            row["standard"],
            row["topic"],
            row["subject"],
            row["quantity"],
            row["value"],
            row["unit"],
            number(row["value_si"]),
            row["unit_si"],
            row["condition"],
            row["jurisdiction"],
            row["basis"],
            reference(row, f"standards.csv, {row['standard']} {row['quantity']}"),
            row["confidence"],
        )
        for row in rows("standards")
    )


def published_rows(
    topic: str | None = None, standard_key: str | None = None
) -> tuple[PublishedRow, ...]:
    """Figures as collected, of one topic or standard or both."""
    return tuple(
        row
        for row in _published()
        if topic in (None, row.topic) and standard_key in (None, row.standard)
    )
