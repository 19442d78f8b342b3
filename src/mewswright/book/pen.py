"""The pen of a book in a file: whoever writes or tidies the file holds it, one at a time.

Old versions of SQLite can, rarely, damage a book when one program moves the write-ahead log into
the file in the instant in which another commits. Here both are done with the pen in hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep
from typing import IO

from mewswright.model.problem import Problem

PATIENCE_S = 10.0


def _take(file: IO[bytes]) -> bool:
    try:
        import fcntl
    except ImportError:  # a system without such locks: SQLite's own lock must do
        return True
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


@contextmanager
def pen(book: Path, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Hold the pen of a book; let go when the block ends, or the program does.

    Args:
        book: The book's file.
        patience_s: How long to wait for it [s].

    Raises:
        Problem: If another holds it all the while.
    """
    until = monotonic() + patience_s
    with book.with_name(book.name + "-pen").open("ab") as file:
        while not _take(file):
            if monotonic() > until:
                raise Problem(
                    f"{book}: another program has been writing for {patience_s:g} seconds, "
                    "nothing was written: wait until it is done and try again"
                )
            sleep(0.005)
        yield
