"""An exported book, imported, is the same book: CSV and NDJSON, from file to server and back."""

import csv
import json
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from mewswright.book.export import export_book, import_book
from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book, make_book
from mewswright.book.read import about, entries, revisions
from mewswright.book.verify import faults_of
from mewswright.book.write import add_entries, save_revision
from mewswright.model.problem import Problem

THEN = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
AWKWARD = 'räuspert “sich”, frisst; "nichts"\r\nzweite Zeile\ttab =1+1 ☃ \U0001f985'


def fill(book):
    add_entries(
        book,
        [
            NewEntry(kind="weight", at=THEN, bird="Moth", grams=301.0000001, uid=UUID(int=1)),
            NewEntry(kind="note", at=THEN - timedelta(days=900), what=AWKWARD),
            NewEntry(kind="feed", at=THEN, bird=AWKWARD, what="mouse", detail={"note": AWKWARD}),
        ],
        AWKWARD,
        THEN,
    )
    again = NewEntry(kind="weight", at=THEN, bird="Moth", grams=0.1 + 0.2, corrects=UUID(int=1))
    add_entries(book, [again], "Hand", THEN)
    save_revision(book, f"format = 1\n# {AWKWARD}\n", "Keeper", THEN, AWKWARD)
    save_revision(book, "", "Keeper", THEN)


def everything(address):
    with Book(address) as book:
        return about(book), entries(book, corrected_too=True), revisions(book)


@pytest.mark.parametrize("form", ["csv", "ndjson"])
def test_the_same_book_comes_back(book, tmp_path, form):
    fill(book)
    assert export_book(book, tmp_path / "out", form) == {"entries": 4, "revisions": 2}
    import_book(tmp_path / "out", str(tmp_path / "back.book"))
    assert everything(str(tmp_path / "back.book")) == everything(book.address)
    assert faults_of(str(tmp_path / "back.book")) == ()


def test_a_book_moves_from_a_file_to_a_server(filed, pg_address, tmp_path):
    with Book(str(filed)) as book:
        fill(book)
        export_book(book, tmp_path / "out")
    import_book(tmp_path / "out", pg_address)
    assert everything(pg_address) == everything(str(filed))


def test_rows_keep_to_their_schemas(book, tmp_path):
    fill(book)
    export_book(book, tmp_path / "out", "ndjson")
    for name in ("entries", "revisions"):
        schema = json.loads((tmp_path / "out" / f"{name}.schema.json").read_text())
        check = Draft202012Validator(schema)
        lines = (tmp_path / "out" / f"{name}.ndjson").read_text().splitlines()
        assert lines
        for line in lines:
            check.validate(json.loads(line))
    head = json.loads((tmp_path / "out" / "book.json").read_text())
    schema = json.loads((tmp_path / "out" / "book.schema.json").read_text())
    Draft202012Validator(schema).validate(head)


def test_csv_is_read_by_any_reader(book, tmp_path):
    fill(book)
    export_book(book, tmp_path / "out")
    with (tmp_path / "out" / "entries.csv").open(encoding="utf-8", newline="") as file:
        rows = [*csv.DictReader(file)]
    assert rows[1]["what"] == AWKWARD
    assert rows[3]["corrects"] == str(UUID(int=1))


@pytest.mark.parametrize("form", ["csv", "ndjson"])
@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("entries", "301.0000001", "301.5"),
        ("entries", "Moth", "Rook"),
        ("revisions", "Keeper", "Keepes"),
        ("book", '"entries": 4', '"entries": 3'),
        ("book", "Alder Close", "Other"),
    ],
)
def test_a_changed_export_is_refused_and_leaves_nothing(filed, tmp_path, form, name, old, new):
    with Book(str(filed)) as book:
        fill(book)
        export_book(book, tmp_path / "out", form)
    path = tmp_path / "out" / ("book.json" if name == "book" else f"{name}.{form}")
    text = path.read_bytes().decode()
    assert old in text
    path.write_bytes(text.replace(old, new, 1).encode())
    with pytest.raises(Problem, match=r"chang|rows"):
        import_book(tmp_path / "out", str(tmp_path / "back.book"))
    assert not list(tmp_path.glob("*back*"))


def test_a_line_cut_off_is_missed(filed, tmp_path):
    with Book(str(filed)) as book:
        fill(book)
        export_book(book, tmp_path / "out", "ndjson")
    path = tmp_path / "out" / "entries.ndjson"
    path.write_text("".join(path.read_text().splitlines(keepends=True)[:-1]))
    with pytest.raises(Problem, match=r"entries 3, book\.json says 4"):
        import_book(tmp_path / "out", str(tmp_path / "back.book"))


def test_nothing_is_written_over(filed, tmp_path):
    with Book(str(filed)) as book:
        export_book(book, tmp_path / "out")
        with pytest.raises(Problem, match="something already"):
            export_book(book, tmp_path / "out")
    with pytest.raises(Problem, match="already"):
        import_book(tmp_path / "out", str(filed))
    with pytest.raises(Problem, match="no exported book"):
        import_book(tmp_path, str(tmp_path / "x.book"))


plain = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), min_size=1)
written = st.builds(
    NewEntry,
    kind=st.sampled_from(["weight", "feed", "note"]),
    at=st.datetimes(datetime(1900, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC)),
    bird=plain,
    what=st.none() | plain,
    grams=st.floats(0.001, 19_000),
    detail=st.fixed_dictionaries({}, optional={"note": plain}),
)


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(written, max_size=8), form=st.sampled_from(["csv", "ndjson"]))
def test_any_entries_come_back(tmp_path_factory, rows, form):
    folder = tmp_path_factory.mktemp("any")
    make_book(str(folder / "a.book"), "Alder Close", UUID(int=7), THEN)
    with Book(str(folder / "a.book")) as book:
        add_entries(book, rows, "Keeper", THEN)
        export_book(book, folder / "out", form)
    import_book(folder / "out", str(folder / "b.book"))
    assert everything(str(folder / "b.book")) == everything(str(folder / "a.book"))
