"""Rows of a weather file: numbers within what can be, hours one after another, a whole year."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from math import isfinite
from typing import TYPE_CHECKING

from mewswright.air.weather import DAYS_IN, HOURS
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LEAP_HOURS = HOURS + 24
LEAP_DAY = sum(DAYS_IN[:2]) * 24  # first hour of 29 February
# What a figure can be on earth; beyond it a column is another column, or another unit.
LIMITS: Mapping[str, tuple[float, float]] = {
    "temp_c": (-70, 60), "dew_c": (-90, 50), "humidity_pct": (1, 110), "wind_m_s": (0, 80),
    "wind_from_deg": (0, 360), "rain_mm": (0, 300), "global_w_m2": (0, 1500),
    "beam_w_m2": (0, 1400), "diffuse_w_m2": (0, 1000), "cloud_pct": (0, 100),
    "cloud_tenths": (0, 10), "infrared_w_m2": (0, 700),
}  # fmt: skip
HINTS = {
    "temp_c": "is it Fahrenheit or Kelvin, or another column?",
    "humidity_pct": "is it a share of 1, or another column?",
    "wind_m_s": "is it km/h, or another column?",
}
Stamp = tuple[int, int, int, int]  # line, month, day, hour from 0


def read_number(
    name: str,
    at: int,
    what: str,
    text: str,
    low: float | None = None,
    high: float | None = None,
    unless: float | None = None,
) -> float:
    """One number of a row.

    Args:
        name: The file's.
        at: Line.
        what: What it is.
        text: As it stands there.
        low: Least that it can be.
        high: Greatest that it can be.
        unless: From here on it says that nothing was measured, which is let pass.

    Raises:
        Problem: If it is blank, no number, or beyond what can be.
    """
    if not text.strip():
        raise Problem(f"{name}, line {at}: {what} is blank: fill the gap, or leave the column out")
    try:
        value = float(text)
    except ValueError as error:
        raise Problem(
            f"{name}, line {at}: {what} is {text.strip()!r}, which is no number"
        ) from error
    if not isfinite(value):
        raise Problem(f"{name}, line {at}: {what} is {text.strip()!r}, which is no number")
    if unless is not None and value >= unless:
        return value
    if (low is not None and value < low) or (high is not None and value > high):
        hint = f": {HINTS[what]}" if what in HINTS else ""
        raise Problem(
            f"{name}, line {at}: {what} is {value:g}, and can be {low:g} to {high:g}{hint}"
        )
    return value


def calendar(name: str, at: int, text: str) -> tuple[int, int, int]:
    """Month, day and hour of a time of a CSV.

    Raises:
        Problem: If it is no ISO 8601 time on the full hour without an offset.
    """
    try:
        moment = datetime.fromisoformat(text)
    except ValueError as error:
        raise Problem(
            f"{name}, line {at}: time is {text!r}: write the beginning of the hour as in "
            "2025-01-01T00:00"
        ) from error
    if moment.tzinfo is not None or moment.minute or moment.second:
        raise Problem(
            f"{name}, line {at}: time is {text!r}: write full hours of the yard's standard time, "
            "without an offset and without summer time, as in 2025-01-01T00:00"
        )
    return moment.month, moment.day, moment.hour


class Columns:
    """Columns that grow row by row."""

    def __init__(self) -> None:
        """Begin without rows."""
        self._rows: list[Mapping[str, float]] = []

    def add(self, row: Mapping[str, float]) -> None:
        """Add the row of the next line."""
        humidity = row.get("humidity_pct")
        if humidity is not None and humidity > 100:  # a wet sensor reads a little over
            row = {**row, "humidity_pct": 100.0}
        self._rows.append(row)

    def arrays(self, count: int) -> "dict[str, NDArray[np.float64]]":
        """Every column as an array of the first `count` rows."""
        import numpy as np

        return {
            key: np.array([row[key] for row in self._rows[:count]], float) for key in self._rows[0]
        }


def whole_year(name: str, dates: Sequence[Stamp]) -> int:
    """Check that rows are each hour of one year, and give how many there are.

    Raises:
        Problem: At the first line that is out of its place, or for a year that is not whole.
    """
    leap = len(dates) == LEAP_HOURS
    lengths = [days + (leap and month == 1) for month, days in enumerate(DAYS_IN)]
    wanted = (
        (month, day, hour)
        for month, days in enumerate(lengths, start=1)
        for day in range(1, days + 1)
        for hour in range(24)
    )
    for (at, *found), due in zip(dates, wanted, strict=False):
        if tuple(found) != due:
            raise Problem(
                f"{name}, line {at}: it is hour {_said(found)}, and {_said(due)} is due: give "
                "every hour from 1 January 00:00 once, in order, without summer time"
            )
    if len(dates) not in (HOURS, LEAP_HOURS):
        raise Problem(
            f"{name} has {len(dates)} hours: a year has {HOURS}, or {LEAP_HOURS} with a 29 February"
        )
    return len(dates)


def _said(moment: Sequence[int]) -> str:
    month, day, hour = moment
    return f"{month:02}-{day:02} {hour:02}:00"


def no_leap_day(
    read: "dict[str, NDArray[np.float64]]", notes: list[str]
) -> "tuple[dict[str, NDArray[np.float64]], list[str]]":
    """A year without its 29 February, and a note that it was left out."""
    import numpy as np

    if len(next(iter(read.values()))) == HOURS:
        return read, notes
    out = np.arange(LEAP_DAY, LEAP_DAY + 24)
    short = {key: np.delete(values, out) for key, values in read.items()}
    return short, [*notes, "29 February is left out"]
