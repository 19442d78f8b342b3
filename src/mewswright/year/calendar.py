"""A plan of a year as an iCalendar file: what is to be done, day by day, for any calendar.

Every event is all-day. A move that is planned anew for another day keeps its UID, so that a
calendar that takes the file again moves the event instead of doubling it.

Source: RFC 5545, sections 3.1 (folding), 3.3.11 (text), 3.6.1 (events), 3.8.4.7 (UID);
RFC 7986, section 5.1 (NAME).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import UTC, date, datetime
from hashlib import sha256

from mewswright.year.plan import DAY, Move, Span, YearPlan, place_words, told

LINE_OCTETS = 75  # RFC 5545, 3.1: without the line break
SHUT_WORDS = {"clean": "Clean and dry", "rest": "Rest", "closed": "Closed"}
CATEGORY = {
    "move": "Move", "mode": "Move", "arrival": "Arrival", "departure": "Departure",
    "clean": "Cleaning", "rest": "Rest", "closed": "Closed",
}  # fmt: skip


def to_calendar(plan: YearPlan, stamp: datetime) -> bytes:
    """Write the moves and cleanings of a plan as an iCalendar file.

    Args:
        plan: The plan.
        stamp: When the file is made; must say its time zone.

    Returns:
        The file, UTF-8 with CRLF.

    Raises:
        ValueError: If the stamp has no time zone.
    """
    if stamp.tzinfo is None:
        raise ValueError(f"the stamp {stamp} has no time zone: give one")
    stamped = f"{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Mewswright//Year//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(f'{plan.yard}, year plan')}",
        f"X-WR-CALNAME:{escaped(f'{plan.yard}, year plan')}",
    ]
    for uid, what, starts_on, ends_on, kind in _events(plan):
        lines += [
            "BEGIN:VEVENT",
            f"UID:{uid}",
            f"DTSTAMP:{stamped}",
            f"DTSTART;VALUE=DATE:{starts_on:%Y%m%d}",
            f"DTEND;VALUE=DATE:{ends_on + DAY:%Y%m%d}",  # the first day after it
            f"SUMMARY:{escaped(what)}",
            f"CATEGORIES:{CATEGORY.get(kind, 'Yard')}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return b"".join(folded(line) for line in lines)


def _events(plan: YearPlan) -> Iterator[tuple[str, str, date, date, str]]:
    seen: Counter[tuple[str, ...]] = Counter()

    def uid(*about: str) -> str:
        seen[about] += 1
        whole = "\x1f".join((plan.yard, f"{plan.starts_on:%Y}", *about, str(seen[about])))
        return f"{sha256(whole.encode()).hexdigest()[:32]}@mewswright"

    for move in plan.moves:
        key = uid(move.kind, *sorted(move.birds), *_ends(move))
        yield key, move.words, move.on, move.on, move.kind
    for span in sorted(plan.shut, key=lambda s: (s.starts_on, s.who)):
        yield (
            uid(span.kind, span.who),
            _shut_words(plan, span),
            span.starts_on,
            span.ends_on,
            (span.kind),
        )


def _ends(move: Move) -> tuple[str, str]:
    return tuple("" if end is None else place_words(end) for end in (move.was, move.now))  # type: ignore[return-value]


def _shut_words(plan: YearPlan, span: Span) -> str:
    """What is done in quarters, and for whom they are made ready."""
    words = f"{SHUT_WORDS.get(span.kind, span.kind)}: {span.who}"
    if span.kind != "clean":
        return words
    first: dict[date, list[str]] = {}
    for stay in plan.stays:
        if stay.quarters == span.who and stay.starts_on > span.ends_on:
            first.setdefault(stay.starts_on, []).append(stay.bird)
    return f"{words}, next for {told(first[min(first)])}" if first else words


def escaped(text: str) -> str:
    """Text as a property's value (RFC 5545, 3.3.11); control characters become spaces."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(" " if c != "\n" and (ord(c) < 32 or ord(c) == 127) else c for c in lines)
    for char in "\\;,":
        plain = plain.replace(char, f"\\{char}")
    return plain.replace("\n", "\\n")


def folded(line: str) -> bytes:
    """A content line, folded where it is too long, never inside a letter (RFC 5545, 3.1)."""
    rows: list[bytes] = []
    row = b""
    for char in line:
        octets = char.encode()
        if len(row) + len(octets) > LINE_OCTETS:
            rows.append(row)
            row = b" "
        row += octets
    return b"\r\n".join([*rows, row, b""])
