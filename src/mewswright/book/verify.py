"""Whether a book is whole: file, shape, rows and digests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from mewswright.book.address import engine_of, is_server, shown
from mewswright.book.chain import link, seed
from mewswright.book.migrate import bring_to, must_be_newest
from mewswright.book.times import moment_text
from mewswright.book.write import entry_fields, revision_fields
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from mewswright.book.open import Book

ENOUGH = 20  # faults told one by one


def faults_of(address: str) -> tuple[str, ...]:
    """Everything that is wrong with a book; nothing for one that is whole.

    Asked are: the file's own structure, that its tables and guards are those of this version,
    that no row points nowhere, that every row has the digest that follows from it and from the row
    before, and that no rows are missing at the end. A change outside the rows, in room that the
    file does not use, is no damage and is not seen; for a backup its checksum tells even that.

    Args:
        address: The book.

    Raises:
        Problem: If there is no such book.
    """
    from sqlalchemy.exc import DatabaseError

    try:
        engine = engine_of(address)
    except Problem as problem:
        if is_server(address) or "no book" not in str(problem):
            raise
        return (str(problem),)
    found: list[str] = []
    try:
        if engine.dialect.name == "sqlite":
            found += _structure(engine)
        if not found:
            must_be_newest(engine, shown(address))
            with engine.connect() as connection, connection.begin():
                found += _shape(connection)
                found += _rows(connection)
    except DatabaseError as error:
        found.append(f"the database cannot be read: {error.orig}")
    except (ValueError, TypeError, KeyError) as error:
        found.append(f"a row cannot be read: {error}")
    except Problem as problem:
        found.append(str(problem))
    finally:
        engine.dispose()
    return tuple(found[:ENOUGH])


def _structure(engine: Any) -> Iterator[str]:
    with engine.connect() as connection:
        for (line,) in connection.exec_driver_sql("PRAGMA integrity_check").all()[:ENOUGH]:
            if line != "ok":
                yield f"the file is damaged: {line}"
        for row in connection.exec_driver_sql("PRAGMA foreign_key_check").all()[:ENOUGH]:
            yield f"table {row[0]}, row {row[1]}: points to a row that is not there"


def _made_of(connection: Connection) -> set[tuple[str, str, str]]:
    rows = connection.exec_driver_sql("SELECT type, name, coalesce(sql, '') FROM sqlite_master")
    return {(kind, name, sql) for kind, name, sql in rows if not name.startswith("sqlite_stat")}


def _shape(connection: Connection) -> Iterator[str]:
    """In SQLite: every table, index and guard just as a new book has it."""
    if connection.dialect.name != "sqlite":
        guards = connection.exec_driver_sql(
            "SELECT count(*) FROM pg_trigger WHERE tgenabled = 'O' "
            "AND tgname IN ('entry_never_change', 'revision_never_change')"
        ).scalar_one()
        if guards != 2:
            yield "the guards that keep rows from being changed are not there or are off"
        return
    from sqlalchemy import create_engine
    from sqlalchemy.pool import StaticPool

    fresh = create_engine("sqlite://", poolclass=StaticPool)
    try:
        bring_to(fresh)
        with fresh.connect() as other:
            wanted = _made_of(other)
    finally:
        fresh.dispose()
    have = _made_of(connection)
    for kind, name, _ in sorted(wanted - have):
        yield f"{kind} {name} is missing or is not what it should be"
    for kind, name, _ in sorted(have - wanted):
        if (kind, name) not in {(k, n) for k, n, _ in wanted}:
            yield f"{kind} {name} does not belong in a book"


def _rows(connection: Connection) -> Iterator[str]:
    from mewswright.book.read import about_in, revisions_in, rows_in_order

    own = about_in(connection)
    first = seed(own.uid, own.yard, moment_text(own.created_at))
    entries = ((row["id"], row["digest"], entry_fields(dict(row)))
               for row in rows_in_order(connection))  # fmt: skip
    yield from _chain("entry", entries, first, own.entries, own.entry_head)
    kept = ((r.number, r.digest, revision_fields(vars(r))) for r in revisions_in(connection))
    yield from _chain("revision", kept, first, own.revisions, own.revision_head)


def _chain(
    what: str,
    rows: Iterator[tuple[int, str, Sequence[str | None]]],
    first: str,
    count: int,
    head: str,
) -> Iterator[str]:
    before, seen = first, 0
    for number, digest, fields in rows:
        seen += 1
        if number != seen:
            yield f"{what} {seen} is missing: the next in the book is {number}"
            return
        if link(before, fields) != digest:
            yield f"{what} {number} or its digest was changed after it was written"
        before = digest
    if seen != count:
        yield f"{what}: the book says that it has {count}, and {seen} are there"
    elif before != head:
        yield f"{what} {count}: its digest is not the one that the book ends with"


def must_be_whole(book: Book) -> None:
    """Refuse a book in which something is wrong.

    Raises:
        Problem: With the first faults.
    """
    found = faults_of(book.address)
    if found:
        raise Problem(f"{shown(book.address)}: the book is damaged: {'; '.join(found[:3])}")
