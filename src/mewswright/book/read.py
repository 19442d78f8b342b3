"""Reading the book: what holds now, and what was written when."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Connection, Select

    from mewswright.book.open import Book


@dataclass(frozen=True)
class Kept:
    """An entry as the book has it.

    Args:
        id: Its place in the book, from 1.
        uid: Its own name.
        kind: What kind of entry.
        bird: Which bird, or None.
        quarters: Which quarters, or None.
        at: When it happened, in UTC.
        written_at: When it was written, in UTC.
        author: Who wrote it.
        what: Food, medicine, harm, work.
        grams: Mass [g].
        detail: What its kind says more.
        corrects: Name of the entry that it takes the place of, or None.
        withdrawn: Whether it says that the earlier one never happened.
        digest: Digest of it and of all before it.
    """

    id: int
    uid: str
    kind: str
    bird: str | None
    quarters: str | None
    at: datetime
    written_at: datetime
    author: str
    what: str | None
    grams: float | None
    detail: dict[str, Any]
    corrects: str | None
    withdrawn: bool
    digest: str


@dataclass(frozen=True)
class KeptRevision:
    """A state of the yard file.

    Args:
        number: Counted from 1.
        text: The file.
        author: Who saved it.
        note: Why it was changed.
        written_at: When, in UTC.
        digest: Digest of it and of all before it.
    """

    number: int
    text: str
    author: str
    note: str
    written_at: datetime
    digest: str


@dataclass(frozen=True)
class About:
    """The book itself.

    Args:
        uid: Its own name.
        yard: The yard's name.
        created_at: When it was made, in UTC.
        entries: How many entries it has.
        entry_head: Digest of the last.
        revisions: How many revisions of the yard file.
        revision_head: Digest of the last.
    """

    uid: str
    yard: str
    created_at: datetime
    entries: int
    entry_head: str
    revisions: int
    revision_head: str


def about(book: Book) -> About:
    """What the book says of itself."""
    with book.reading() as connection:
        return about_in(connection)


def about_in(connection: Connection) -> About:
    """The same, inside a transaction."""
    from sqlalchemy import select

    from mewswright.book.tables import Info

    row = connection.execute(select(Info.__table__)).mappings().one()
    return About(**{key: row[key] for key in About.__annotations__})


def all_entries() -> Select[Any]:
    """Every entry, with the name of the one that it corrects."""
    from sqlalchemy import select
    from sqlalchemy.orm import aliased

    from mewswright.book.tables import Entry

    earlier = aliased(Entry)
    return (
        select(Entry.__table__, earlier.uid.label("corrects_uid"))
        .select_from(Entry)
        .outerjoin(earlier, earlier.id == Entry.corrects)
    )


def _kept(row: Any) -> Kept:
    return Kept(
        row.id,
        row.uid,
        row.kind,
        row.bird,
        row.quarters,
        row.at,
        row.written_at,
        row.author,
        row.what,
        row.grams,
        json.loads(row.detail),
        row.corrects_uid,
        bool(row.withdrawn),
        row.digest,
    )


def entries(
    book: Book,
    kinds: Collection[str] = (),
    bird: str | None = None,
    quarters: str | None = None,
    since: datetime | None = None,
    until: datetime | None = None,
    newest: int | None = None,
    corrected_too: bool = False,
) -> list[Kept]:
    """Entries in the order of what happened; those that hold, unless asked otherwise.

    Args:
        book: The book.
        kinds: Only these; empty for all.
        bird: Only of this bird.
        quarters: Only of these quarters.
        since: Only from this moment.
        until: Only before this moment.
        newest: Only the last so many.
        corrected_too: True to give also what was corrected or withdrawn.
    """
    with book.reading() as connection:
        return entries_in(connection, kinds, bird, quarters, since, until, newest, corrected_too)


def entries_in(
    connection: Connection,
    kinds: Collection[str] = (),
    bird: str | None = None,
    quarters: str | None = None,
    since: datetime | None = None,
    until: datetime | None = None,
    newest: int | None = None,
    corrected_too: bool = False,
) -> list[Kept]:
    """The same, inside a transaction."""
    from sqlalchemy import exists
    from sqlalchemy.orm import aliased

    from mewswright.book.tables import Entry

    query = all_entries()
    if not corrected_too:
        later = aliased(Entry)
        query = query.where(~exists().where(later.corrects == Entry.id), Entry.withdrawn == 0)
    if kinds:
        query = query.where(Entry.kind.in_(sorted(kinds)))
    if bird is not None:
        query = query.where(Entry.bird == bird)
    if quarters is not None:
        query = query.where(Entry.quarters == quarters)
    if since is not None:
        query = query.where(Entry.at >= since)
    if until is not None:
        query = query.where(Entry.at < until)
    query = query.order_by(Entry.at.desc(), Entry.id.desc())
    if newest is not None:
        query = query.limit(newest)
    return [_kept(row) for row in connection.execute(query)][::-1]


def rows_in_order(connection: Connection) -> Iterator[Any]:
    """Every entry as it was written, one after another, without holding them all."""
    from mewswright.book.tables import Entry

    result = connection.execution_options(yield_per=2000).execute(all_entries().order_by(Entry.id))
    yield from result.mappings()


def revisions(book: Book) -> list[KeptRevision]:
    """Every revision of the yard file, the oldest first."""
    with book.reading() as connection:
        return [*revisions_in(connection)]


def revisions_in(connection: Connection) -> Iterator[KeptRevision]:
    """The same, inside a transaction."""
    from sqlalchemy import select

    from mewswright.book.tables import Revision

    query = select(Revision.__table__).order_by(Revision.number)
    for row in connection.execute(query).mappings():
        yield KeptRevision(**row)


def revision(book: Book, number: int) -> KeptRevision:
    """One revision.

    Raises:
        Problem: If there is none of that number.
    """
    from sqlalchemy import select

    from mewswright.book.tables import Revision

    with book.reading() as connection:
        last = about_in(connection).revisions
        query = select(Revision.__table__).where(Revision.number == number)
        row = connection.execute(query).mappings().one_or_none()
    if row is None:
        had = f"it has 1 to {last}" if last else "it has none yet"
        raise Problem(f"revision {number}: the book does not have it; {had}")
    return KeptRevision(**row)


def revision_on(book: Book, moment: datetime) -> KeptRevision | None:
    """The revision that held at a moment, None before the first."""
    from sqlalchemy import select

    from mewswright.book.tables import Revision

    query = (
        select(Revision.__table__)
        .where(Revision.written_at <= moment)
        .order_by(Revision.number.desc())
        .limit(1)
    )
    with book.reading() as connection:
        row = connection.execute(query).mappings().one_or_none()
    return None if row is None else KeptRevision(**row)
