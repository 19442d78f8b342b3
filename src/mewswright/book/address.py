"""Where a book lies: a file's path, or the address of a PostgreSQL database."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Engine

_POSTGRES = ("postgresql://", "postgres://", "postgresql+psycopg://")
BUSY_MS = 10_000  # a writer waits so long for another before it gives up


def is_server(address: str) -> bool:
    """Whether the address names a PostgreSQL database rather than a file."""
    return address.startswith(_POSTGRES)


def shown(address: str) -> str:
    """The address without a password, for messages."""
    if not is_server(address):
        return address
    head, _, rest = address.partition("://")
    account, at, place = rest.rpartition("@")
    user = account.partition(":")[0]
    return f"{head}://{user}{at}{place}"


def engine_of(address: str, must_exist: bool = True) -> Engine:
    """A way to the book.

    In SQLite: write-ahead log, full durability, foreign keys, and every transaction that writes
    takes its lock at the start, so that two writers wait for each other instead of failing
    half-way.

    Args:
        address: Path of a file, or `postgresql://user@host/database`.
        must_exist: True to refuse a file that is not there.

    Raises:
        Problem: If the file is not there, is no book, or the address names another database.
    """
    from sqlalchemy import create_engine, event

    if is_server(address):
        where = "postgresql+psycopg://" + address.partition("://")[2]
        return create_engine(where, pool_pre_ping=True, connect_args={"connect_timeout": 10})
    if "://" in address:
        raise Problem(
            f"book {shown(address)!r}: a book is a file or postgresql://user@host/database"
        )
    path = Path(address)
    if must_exist:
        _must_be_sqlite(path)
    engine = create_engine(
        f"sqlite:///{path}", connect_args={"timeout": BUSY_MS / 1000, "check_same_thread": False}
    )

    @event.listens_for(engine, "connect")
    def _settle(connection: Any, _record: object) -> None:
        connection.isolation_level = None  # the driver must not begin for us
        for pragma in (
            "journal_mode = WAL",
            "synchronous = FULL",
            "foreign_keys = ON",
            f"busy_timeout = {BUSY_MS}",
            "wal_autocheckpoint = 0",  # pen.py says why
            "trusted_schema = OFF",
            "cell_size_check = ON",
        ):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Any) -> None:
        writes = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _must_be_sqlite(path: Path) -> None:
    try:
        with path.open("rb") as file:
            head = file.read(16)
    except FileNotFoundError:
        raise Problem(
            f"{path}: there is no such book: check its name, or make one with "
            f"`mewswright book new {path}`"
        ) from None
    except OSError as error:
        raise Problem(f"{path}: cannot be read ({error.strerror}): check its name") from error
    if head != b"SQLite format 3\x00":
        raise Problem(f"{path}: this file is no book: name the book, or restore a backup of it")
