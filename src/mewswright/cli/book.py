"""`mewswright book`: the yard's history and all that is entered, kept in a database."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.book.csv_import import Imported
    from mewswright.book.csv_rows import Asked
    from mewswright.book.open import Book

app = typer.Typer(no_args_is_help=True, rich_markup_mode=None)

BookArg = Annotated[
    str, typer.Argument(metavar="BOOK", help="A file, or postgresql://user@host/database.")
]
Author = Annotated[str | None, typer.Option(help="Who writes; else the name you are signed in by.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")]
SHOWN = 40  # doubts told on a screen


@app.callback()
def book() -> None:
    """Keep the yard's history: entries and revisions of the yard file, only ever added."""


def now() -> datetime:
    """The moment, in UTC."""
    from datetime import UTC

    return datetime.now(UTC)


def _author(given: str | None) -> str:
    if given:
        return given
    import getpass

    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "keeper"


def _say(answer: dict[str, Any], as_json: bool, *lines: str) -> None:
    import json

    typer.echo(json.dumps(answer, ensure_ascii=False, indent=2) if as_json else "\n".join(lines))


def _text(path: Path) -> str:
    from mewswright.cli.cut import read_text

    return read_text(path)


@app.command()
def new(
    where: BookArg,
    yard_file: Annotated[
        Path | None, typer.Option("--yard", help="Yard file to keep as the first revision.")
    ] = None,
    name: Annotated[
        str | None, typer.Option(help="Name of the yard; else that of its file.")
    ] = None,
    author: Author = None,
    as_json: AsJson = False,
) -> None:
    """Make an empty book. Exit 0: made. 2: bad input."""
    with refusing():
        import uuid

        from mewswright.book.open import Book, make_book
        from mewswright.book.write import save_revision
        from mewswright.model.problem import Problem

        text = None
        if yard_file is not None:
            from mewswright.model.yard_file import parse_yard

            text = _text(yard_file)
            name = name or parse_yard(text, str(yard_file)).yard.name
        if name is None:
            raise Problem("a book belongs to a yard: give its file with --yard, or --name NAME")
        uid = uuid.uuid4()
        make_book(where, name, uid, now())
        if text is not None:
            with Book(where) as book:
                save_revision(book, text, _author(author), now(), "first")
    answer = {"book": where, "uid": str(uid), "yard": name, "revisions": int(text is not None)}
    _say(answer, as_json, f"{where}: an empty book for {name}")


@app.command()
def save(
    where: BookArg,
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    note: Annotated[str, typer.Option(help="Why it was changed.")] = "",
    author: Author = None,
    as_json: AsJson = False,
) -> None:
    """Keep the yard file as it stands, as a new revision. Exit 0: kept. 2: bad input."""
    with refusing():
        from mewswright.book.open import Book
        from mewswright.book.read import about
        from mewswright.book.write import save_revision
        from mewswright.model.yard_file import parse_yard

        text = _text(yard_file)
        parse_yard(text, str(yard_file))  # what cannot be read is not kept as a yard
        with Book(where) as book:
            before = about(book).revisions
            number = save_revision(book, text, _author(author), now(), note)
    fresh = number > before
    said = f"revision {number} kept" if fresh else f"nothing has changed since revision {number}"
    _say({"revision": number, "new": fresh}, as_json, said)


@app.command()
def revisions(where: BookArg, as_json: AsJson = False) -> None:
    """List the revisions of the yard file. Exit 0."""
    with refusing():
        from mewswright.book import read
        from mewswright.book.open import Book

        with Book(where) as book:
            kept = read.revisions(book)
    rows = [
        {
            "number": r.number,
            "written_at": r.written_at.isoformat(),
            "author": r.author,
            "note": r.note,
            "digest": r.digest,
        }
        for r in kept
    ]
    lines = [
        f"{r.number:>4}  {r.written_at:%Y-%m-%d %H:%M} UTC  {r.author}  {r.note}".rstrip()
        for r in kept
    ]
    _say({"revisions": rows}, as_json, *(lines or ["no revision yet: `mewswright book save`"]))


@app.command()
def compare(
    where: BookArg,
    old: Annotated[int, typer.Argument(metavar="OLD", help="Number of a revision.")],
    new: Annotated[int, typer.Argument(metavar="NEW", help="Number of another.")],
    as_json: AsJson = False,
) -> None:
    """Say how two revisions differ. Exit 0: not at all. 1: they do. 2: bad input."""
    with refusing():
        from difflib import unified_diff

        from mewswright.book.open import Book
        from mewswright.book.read import revision

        with Book(where) as book:
            one, two = revision(book, old), revision(book, new)
        lines = [
            line.rstrip("\n")
            for line in unified_diff(
                one.text.splitlines(), two.text.splitlines(),
                f"revision {old}", f"revision {new}", lineterm="",
            )
        ]  # fmt: skip
    _say({"same": not lines, "lines": lines}, as_json, *(lines or ["they are the same"]))
    if lines:
        raise typer.Exit(1)


