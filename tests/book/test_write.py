"""Entries and revisions: only added, each bound to all before it, the same on both databases."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book, make_book
from mewswright.book.read import about, entries, revision, revision_on, revisions
from mewswright.book.verify import faults_of
from mewswright.book.write import add_entries, save_revision
from mewswright.model.problem import Problem

THEN = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


def weighing(grams, minutes=0, uid=None, **more):
    return NewEntry(
        kind="weight",
        at=THEN + timedelta(minutes=minutes),
        bird="Bramble",
        grams=grams,
        uid=UUID(int=uid) if uid else None,
        **more,
    )


def test_what_is_written_is_read_again(book):
    entry = weighing(905.5, detail={"crop": 1, "note": "räuspert “sich”"})
    (uid,) = add_entries(book, [entry], "Keeper", THEN).uids
    (kept,) = entries(book, bird="Bramble")
    assert (kept.uid, kept.grams, kept.at, kept.author) == (uid, 905.5, THEN, "Keeper")
    assert kept.detail == {"crop": 1.0, "note": "räuspert “sich”"}
    assert faults_of(book.address) == ()


def test_both_databases_give_the_same_digests(tmp_path, pg_address):
    heads = []
    for address in (str(tmp_path / "a.book"), pg_address):
        make_book(address, "Alder Close", UUID(int=7), THEN)
        with Book(address) as book:
            add_entries(book, [weighing(905.1, k, k + 1) for k in range(5)], "Keeper", THEN)
            add_entries(book, [weighing(900, 9, 9, corrects=UUID(int=2))], "Hand", THEN)
            save_revision(book, "format = 1\n", "Keeper", THEN)
            heads.append((about(book), entries(book, corrected_too=True)))
    assert heads[0] == heads[1]


def test_what_is_sent_twice_lands_once(book):
    first = add_entries(book, [weighing(905, 0, 1)], "Keeper", THEN)
    again = add_entries(book, [weighing(905, 0, 1), weighing(906, 1, 2)], "Keeper", THEN)
    assert (first.added, again.added, again.known) == (1, 1, 1)
    assert [e.grams for e in entries(book)] == [905, 906]


def test_a_correction_takes_the_place_and_the_earlier_stays_in_the_book(book):
    add_entries(book, [weighing(9050, 0, 1)], "Keeper", THEN)
    add_entries(book, [weighing(905, 0, 2, corrects=UUID(int=1))], "Keeper", THEN)
    assert [e.grams for e in entries(book)] == [905]
    assert [e.grams for e in entries(book, corrected_too=True)] == [9050, 905]
    with pytest.raises(Problem, match=r"corrected already, by 0+-.*-0+2: correct that one"):
        add_entries(book, [weighing(904, 0, 3, corrects=UUID(int=1))], "Hand", THEN)
    add_entries(book, [weighing(904, 0, 3, corrects=UUID(int=2))], "Hand", THEN)
    assert [e.grams for e in entries(book)] == [904]


def test_what_never_happened_is_withdrawn(book):
    add_entries(book, [weighing(905, 0, 1)], "Keeper", THEN)
    gone = NewEntry(kind="weight", at=THEN, bird="Bramble", corrects=UUID(int=1), withdrawn=True)
    add_entries(book, [gone], "Keeper", THEN)
    assert entries(book) == []


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (weighing(None), "no weight is given"),
        (weighing(905_000), "the unit is grams"),
        (weighing(905, detail={"crop": 9}), "crop"),
        (weighing(905, detail={"crpo": 1}), "known: note, crop"),
        (NewEntry(kind="weigh", at=THEN), "kinds are weight, feed"),
        (NewEntry(kind="feed", at=THEN, grams=3), "no bird is named"),
        (NewEntry(kind="clean", at=THEN), "no quarters are named"),
        (weighing(905, corrects=UUID(int=99)), "which the book does not have"),
        (weighing(905, withdrawn=True), "only a correction can withdraw"),
    ],
)
def test_a_bad_entry_is_named_and_nothing_is_written(book, entry, says):
    with pytest.raises(Problem, match=says):
        add_entries(book, [weighing(900), entry], "Keeper", THEN)
    assert entries(book) == []
    assert about(book).entries == 0


@pytest.mark.parametrize(
    "change", ["UPDATE entry SET grams = 1", "DELETE FROM entry", "DELETE FROM revision"]
)
def test_rows_are_never_changed(book, change):
    add_entries(book, [weighing(905)], "Keeper", THEN)
    save_revision(book, "format = 1\n", "Keeper", THEN)
    with pytest.raises(DBAPIError, match="never changed"), book.writing() as connection:
        connection.execute(text(change))


def test_every_revision_is_kept_whole(book):
    day = timedelta(days=1)
    texts = ["format = 1\n", "format = 1\n# wider\n", "format = 1\n# café ☃\n"]
    for k, file in enumerate(texts):
        assert save_revision(book, file, "Keeper", THEN + k * day, f"n{k}") == k + 1
    assert save_revision(book, texts[-1], "Keeper", THEN + 9 * day) == 3  # nothing has changed
    assert [r.text for r in revisions(book)] == texts
    assert save_revision(book, texts[0], "Keeper", THEN + 9 * day, "restored") == 4
    assert revision(book, 4).text == texts[0]
    assert revision_on(book, THEN + 1.5 * day).number == 2
    assert revision_on(book, THEN - day) is None
    with pytest.raises(Problem, match="revision 5: the book does not have it; it has 1 to 4"):
        revision(book, 5)


def test_entries_by_kind_time_and_place(book):
    add_entries(
        book,
        [
            weighing(905, 0),
            weighing(910, 60),
            NewEntry(kind="clean", at=THEN, quarters="Barn loft", what="scrubbed"),
            NewEntry(kind="feed", at=THEN, bird="Moth", what="mouse", grams=20),
        ],
        "Keeper",
        THEN,
    )
    assert [e.what for e in entries(book, quarters="Barn loft")] == ["scrubbed"]
    assert [e.grams for e in entries(book, kinds=["weight"], newest=1)] == [910]
    assert [e.grams for e in entries(book, since=THEN + timedelta(minutes=1))] == [910]
    assert [e.kind for e in entries(book, until=THEN)] == []


def test_many_at_once_and_a_reader_sees_one_state(book):
    add_entries(book, [weighing(900 + k % 50, k) for k in range(4_500)], "Keeper", THEN)
    with book.reading() as connection:
        counted = connection.execute(text("SELECT count(*) FROM entry")).scalar_one()
        with Book(book.address) as other:
            add_entries(other, [weighing(1)], "Hand", THEN)
        assert connection.execute(text("SELECT count(*) FROM entry")).scalar_one() == counted
    assert about(book).entries == 4_501
    assert faults_of(book.address) == ()
