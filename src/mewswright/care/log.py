"""A keeper's log of one bird as text, row by row; nothing is repaired in silence.

Columns: time, weight_g, crop (0 to 4), food, food_g, temp_c, flown_min, note. Any but the time may
be blank. A row means: weighed, then flown, then fed.
"""

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from mewswright.care.fed import Fed, fed, foods_named
from mewswright.care.log_times import moment
from mewswright.handbook.foods import Food
from mewswright.model.problem import Problem

COLUMNS = ("time", "weight_g", "crop", "food", "food_g", "temp_c", "flown_min", "note")
MOST_FOOD_G = 5000.0
TEMP_C = (-50.0, 55.0)
CROP_FULL = 4.0
DAY_MIN = 24 * 60


@dataclass(frozen=True)
class LogRow:
    """One row.

    Attributes:
        line: Of the file, the header being 1.
        at: When; its zone where one is named.
        has_hour: Whether the row names an hour.
        weight_g: Weight on the scale, None where blank.
        crop: 0 empty to 4 full, None where blank.
        fed: Foods with grams; empty where nothing is on record.
        feeding_known: Whether the row says what was fed, nothing at all included.
        temp_c: Air [C], None where blank.
        flown_min: Minutes flown, 0 where blank.
        note: As written.
    """

    line: int
    at: datetime
    has_hour: bool
    weight_g: float | None
    crop: float | None
    fed: tuple[Fed, ...]
    feeding_known: bool
    temp_c: float | None
    flown_min: float
    note: str


def read_log(text: str, usual: Food | None = None) -> tuple[LogRow, ...]:
    """Rows of a log in the order of the file.

    Args:
        text: CSV with a header; commas, semicolons or tabs part the columns.
        usual: Food of rows that give grams alone.

    Raises:
        Problem: Naming the row, what stands there and the remedy.
    """
    lines = text.lstrip("\ufeff").splitlines()
    while lines and not lines[0].strip(" ,;\t"):
        lines.pop(0)
    if not lines:
        raise Problem(f"the log is empty: its first line names columns: {','.join(COLUMNS)}")
    delimiter = max(",;\t", key=lines[0].count)
    reader = csv.reader(io.StringIO("\n".join(lines)), delimiter=delimiter, skipinitialspace=True)
    try:
        columns = _columns(next(reader))
        rows = []
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            line = reader.line_num
            if len(cells) > len(columns) and any(cell.strip() for cell in cells[len(columns) :]):
                raise Problem(
                    f"row {line}: {len(cells)} cells under {len(columns)} columns; put a cell that "
                    f"holds {delimiter!r} in double quotes"
                )
            rows.append(_row(line, dict(zip(columns, cells, strict=False)), usual))
    except csv.Error as error:
        raise Problem(f"the log cannot be read as CSV: {error}") from error
    return tuple(rows)


def _columns(header: list[str]) -> list[str]:
    names = []
    for cell in header:
        plain = re.sub(r"\(.*\)", "", cell.strip().lower()).strip().replace(" ", "_")
        if plain and plain not in COLUMNS:
            raise Problem(
                f"the log has a column {cell.strip()!r}; it may have: {', '.join(COLUMNS)}"
            )
        if plain and plain in names:
            raise Problem(f"the log has two columns {plain!r}: keep one")
        names.append(plain)
    for needed in ("time", "weight_g"):
        if needed not in names:
            raise Problem(
                f"the log has no column {needed!r}; its first line names columns: "
                f"{','.join(COLUMNS)}"
            )
    return names


def _row(line: int, cells: Mapping[str, str], usual: Food | None) -> LogRow:
    text = {name: cells.get(name, "").strip() for name in COLUMNS}
    at, has_hour = moment(text["time"], f"row {line}")
    eaten, known = _fed(line, text["food"], text["food_g"], usual)
    return LogRow(
        line=line,
        at=at,
        has_hour=has_hour,
        weight_g=_weight(line, text["weight_g"]),
        crop=_within(line, "crop", text["crop"], 0.0, CROP_FULL),
        fed=eaten,
        feeding_known=known,
        temp_c=_within(line, "temp_c", text["temp_c"], *TEMP_C),
        flown_min=_within(line, "flown_min", text["flown_min"], 0.0, DAY_MIN) or 0.0,
        note=text["note"],
    )


def _weight(line: int, text: str) -> float | None:
    weight = _number(line, "weight_g", text)
    if weight is not None and weight <= 0:
        raise Problem(f"row {line}: weight_g is {text}; give grams above 0, or leave it blank")
    return weight


def _fed(line: int, words: str, grams: str, usual: Food | None) -> tuple[tuple[Fed, ...], bool]:
    figures = tuple(
        _within(line, "food_g", part, 0.0, MOST_FOOD_G) or 0.0
        for part in re.split(r"\s*[;+&]\s*", grams)
        if part.strip()
    )
    if figures and not any(figures):
        return (), True  # fasted, and the log says so
    if words.lower() in ("none", "nothing", "fasted", "fast", "-", "0"):
        if any(figures):
            raise Problem(
                f"row {line}: food is {words!r} and food_g is {grams}; correct one of them"
            )
        return (), True
    if not words and not figures:
        return (), False
    try:
        if not words:
            if usual is None:
                raise Problem("grams without a food: name the food, such as 'chick'")
            return (Fed(usual, sum(figures)),), True
        if not figures and all(count is None for _, count in foods_named(words)):
            return (), False  # something was fed, nobody knows how much
        return fed(words, figures), True
    except Problem as problem:
        raise Problem(f"row {line}: {problem}") from problem


def _within(line: int, name: str, text: str, low: float, high: float) -> float | None:
    value = _number(line, name, text)
    if value is not None and not low <= value <= high:
        raise Problem(
            f"row {line}: {name} is {text}; it may be {low:g} to {high:g}: correct it, or leave it "
            "blank"
        )
    return value


def _number(line: int, name: str, text: str) -> float | None:
    if not text:
        return None
    plain = re.sub(r"\s*(g|c|°c|min)$", "", text.strip().lower()).replace(",", ".")
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", plain):
        raise Problem(f"row {line}: {name} is {text!r}; give a number, or leave it blank")
    return float(plain)
