"""Months by name, and those that a stay lies in."""

from collections.abc import Iterable

from mewswright.model.bird import Stay

NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
YEAR = tuple(range(1, 13))


def stay_months(stay: Stay) -> tuple[int, ...]:
    """Months of the year that a stay touches, 1 to 12; every month where an end is open."""
    first, last = stay.starts_on, stay.ends_on
    if first is None or last is None:
        return YEAR
    count = (last.year - first.year) * 12 + last.month - first.month + 1
    if count >= 12:
        return YEAR
    return tuple(sorted((first.month - 1 + i) % 12 + 1 for i in range(count)))


def named(months: Iterable[int]) -> str:
    """Months as a sentence names them: January, February and March."""
    names = [NAMES[month - 1] for month in months]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
