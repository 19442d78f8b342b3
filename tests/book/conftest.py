"""Books to write in: one in a file, and the same on a real PostgreSQL server."""

import os
from datetime import UTC, datetime
from itertools import count
from uuid import UUID

import pytest

from mewswright.book.open import Book, make_book
from support import postgres

THEN = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
_numbers = count(1)


@pytest.fixture(scope="session")
def pg_server():
    if not (postgres.program("initdb") and postgres.program("pg_ctl")):
        if os.environ.get("CI"):
            pytest.fail("PostgreSQL is not installed: .ci/run installs it")
        pytest.skip("PostgreSQL is not installed here (Debian: postgresql)")
    with postgres.server() as address:
        yield address


@pytest.fixture
def pg_address(pg_server):
    """An empty database."""
    import psycopg

    name = f"book{os.getpid()}_{next(_numbers)}"
    with psycopg.connect(f"{pg_server}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{pg_server}/{name}"


@pytest.fixture(params=["file", "server"])
def address(request, tmp_path):
    """Where a book may be made."""
    if request.param == "server":
        return request.getfixturevalue("pg_address")
    return str(tmp_path / "alder close.book")


@pytest.fixture
def book(address):
    """An empty book."""
    make_book(address, "Alder Close", UUID(int=7), THEN)
    with Book(address) as opened:
        yield opened


@pytest.fixture
def filed(tmp_path):
    """Path of an empty book in a file."""
    path = tmp_path / "alder.book"
    make_book(str(path), "Alder Close", UUID(int=7), THEN)
    return path
