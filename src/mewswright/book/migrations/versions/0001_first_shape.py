"""The first shape: the book, its revisions of the yard file, its entries, and what guards them."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_KEPT = ("revision", "entry")


def _moment() -> "sa.types.TypeEngine[Any]":
    moment: sa.types.TypeEngine[Any] = sa.DateTime(timezone=True)
    return moment.with_variant(sa.Text(), "sqlite")


def _text(length: int | None = None) -> "sa.types.TypeEngine[Any]":
    text: sa.types.TypeEngine[Any] = sa.String(length) if length else sa.Text()
    return text.with_variant(sa.Text(), "sqlite")


def upgrade() -> None:
    """Make the tables and the guards that let rows be added and never changed."""
    op.create_table(
        "book",
        sa.Column("id", sa.Integer, autoincrement=False),
        sa.Column("uid", _text(36), nullable=False),
        sa.Column("yard", _text(), nullable=False),
        sa.Column("created_at", _moment(), nullable=False),
        sa.Column("entries", sa.Integer, nullable=False),
        sa.Column("entry_head", _text(64), nullable=False),
        sa.Column("revisions", sa.Integer, nullable=False),
        sa.Column("revision_head", _text(64), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_book"),
        sa.CheckConstraint("id = 1", name="ck_book_one_row"),
        sqlite_strict=True,
    )
    op.create_table(
        "revision",
        sa.Column("number", sa.Integer, autoincrement=False),
        sa.Column("text", _text(), nullable=False),
        sa.Column("author", _text(), nullable=False),
        sa.Column("note", _text(), nullable=False),
        sa.Column("written_at", _moment(), nullable=False),
        sa.Column("digest", _text(64), nullable=False),
        sa.PrimaryKeyConstraint("number", name="pk_revision"),
        sa.CheckConstraint("number >= 1", name="ck_revision_counted_from_one"),
        sqlite_strict=True,
    )
    op.create_table(
        "entry",
        sa.Column("id", sa.Integer, autoincrement=False),
        sa.Column("uid", _text(36), nullable=False),
        sa.Column("kind", _text(24), nullable=False),
        sa.Column("bird", _text()),
        sa.Column("quarters", _text()),
        sa.Column("at", _moment(), nullable=False),
        sa.Column("written_at", _moment(), nullable=False),
        sa.Column("author", _text(), nullable=False),
        sa.Column("what", _text()),
        sa.Column("grams", sa.Float(53).with_variant(sa.REAL(), "sqlite")),
        sa.Column("detail", _text(), nullable=False),
        sa.Column("corrects", sa.Integer),
        sa.Column("withdrawn", sa.Integer, nullable=False),
        sa.Column("digest", _text(64), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_entry"),
        sa.UniqueConstraint("uid", name="uq_entry_uid"),
        sa.UniqueConstraint("corrects", name="uq_entry_corrects"),
        sa.ForeignKeyConstraint(["corrects"], ["entry.id"], name="fk_entry_corrects_entry"),
        sa.CheckConstraint("id >= 1", name="ck_entry_counted_from_one"),
        sa.CheckConstraint("corrects IS NULL OR corrects < id", name="ck_entry_corrects_earlier"),
        sa.CheckConstraint("grams IS NULL OR grams >= 0", name="ck_entry_grams_positive"),
        sqlite_strict=True,
    )
    op.create_index("ix_entry_bird", "entry", ["bird", "kind", "at"])
    op.create_index("ix_entry_quarters", "entry", ["quarters", "kind", "at"])
    op.create_index("ix_entry_kind", "entry", ["kind", "at"])
    if op.get_bind().dialect.name == "sqlite":
        for table in _KEPT:
            for act in ("UPDATE", "DELETE"):
                op.execute(
                    f"CREATE TRIGGER {table}_never_{act.lower()} BEFORE {act} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, '{table}: rows are added, never changed'); END"
                )
        return
    op.execute(
        "CREATE FUNCTION mewswright_never_change() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION '%: rows are added, never changed', TG_TABLE_NAME; END $$"
    )
    for table in _KEPT:
        op.execute(
            f"CREATE TRIGGER {table}_never_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION mewswright_never_change()"
        )


def downgrade() -> None:
    """Take all of it away."""
    for table in ("entry", "revision", "book"):
        op.drop_table(table)
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION mewswright_never_change()")
