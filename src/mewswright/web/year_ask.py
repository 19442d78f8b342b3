"""What the Year page is asked: all of it stands in the address, so that a plan can be kept.

No database: a bookmark brings back the days, what is locked and forbidden, and what is given up.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any
from urllib.parse import urlencode

from mewswright.model.problem import Problem

MOST_WEEKS = 157
MOST_PINS = 200
MOST_LETTERS = 300
SECONDS = (1.0, 600.0)
LISTS = ("lock", "forbid", "without")


@dataclass(frozen=True)
class YearAsk:
    """The days to plan, and what the keeper wants of them.

    Args:
        start: First day.
        weeks: Length [weeks].
        seconds: Time to search, at the most [s].
        lock: Stays to keep, as `--lock` takes them.
        forbid: Stays that must not be.
        without: Keys of rules that are given up.
        grow: Whether it is asked what is missing.
    """

    start: date
    weeks: int = 52
    seconds: float = 20
    lock: tuple[str, ...] = ()
    forbid: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    grow: bool = False

    @property
    def query(self) -> str:
        """The address's query."""
        pairs = [("from", f"{self.start}"), ("weeks", f"{self.weeks}")]
        pairs.append(("seconds", f"{self.seconds:g}"))
        pairs += [(name, text) for name in LISTS for text in getattr(self, name)]
        return urlencode([*pairs, ("grow", "1")] if self.grow else pairs)

    @property
    def last(self) -> date:
        """Last day."""
        return self.start + timedelta(weeks=self.weeks) - timedelta(days=1)

    def with_one(self, name: str, text: str) -> "YearAsk":
        """The same with one stay or rule more; what is there already is not doubled."""
        return self._with_list(name, (*(t for t in getattr(self, name) if t != text), text))

    def without_one(self, name: str, text: str) -> "YearAsk":
        """The same with one stay or rule less."""
        return self._with_list(name, tuple(t for t in getattr(self, name) if t != text))

    def _with_list(self, name: str, texts: tuple[str, ...]) -> "YearAsk":
        lists: dict[str, Any] = {name: texts}
        return replace(self, **lists)


def year_ask(given: Mapping[str, list[str]], today: date) -> YearAsk:
    """Read what a page asks.

    Args:
        given: Values by name, of an address or a form.
        today: Day from whose next Monday the year begins, where none is given.

    Raises:
        Problem: For a day or a number that cannot be.
    """

    def one(name: str) -> str:
        return (given.get(name) or [""])[-1].strip()

    start = today + timedelta(days=-today.weekday() % 7)
    if one("from"):
        try:
            start = date.fromisoformat(one("from"))
        except ValueError:
            raise Problem(f"from: {one('from')!r} is no day; write it as 2027-03-01") from None
    if not 1900 <= start.year <= 2200:
        raise Problem(f"from: {start} is not a day from 1900 to 2200")
    lists = {name: tuple(dict.fromkeys(t for t in given.get(name, []) if t)) for name in LISTS}
    for name, texts in lists.items():
        if len(texts) > MOST_PINS or any(len(text) > MOST_LETTERS for text in texts):
            raise Problem(f"{name}: at most {MOST_PINS} of them, of {MOST_LETTERS} letters each")
    return YearAsk(
        start,
        int(_number("weeks", one("weeks"), 52, 1, MOST_WEEKS)),
        _number("seconds", one("seconds"), 20, *SECONDS),
        **lists,
        grow=one("grow") == "1",
    )


def _number(name: str, given: str, blank: float, least: float, most: float) -> float:
    if not given:
        return blank
    try:
        value = float(given)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise Problem(f"{name}: {given!r} is not a number from {least:g} to {most:g}")
    return value
