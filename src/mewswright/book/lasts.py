"""When each chore was last done, by the entries of the book."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from mewswright.handbook.chores import chores

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from mewswright.book.open import Book


def last_done(
    book: Book, birds: Iterable[str], quarters: Iterable[str], day: date, zone: ZoneInfo
) -> dict[tuple[str, str], date]:
    """Day on which each chore was last done before or on a day; what was never done is left out.

    One look into an index for each bird or quarters and chore: it takes no longer in a book of
    twenty years.

    Args:
        book: The book.
        birds: Names of the birds.
        quarters: Names of the quarters.
        day: The day.
        zone: The yard's time zone, in which its days begin.
    """
    names, homes = list(birds), list(quarters)
    before = datetime.combine(day + timedelta(days=1), time(), zone)
    found: dict[tuple[str, str], date] = {}
    with book.reading() as connection:
        for chore in chores():
            whose: list[str] = {"bird": names, "quarters": homes}.get(chore.per, [""])
            for name in whose:
                at = _last(connection, chore.per, name, chore.entry, chore.entry_what, before)
                if at is not None:
                    found[chore.id, name] = at.astimezone(zone).date()
    return found


def _last(
    connection: Connection, per: str, name: str, kind: str, what: str | None, before: datetime
) -> datetime | None:
    from sqlalchemy import exists, select
    from sqlalchemy.orm import aliased

    from mewswright.book.tables import Entry

    later = aliased(Entry)
    query: Any = select(Entry.at).where(
        Entry.kind == kind,
        Entry.at < before,
        Entry.withdrawn == 0,
        ~exists().where(later.corrects == Entry.id),
    )
    if per == "bird":
        query = query.where(Entry.bird == name)
    elif per == "quarters":
        query = query.where(Entry.quarters == name)
    if what is not None:
        query = query.where(Entry.what == what)
    found: datetime | None = connection.scalar(query.order_by(Entry.at.desc()).limit(1))
    return found
