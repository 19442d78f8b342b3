"""The whole book as text files, and a book made from them: the same book.

One folder holds `book.json`, the entries and the revisions as CSV or NDJSON, and a schema beside
each. CSV follows RFC 4180 in UTF-8; a blank cell is nothing. Nothing is left out: digests too, so
that the chain can be followed without this program.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from mewswright.book.open import Book, make_book
from mewswright.book.read import about_in, revisions_in, rows_in_order
from mewswright.book.times import moment_text
from mewswright.book.verify import must_be_whole
from mewswright.book.write import add_rows, parts, revision_fields
from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from sqlalchemy import Connection

Form = Literal["csv", "ndjson"]
FORMAT = 1
_AT_ONCE = 20_000
_UID = Field(pattern=r"^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$")
_DIGEST = Field(pattern=r"^[0-9a-f]{64}$")


class EntryRow(BaseModel):
    """One entry, as exported."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: int = Field(ge=1, description="Its place in the book.")
    uid: str = _UID
    kind: str = Field(description="Kind of entry.")
    bird: str | None = Field(description="Which bird.")
    quarters: str | None = Field(description="Which quarters.")
    at: AwareDatetime = Field(description="When it happened, UTC.")
    written_at: AwareDatetime = Field(description="When it was written, UTC.")
    author: str = Field(description="Who wrote it.")
    what: str | None = Field(description="Food, medicine, harm, work.")
    grams: float | None = Field(description="Mass [g].")
    detail: str = Field(description="What its kind says more: JSON as text, as digested.")
    corrects: str | None = Field(description="uid of the entry that it takes the place of.")
    withdrawn: Literal[0, 1] = Field(description="1: the earlier entry never happened.")
    digest: str = _DIGEST


class RevisionRow(BaseModel):
    """One revision of the yard file, as exported."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    number: int = Field(ge=1, description="Counted from 1.")
    text: str = Field(description="The file, whole.")
    author: str = Field(description="Who saved it.")
    note: str = Field(description="Why it was changed.")
    written_at: AwareDatetime = Field(description="When, UTC.")
    digest: str = _DIGEST


class BookHead(BaseModel):
    """`book.json`: the book itself."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    format: Literal[1] = Field(description="Version of this folder's shape.")
    uid: str = _UID
    yard: str = Field(description="The yard's name.")
    created_at: AwareDatetime = Field(description="When the book was made, UTC.")
    entries: int = Field(ge=0, description="How many entries.")
    entry_head: str = _DIGEST
    revisions: int = Field(ge=0, description="How many revisions.")
    revision_head: str = _DIGEST


_TABLES: dict[str, type[BaseModel]] = {"entries": EntryRow, "revisions": RevisionRow}


def export_book(book: Book, folder: Path, form: Form = "csv") -> dict[str, int]:
    """Write the whole book into a new folder, one state of it.

    Args:
        book: The book.
        folder: A folder that is not there yet.
        form: `csv` or `ndjson`.

    Returns:
        How many entries and revisions.

    Raises:
        Problem: If the folder is there or cannot be made, or the book is damaged.
    """
    must_be_whole(book)
    try:
        folder.mkdir(parents=True)
        with book.reading() as connection:
            own = about_in(connection)
            tables: dict[str, Callable[[], Iterator[dict[str, Any]]]] = {
                "entries": lambda: _entry_rows(connection),
                "revisions": lambda: (
                    asdict(r) | {"written_at": moment_text(r.written_at)}
                    for r in revisions_in(connection)
                ),
            }
            for name, rows in tables.items():
                _write_table(folder / f"{name}.{form}", _TABLES[name], rows(), form)
        head = asdict(own) | {"created_at": moment_text(own.created_at), "format": FORMAT}
        shapes: dict[str, type[BaseModel]] = {**_TABLES, "book": BookHead}
        for name, shape in shapes.items():
            schema: dict[str, Any] = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
            schema |= shape.model_json_schema()
            _write_json(folder / f"{name}.schema.json", schema)
        _write_json(folder / "book.json", head)  # last: a folder without it is not whole
    except FileExistsError:
        raise Problem(f"{folder}: there is something already: choose another name") from None
    except OSError as error:
        raise Problem(f"{folder}: cannot be written ({error.strerror})") from error
    return {"entries": own.entries, "revisions": own.revisions}


def _write_json(path: Path, value: object) -> None:
    path.write_text(
        json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True) + "\n", encoding="utf-8"
    )


def _entry_rows(connection: Connection) -> Iterator[dict[str, Any]]:
    for row in rows_in_order(connection):
        yield {name: row[name] for name in EntryRow.model_fields} | {
            "at": moment_text(row["at"]),
            "written_at": moment_text(row["written_at"]),
            "corrects": row["corrects_uid"],
        }


def _write_table(
    path: Path, shape: type[BaseModel], rows: Iterator[dict[str, Any]], form: Form
) -> None:
    names = [*shape.model_fields]
    with path.open("w", encoding="utf-8", newline="") as file:
        if form == "ndjson":
            for row in rows:
                own = {name: row[name] for name in names}
                file.write(json.dumps(own, ensure_ascii=False) + "\n")
            return
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerow(names)
        for row in rows:
            cells = [row[name] for name in names]
            writer.writerow(["" if c is None else repr(c) if isinstance(c, float) else c
                             for c in cells])  # fmt: skip


