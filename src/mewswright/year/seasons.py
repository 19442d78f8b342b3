"""Seasons that come back each year: flying and moult, as the yard's keys or the handbook say."""

from calendar import monthrange
from collections.abc import Iterable, Iterator
from datetime import date

from mewswright.handbook import species
from mewswright.model.bird import Bird
from mewswright.model.yard import Yard
from mewswright.year.steps import LEAP_YEAR, Steps, seasons

# Common practice north of the equator: hunting from autumn to the end of winter.
FLYING = ("10-01", "03-15")
FLYING_SOUTH = ("04-01", "09-15")
MONTHS = 12
ALL_YEAR = 11  # a moult of so many months is no season


def flying_season(yard: Yard, steps: Steps) -> Iterator[tuple[date, date]]:
    """First and last day of each flying season that touches the plan."""
    first, last = FLYING_SOUTH if yard.yard.latitude_deg < 0 else FLYING
    return seasons(yard.year.flying_from or first, yard.year.flying_to or last, steps)


def moult_season(
    yard: Yard, bird: Bird, steps: Steps, assumed: dict[str, None]
) -> Iterator[tuple[date, date]]:
    """First and last day of each moult of a bird that touches the plan; none where all year is.

    Args:
        yard: The yard; south of the equator the handbook's months are half a year later.
        bird: The bird; its own days go before the handbook's.
        steps: The plan.
        assumed: Where to say what was taken from the handbook.
    """
    if bird.year.moult_from is not None and bird.year.moult_to is not None:
        yield from seasons(bird.year.moult_from, bird.year.moult_to, steps)
        return
    kind = species(bird.species)
    first, last = kind.moult_start_month, kind.moult_end_month
    if first is None or last is None or (last - first) % MONTHS + 1 >= ALL_YEAR:
        return
    if yard.yard.latitude_deg < 0:
        first, last = (first + 5) % MONTHS + 1, (last + 5) % MONTHS + 1
    days = monthrange(LEAP_YEAR, last)[1]
    assumed[
        f"{bird.name} moults from month {first} to month {last}, as the handbook says of the wild "
        f"{kind.common_name}."
    ] = None
    yield from seasons(f"{first:02d}-01", f"{last:02d}-{days}", steps)


def winter_and_summer(yard: Yard, steps: Steps) -> Iterator[tuple[bool, date, date]]:
    """The three darkest and the three lightest months: (winter, first day, last day)."""
    south = yard.yard.latitude_deg < 0
    for first, last, dark in (("11-06", "02-04", True), ("05-07", "08-06", False)):
        for begins, ends in seasons(first, last, steps):
            yield dark != south, begins, ends


def months_of(months: Iterable[int], steps: Steps) -> Iterator[tuple[date, date]]:
    """First and last day of each time that some months come in the plan, one by one."""
    for month in months:
        days = monthrange(LEAP_YEAR, month)[1]
        yield from seasons(f"{month:02d}-01", f"{month:02d}-{days}", steps)
