"""Read parts and stock from the text of two CSV files.

The first row names the columns; their order is free, and columns of other names are passed
over. All that is wrong with a file is said at once. Semicolons may part the columns, and then a
figure may hold a decimal comma.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from difflib import get_close_matches

from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.model.problem import Problem

PART_COLUMNS = ("mark", "section", "length_mm", "count")
STOCK_COLUMNS = ("section", "length_mm", "price", "available")

# A thousandth of a millimetre is finer than any saw; finer digits are a slip of the pen.
LENGTH = re.compile(r"\d{1,7}(\.\d{1,3}0*)?")
PRICE = re.compile(r"\d{1,9}(\.\d{1,4}0*)?")
WHOLE = re.compile(r"\d{1,6}")


def _length(text: str) -> Decimal | None:
    value = Decimal(text) if LENGTH.fullmatch(text) else None
    return value if value else None


def _price(text: str) -> Decimal | None:
    return Decimal(text) if PRICE.fullmatch(text) else None


def _count(text: str) -> int | None:
    value = int(text) if WHOLE.fullmatch(text) else 0
    return value or None


def _available(text: str) -> int | None:
    return int(text) if WHOLE.fullmatch(text) else None


def _name(text: str) -> str | None:
    return text or None


ALLOWED: dict[str, tuple[Callable[[str], object], str]] = {
    "mark": (_name, "give each part a mark, for example P1"),
    "section": (_name, "give the section as the stock names it, for example 45x95"),
    "length_mm": (
        _length,
        "give millimetres above 0, digits with a point at most three places, for example 1234.5",
    ),
    "count": (_count, "give a whole number from 1 to 999999"),
    "price": (_price, "give a price of 0 or more, digits with a point, for example 12.35"),
    "available": (
        _available,
        "give a whole number from 0 to 999999, or leave it blank for no limit",
    ),
}


def _pointed(cells: dict[str, str]) -> dict[str, str]:
    """Figures with a decimal comma, as spreadsheets write them between semicolons, with a point."""
    return {
        column: cell.replace(",", ".") if column.endswith("_mm") or column == "price" else cell
        for column, cell in cells.items()
    }


def csv_rows(
    text: str, name: str, columns: tuple[str, ...]
) -> Iterator[tuple[int, dict[str, str]]]:
    """Rows as column: text, with their row numbers as a spreadsheet shows them."""
    text = text.removeprefix("\ufeff")
    first = text.partition("\n")[0]
    mark = ";" if ";" in first and "," not in first else ","
    reader = csv.reader(
        io.StringIO(text, newline=""), strict=True, skipinitialspace=True, delimiter=mark
    )
    try:
        heading = [cell.strip() for cell in next(reader, [])]
        missing = [c for c in columns if c not in heading]
        if missing:
            given = ", ".join(heading) or "nothing"
            near = {c: get_close_matches(c, heading, 1) for c in missing}
            hint = "".join(f" (is {n[0]!r} meant for {c!r}?)" for c, n in near.items() if n)
            raise Problem(
                f"{name} row 1: no column {' and no column '.join(map(repr, missing))}; it has: "
                f"{given}{hint}; the first row must name {','.join(columns)}"
            )
        twice = [c for c in columns if heading.count(c) > 1]
        if twice:
            raise Problem(f"{name} row 1: column {twice[0]!r} is there twice: keep one of them")
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            row = reader.line_num
            if len(cells) != len(heading):
                raise Problem(
                    f"{name} row {row}: {len(cells)} values for {len(heading)} columns: give one "
                    "value a column, and put a value that holds a comma in double quotes"
                )
            found = dict(zip(heading, (cell.strip() for cell in cells), strict=True))
            yield row, _pointed(found) if mark == ";" else found
    except csv.Error as error:
        raise Problem(
            f"{name} row {reader.line_num}: not a row of comma-separated values ({error}): "
            "look for an unclosed double quote"
        ) from error


def _read(text: str, name: str, columns: tuple[str, ...]) -> list[dict[str, object]]:
    wrong: list[str] = []
    read: list[dict[str, object]] = []
    for row, cells in csv_rows(text, name, columns):
        values: dict[str, object] = {"origin": f"{name} row {row}"}
        for column in columns:
            if column == "available" and not cells[column]:
                values[column] = None
                continue
            parse, allowed = ALLOWED[column]
            values[column] = parse(cells[column])
            if values[column] is None:
                given = f"is {cells[column]!r}" if cells[column] else "is blank"
                wrong.append(f"{name} row {row}: {column} {given}: {allowed}")
        read.append(values)
    if wrong:
        raise Problem("\n".join(wrong))
    return read


def parts_from_csv(text: str, name: str) -> tuple[CutPart, ...]:
    """Read parts: mark,section,length_mm,count.

    Args:
        text: The file's text.
        name: The file's name, for messages.

    Raises:
        Problem: With one line for each thing that is wrong.
    """
    return tuple(CutPart.model_validate(row) for row in _read(text, name, PART_COLUMNS))


def stock_from_csv(text: str, name: str) -> tuple[StockBar, ...]:
    """Read stock: section,length_mm,price,available (blank: no limit).

    Args:
        text: The file's text.
        name: The file's name, for messages.

    Raises:
        Problem: With one line for each thing that is wrong.
    """
    return tuple(StockBar.model_validate(row) for row in _read(text, name, STOCK_COLUMNS))