def _read_table(folder: Path, name: str) -> Iterator[dict[str, Any]]:
    shape = _TABLES[name]
    lines, sheet = folder / f"{name}.ndjson", folder / f"{name}.csv"
    path = lines if lines.exists() else sheet
    if not path.exists():
        raise Problem(f"{folder}: neither {sheet.name} nor {lines.name} is there")
    with path.open(encoding="utf-8", newline="") as file:
        rows: Iterator[tuple[int, dict[str, Any]]]
        rows = _json_rows(path, file) if path == lines else _csv_rows(path, file, shape)
        for number, row in rows:
            try:
                yield shape.model_validate(row).model_dump()
            except ValidationError as error:
                first = error.errors()[0]
                place = ".".join(str(part) for part in first["loc"])
                raise Problem(
                    f"{path}, row {number}: {place}: {first['msg']} (given {first.get('input')!r})"
                ) from error


def _json_rows(path: Path, file: Any) -> Iterator[tuple[int, dict[str, Any]]]:
    for number, line in enumerate(file, start=1):
        try:
            yield number, json.loads(line)
        except ValueError as error:
            raise Problem(f"{path}, line {number}: no JSON ({error})") from error


def _csv_rows(
    path: Path, file: Any, shape: type[BaseModel]
) -> Iterator[tuple[int, dict[str, Any]]]:
    csv.field_size_limit(1 << 30)  # a yard file is one cell
    reader = csv.reader(file, strict=True)
    names = [*shape.model_fields]
    may_be_nothing = {n for n, f in shape.model_fields.items() if f.annotation is not str}
    try:
        if next(reader, None) != names:
            raise Problem(f"{path}: the header is not {','.join(names)}")
        for number, cells in enumerate(reader, start=1):
            if len(cells) != len(names):
                raise Problem(f"{path}, row {number}: {len(cells)} cells, {len(names)} are asked")
            row: dict[str, Any] = {
                name: None if cell == "" and name in may_be_nothing else cell
                for name, cell in zip(names, cells, strict=True)
            }
            if "withdrawn" in row:
                row["withdrawn"] = int(row["withdrawn"] or 0)
            yield number, row
    except csv.Error as error:
        raise Problem(f"{path}, line {reader.line_num}: {error}") from error


def import_book(folder: Path, address: str) -> dict[str, int]:
    """Make a book from an exported folder: the same book, or none.

    Args:
        folder: What `export_book` wrote.
        address: A new file, or an empty PostgreSQL database.

    Returns:
        How many entries and revisions.

    Raises:
        Problem: If the folder is not whole, a row was changed, or there is a book already.
    """
    from uuid import UUID

    from mewswright.book.address import is_server

    try:
        text = (folder / "book.json").read_text(encoding="utf-8")
        head = BookHead.model_validate_json(text)
    except (OSError, ValueError) as error:
        raise Problem(f"{folder}: no exported book: book.json cannot be read ({error})") from error
    make_book(address, head.yard, UUID(head.uid), head.created_at)
    try:
        with Book(address) as book, book.writing() as connection:
            for rows in parts(_read_table(folder, "entries"), _AT_ONCE):
                for row in rows:
                    row["corrects_uid"] = row.pop("corrects")
                    row["want"] = row.pop("digest"), row.pop("id")
                add_rows(connection, rows, checking=True)
            _add_revisions(connection, folder)
            own = about_in(connection)
            for name in ("entries", "entry_head", "revisions", "revision_head"):
                if getattr(own, name) != getattr(head, name):
                    raise Problem(
                        f"{folder}: the rows give {name} {getattr(own, name)}, book.json says "
                        f"{getattr(head, name)}: rows are missing or were changed"
                    )
    except BaseException:
        if is_server(address):
            _empty(address)
        else:
            path = Path(address)
            for end in ("", "-wal", "-shm", "-pen"):
                path.with_name(path.name + end).unlink(missing_ok=True)
        raise
    return {"entries": head.entries, "revisions": head.revisions}


def _empty(address: str) -> None:
    from mewswright.book.address import engine_of
    from mewswright.book.migrate import bring_to

    engine = engine_of(address)
    bring_to(engine, "base")
    engine.dispose()


def _add_revisions(connection: Connection, folder: Path) -> None:
    from sqlalchemy import insert, select, update

    from mewswright.book.chain import link
    from mewswright.book.tables import Info, Revision

    head = connection.scalar(select(Info.revision_head)) or ""
    count = 0
    for row in _read_table(folder, "revisions"):
        count += 1
        head = link(head, revision_fields(row))
        if row["number"] != count or row["digest"] != head:
            raise Problem(f"{folder}: revision {row['number']} was changed or is out of its order")
        connection.execute(insert(Revision).values(**row))
    connection.execute(update(Info).values(revisions=count, revision_head=head))
