"""Runs the migrations on the engine that `migrate.py` hands over, in one transaction."""

from alembic import context
from sqlalchemy import event

from mewswright.book.tables import Base

engine = context.config.attributes["engine"]
lite = engine.dialect.name == "sqlite"


def _no_foreign_keys(connection, _record, *_more):  # type: ignore[no-untyped-def]
    # A parent table cannot be rebuilt while its children hold on to it.
    connection.execute("PRAGMA foreign_keys = OFF")


def _foreign_keys(connection, _record, *_more):  # type: ignore[no-untyped-def]
    connection.execute("PRAGMA foreign_keys = ON")


if lite:
    event.listen(engine, "checkout", _no_foreign_keys)
    event.listen(engine, "checkin", _foreign_keys)
try:
    with engine.connect().execution_options(write=True) as connection:
        context.configure(
            connection=connection,
            target_metadata=Base.metadata,
            render_as_batch=lite,
            transactional_ddl=True,
        )
        with connection.begin():
            context.run_migrations()
            if lite:
                broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
                if broken:
                    raise RuntimeError(f"rows that point nowhere after the migration: {broken[:3]}")
finally:
    if lite:
        event.remove(engine, "checkout", _no_foreign_keys)
        event.remove(engine, "checkin", _foreign_keys)
