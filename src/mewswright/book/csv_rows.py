"""A keeper's list of weights and feeds, row by row, with every row that is doubted named."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from statistics import median
from typing import Any
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from mewswright.book.chain import detail_text
from mewswright.book.csv_columns import Table, table_of
from mewswright.book.csv_mass import Unit, grams_of
from mewswright.book.csv_when import Order, day_of, hour_of, order_shown
from mewswright.book.kinds import MOST_GRAMS
from mewswright.model.problem import Problem

_TOGETHER = re.compile(r"(.*?\d)(?:T|\s+)(\d{1,2}(?:[:.h]\d{2}){1,2}(?:\.\d+)?\s*(?:am|pm)?)\s*(Z|[+-]\d{2}:?\d{2})?", re.IGNORECASE)  # fmt: skip  # noqa: E501
_EMPTY = frozenset({"", "-", "--", "/", "n/a", "na", "nil", "x", "?"})
FAR = 0.15  # from the median of the weighings around it, a weight is doubted (judgement)
AROUND = 7  # weighings on each side of it
OLDEST = date(1970, 1, 1)


@dataclass(frozen=True)
class Doubt:
    """A row that may not mean what it seems to.

    Args:
        line: Line in the file.
        column: Header of the column.
        given: What stands there.
        says: Why it is doubted and what to do.
        readable: False where nothing can be made of it, so that it is never imported.
    """

    line: int
    column: str
    given: str
    says: str
    readable: bool

    def __str__(self) -> str:
        """One line for people."""
        return f"line {self.line}, {self.column} {self.given!r}: {self.says}"


@dataclass(frozen=True)
class Asked:
    """What the list does not say of itself.

    Args:
        bird: Bird of a list without a column for it.
        zone: Zone of its hours.
        unit: Unit of a bare weight.
        dates: Order of day and month.
        hour: Hour of a row without one.
        today: Today: later rows are doubted.
        birds: Names of the yard's birds, to find slips; empty where they are not known.
        skip: Lines to leave out.
    """

    zone: ZoneInfo
    today: date
    bird: str | None = None
    unit: Unit | None = None
    dates: Order | None = None
    hour: time = time(8)
    birds: frozenset[str] = frozenset()
    skip: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Preview:
    """What a list would add.

    Args:
        rows: Rows of entries, without author and time of writing.
        doubts: What is doubted, in the order of the lines.
        blank: Rows that say nothing: days on which nothing was written.
        assumed: What was taken for granted, in sentences.
    """

    rows: list[dict[str, Any]]
    doubts: list[Doubt]
    blank: int
    assumed: list[str]


class _Reader:
    def __init__(self, table: Table, asked: Asked, order: Order | None) -> None:
        self.table, self.asked, self.order = table, asked, order
        self.doubts: list[Doubt] = []
        self.no_hour = 0
        # line, bird, moment, column: cell
        self.days: dict[tuple[date, time], datetime | str] = {}

    def cell(self, cells: Sequence[str], column: str) -> str:
        at = self.table.columns.get(column)
        text = cells[at].strip() if at is not None and at < len(cells) else ""
        return "" if text.lower() in _EMPTY else text

    def doubt(self, line: int, column: str, given: str, says: str, readable: bool = False) -> None:
        header = self.table.headers.get(column, column)
        self.doubts.append(Doubt(line, header, given, says, readable))

    def moment(self, line: int, cells: Sequence[str]) -> datetime | None:
        day_text, hour_text, offset = self.cell(cells, "day"), self.cell(cells, "hour"), None
        if found := _TOGETHER.fullmatch(day_text):
            day_text, hour_text, offset = found[1], found[2], found[3]
        if not day_text:
            self.doubt(line, "day", "", "no day: write it, or leave the row out (--skip)")
            return None
        day = day_of(day_text, self.order)
        if isinstance(day, str):
            self.doubt(line, "day", day_text, day)
            return None
        if day < OLDEST:
            self.doubt(line, "day", day_text, "so long ago? look at the year", True)
        elif day > self.asked.today:
            self.doubt(line, "day", day_text, "this day has not come yet: look at the date", True)
        if not hour_text:
            self.no_hour += 1
        hour = hour_of(hour_text) if hour_text else self.asked.hour
        if isinstance(hour, str):
            self.doubt(line, "hour", hour_text, hour)
            return None
        if offset:
            sign = "+00:00" if offset in "Zz" else offset
            return datetime.fromisoformat(f"{day}T{hour}{sign}").astimezone(UTC)
        key = (day, hour)
        if key not in self.days:
            self.days[key] = self._in_zone(day, hour)
        moment = self.days[key]
        if isinstance(moment, str):
            self.doubt(line, "hour", hour_text, moment)
            return None
        return moment

    def _in_zone(self, day: date, hour: time) -> datetime | str:
        local = datetime.combine(day, hour, self.asked.zone)
        moment = local.astimezone(UTC)
        if moment.astimezone(self.asked.zone).replace(tzinfo=None) != local.replace(tzinfo=None):
            return "the clock jumped over this hour on that day: look at the time"
        return moment

    def mass(self, line: int, cells: Sequence[str], column: str, unit: Unit | None) -> float | None:
        text = self.cell(cells, column)
        if not text:
            return None
        grams = grams_of(text, unit)
        if isinstance(grams, str):
            self.doubt(line, column, text, grams)
            return None
        if grams > MOST_GRAMS or (column == "weight" and grams <= 0):
            self.doubt(line, column, text, f"{grams:g} g is no bird: look at number and unit")
            return None
        return grams

    def number(
        self, line: int, cells: Sequence[str], column: str, least: float, most: float
    ) -> float | None:
        text = self.cell(cells, column)
        if not text:
            return None
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = float("nan")
        if not least <= value <= most:
            self.doubt(line, column, text, f"a number from {least:g} to {most:g} is asked for")
            return None
        return value

    def bird(self, line: int, cells: Sequence[str]) -> str | None:
        name = self.cell(cells, "bird") or self.asked.bird
        if name is None:
            self.doubt(line, "bird", "", "no bird: add a column bird, or say --bird NAME")
            return None
        birds = self.asked.birds
        if birds and name not in birds:
            same = [b for b in birds if b.casefold() == name.casefold()]
            if same:
                return same[0]
            known = ", ".join(sorted(birds)[:12])
            self.doubt(line, "bird", name, f"the yard has no such bird (it has {known})", True)
        return name


def preview(text: str, where: str, book: UUID, asked: Asked) -> Preview:
    """Read a keeper's list.

    The same list gives the same entries with the same names, so that what is brought in twice
    lands once.

    Args:
        text: The file.
        where: Its name, for messages.
        book: Name of the book: entries are named after it.
        asked: What the list does not say of itself.

    Raises:
        Problem: If it is no list of weights or feeds.
    """
    table = table_of(text, where)
    day_at = table.columns["day"]
    order, both = order_shown(
        _TOGETHER.sub(r"\1", cells[day_at]) for _, cells in table.rows if day_at < len(cells)
    )
    if both and asked.dates is None:
        raise Problem(
            f"{where}: some rows have the day first and some the month: say --dates dmy or mdy "
            "and mend the others"
        )
    read = _Reader(table, asked, asked.dates or order)
    rows: list[dict[str, Any]] = []
    lines: list[int] = []
    blank = 0
    for line, cells in table.rows:
        if line in asked.skip:
            continue
        if not any(
            read.cell(cells, c) for c in ("weight", "food", "amount", "note", "crop", "keel")
        ):
            blank += 1
            continue
        for row in _entries_of(read, line, cells):
            rows.append(row)
            lines.append(line)
    _name(rows, book)
    _doubt_twice(read, rows, lines)
    _doubt_far(read, rows, lines)
    assumed = []
    if read.no_hour:
        assumed.append(f"{read.no_hour} rows have no time: taken as {asked.hour:%H:%M} (--hour)")
    if order and asked.dates is None:
        assumed.append(f"dates read with the {'day' if order == 'dmy' else 'month'} first")
    if table.unknown:
        assumed.append(f"left out, not known: {', '.join(table.unknown)}")
    return Preview(rows, sorted(read.doubts, key=lambda d: d.line), blank, assumed)


def _entries_of(read: _Reader, line: int, cells: Sequence[str]) -> list[dict[str, Any]]:
    before = len(read.doubts)
    at = read.moment(line, cells)
    bird = read.bird(line, cells)
    weight = read.mass(line, cells, "weight", read.asked.unit or read.table.unit)
    food = read.cell(cells, "food") or None
    amount = read.mass(line, cells, "amount", read.table.food_unit or "g")
    said: dict[str, object] = {
        "crop": read.number(line, cells, "crop", 0, 4),
        "keel": read.number(line, cells, "keel", 0, 4),
        "temp_c": read.number(line, cells, "temp", -60, 60),
        "flown_min": read.number(line, cells, "flown", 0, 1440),
    }
    note = read.cell(cells, "note") or None
    if any(not d.readable for d in read.doubts[before:]):
        return []
    assert at is not None
    found = []
    if weight is not None:
        found.append(_row("weight", at, bird, None, weight, {**said, "note": note}))
    if food or amount:
        if food is None:
            read.doubt(line, "food", "", "food is not named: it is kept as `food`", True)
        mine = {"note": note} if weight is None else {}
        found.append(_row("feed", at, bird, food or "food", amount, mine))
    if not found and (note or any(v is not None for v in said.values())):
        left = ", ".join(f"{k} {v:g}" for k, v in said.items() if isinstance(v, float))
        text = "; ".join(part for part in (note, left) if part)
        found.append(_row("note", at, bird, None, None, {"note": text}))
    return found


def _row(
    kind: str, at: datetime, bird: str | None, what: str | None, grams: float | None,
    detail: Mapping[str, object],
) -> dict[str, Any]:  # fmt: skip
    said = {key: value for key, value in detail.items() if value is not None}
    return {
        "kind": kind,
        "bird": bird,
        "quarters": None,
        "at": at,
        "what": what,
        "grams": grams,
        "detail": detail_text(said) if said else "{}",
        "corrects_uid": None,
        "withdrawn": 0,
    }


def _name(rows: list[dict[str, Any]], book: UUID) -> None:
    """Names that follow from what a row says, so that the same row has the same name again."""
    seen: Counter[str] = Counter()
    for row in rows:
        text = "\x1f".join(
            str(part)
            for part in (row["kind"], row["bird"], row["at"].isoformat(), row["what"],
                         row["grams"], row["detail"])
        )  # fmt: skip
        seen[text] += 1
        row["uid"] = str(uuid5(book, f"list\x1f{text}\x1f{seen[text]}"))


def _doubt_twice(read: _Reader, rows: list[dict[str, Any]], lines: list[int]) -> None:
    first: dict[tuple[str, str, datetime], int] = {}
    for row, line in zip(rows, lines, strict=True):
        if row["kind"] != "weight":
            continue
        key = (row["kind"], row["bird"], row["at"])
        if key in first:
            says = f"weighed at this moment in line {first[key]} too: look at date and time"
            read.doubt(line, "weight", f"{row['grams']:g} g", says, True)
        first.setdefault(key, line)


def _doubt_far(read: _Reader, rows: list[dict[str, Any]], lines: list[int]) -> None:
    """Doubt a weight far from those around it: a slip of a digit or of the unit."""
    weighings: dict[str, list[tuple[datetime, float, int]]] = defaultdict(list)
    for row, line in zip(rows, lines, strict=True):
        if row["kind"] == "weight":
            weighings[row["bird"]].append((row["at"], row["grams"], line))
    for own in weighings.values():
        own.sort()
        masses = [grams for _, grams, _ in own]
        window: list[float] = sorted(masses[: 2 * AROUND + 1])
        first = 0
        for k, (_, grams, line) in enumerate(own):
            start = max(0, min(k - AROUND, len(own) - 2 * AROUND - 1))
            while first < start:
                del window[bisect_left(window, masses[first])]
                new = masses[first + 2 * AROUND + 1]
                window.insert(bisect_left(window, new), new)
                first += 1
            if len(window) < 4:
                continue
            usual = window[len(window) // 2] if len(window) % 2 else median(window)
            if abs(grams - usual) > FAR * usual:
                says = f"far from the {usual:.0f} g around it: look at number and unit"
                read.doubt(line, "weight", f"{grams:g} g", says, True)
