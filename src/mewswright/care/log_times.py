"""Moments as keepers write them, brought to one clock without zones.

Accepted: ISO dates and times with or without seconds and zone, and day.month.year. A day alone
takes the hour of the question. Days with slashes are refused: they mean two things.
"""

import re
from datetime import datetime, timedelta, tzinfo

from mewswright.model.problem import Problem

USUAL_HOUR = 8  # of a day that names no hour anywhere: a judgement
EPOCH = datetime(2000, 1, 1)
_DOTTED = re.compile(r"^(\d{1,2})\.(\d{1,2})\.(\d{4})(?:[ T,]+(.*))?$")
_ISO = re.compile(r"^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ]+(.*))?$")
_CLOCK = re.compile(
    r"^(\d{1,2})(?::?(\d{2}))?(?::(\d{2})(?:[.,]\d+)?)?\s*(Z|z|[+-]\d{2}(?::?\d{2})?)?$"
)
_HOW = "give it as 2026-11-25T08:00, with or without seconds and zone"


def moment(text: str, what: str) -> tuple[datetime, bool]:
    """A moment, and whether it names an hour.

    Args:
        text: As written.
        what: Where it stands, for the sentence.

    Returns:
        The moment, with its zone where it has one; at midnight where it names no hour.

    Raises:
        Problem: If it cannot be read one way alone.
    """
    plain = text.strip()
    found = _ISO.match(plain)
    if found:
        year, month, day, clock = found[1], found[2], found[3], found[4]
    elif dotted := _DOTTED.match(plain):
        day, month, year, clock = dotted[1], dotted[2], dotted[3], dotted[4]
    elif "/" in plain:
        raise Problem(f"{what}: {text!r} could be day/month or month/day; {_HOW}")
    else:
        raise Problem(f"{what}: cannot read the time {text!r}; {_HOW}")
    try:
        date = datetime(int(year), int(month), int(day))
        if not (clock or "").strip():
            return date, False
        told = _CLOCK.match(clock.strip())
        if told is None:
            raise ValueError
        hour, minute, second = int(told[1]), int(told[2] or 0), int(told[3] or 0)
        late = timedelta(days=1) if (hour, minute, second) == (24, 0, 0) else timedelta()
        at = date.replace(hour=hour % 24 if late else hour, minute=minute, second=second) + late
    except (ValueError, OverflowError):
        raise Problem(f"{what}: cannot read the time {text!r}; {_HOW}") from None
    return at.replace(tzinfo=_zone(told[4])), True


def _zone(text: str | None) -> tzinfo | None:
    if not text:
        return None
    return datetime.fromisoformat(f"2000-01-01T00:00:00{text.upper()}").tzinfo


def on_one_clock(at: datetime, zone: tzinfo | None) -> datetime:
    """A moment in `zone` without its zone; one that names none is taken to be in it already."""
    if at.tzinfo is None:
        return at
    return (at if zone is None else at.astimezone(zone)).replace(tzinfo=None)


def days(at: datetime) -> float:
    """Days since the first of 2000, on the one clock."""
    return (at - EPOCH) / timedelta(days=1)


def moment_of(day: float) -> datetime:
    """The moment so many days after the first of 2000, to the minute."""
    return EPOCH + timedelta(minutes=round(day * 1440))
