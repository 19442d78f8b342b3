"""A ration from a book: the same bird, the same answer as from its log."""

import json
from datetime import UTC, datetime, timedelta
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.book.bird_log import bird_log
from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book
from mewswright.book.write import add_entries, save_revision
from mewswright.cli import app
from mewswright.model.problem import Problem

START = datetime(2026, 11, 1, 7, 0, tzinfo=UTC)
ASK = [
    "--bird",
    "Tansy",
    "--target-g",
    "920",
    "--at",
    "2026-11-21T08:00",
    "--food",
    "chick",
    "--json",
]


@pytest.fixture
def kept(filed):
    """Three weeks of Tansy, weighed at eight in the yard's winter time."""
    yard = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")
    entries = []
    for day in range(20):
        at = START + timedelta(days=day)
        detail = {"crop": 0, "temp_c": 5, "flown_min": 15}
        entries.append(
            NewEntry(kind="weight", at=at, bird="Tansy", grams=915 + day % 7, detail=detail)
        )
        if day < 19:
            later = at + timedelta(minutes=20)
            entries.append(NewEntry(kind="feed", at=later, bird="Tansy", what="chick", grams=110))
    with Book(str(filed)) as book:
        save_revision(book, yard, "Keeper", START, "first")
        add_entries(book, entries, "Keeper", START + timedelta(days=21))
    return filed


def ration(*words):
    return CliRunner().invoke(app, ["ration", *words])


def test_a_ration_from_the_book_equals_that_from_its_log(kept, tmp_path):
    done = ration("--book", str(kept), *ASK)
    assert done.exit_code == 0, done.output
    report = json.loads(done.stdout)
    assert (report["basis"]["species"], report["basis"]["sex"]) == ("harris_hawk", "f")
    assert report["basis"]["last_weighed"] == "2026-11-20T08:00:00"
    with Book(str(kept)) as book:
        told = bird_log(book, "Tansy")
    path = tmp_path / "tansy.csv"
    path.write_text(told.text, encoding="utf-8")
    fed_up = [] if told.bird.mass_g is None else ["--fed-up-g", str(told.bird.mass_g)]
    again = ration("--log", str(path), "--species", "harris_hawk", "--sex", "f", *fed_up, *ASK[2:])
    assert json.loads(again.stdout) == report


def test_a_bird_that_looks_ill_in_the_book_gets_no_ration(kept):
    at = START + timedelta(days=20)
    entry = NewEntry(kind="weight", at=at, bird="Tansy", grams=900, detail={"ill": True})
    with Book(str(kept)) as book:
        add_entries(book, [entry], "Keeper", at)
    done = ration("--book", str(kept), *ASK[:4], "--at", "2026-11-22T08:00", *ASK[6:])
    assert done.exit_code == 2
    assert "says that the bird is ill" in done.stderr


def test_a_bird_that_the_book_does_not_have_is_refused(kept):
    with Book(str(kept)) as book:
        with pytest.raises(Problem, match=r"^no bird 'Tanzy'; nearest: Tansy$"):
            bird_log(book, "Tanzy")
        with pytest.raises(Problem, match=r"^the book holds no weight of 'Rook': weigh it"):
            bird_log(book, "Rook")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "give the weights by --log CSV, or by --book BOOK --bird NAME"),
        (["--log", "a.csv", "--book", "b"], "give the weights by --log CSV, or by --book"),
        (["--book", "b"], "--book holds many birds: say whose with --bird NAME"),
    ],
)
def test_one_source_of_weights_is_asked_for(words, says):
    done = ration(*words, *ASK[2:])
    assert done.exit_code == 2
    assert says in done.stderr
