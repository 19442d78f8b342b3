"""The time axis of a wall chart: days to millimetres of paper, months and numbered weeks.

Weeks are those of ISO 8601: from Monday, numbered from the one that holds the first Thursday.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from mewswright.drawing.lettering import text_width
from mewswright.drawing.scene import Line, Mark, Polygon, Text

LAYER = "time"
MONTH_MM, WEEK_MM = 5.5, 4.5  # heights of the two rows
LETTER_MM = 2.3
DAY = timedelta(days=1)


@dataclass(frozen=True)
class TimeAxis:
    """Days from left to right.

    Args:
        first: First day shown.
        last: Last day shown.
        left: Where the first day begins [mm].
        right: Where the last day ends [mm].
    """

    first: date
    last: date
    left: float
    right: float

    @property
    def day_mm(self) -> float:
        """Width of a day."""
        return (self.right - self.left) / ((self.last - self.first).days + 1)

    def start_of(self, day: date) -> float:
        """Where a day begins, held to the axis."""
        days = min(max((day - self.first).days, 0), (self.last - self.first).days + 1)
        return self.left + days * self.day_mm

    def end_of(self, day: date) -> float:
        """Where a day ends, held to the axis."""
        return self.start_of(day + DAY)

    def shows(self, starts_on: date, ends_on: date) -> bool:
        """Whether any day of a span is on the axis."""
        return starts_on <= self.last and ends_on >= self.first

    def weeks(self) -> Iterator[tuple[date, date]]:
        """First and last day of each week, those at the ends cut off."""
        day = self.first
        while day <= self.last:
            end = min(self.last, day + (6 - day.weekday()) * DAY)
            yield day, end
            day = end + DAY

    def months(self) -> Iterator[tuple[date, date]]:
        """First and last day of each month, those at the ends cut off."""
        day = self.first
        while day <= self.last:
            after = date(day.year + day.month // 12, day.month % 12 + 1, 1)
            yield day, min(self.last, after - DAY)
            day = after

    @property
    def head_mm(self) -> float:
        """Height of the two rows."""
        return MONTH_MM + WEEK_MM


def head(axis: TimeAxis, top: float) -> list[Mark]:
    """Months over week numbers; a number is left out where weeks are too narrow for all.

    Args:
        axis: The days.
        top: Upper edge [mm].
    """
    marks: list[Mark] = []
    middle = top - MONTH_MM
    bottom = middle - WEEK_MM
    for first, last in axis.months():
        left, right = axis.start_of(first), axis.end_of(last)
        marks.append(_box(left, middle, right, top))
        for words in (f"{first:%B %Y}", f"{first:%b %Y}", f"{first:%b}", f"{first:%b}"[0]):
            if text_width(words, LETTER_MM + 0.3, bold=True) <= right - left - 1.5:
                at = ((left + right) / 2, (top + middle) / 2)
                marks.append(
                    Text(layer=LAYER, at=at, text=words, height_mm=LETTER_MM + 0.3,
                         anchor="middle", bold=True)
                )  # fmt: skip
                break
    every = next(n for n in (1, 2, 4, 13, 1000) if n * 7 * axis.day_mm >= 4.2)
    for first, last in axis.weeks():
        left, right = axis.start_of(first), axis.end_of(last)
        number = first.isocalendar().week
        whole = right - left >= min(3.4, 6 * axis.day_mm)
        if whole and (every == 1 or number % every == 1):
            at = ((left + right) / 2, (middle + bottom) / 2)
            marks.append(
                Text(layer=LAYER, at=at, text=str(number), height_mm=LETTER_MM, anchor="middle")
            )
        marks.append(Line(layer=LAYER, pen="hair", a=(left, bottom), b=(left, middle)))
    return marks


def ruled(axis: TimeAxis, top: float, bottom: float) -> list[Mark]:
    """Lines down through the rows: thin ones at weeks, stronger ones at months."""
    marks: list[Mark] = [
        Line(layer=LAYER, pen="hair", css="hl", a=(x, top), b=(x, bottom))
        for x in (axis.start_of(first) for first, _ in axis.weeks())
    ]
    marks += [
        Line(layer=LAYER, pen="thin", a=(x, top), b=(x, bottom))
        for x in (axis.start_of(first) for first, _ in axis.months())
    ]
    return marks


def _box(left: float, bottom: float, right: float, top: float) -> Polygon:
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Polygon(layer=LAYER, pen="thin", points=corners)
