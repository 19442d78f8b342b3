"""Numbers of standing fast: soil, friction, sheathing, sway and anchors."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class Anchor:
    """One means of holding down: working pull and shear [kN], None where its size decides."""

    id: str
    what: str
    pull_kn: float | None
    shear_kn: float | None
    needs_test: bool  # counts for nothing until it has been pulled on the spot
    note: str
    source: SourceRef


@cache
def _holding_figures() -> Mapping[str, Figure]:
    return {row["name"]: figure(row, f"holding.csv, {row['name']}") for row in rows("holding")}


def holding_figure(name: str) -> Figure:
    """One number of soil, friction, sheathing or sway.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _holding_figures():
        raise unknown("holding figure", name, _holding_figures(), "see holding.csv")
    return _holding_figures()[name]


@cache
def anchors() -> Mapping[str, Anchor]:
    """Means of holding down by id."""
    return {
        row["id"]: Anchor(
            row["id"],
            row["what"],
            number(row["pull_kn"]),
            number(row["shear_kn"]),
            row["tested"] == "yes",
            row["note"],
            reference(row, f"anchors.csv, {row['id']}"),
        )
        for row in rows("anchors")
    }


def anchor(name: str) -> Anchor:
    """The means of holding down with this id.

    Raises:
        Problem: If there is none; the sentence names those there are.
    """
    if name not in anchors():
        raise unknown("anchor", name, anchors())
    return anchors()[name]
