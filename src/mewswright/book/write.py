"""Writing in the book: entries and revisions, always at the end."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from mewswright.book.chain import detail_text, grams_text, link
from mewswright.book.kinds import NewEntry, checked
from mewswright.book.times import moment_text
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from mewswright.book.open import Book

MANY = 2_000  # rows handed to the database at once
ASKED = 500  # names asked of it at once


@dataclass(frozen=True)
class Written:
    """What became of entries that were to be written.

    Args:
        uids: Name of each, in their order.
        added: How many are new in the book.
        known: How many it had already.
    """

    uids: tuple[str, ...]
    added: int
    known: int


def add_entries(
    book: Book, entries: Iterable[NewEntry], author: str, written_at: datetime
) -> Written:
    """Write entries: all of them, or none.

    An entry whose `uid` the book has is left out, so that what is sent twice lands once.

    Args:
        book: The book.
        entries: What to write.
        author: Who writes.
        written_at: Now.

    Raises:
        Problem: If one is not as its kind wants it, or corrects what is not there or was corrected
            already. Nothing is written then.
    """
    if not author.strip():
        raise Problem("an entry has an author: say who writes")
    rows = [_row(entry) for entry in entries]
    for row in rows:
        row["author"], row["written_at"] = author, written_at
    with book.writing() as connection:
        added = add_rows(connection, rows)
    return Written(tuple(row["uid"] for row in rows), added, len(rows) - added)


def _row(entry: NewEntry) -> dict[str, Any]:
    for name in ("bird", "quarters", "what"):
        text = getattr(entry, name) or ""
        if "\x00" in text or not _is_text(text):
            raise Problem(f"{entry.kind}: {name} {text!r} holds what no text has: write it again")
    return {
        "uid": str(entry.uid or uuid4()),
        "kind": entry.kind,
        "bird": entry.bird,
        "quarters": entry.quarters,
        "at": entry.at,
        "what": entry.what,
        "grams": entry.grams,
        "detail": detail_text(checked(entry)),
        "corrects_uid": str(entry.corrects) if entry.corrects else None,
        "withdrawn": int(entry.withdrawn),
    }


def _is_text(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def entry_fields(row: dict[str, Any]) -> tuple[str | None, ...]:
    """What the digest of an entry is made of, in its order."""
    return (
        row["uid"],
        row["kind"],
        row["bird"],
        row["quarters"],
        moment_text(row["at"]),
        moment_text(row["written_at"]),
        row["author"],
        row["what"],
        grams_text(row["grams"]),
        row["detail"],
        row["corrects_uid"],
        str(row["withdrawn"]),
    )


def parts(items: Iterable[Any], size: int) -> Iterator[list[Any]]:
    """Items by the handful."""
    rest = iter(items)
    while handful := list(islice(rest, size)):
        yield handful


def ids_of(connection: Connection, uids: Iterable[str]) -> dict[str, int]:
    """Place in the book of the entries that it has, by their names."""
    from sqlalchemy import select

    from mewswright.book.tables import Entry

    found: dict[str, int] = {}
    for some in parts(uids, ASKED):
        query = select(Entry.uid, Entry.id).where(Entry.uid.in_(some))
        found.update((row.uid, row.id) for row in connection.execute(query))
    return found


def add_rows(connection: Connection, rows: Sequence[dict[str, Any]], checking: bool = False) -> int:
    """Add rows of entries that carry everything but `id`, `corrects` and `digest`.

    Args:
        connection: Inside `Book.writing`.
        rows: The rows.
        checking: True for rows of an export: each carries in `want` the digest and the place in
            the book that it had.

    Returns:
        How many were new.

    Raises:
        Problem: If a row corrects what is not there, or was changed since it was exported.
    """
    from sqlalchemy import insert, select, update

    from mewswright.book.tables import Entry, Info

    count, head = connection.execute(select(Info.entries, Info.entry_head)).one()
    have = ids_of(connection, (row["uid"] for row in rows))
    fresh = []
    for row in rows:
        if row["uid"] not in have:
            count += 1
            have[row["uid"]] = count
            fresh.append({**row, "id": count})
    _settle_corrections(connection, fresh, have)
    for row in fresh:
        head = row["digest"] = link(head, entry_fields(row))
        if checking and row.pop("want") != (head, row["id"]):
            raise Problem(
                f"entry {row['id']} ({row['kind']}) was changed after it was exported, or is out "
                "of its order: export the book again"
            )
    for some in parts(fresh, MANY):
        connection.execute(
            insert(Entry),
            [{k: v for k, v in row.items() if k != "corrects_uid"} for row in some],
        )
    connection.execute(update(Info).values(entries=count, entry_head=head))
    return len(fresh)


def _settle_corrections(
    connection: Connection, fresh: Sequence[dict[str, Any]], have: dict[str, int]
) -> None:
    from sqlalchemy import select

    from mewswright.book.tables import Entry

    wanted = {row["corrects_uid"] for row in fresh if row["corrects_uid"]}
    have.update(ids_of(connection, wanted - set(have)))
    taken: dict[int, str] = {}
    for some in parts([have[uid] for uid in wanted if uid in have], ASKED):
        query = select(Entry.corrects, Entry.uid).where(Entry.corrects.in_(some))
        taken.update({earlier: uid for earlier, uid in connection.execute(query) if earlier})
    for row in fresh:
        row["corrects"] = None
        uid = row["corrects_uid"]
        if uid is None:
            continue
        earlier = have.get(uid)
        who = f"{row['kind']} of {row['bird'] or row['quarters'] or 'the yard'}"
        if earlier is None or earlier >= row["id"]:
            raise Problem(f"{who}: corrects {uid}, which the book does not have: look it up again")
        if earlier in taken:
            raise Problem(
                f"{who}: entry {uid} was corrected already, by {taken[earlier]}: "
                "correct that one instead"
            )
        row["corrects"], taken[earlier] = earlier, row["uid"]


def revision_fields(row: dict[str, Any]) -> tuple[str | None, ...]:
    """What the digest of a revision is made of, in its order."""
    return (
        str(row["number"]),
        row["text"],
        row["author"],
        row["note"],
        moment_text(row["written_at"]),
    )


def save_revision(book: Book, text: str, author: str, written_at: datetime, note: str = "") -> int:
    """Keep a state of the yard file, whole.

    Args:
        book: The book.
        text: The file, as it stands.
        author: Who saved it.
        written_at: Now.
        note: Why it was changed.

    Returns:
        Its number, counted from 1; the number of the last where nothing has changed.
    """
    from sqlalchemy import insert, select, update

    from mewswright.book.tables import Info, Revision

    if not author.strip():
        raise Problem("a revision has an author: say who saves it")
    with book.writing() as connection:
        count, head = connection.execute(select(Info.revisions, Info.revision_head)).one()
        last = connection.scalar(select(Revision.text).where(Revision.number == count))
        if last == text:
            return int(count)
        row: dict[str, Any] = {
            "number": count + 1,
            "text": text,
            "author": author,
            "note": note,
            "written_at": written_at,
        }
        row["digest"] = link(head, revision_fields(row))
        connection.execute(insert(Revision).values(**row))
        connection.execute(
            update(Info).values(revisions=row["number"], revision_head=row["digest"])
        )
        return int(row["number"])
