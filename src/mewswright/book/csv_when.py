"""Days and hours as people write them in their lists."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, time
from functools import lru_cache
from typing import Literal

Order = Literal["dmy", "mdy"]

MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january januar jän jänner",
            "feb february februar",
            "mar march märz mrz mär",
            "apr april",
            "may mai",
            "jun june juni",
            "jul july juli",
            "aug august",
            "sep sept september",
            "oct october okt oktober",
            "nov november",
            "dec december dez dezember",
        ),
        start=1,
    )
    for name in names.split()
}
_DAYS = r"(?:(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)[a-z]*|mo|di|mi|do|fr|sa|so)[., ]+"
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
_NUMBERS = re.compile(r"(\d{1,2})([-/. ])\s*(\d{1,2})\2\s*(\d{4}|\d{2})")
_DAY_NAME = re.compile(r"(\d{1,2})(?:st|nd|rd|th|\.)?[- ]*([a-zäé]+)\.?,?[- ]*(\d{4}|\d{2})")
_NAME_DAY = re.compile(r"([a-zäé]+)\.?[- ]*(\d{1,2})(?:st|nd|rd|th)?,?[- ]+(\d{4}|\d{2})")
_CLOCK = re.compile(
    r"(\d{1,2})(?:[:.h](\d{2})(?::(\d{2})(?:\.\d+)?)?|h)?\s*(am|pm|a\.m\.|p\.m\.|uhr)?"
)
_PLAIN = re.compile(r"(\d{2})(\d{2})")


def order_shown(texts: Iterable[str]) -> tuple[Order | None, bool]:
    """In which order a column writes day and month, as far as it gives itself away.

    Args:
        texts: The column.

    Returns:
        The order, None where nothing tells; and whether some rows tell one and some the other.
    """
    day_first = month_first = False
    for text in texts:
        found = _NUMBERS.fullmatch(_bare(text))
        if found:
            one, mark, two = int(found[1]), found[2], int(found[3])
            day_first = day_first or one > 12 or mark == "."
            month_first = month_first or two > 12
    if day_first and month_first:
        return None, True
    return ("dmy" if day_first else "mdy" if month_first else None), False


def _bare(text: str) -> str:
    return re.sub(f"^{_DAYS}", "", text.strip().lower())


@lru_cache(maxsize=20_000)
def day_of(text: str, order: Order | None) -> date | str:
    """The day that a text means, or why it means none.

    Args:
        text: As written: 2026-03-01, 1.3.2026, 01/03/26, 1 Mar 2026, March 1, 2026.
        order: Which of two numbers comes first, the day or the month.
    """
    bare = _bare(text)
    if found := _ISO.fullmatch(bare):
        year, month, day = (int(part) for part in found.groups())
    elif found := _NUMBERS.fullmatch(bare):
        one, two, year = int(found[1]), int(found[3]), _year(found[4])
        if order is None and one != two:
            return "day or month first? say --dates dmy or --dates mdy"
        day, month = (two, one) if order == "mdy" else (one, two)
    elif found := _DAY_NAME.fullmatch(bare):
        day, month, year = int(found[1]), MONTHS.get(found[2], 0), _year(found[3])
    elif found := _NAME_DAY.fullmatch(bare):
        month, day, year = MONTHS.get(found[1], 0), int(found[2]), _year(found[3])
    else:
        return "no day that is understood: write it as 2026-03-01"
    try:
        return date(year, month, day)
    except ValueError:
        return "there is no such day: look at day and month"


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


@lru_cache(maxsize=5_000)
def hour_of(text: str) -> time | str:
    """The time of day that a text means, or why it means none.

    Args:
        text: As written: 7:05, 07.05, 7 am, 7h30, 0705.
    """
    bare = text.strip().lower().replace("o'clock", "").strip()
    if found := _PLAIN.fullmatch(bare):
        hour, minute, second, half = int(found[1]), int(found[2]), 0, None
    elif found := _CLOCK.fullmatch(bare):
        hour, minute, second = int(found[1]), int(found[2] or 0), int(found[3] or 0)
        half = (found[4] or "").replace(".", "")
    else:
        return "no time that is understood: write it as 07:05"
    if half in ("am", "pm"):
        if not 1 <= hour <= 12:
            return "there is no such time: look at the hour"
        hour = hour % 12 + (12 if half == "pm" else 0)
    try:
        return time(hour, minute, second)
    except ValueError:
        return "there is no such time: look at hour and minute"
