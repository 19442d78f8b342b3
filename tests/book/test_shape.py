"""The one history of shapes, up and down on both databases, and equal to the mapping."""

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect

from mewswright.book.address import engine_of
from mewswright.book.migrate import bring_to, must_be_newest, newest, shape_of
from mewswright.book.open import Book, make_book
from mewswright.book.tables import Base
from mewswright.model.problem import Problem


def test_up_and_down_and_up_again(address):
    engine = engine_of(address, must_exist=False)
    for _ in range(2):
        bring_to(engine)
        assert shape_of(engine) == newest()
        assert set(inspect(engine).get_table_names()) >= {"book", "entry", "revision"}
        bring_to(engine, "base")
        assert inspect(engine).get_table_names() == ["alembic_version"]
    engine.dispose()


def test_the_history_ends_in_the_mapping(book):
    with book.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": False})
        assert compare_metadata(context, Base.metadata) == []


def test_sqlite_is_strict_and_fully_durable(filed):
    with Book(str(filed)) as book, book.engine.connect() as connection:
        strict = connection.exec_driver_sql("PRAGMA table_list").all()
        tables = {row[1]: row[5] for row in strict}
        assert [tables[name] for name in ("book", "entry", "revision")] == [1, 1, 1]
        for pragma, value in (("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1)):
            assert connection.exec_driver_sql(f"PRAGMA {pragma}").scalar_one() == value


def test_an_empty_database_and_another_shape_are_refused(address):
    engine = engine_of(address, must_exist=False)
    with engine.connect().execution_options(write=True) as connection, connection.begin():
        connection.exec_driver_sql("CREATE TABLE other (id integer)")
    with pytest.raises(Problem, match="holds no book"):
        must_be_newest(engine, "here")
    bring_to(engine)
    with engine.connect().execution_options(write=True) as connection, connection.begin():
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(Problem, match="shape 9999"):
        must_be_newest(engine, "here")
    engine.dispose()


def test_a_book_is_never_made_over_something(book):
    import uuid
    from datetime import UTC, datetime

    with pytest.raises(Problem, match="already"):
        make_book(book.address, "Other", uuid.uuid4(), datetime(2026, 1, 1, tzinfo=UTC))


@pytest.mark.parametrize(
    ("content", "says"), [(None, "no such book"), (b"not a book at all", "is no book")]
)
def test_what_is_no_book_is_named(tmp_path, content, says):
    path = tmp_path / "x.book"
    if content:
        path.write_bytes(content)
    with pytest.raises(Problem, match=says):
        Book(str(path))
