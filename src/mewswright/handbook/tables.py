"""The handbook's tables as text: what is on file, before any meaning is read into it.

A table is a CSV file with a head of comment lines that say what it holds, in which
units and in what order. Every row ends in the columns of evidence. The tables of the
standards are made from their files (`standard_views`).
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from mewswright.handbook.nearest import unknown

Row = dict[str, str]
# Tables that are made from the files of the standards.
VIEWS = ("bird_classes", "size_limits", "standard_gaps", "standard_names", "standard_rules")
EVIDENCE = ("basis", "how_known", "confidence", "source", "where", "note")


@dataclass(frozen=True)
class Table:
    """One table: its name, the lines of its head, its columns and its rows."""

    name: str
    heading: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


@cache
def table_names() -> tuple[str, ...]:
    """Names of all tables, without `.csv`, sorted."""
    names = (entry.name for entry in files("mewswright.handbook").iterdir())
    on_file = (name.removesuffix(".csv") for name in names if name.endswith(".csv"))
    return tuple(sorted((*on_file, *VIEWS)))


@cache
def table(name: str) -> Table:
    """One table as text. The rows are shared: read them, do not change them.

    Args:
        name: As `table_names` has it; `.csv` at its end does no harm.

    Raises:
        Problem: If there is no such table; the sentence names the nearest.
    """
    plain = name.strip().removesuffix(".csv").replace("-", "_")
    if plain not in table_names():
        raise unknown("table", name, table_names())
    if plain in VIEWS:
        from mewswright.handbook.standard_views import view

        heading, columns, found = view(plain)
        return Table(plain, heading, columns, found)
    text = (files("mewswright.handbook") / f"{plain}.csv").read_text(encoding="utf-8")
    lines = text.splitlines()
    head = tuple(line[2:] for line in lines if line.startswith("# "))
    reader = csv.reader(lines[len(head) :])
    columns = tuple(next(reader))
    return Table(
        plain, head, columns, tuple(dict(zip(columns, row, strict=True)) for row in reader)
    )


def rows(name: str) -> tuple[Row, ...]:
    """The rows of one table; see `table`."""
    return table(name).rows


def number(text: str) -> float | None:
    """The number in a cell, or None for an empty one."""
    return float(text) if text else None
