"""Bringing a keeper's list into the book: all of it, or nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import UUID

from mewswright.book.csv_rows import Asked, Doubt, Preview, preview
from mewswright.book.open import Book
from mewswright.book.read import about
from mewswright.book.write import add_rows, ids_of
from mewswright.model.problem import Problem


@dataclass(frozen=True)
class Imported:
    """What came of a list.

    Args:
        preview: What was read of it.
        added: Entries that are new in the book; None where nothing was written.
        known: Entries that it had already.
    """

    preview: Preview
    added: int | None
    known: int


def text_of(path: Path) -> str:
    """A list as text: UTF-8, or the older code page of spreadsheets.

    Raises:
        Problem: If it cannot be read.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise Problem(f"{path}: cannot be read ({error.strerror}): check its name") from error
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _count(doubts: list[Doubt]) -> int:
    return len({doubt.line for doubt in doubts})


def import_list(
    book: Book,
    text: str,
    where: str,
    asked: Asked,
    author: str,
    written_at: Callable[[], datetime],
    write: bool,
    doubted_too: bool = False,
) -> Imported:
    """Read a list and, if asked, write what it says.

    Args:
        book: The book.
        text: The list.
        where: Its name, for messages.
        asked: What it does not say of itself.
        author: Who brings it in.
        written_at: The clock.
        write: False for a preview.
        doubted_too: True to take rows that are doubted but can be read.

    Raises:
        Problem: If it is no list, or is to be written and has doubts. Nothing is written then.
    """
    found = preview(text, where, UUID(about(book).uid), asked)
    if not write:
        with book.reading() as connection:
            known = len(ids_of(connection, (row["uid"] for row in found.rows)))
        return Imported(found, None, known)
    dark = [d for d in found.doubts if not d.readable]
    if dark:
        raise Problem(
            f"{where}: nothing was written; {_count(dark)} rows cannot be read, first: {dark[0]}. "
            "Mend them, or leave them out with --skip"
        )
    if found.doubts and not doubted_too:
        raise Problem(
            f"{where}: nothing was written; {_count(found.doubts)} rows are doubted, first: "
            f"{found.doubts[0]}. Mend them, leave them out with --skip, or take them as they are "
            "with --doubted-too"
        )
    now = written_at()
    for row in found.rows:
        row["author"], row["written_at"] = author, now
    with book.writing() as connection:
        added = add_rows(connection, found.rows)
    return Imported(found, added, len(found.rows) - added)
