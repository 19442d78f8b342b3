"""Digests that bind each row of the book to all before it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from hashlib import sha256

_BETWEEN = "\x1f"  # the unit separator: it stands in no field


def detail_text(detail: dict[str, object]) -> str:
    """A detail as the text that is kept and digested: JSON, keys sorted."""
    return json.dumps(detail, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def seed(uid: str, yard: str, created_at: str) -> str:
    """Digest before the first row: it binds a chain to its book."""
    return link("", (uid, yard, created_at))


def link(before: str, fields: Iterable[str | None]) -> str:
    """Digest of a row, in hexadecimal.

    Args:
        before: Digest of the row before it.
        fields: Its fields in their order; None is told from an empty text.
    """
    # Lengths are told, so that no text can pass for two fields.
    parts = [before]
    for field in fields:
        parts.append("-" if field is None else f"{len(field)}{_BETWEEN}{field}")
    return sha256(_BETWEEN.join(parts).encode("utf-8", "surrogatepass")).hexdigest()


def grams_text(grams: float | None) -> str | None:
    """A mass as it is digested: the shortest text that gives the same number back."""
    return None if grams is None else repr(float(grams))
