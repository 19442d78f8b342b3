"""The steps of a plan, weeks or days, and the days of the calendar that they stand for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

LEAP_DAY = (2, 29)
LEAP_YEAR = 2000  # so that 29 February has a month


@dataclass(frozen=True)
class Steps:
    """The days of a plan, cut into steps of equal length.

    Args:
        start: First day.
        count: How many steps.
        days: Length of a step [days]; the calendar's days, so that no clock change matters.
    """

    start: date
    count: int
    days: int

    @property
    def last(self) -> date:
        """Last day of the plan."""
        return self.last_of(self.count - 1)

    def first_of(self, step: int) -> date:
        """First day of a step."""
        return self.start + timedelta(days=step * self.days)

    def last_of(self, step: int) -> date:
        """Last day of a step."""
        return self.first_of(step + 1) - timedelta(days=1)

    def of(self, day: date) -> int:
        """The step that a day lies in; below 0 before the plan, `count` or more after it."""
        return (day - self.start).days // self.days

    def touched(self, first: date, last: date) -> range:
        """Steps of the plan that share a day with a span."""
        return range(max(0, self.of(first)), min(self.count, self.of(last) + 1))

    def whole(self, days: float) -> int:
        """Steps that are needed to cover so many days."""
        return -int(-days // self.days)


def of_every_year(month_day: str, year: int) -> date:
    """A day that comes back each year; 29 February falls on the 28th where there is none."""
    month, day = (int(part) for part in month_day.split("-"))
    if (month, day) == LEAP_DAY:
        return date(year, 3, 1) - timedelta(days=1)
    return date(year, month, day)


def seasons(first: str, last: str, steps: Steps) -> Iterator[tuple[date, date]]:
    """Spans of a season that comes back each year, those that share a day with the plan.

    Args:
        first: Its first day, as "09-15".
        last: Its last day; before the first, the season runs over new year.
        steps: The plan.
    """
    for year in range(steps.start.year - 1, steps.last.year + 1):
        begins = of_every_year(first, year)
        ends = of_every_year(last, year + (last < first))
        if ends >= steps.start and begins <= steps.last:
            yield begins, ends
