"""Bolts, to size by."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class Bolt:
    """A bolt: its diameter [mm] and the tensile strength of its steel [N/mm2]."""

    id: str
    what: str
    diameter_mm: float
    fu: float
    source: SourceRef


@cache
def bolts() -> Mapping[str, Bolt]:
    """Bolts by id."""
    return {
        row["id"]: Bolt(
            row["id"], row["what"], float(row["diameter_mm"]), float(row["fu_n_per_mm2"]),
            reference(row, f"bolts.csv, {row['id']}"),
        )
        for row in rows("bolts")
    }  # fmt: skip


def bolt(name: str) -> Bolt:
    """The bolt with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in bolts():
        raise unknown("bolt", name, bolts())
    return bolts()[name]
