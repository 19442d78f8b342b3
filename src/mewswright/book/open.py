"""Making a book and opening it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

from mewswright.book.address import engine_of, is_server, shown
from mewswright.book.chain import seed
from mewswright.book.migrate import bring_to, must_be_newest, shape_of
from mewswright.book.pen import pen
from mewswright.book.times import moment_text
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine


LONG_LOG_BYTES = 4_000_000


class Book:
    """An open book. Close it, or use it in a `with` block.

    Args:
        address: Path of a file, or `postgresql://user@host/database`.

    Raises:
        Problem: If there is no book, or one that this version cannot read.
    """

    def __init__(self, address: str) -> None:
        self.address = address
        self.engine: Engine = engine_of(address)
        try:
            must_be_newest(self.engine, shown(address))
        except BaseException:
            self.engine.dispose()
            raise

    def __enter__(self) -> Book:
        """The book itself."""
        return self

    def __exit__(self, *_error: object) -> None:
        """Close the book."""
        self.close()

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One state of the book, whatever others write meanwhile."""
        with self.engine.connect() as connection:
            if self.engine.dialect.name != "sqlite":
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that holds the book's only pen: all of it lands or nothing.

        Raises:
            Problem: If another writer holds the pen for too long, or the disk refuses.
        """
        from sqlalchemy import text
        from sqlalchemy.exc import OperationalError

        lite = self.engine.dialect.name == "sqlite"
        try:
            with pen(Path(self.address)) if lite else nullcontext():
                with (
                    self.engine.connect().execution_options(write=True) as connection,
                    connection.begin(),
                ):
                    if not lite:
                        connection.execute(text("SET LOCAL lock_timeout = '10s'"))
                        connection.execute(text("SELECT id FROM book WHERE id = 1 FOR UPDATE"))
                    yield connection
                if lite:
                    self._tidy()
        except OperationalError as error:
            raise Problem(
                f"{shown(self.address)}: nothing was written ({error.orig}): if another program "
                "is writing, wait and try again; else look at the disk's room"
            ) from error

    def _tidy(self) -> None:
        """Move a long write-ahead log into the file; only with the pen in hand."""
        log = Path(self.address + "-wal")
        if log.exists() and log.stat().st_size > LONG_LOG_BYTES:
            with self.engine.connect() as connection:
                raw = connection.connection.driver_connection
                assert raw is not None
                raw.execute("PRAGMA wal_checkpoint(PASSIVE)")


def make_book(address: str, yard: str, uid: UUID, created_at: datetime) -> None:
    """Make an empty book.

    Args:
        address: Path of a new file, or address of an empty PostgreSQL database.
        yard: Name of the yard.
        uid: The book's own name.
        created_at: Now.

    Raises:
        Problem: If there is something already.
    """
    if is_server(address):
        engine = engine_of(address)
        try:
            if shape_of(engine) is not None:
                raise Problem(f"{shown(address)}: there is a book already: choose another database")
            _fill(engine, yard, uid, created_at)
        finally:
            engine.dispose()
        return
    path = Path(address)
    if path.exists():
        raise Problem(f"{address}: there is a file already: choose another name")
    # A book that is only half made must never lie under its name.
    draft = path.with_name(f".{path.name}.{uid}.new")
    engine = engine_of(str(draft), must_exist=False)
    try:
        try:
            _fill(engine, yard, uid, created_at)
        finally:
            engine.dispose()
        put_in_place(draft, path)
    except OSError as error:
        raise Problem(
            f"{address}: cannot be made ({error.strerror}): look at its folder"
        ) from error
    finally:
        for left in (draft, *(draft.with_name(draft.name + end) for end in ("-wal", "-shm"))):
            left.unlink(missing_ok=True)


def put_in_place(draft: Path, path: Path) -> None:
    """Give a finished file its name, and have the disk keep both; never over another file.

    Raises:
        Problem: If a file has that name by now.
        OSError: If the disk refuses.
    """
    with draft.open("rb") as file:
        os.fsync(file.fileno())
    try:
        os.link(draft, path)
    except FileExistsError:
        raise Problem(f"{path}: there is a file already: choose another name") from None
    except OSError:  # a disk without links
        if path.exists():
            raise Problem(f"{path}: there is a file already: choose another name") from None
        draft.rename(path)
    if hasattr(os, "O_DIRECTORY"):
        folder = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _fill(engine: Engine, yard: str, uid: UUID, created_at: datetime) -> None:
    from sqlalchemy import insert

    from mewswright.book.tables import Info

    bring_to(engine)
    first = seed(str(uid), yard, moment_text(created_at))
    with engine.connect().execution_options(write=True) as connection, connection.begin():
        connection.execute(
            insert(Info).values(
                id=1,
                uid=str(uid),
                yard=yard,
                created_at=created_at,
                entries=0,
                entry_head=first,
                revisions=0,
                revision_head=first,
            )
        )
    if engine.dialect.name == "sqlite":
        with engine.connect() as connection:
            raw = connection.connection.driver_connection
            assert raw is not None
            raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
