"""Moments as the book keeps them: in UTC, to the microsecond, the same on every database."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import DateTime, Dialect, String
from sqlalchemy.types import TypeDecorator, TypeEngine

_FORM = "%Y-%m-%dT%H:%M:%S.%fZ"


def moment_text(moment: datetime) -> str:
    """A moment as text that sorts like the moments themselves.

    Args:
        moment: A moment that knows its offset from UTC.

    Raises:
        ValueError: If it knows no offset.
    """
    if moment.utcoffset() is None:
        raise ValueError(f"{moment.isoformat()} has no offset from UTC: say in which zone it is")
    utc = moment.astimezone(UTC)
    # strftime does not pad years before 1000.
    return f"{utc.year:04d}-{utc.strftime(_FORM[3:])}"


def moment_of(text: str) -> datetime:
    """The moment that `moment_text` wrote."""
    return datetime.fromisoformat(text.replace("Z", "+00:00"))


class UtcMoment(TypeDecorator[datetime]):
    """A moment: text in SQLite, which has no such type, `timestamptz` in PostgreSQL."""

    impl = String
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """The type in one database."""
        own: TypeEngine[Any] = String(27) if dialect.name == "sqlite" else DateTime(True)
        return dialect.type_descriptor(own)

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> object:
        """To the database."""
        if value is None:
            return None
        text = moment_text(value)  # asks for the offset in every database
        return text if dialect.name == "sqlite" else value

    def process_result_value(self, value: object, _dialect: Dialect) -> datetime | None:
        """From the database."""
        if value is None:
            return None
        if isinstance(value, str):
            return moment_of(value)
        assert isinstance(value, datetime)
        return value.astimezone(UTC)
