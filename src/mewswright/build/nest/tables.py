"""Read parts and sheets from the text of two CSV files.

The first row names the columns; their order is free, and columns of other names are passed
over. All that is wrong with a file is said at once.
"""

from __future__ import annotations

from collections.abc import Callable

from mewswright.build.cut.tables import ALLOWED, csv_rows
from mewswright.build.nest.plan import SheetPart, StockSheet
from mewswright.model.problem import Problem

PART_COLUMNS = ("mark", "length_mm", "width_mm", "count")
SHEET_COLUMNS = ("name", "length_mm", "width_mm", "price", "available")
GRAINS = ("none", "along", "across")


def _grain(text: str) -> str | None:
    return text if text in GRAINS else None


_WHAT: dict[str, tuple[Callable[[str], object], str]] = {
    **ALLOWED,
    "width_mm": ALLOWED["length_mm"],
    "name": (ALLOWED["mark"][0], "give each sheet a name of its own, for example ply18"),
    "grain": (_grain, "give none, along or across"),
}


def _read(text: str, name: str, columns: tuple[str, ...], grain: str) -> list[dict[str, object]]:
    wrong: list[str] = []
    read: list[dict[str, object]] = []
    for row, cells in csv_rows(text, name, columns):
        values: dict[str, object] = {"origin": f"{name} row {row}", "grain": grain}
        for column in (*columns, "grain"):
            given = cells.get(column, "")
            if not given and column in ("available", "grain"):
                continue
            parse, allowed = _WHAT[column]
            values[column] = parse(given)
            if values[column] is None:
                was = f"is {given!r}" if given else "is blank"
                wrong.append(f"{name} row {row}: {column} {was}: {allowed}")
        read.append(values)
    if wrong:
        raise Problem("\n".join(wrong))
    return read


def parts_from_csv(text: str, name: str) -> tuple[SheetPart, ...]:
    """Read parts: mark,length_mm,width_mm,count and, if wanted, grain (blank: none).

    Args:
        text: The file's text.
        name: The file's name, for messages.

    Raises:
        Problem: With one line for each thing that is wrong.
    """
    return tuple(SheetPart.model_validate(row) for row in _read(text, name, PART_COLUMNS, "none"))


def sheets_from_csv(text: str, name: str) -> tuple[StockSheet, ...]:
    """Read sheets: name,length_mm,width_mm,price,available and, if wanted, grain (blank: along).

    Args:
        text: The file's text.
        name: The file's name, for messages.

    Raises:
        Problem: With one line for each thing that is wrong.
    """
    rows = _read(text, name, SHEET_COLUMNS, "along")
    return tuple(StockSheet.model_validate(row) for row in rows)
