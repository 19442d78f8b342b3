"""The shape of the book's database, and how an older book comes to the newer shape."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from mewswright.model.problem import Problem

if TYPE_CHECKING:
    from alembic.config import Config
    from sqlalchemy import Engine

_HERE = Path(__file__).parent / "migrations"


def _config(engine: Engine) -> Config:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_HERE).replace("%", "%%"))
    config.attributes["engine"] = engine
    return config


def newest() -> str:
    """Name of the newest shape."""
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(_HERE).replace("%", "%%"))
    head = ScriptDirectory.from_config(config).get_current_head()
    assert head is not None
    return head


def shape_of(engine: Engine) -> str | None:
    """Name of the shape that a database has, None for one that is no book."""
    from alembic.migration import MigrationContext
    from sqlalchemy import inspect

    with engine.connect() as connection:
        if not inspect(connection).has_table("alembic_version"):
            return None
        return MigrationContext.configure(connection).get_current_revision()


def bring_to(engine: Engine, shape: str = "head") -> None:
    """Change a database to a shape: all of it or nothing.

    Args:
        engine: The book.
        shape: Name of a shape, `head` for the newest, `base` for none.
    """
    from alembic import command
    from alembic.script import ScriptDirectory

    config = _config(engine)
    now = shape_of(engine)
    order = [s.revision for s in ScriptDirectory.from_config(config).walk_revisions()]
    if shape == "base" or (
        shape in order and now in order and order.index(shape) > order.index(now)
    ):
        command.downgrade(config, shape)
    else:
        command.upgrade(config, shape)


def must_be_newest(engine: Engine, where: str) -> None:
    """Refuse a database that this version cannot read.

    Raises:
        Problem: If it is no book, or its shape is older or newer.
    """
    from sqlalchemy.exc import DatabaseError

    try:
        now = shape_of(engine)
    except DatabaseError as error:
        raise Problem(
            f"{where}: cannot be read as a book ({error.orig}): restore a backup, or look with "
            "`mewswright book verify`"
        ) from error
    if now is None:
        raise Problem(f"{where}: this database holds no book: make one with `mewswright book new`")
    if now != newest():
        raise Problem(
            f"{where}: the book has shape {now}, this version reads {newest()}: "
            "back it up, then run `mewswright book migrate`, or use a newer version"
        )
