"""Killed at any moment, and two who write at once: the death of a program, not of power."""

import random
import signal
import subprocess
import sys
import threading
import time
from datetime import UTC, datetime

import pytest

from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book
from mewswright.book.pen import pen
from mewswright.book.read import about, entries
from mewswright.book.verify import faults_of
from mewswright.book.write import add_entries
from mewswright.model.problem import Problem

THEN = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)

WRITER = """
import sys
from datetime import UTC, datetime
from uuid import UUID
from mewswright.book.kinds import NewEntry
from mewswright.book.open import Book
from mewswright.book.write import add_entries

first = int(sys.argv[2])
with Book(sys.argv[1]) as book:
    for k in range(first, first + 100_000):
        pair = [
            NewEntry(kind="note", at=datetime.now(UTC), what=f"{k} {half}", uid=UUID(int=2 * k + n))
            for n, half in enumerate("ab")
        ]
        add_entries(book, pair, "Keeper", datetime.now(UTC))
        print(k, flush=True)
"""


def test_nothing_that_was_acknowledged_is_lost_when_a_writer_is_killed(filed):
    chance = random.Random(11)
    acknowledged = []
    for turn in range(6):
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(filed), str(turn * 200_000)],
            stdout=subprocess.PIPE,
            text=True,
        )
        first = writer.stdout.readline()
        time.sleep(chance.uniform(0.0, 0.25))
        writer.send_signal(signal.SIGKILL)
        said = writer.stdout.read()
        writer.wait()
        acknowledged += [int(line) for line in (first + said).split("\n") if line.strip()]
        assert faults_of(str(filed)) == ()
    with Book(str(filed)) as book:
        kept = {e.what for e in entries(book)}
    assert {f"{k} {half}" for k in acknowledged for half in "ab"} <= kept
    assert len(acknowledged) > 10
    numbers = [what.split()[0] for what in kept]
    assert all(numbers.count(n) == 2 for n in set(numbers))  # no pair is half there


def test_two_who_write_at_once_both_land(book):
    wrong = []

    def write(name):
        try:
            with Book(book.address) as own:
                for k in range(25):
                    entry = NewEntry(kind="note", at=THEN, what=f"{name} {k}")
                    add_entries(own, [entry], name, THEN)
        except Exception as error:
            wrong.append(error)

    threads = [
        threading.Thread(target=write, args=(name,)) for name in ("Keeper", "Hand", "Helper")
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []
    assert about(book).entries == 75
    assert faults_of(book.address) == ()


def test_who_waits_too_long_for_the_pen_is_told(filed):
    with (
        pen(filed),
        pytest.raises(Problem, match=r"another program has been writing for 0\.05 seconds"),
        pen(filed, 0.05),
    ):
        pass


def test_the_log_is_tidied_into_the_file(filed, monkeypatch):
    monkeypatch.setattr("mewswright.book.open.LONG_LOG_BYTES", 50_000)
    with Book(str(filed)) as book:
        for _ in range(40):
            add_entries(book, [NewEntry(kind="note", at=THEN, what="x" * 2_000)], "Keeper", THEN)
        log = filed.with_name(filed.name + "-wal")
        assert log.stat().st_size < 300_000
    assert faults_of(str(filed)) == ()