@app.command()
def show(
    where: BookArg,
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="Number of a revision.")],
    out: Annotated[Path | None, typer.Option(help="A new file to write it to.")] = None,
) -> None:
    """Give back a revision of the yard file, as it was. Exit 0: given. 2: bad input."""
    with refusing():
        from mewswright.book.open import Book
        from mewswright.book.read import revision
        from mewswright.model.problem import Problem

        with Book(where) as book:
            kept = revision(book, number)
        if out is not None:
            try:
                with out.open("x", encoding="utf-8", newline="") as file:
                    file.write(kept.text)
            except FileExistsError:
                raise Problem(f"{out}: there is a file already: choose another name") from None
            except OSError as error:
                raise Problem(f"{out}: cannot be written ({error.strerror})") from error
    if out is None:
        typer.echo(kept.text, nl=False)
    else:
        typer.echo(f"revision {number} of {kept.written_at:%Y-%m-%d} is in {out}")


@app.command("import")
def import_(
    where: BookArg,
    source: Annotated[
        Path,
        typer.Argument(
            metavar="LIST.csv|FOLDER",
            help="Weights and feeds as you keep them; or a folder of `book export` for a new book.",
        ),
    ],
    write: Annotated[
        bool, typer.Option("--write", help="Write it: all of it or nothing. Without: a preview.")
    ] = False,
    doubted_too: Annotated[
        bool, typer.Option(help="Take rows that are doubted but can be read, as they are.")
    ] = False,
    bird: Annotated[
        str | None, typer.Option(help="Bird of a list without a column for it.")
    ] = None,
    unit: Annotated[str | None, typer.Option(help="Of bare weights: g, kg, oz or lb.")] = None,
    dates: Annotated[str | None, typer.Option(help="Day or month first: dmy or mdy.")] = None,
    hour: Annotated[str, typer.Option(help="Time of rows without one.")] = "08:00",
    zone: Annotated[
        str | None, typer.Option(help="Time zone of the list; else that of the yard.")
    ] = None,
    skip: Annotated[str, typer.Option(help="Lines to leave out: 12,40-44.")] = "",
    author: Author = None,
    as_json: AsJson = False,
) -> None:
    """Bring in a list, or an export as a new book. Exit 0: done. 1: doubts. 2: bad input."""
    if source.is_dir():
        with refusing():
            from mewswright.book.export import import_book

            count = import_book(source, where)
        said = f"{where}: {count['entries']} entries and {count['revisions']} revisions"
        _say({"book": where, **count}, as_json, said)
        return
    with refusing():
        from mewswright.book.csv_import import import_list, text_of
        from mewswright.book.open import Book

        text = text_of(source)
        with Book(where) as book:
            asked = _asked(book, bird, unit, dates, hour, zone, skip)
            found = import_list(
                book, text, source.name, asked, _author(author), now, write, doubted_too
            )
    _say(_imported(found), as_json, *_told(found, write))
    if not write and found.preview.doubts:
        raise typer.Exit(1)


def _asked(
    book: "Book", bird: str | None, unit: str | None, dates: str | None, hour: str,
    zone: str | None, skip: str,
) -> "Asked":  # fmt: skip
    from datetime import time
    from typing import cast
    from zoneinfo import ZoneInfo

    from mewswright.book.csv_mass import GRAMS, Unit
    from mewswright.book.csv_rows import Asked
    from mewswright.book.csv_when import Order, hour_of
    from mewswright.book.read import about, revision
    from mewswright.model.problem import Problem
    from mewswright.model.yard_file import parse_yard

    names: frozenset[str] = frozenset()
    last = about(book).revisions
    if last:
        yard = parse_yard(revision(book, last).text, f"revision {last}")
        names = frozenset(b.name for b in yard.bird)
        zone = zone or yard.yard.time_zone
    if zone is None:
        raise Problem("in which time zone are the hours? say --zone, for example Europe/Zurich")
    try:
        own_zone = ZoneInfo(zone)
    except (KeyError, ValueError, OSError):
        raise Problem(f"--zone {zone!r}: no such zone: write it like Europe/Zurich") from None
    if unit is not None and unit not in GRAMS:
        raise Problem(f"--unit {unit!r}: units are {', '.join(GRAMS)}")
    if dates not in (None, "dmy", "mdy"):
        raise Problem(f"--dates {dates!r}: say dmy or mdy")
    at = hour_of(hour)
    if not isinstance(at, time):
        raise Problem(f"--hour {hour!r}: {at}")
    today = now().astimezone(own_zone).date()
    return Asked(
        own_zone, today, bird, cast("Unit | None", unit), cast("Order | None", dates), at, names,
        _lines(skip),
    )  # fmt: skip


