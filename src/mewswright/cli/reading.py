"""Text of files that other programs wrote."""

from pathlib import Path


def old_text(path: Path) -> str:
    """Text of a file in UTF-8, or else in the western encoding of older programs.

    Raises:
        Problem: If it cannot be read.
    """
    from mewswright.model.problem import Problem

    try:
        raw = path.read_bytes()
    except OSError as error:
        raise Problem(f"cannot read {path}: {error.strerror}") from error
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("latin-1")  # names of towns in older weather files, notes in old tables
