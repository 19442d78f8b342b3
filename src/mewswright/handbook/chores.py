"""What is done on a round, and how often."""

from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class Chore:
    """One chore.

    `per` is bird, quarters or yard; `needs` what they must have; `entry` and `entry_what` say which
    entry of the book tells that it was done.
    """

    id: str
    per: str
    needs: str
    every_days: int
    entry: str
    entry_what: str | None
    says: str
    note: str
    source: SourceRef


@cache
def chores() -> tuple[Chore, ...]:
    """All chores, by their names."""
    return tuple(
        Chore(
            row["id"],
            row["per"],
            row["needs"],
            int(row["every_days"]),
            row["entry"],
            row["entry_what"] or None,
            row["says"],
            row["note"],
            reference(row, f"chores.csv, {row['id']}"),
        )
        for row in rows("chores")
    )
