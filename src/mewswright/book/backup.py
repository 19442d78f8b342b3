"""Backups: taken while the book is in use, with a checksum, and given back whole."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from uuid import uuid4

from mewswright.book.address import is_server, shown
from mewswright.book.open import Book, put_in_place
from mewswright.book.verify import faults_of
from mewswright.model.problem import Problem

_PAGES = 500  # copied before others may write again


def checksum_file(backup: Path) -> Path:
    """Where the checksum of a backup lies."""
    return backup.with_name(backup.name + ".sha256")


def checksum(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as file:
        digest = sha256()
        while block := file.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()


def back_up(address: str, backup: Path) -> str:
    """Copy a book in a file to another file, one state of it, and note its checksum beside.

    The checksum's file has the form of `sha256sum`.

    Args:
        address: The book.
        backup: A file that is not there yet.

    Returns:
        The checksum.

    Raises:
        Problem: If the book is on a server (its own tools make backups; `book export` is whole
            too), is damaged, or the file is there.
    """
    import sqlite3

    if is_server(address):
        raise Problem(
            f"{shown(address)}: a book on a server is backed up by the server's own tools "
            "(pg_dump), or whole by `mewswright book export`"
        )
    if backup.exists():
        raise Problem(f"{backup}: there is a file already: choose another name")
    draft = backup.with_name(f".{backup.name}.{uuid4()}.new")
    try:
        with Book(address) as book, book.engine.connect() as connection:
            source = connection.connection.driver_connection
            assert source is not None
            target = sqlite3.connect(draft)
            try:
                source.backup(target, pages=_PAGES, sleep=0.002)
                target.execute("PRAGMA journal_mode = DELETE")  # one file, no log beside it
            finally:
                target.close()
        wrong = faults_of(str(draft))
        if wrong:
            raise Problem(f"{address}: not backed up, the book is damaged: {'; '.join(wrong[:3])}")
        _back_to_one_file(draft)
        total = checksum(draft)
        checksum_file(backup).write_text(f"{total}  {backup.name}\n", encoding="utf-8")
        put_in_place(draft, backup)
    except OSError as error:
        raise Problem(
            f"{backup}: cannot be written ({error.strerror}): look at its folder and its room"
        ) from error
    finally:
        for left in _with_logs(draft):
            left.unlink(missing_ok=True)
    return total


def _with_logs(path: Path) -> Iterator[Path]:
    yield path
    for end in ("-wal", "-shm", "-journal", "-pen"):
        yield path.with_name(path.name + end)


def _back_to_one_file(path: Path) -> None:
    """Leave no write-ahead log: reading a book turns it on again."""
    import sqlite3

    connection = sqlite3.connect(path)
    try:
        connection.execute("PRAGMA journal_mode = DELETE")
    finally:
        connection.close()


def checksum_faults(backup: Path) -> tuple[str, ...]:
    """What is wrong by the checksum beside a file; nothing where there is none."""
    noted = checksum_file(backup)
    if not noted.exists():
        return ()
    wanted = noted.read_text(encoding="utf-8", errors="replace").split()
    if not wanted or wanted[0] != checksum(backup):
        return (f"{backup.name} is not the file that {noted.name} was made for",)
    return ()


def restore(backup: Path, address: str) -> None:
    """Give a backup back as a book, once it has been found whole.

    Args:
        backup: The backup.
        address: A file that is not there yet; an older book is never written over.

    Raises:
        Problem: If the backup is damaged, or the file is there.
    """
    import shutil

    if is_server(address):
        raise Problem(
            f"{shown(address)}: a backup is given back as a file; to bring it to a server, "
            "`mewswright book export` and `import`"
        )
    path = Path(address)
    if path.exists():
        raise Problem(f"{address}: there is a file already: choose another name, or move it away")
    if not backup.exists():
        raise Problem(f"{backup}: there is no such backup: check its name")
    draft = path.with_name(f".{path.name}.{uuid4()}.new")
    try:
        wrong = checksum_faults(backup)
        shutil.copyfile(backup, draft)
        wrong += faults_of(str(draft))
        if wrong:
            raise Problem(f"{backup}: not restored, it is damaged: {'; '.join(wrong[:3])}")
        _back_to_one_file(draft)
        put_in_place(draft, path)
    except OSError as error:
        raise Problem(f"{address}: cannot be written ({error.strerror})") from error
    finally:
        for left in _with_logs(draft):
            left.unlink(missing_ok=True)
