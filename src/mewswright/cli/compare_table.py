"""The table of `check --compare`: questions down, standards across, 100 columns wide.

A screen holds four standards side by side, so that the table comes in blocks.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mewswright.checks.compare import Cell, Compared, CompareRow, Comparison

ASKS, COLUMN, ACROSS = 23, 18, 4
WIDTH = ASKS + ACROSS * (1 + COLUMN)  # 99
NOT_KNOWN = "S108"  # says of a standard that it was not read for the bird: no column for that


def table(found: "Comparison") -> str:
    """Give the whole table as text."""
    lines = [f"{found.quarters} of {found.yard} against every standard, on {found.on}"]
    lines.append("Each cell: what is asked; what was measured; the verdict, and how it is known.")
    rows = [row for row in found.rows if row.code != NOT_KNOWN]
    columns = _by_weight(found, rows)
    for start in range(0, len(columns), ACROSS):
        lines += ["", *_block(columns[start : start + ACROSS], rows)]
    if not columns:
        lines += ["", "No standard says anything on this unit."]
    unknown = [c.standard for row in found.rows if row.code == NOT_KNOWN for c in row.cells]
    for what, keys in (
        ("Sizes for the birds here were not read or are not known", unknown),
        ("Nothing on this unit", found.silent),
    ):
        text = f"{what}: {', '.join(keys)}."
        lines += wrap(text, WIDTH, break_on_hyphens=False) if keys else []
    lines += wrap(
        "* binds this yard. A law is harm only where its text was read; a standard's own text "
        "decides.",
        WIDTH,
    )
    return "\n".join(lines)


def _by_weight(found: "Comparison", rows: Sequence["CompareRow"]) -> list["Compared"]:
    """Put those that bind first, then own ones, then those that say most."""
    says = Counter(cell.standard for row in rows for cell in row.cells)
    columns = [one for one in found.standards if says[one.key]]
    return sorted(columns, key=lambda one: (not one.binds, not one.own, -says[one.key], one.key))


def _block(block: Sequence["Compared"], rows: Sequence["CompareRow"]) -> Iterator[str]:
    yield from _across([""], [_head(one) for one in block])
    yield "-" * (ASKS + len(block) * (1 + COLUMN))
    for row in rows:
        cells = {cell.standard: cell for cell in row.cells}
        if not any(one.key in cells for one in block):
            continue
        said = [_cell(cells[one.key]) if one.key in cells else ["-"] for one in block]
        yield from _across(wrap(f"{row.code} {row.title}", ASKS), said)
        yield ""


def _head(one: "Compared") -> list[str]:
    return [*wrap(f"{one.key}{'*' if one.binds else ''}", COLUMN), one.strength]


def _cell(cell: "Cell") -> list[str]:
    from mewswright.checks.finding import MARKS

    lines = wrap(f"asks {cell.limit}", COLUMN) if cell.limit else []
    lines += wrap(f"has {cell.measured}", COLUMN) if cell.measured else []
    verdict = f"{MARKS[cell.verdict]} {cell.verdict}"
    known = f"{verdict}, {cell.how_known}" if cell.how_known else verdict
    return [*lines, *wrap(known, COLUMN)]


def _across(left: Sequence[str], columns: Sequence[Sequence[str]]) -> Iterator[str]:
    for i in range(max(len(left), *(len(column) for column in columns))):
        parts = [f"{left[i] if i < len(left) else '':{ASKS}}"]
        parts += [f"{column[i] if i < len(column) else '':{COLUMN}}" for column in columns]
        yield " ".join(parts).rstrip()
