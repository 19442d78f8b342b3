"""A log brought in order: one clock, sorted, no row twice, none after the question, no nonsense."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from statistics import median

from mewswright.care.log import LogRow
from mewswright.care.log_times import USUAL_HOUR, days, on_one_clock
from mewswright.handbook.species import Species
from mewswright.model.problem import Problem

NEIGHBOURS = 7  # weighings that a weight is held against
LOST_DIGIT = 1.6  # times their middle: more than any crop or illness does between weighings
KIND_LOW, KIND_HIGH = 0.5, 1.8  # times the range of the species: starved or fat, but not a slip


@dataclass(frozen=True)
class Tidy:
    """Rows up to the hour that was asked for, and what was done to them.

    Attributes:
        rows: By time.
        days: Their times [days], one clock.
        at: The hour that was asked for, on the same clock.
        zone: Zone of that clock; None where nothing names one.
        cautions: What was left out or taken for granted.
    """

    rows: tuple[LogRow, ...]
    days: tuple[float, ...]
    at: datetime
    zone: tzinfo | None
    cautions: tuple[str, ...]


def tidy(rows: Sequence[LogRow], at: datetime, at_has_hour: bool, species: Species) -> Tidy:
    """Put rows in order.

    Args:
        rows: As `read_log` gave them.
        at: The hour that is asked for.
        at_has_hour: Whether it names an hour.
        species: Of the bird: its masses bound what a weight can be.

    Raises:
        Problem: If nothing is left, or a weight cannot be this bird's.
    """
    zone = at.tzinfo or next((row.at.tzinfo for row in rows if row.at.tzinfo), None)
    usual = [row.at.hour + row.at.minute / 60 for row in rows if row.has_hour]
    hour = at.hour + at.minute / 60 if at_has_hour else (median(usual) if usual else USUAL_HOUR)
    when = on_one_clock(at, zone) if at_has_hour else _at_hour(on_one_clock(at, zone), hour)
    placed = [
        replace(row, at=on_one_clock(row.at, zone) if row.has_hour else _at_hour(row.at, hour))
        for row in rows
    ]
    placed.sort(key=lambda row: (row.at, row.line))
    once = [row for n, row in enumerate(placed) if n == 0 or not _same(row, placed[:n])]
    before = [row for row in once if row.at <= when]
    cautions = []
    if len(once) < len(placed):
        cautions.append(f"{_rows(len(placed) - len(once))} stood twice in the log: taken once")
    if len(before) < len(once):
        cautions.append(f"{_rows(len(once) - len(before))} after the hour asked for: left out")
    if not any(row.weight_g for row in before):
        late = "before the hour asked for " if any(row.weight_g for row in once) else ""
        raise Problem(f"the log holds no weight {late}to start from: weigh the bird")
    _refuse_nonsense(before, species)
    return Tidy(tuple(before), tuple(days(row.at) for row in before), when, zone, tuple(cautions))


def _at_hour(day: datetime, hour: float) -> datetime:
    return day.replace(hour=int(hour), minute=int(hour % 1 * 60), tzinfo=None)


def _same(row: LogRow, earlier: Sequence[LogRow]) -> bool:
    for other in reversed(earlier):
        if other.at != row.at:
            return False
        if replace(row, line=0) == replace(other, line=0):
            return True
    return False


def _rows(count: int) -> str:
    return "1 row" if count == 1 else f"{count} rows"


def mass_ends_g(species: Species, sexes: Iterable[str]) -> tuple[float, float]:
    """Lowest and highest mass on record of these sexes of a kind [g]."""
    found = [
        size.value
        for sex in sexes
        for end in ("low", "mean", "high")
        if (size := species.size("mass_g", sex, end))
    ] or [species.mass().value]
    return min(found), max(found)


def _refuse_nonsense(rows: Sequence[LogRow], species: Species) -> None:
    low, high = mass_ends_g(species, ("m", "f"))
    weighed = [(row.line, row.weight_g) for row in rows if row.weight_g is not None]
    for line, weight in weighed:
        if low * KIND_LOW <= weight <= high * KIND_HIGH:
            continue
        hint = "was that kilograms? " if low * KIND_LOW <= weight * 1000 <= high * KIND_HIGH else ""
        raise Problem(
            f"row {line}: weight_g is {weight:g}, and a {species.common_name} weighs {low:g} to "
            f"{high:g} g: {hint}correct it, or leave it blank"
        )
    for n, (line, weight) in enumerate(weighed):
        start = max(0, n - NEIGHBOURS // 2 - 1)
        others = [
            w for m, (_, w) in enumerate(weighed[start : start + NEIGHBOURS + 1], start) if m != n
        ]
        if len(others) < 3:
            continue
        middle = median(others)
        if not middle / LOST_DIGIT <= weight <= middle * LOST_DIGIT:
            raise Problem(
                f"row {line}: weight_g is {weight:g}, and the weighings round it are near "
                f"{middle:g}: was a digit lost? Correct it, or leave it blank"
            )
