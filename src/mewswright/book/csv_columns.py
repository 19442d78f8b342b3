"""What the columns of a keeper's list are, told by their headers."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field

from mewswright.book.csv_mass import Unit, unit_named
from mewswright.model.problem import Problem

# Column: words that headers use for it.
WORDS: dict[str, frozenset[str]] = {
    "day": frozenset(["date", "day", "datum", "tag", "when"]),
    "hour": frozenset(["time", "hour", "zeit", "uhrzeit"]),
    "bird": frozenset(["bird", "name", "vogel"]),
    "weight": frozenset(["weight", "wt", "weighed", "weighing", "mass", "gewicht"]),
    "food": frozenset(["food", "fed", "feed", "item", "futter"]),
    "amount": frozenset(["amount", "eaten", "ration", "food_amount", "menge", "futtermenge"]),
    "crop": frozenset(["crop", "kropf"]),
    "keel": frozenset(["keel", "condition", "brustbein"]),
    "temp": frozenset(["temp", "temperature", "temperatur"]),
    "flown": frozenset(["flown", "flight", "flying", "geflogen"]),
    "note": frozenset(
        ["note", "notes", "remark", "remarks", "comment", "comments", "notiz", "bemerkung"]
    ),
}
_FOOD_MASS = re.compile(
    r"(food|fed|feed|futter)[\W_]*(g|gr|grams?|kg|oz|ounces?|amount|mass|weight)\W*$"
)


@dataclass(frozen=True)
class Table:
    """A list as read.

    Args:
        columns: Position of each column that is known.
        headers: Header of each such column.
        rows: Line in the file and cells of each row.
        unit: Unit of a bare weight that the header names.
        food_unit: Unit of a bare amount of food.
        unknown: Headers that nothing is made of.
    """

    columns: dict[str, int]
    headers: dict[str, str]
    rows: list[tuple[int, list[str]]]
    unit: Unit | None = None
    food_unit: Unit | None = None
    unknown: tuple[str, ...] = field(default=())


def _which(header: str) -> str | None:
    low = header.strip().lower()
    if _FOOD_MASS.search(low):
        return "amount"
    words = re.findall(r"[a-zäöü]+", low)
    if "food" in words and {"weight", "mass"} & set(words):
        return "amount"
    for column, known in WORDS.items():
        if low.replace(" ", "_") in known or (words and words[0] in known):
            return column
    if words and words[0] in ("g", "gram", "grams", "oz", "lb"):
        return "weight"
    return None


def table_of(text: str, where: str) -> Table:
    """Read a list with one header line.

    Args:
        text: The file.
        where: Its name, for messages.

    Raises:
        Problem: If it has no header with a day, and a weight or food; or two columns are the same.
    """
    lines = text.splitlines()
    head = next((line for line in lines if line.strip()), "")
    marks = {mark: head.count(mark) for mark in "\t;,"}
    mark = max(marks, key=lambda m: marks[m])
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark if marks[mark] else ",")
    header: list[str] | None = None
    rows = []
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if header is None:
                header = cells
            else:
                rows.append((reader.line_num, cells))
    except csv.Error as error:
        raise Problem(f"{where}, line {reader.line_num}: {error}: save the list as CSV") from error
    if header is None:
        raise Problem(f"{where}: the list is empty: it needs a header such as date,bird,weight_g")
    columns: dict[str, int] = {}
    headers: dict[str, str] = {}
    unknown = []
    for position, name in enumerate(header):
        column = _which(name)
        if column is None:
            if name.strip():
                unknown.append(name.strip())
            continue
        if column in columns:
            raise Problem(
                f"{where}: columns {headers[column]!r} and {name.strip()!r} both mean the "
                f"{column}: rename one"
            )
        columns[column], headers[column] = position, name.strip()
    if "day" not in columns and "hour" in columns:  # one column for both
        columns["day"], headers["day"] = columns.pop("hour"), headers.pop("hour")
    if "day" not in columns or not columns.keys() & {"weight", "food"}:
        raise Problem(
            f"{where}: the header is {', '.join(h.strip() for h in header)!r}: it needs a date, "
            "and a weight or food, for example date,time,bird,weight_g,food,food_g,note"
        )
    return Table(
        columns,
        headers,
        rows,
        unit_named(headers.get("weight", "")),
        unit_named(headers.get("amount", "")),
        tuple(unknown),
    )
