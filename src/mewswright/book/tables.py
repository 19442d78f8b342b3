"""The book's tables, one mapping for SQLite and PostgreSQL."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import (
    CheckConstraint,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Text,
    UniqueConstraint,
)
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from mewswright.book.times import UtcMoment

# Batch migrations on SQLite must be able to name a constraint.
NAMING = {
    "ix": "ix_%(column_0_N_label)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


@compiles(String, "sqlite")
@compiles(Text, "sqlite")
def _text(_element: object, _compiler: object, **_more: object) -> str:
    return "TEXT"  # a strict table knows no VARCHAR


@compiles(Float, "sqlite")
def _real(_element: object, _compiler: object, **_more: object) -> str:
    return "REAL"


class Base(DeclarativeBase):
    """All tables of the book."""

    metadata = MetaData(naming_convention=NAMING)


class Info(Base):
    """The book itself: one row.

    The counts and heads say where the two chains of digests end, so that rows cut off the end
    are missed.
    """

    __tablename__ = "book"
    __table_args__: Any = (
        CheckConstraint("id = 1", name="one_row"),
        {"sqlite_strict": True},
    )

    id: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    uid: Mapped[str] = mapped_column(String(36))
    yard: Mapped[str] = mapped_column(Text)
    created_at: Mapped[datetime] = mapped_column(UtcMoment)
    entries: Mapped[int] = mapped_column(Integer)
    entry_head: Mapped[str] = mapped_column(String(64))
    revisions: Mapped[int] = mapped_column(Integer)
    revision_head: Mapped[str] = mapped_column(String(64))


class Revision(Base):
    """One saved state of the yard file, whole."""

    __tablename__ = "revision"
    __table_args__: Any = (
        CheckConstraint("number >= 1", name="counted_from_one"),
        {"sqlite_strict": True},
    )

    number: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    text: Mapped[str] = mapped_column(Text)
    author: Mapped[str] = mapped_column(Text)
    note: Mapped[str] = mapped_column(Text)
    written_at: Mapped[datetime] = mapped_column(UtcMoment)
    digest: Mapped[str] = mapped_column(String(64))


class Entry(Base):
    """One thing recorded. `corrects` names an earlier entry that this one takes the place of."""

    __tablename__ = "entry"
    __table_args__: Any = (
        UniqueConstraint("uid"),
        UniqueConstraint("corrects"),  # a correction is corrected in its turn, never the same twice
        CheckConstraint("id >= 1", name="counted_from_one"),
        CheckConstraint("corrects IS NULL OR corrects < id", name="corrects_earlier"),
        CheckConstraint("grams IS NULL OR grams >= 0", name="grams_positive"),
        Index("ix_entry_bird", "bird", "kind", "at"),
        Index("ix_entry_quarters", "quarters", "kind", "at"),
        Index("ix_entry_kind", "kind", "at"),
        {"sqlite_strict": True},
    )

    id: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=False)
    uid: Mapped[str] = mapped_column(String(36))
    kind: Mapped[str] = mapped_column(String(24))
    bird: Mapped[str | None] = mapped_column(Text)
    quarters: Mapped[str | None] = mapped_column(Text)
    at: Mapped[datetime] = mapped_column(UtcMoment)
    written_at: Mapped[datetime] = mapped_column(UtcMoment)
    author: Mapped[str] = mapped_column(Text)
    what: Mapped[str | None] = mapped_column(Text)
    grams: Mapped[float | None] = mapped_column(Float(53))
    detail: Mapped[str] = mapped_column(Text)  # JSON, keys sorted
    corrects: Mapped[int | None] = mapped_column(ForeignKey("entry.id"))
    withdrawn: Mapped[int] = mapped_column(Integer)  # 1: the earlier entry never happened
    digest: Mapped[str] = mapped_column(String(64))
