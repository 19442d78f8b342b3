"""`verify` finds damage planted in a copy; backups are whole, checked and given back."""

import random
import shutil
import sqlite3
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest

from mewswright.book.backup import back_up, checksum_faults, restore
from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book
from mewswright.book.read import about, entries, revisions
from mewswright.book.verify import faults_of
from mewswright.book.write import add_entries, save_revision
from mewswright.model.problem import Problem

THEN = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


@pytest.fixture
def written(filed):
    """A book with 60 entries and three revisions, in one file without a log beside it."""
    with Book(str(filed)) as book:
        for k in range(60):
            entry = NewEntry(
                kind="weight", at=THEN + timedelta(days=k), bird="Flint", grams=600 + k
            )
            add_entries(book, [entry], "Keeper", THEN)
        for k in range(3):
            save_revision(book, f"format = 1 # {k}\n", "Keeper", THEN)
    return filed


def change(path, *statements):
    """Plant damage by the database's own means."""
    connection = sqlite3.connect(path)
    for trigger in ("entry_never_update", "entry_never_delete", "revision_never_update",
                    "revision_never_delete"):  # fmt: skip
        sql = connection.execute(
            "SELECT sql FROM sqlite_master WHERE name = ?", (trigger,)
        ).fetchone()[0]
        connection.execute(f"DROP TRIGGER {trigger}")
        statements = (*statements, sql)  # put back: only the rows are to give it away
    connection.execute("PRAGMA foreign_keys = OFF")
    for statement in statements:
        connection.execute(statement)
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("damage", "says"),
    [
        ("UPDATE entry SET grams = grams + 0.1 WHERE id = 30", "entry 30"),
        ("UPDATE entry SET bird = NULL WHERE id = 30", "entry 30"),
        ("UPDATE entry SET bird = 'Moth' WHERE id = 1", "entry 1 "),
        ("UPDATE entry SET at = '2026-11-25T07:30:00.000001Z' WHERE id = 1", "entry 1 "),
        ("UPDATE entry SET author = 'Hand' WHERE id = 60", "entry 60"),
        ("UPDATE entry SET detail = '{}' || ' ' WHERE id = 7", "entry 7"),
        ("UPDATE entry SET withdrawn = 1 WHERE id = 7", "entry 7"),
        ("UPDATE entry SET corrects = 3 WHERE id = 7", "entry 7"),
        ("DELETE FROM entry WHERE id = 60", "says that it has 60, and 59"),
        ("DELETE FROM entry WHERE id = 12", "entry 12 is missing"),
        ("UPDATE revision SET text = 'format = 1' WHERE number = 2", "revision 2"),
        ("DELETE FROM revision WHERE number = 3", "says that it has 3, and 2"),
        ("UPDATE book SET yard = 'Other'", "entry 1 "),
        ("UPDATE book SET entry_head = revision_head", "entry 60"),
        ("DROP INDEX ix_entry_bird", "index ix_entry_bird is missing"),
        ("CREATE TABLE extra (id INTEGER)", "table extra does not belong"),
    ],
)
def test_damage_to_the_rows_is_found(written, damage, says):
    change(written, damage)
    assert says in faults_of(str(written))[0]


def test_guards_taken_away_are_missed(written):
    connection = sqlite3.connect(written)
    connection.execute("DROP TRIGGER entry_never_delete")
    connection.commit()
    connection.close()
    assert "entry_never_delete is missing" in faults_of(str(written))[0]


def test_any_changed_byte_of_a_backup_is_found(written, tmp_path):
    copy = tmp_path / "copy.book"
    back_up(str(written), copy)
    whole = copy.read_bytes()
    chance = random.Random(5)
    for _ in range(300):
        at = chance.randrange(len(whole))
        copy.write_bytes(
            whole[:at] + bytes([whole[at] ^ (1 << chance.randrange(8))]) + whole[at + 1 :]
        )
        assert checksum_faults(copy)
    copy.write_bytes(whole[:-4096])
    assert checksum_faults(copy)


def test_a_byte_changed_in_the_file_is_found_or_changes_nothing_that_is_kept(written, tmp_path):
    """Without a checksum: what `verify` passes reads the same as before."""
    with Book(str(written)) as book:
        before = (about(book), entries(book, corrected_too=True), revisions(book))
    whole = written.read_bytes()
    chance, passed = random.Random(6), 0
    for k in range(120):
        copy = tmp_path / f"{k}.book"
        at = chance.randrange(100, len(whole))
        copy.write_bytes(whole[:at] + bytes([whole[at] ^ 0x10]) + whole[at + 1 :])
        if not faults_of(str(copy)):
            passed += 1
            with Book(str(copy)) as book:
                now = (about(book), entries(book, corrected_too=True), revisions(book))
            assert now == before, at
    assert passed < 120


def test_a_torn_file_is_damage_not_a_crash(written, tmp_path):
    whole = written.read_bytes()
    for length in (0, 16, 100, 4096, len(whole) // 2, len(whole) - 1):
        copy = tmp_path / f"torn{length}.book"
        copy.write_bytes(whole[:length])
        assert faults_of(str(copy)), length


def test_a_backup_taken_while_others_write_is_whole_and_is_given_back(written, tmp_path):
    with Book(str(written)) as book:
        total = back_up(str(written), tmp_path / "safe.book")
        add_entries(book, [NewEntry(kind="note", at=THEN, what="later")], "Keeper", THEN)
    noted = (tmp_path / "safe.book.sha256").read_text().split()
    assert noted == [total, "safe.book"]
    assert sha256((tmp_path / "safe.book").read_bytes()).hexdigest() == total
    restore(tmp_path / "safe.book", str(tmp_path / "back.book"))
    with Book(str(tmp_path / "back.book")) as book:
        assert about(book).entries == 60
        add_entries(book, [NewEntry(kind="note", at=THEN, what="goes on")], "Keeper", THEN)
    assert faults_of(str(tmp_path / "back.book")) == ()


def test_a_damaged_backup_is_not_given_back_and_nothing_is_written_over(written, tmp_path):
    back_up(str(written), tmp_path / "safe.book")
    with pytest.raises(Problem, match="already"):
        back_up(str(written), tmp_path / "safe.book")
    with pytest.raises(Problem, match="already"):
        restore(tmp_path / "safe.book", str(written))
    data = bytearray((tmp_path / "safe.book").read_bytes())
    data[5000] ^= 1
    (tmp_path / "safe.book").write_bytes(data)
    with pytest.raises(Problem, match="not the file that"):
        restore(tmp_path / "safe.book", str(tmp_path / "back.book"))
    assert sorted(p.name for p in tmp_path.iterdir() if "back" in p.name) == []


def test_a_damaged_book_is_not_backed_up_as_if_it_were_whole(written, tmp_path):
    change(written, "UPDATE entry SET grams = 1 WHERE id = 3")
    with pytest.raises(Problem, match="not backed up"):
        back_up(str(written), tmp_path / "safe.book")
    assert not (tmp_path / "safe.book").exists()
    shutil.copy(written, tmp_path / "plain.book")
    with pytest.raises(Problem, match="damaged: entry 3"):
        restore(tmp_path / "plain.book", str(tmp_path / "back.book"))