def _lines(skip: str) -> frozenset[int]:
    from mewswright.model.problem import Problem

    lines: set[int] = set()
    for part in filter(None, (p.strip() for p in skip.split(","))):
        first, _, last = part.partition("-")
        try:
            lines.update(range(int(first), int(last or first) + 1))
        except ValueError:
            raise Problem(f"--skip {skip!r}: write lines like 12,40-44") from None
    return frozenset(lines)


def _imported(found: "Imported") -> dict[str, Any]:
    return {
        "written": found.added is not None,
        "read": len(found.preview.rows),
        "added": found.added,
        "known": found.known,
        "blank": found.preview.blank,
        "assumed": found.preview.assumed,
        "doubts": [
            {"line": d.line, "column": d.column, "given": d.given, "says": d.says,
             "readable": d.readable}
            for d in found.preview.doubts
        ],
    }  # fmt: skip


def _told(found: "Imported", write: bool) -> list[str]:
    doubts = found.preview.doubts
    lines = [*found.preview.assumed]
    if found.preview.blank:
        lines.append(f"{found.preview.blank} rows say nothing and are passed over")
    lines += [str(d) + ("" if d.readable else " (cannot be read)") for d in doubts[:SHOWN]]
    if len(doubts) > SHOWN:
        lines.append(f"and {len(doubts) - SHOWN} more; --json tells all")
    if write:
        return [*lines, f"{found.added} entries added; {found.known} were in the book already"]
    fresh = len(found.preview.rows) - found.known
    lines.append(
        f"{fresh} entries would be added; {found.known} are in the book already; "
        f"{len({d.line for d in doubts})} rows are doubted. Nothing is written yet: --write"
    )
    return lines


@app.command()
def export(
    where: BookArg,
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new folder.")],
    form: Annotated[str, typer.Option(help="csv or ndjson.")] = "csv",
    as_json: AsJson = False,
) -> None:
    """Write the whole book as text, with schemas. Exit 0: written. 2: bad input."""
    with refusing():
        from typing import cast

        from mewswright.book.export import Form, export_book
        from mewswright.book.open import Book
        from mewswright.model.problem import Problem

        if form not in ("csv", "ndjson"):
            raise Problem(f"--form {form!r}: say csv or ndjson")
        with Book(where) as book:
            count = export_book(book, folder, cast("Form", form))
    said = f"{folder}: {count['entries']} entries and {count['revisions']} revisions"
    _say({"folder": str(folder), **count}, as_json, said)


@app.command()
def backup(
    where: BookArg,
    to: Annotated[Path, typer.Argument(metavar="FILE", help="A new file.")],
    as_json: AsJson = False,
) -> None:
    """Copy the book while it is in use, with a checksum. Exit 0: copied. 2: bad input."""
    with refusing():
        from mewswright.book.backup import back_up

        total = back_up(where, to)
    _say({"file": str(to), "sha256": total}, as_json, f"{to}: whole, SHA-256 {total}")


@app.command()
def restore(
    source: Annotated[Path, typer.Argument(metavar="BACKUP", help="The backup.")],
    where: BookArg,
    as_json: AsJson = False,
) -> None:
    """Give a backup back as a new book, once it was found whole. Exit 0: given. 2: bad input."""
    with refusing():
        from mewswright.book import backup as backups

        backups.restore(source, where)
    _say({"book": where}, as_json, f"{where}: the book of {source}, found whole")


@app.command()
def verify(where: BookArg, as_json: AsJson = False) -> None:
    """Look whether the book is whole. Exit 0: whole. 1: damaged. 2: bad input."""
    with refusing():
        from mewswright.book.address import is_server
        from mewswright.book.backup import checksum_faults
        from mewswright.book.verify import faults_of

        faults: tuple[str, ...] = ()
        if not is_server(where) and Path(where).is_file():
            faults += checksum_faults(Path(where))
        faults += faults_of(where)
    _say({"whole": not faults, "faults": list(faults)}, as_json, *(faults or [f"{where}: whole"]))
    if faults:
        raise typer.Exit(1)


@app.command()
def migrate(where: BookArg, as_json: AsJson = False) -> None:
    """Bring an older book to this version's shape. Exit 0: done. 2: bad input."""
    with refusing():
        from mewswright.book.address import engine_of, shown
        from mewswright.book.migrate import bring_to, newest, shape_of
        from mewswright.model.problem import Problem

        engine = engine_of(where)
        try:
            before = shape_of(engine)
            if before is None:
                raise Problem(
                    f"{shown(where)}: this database holds no book: make one with "
                    "`mewswright book new`"
                )
            if before > newest():
                raise Problem(
                    f"{shown(where)}: the book has shape {before}, this version knows up to "
                    f"{newest()}: use a newer version"
                )
            bring_to(engine)
        finally:
            engine.dispose()
    said = "nothing to do" if before == newest() else f"brought from {before} to {newest()}"
    _say({"before": before, "now": newest()}, as_json, f"{shown(where)}: {said}")
