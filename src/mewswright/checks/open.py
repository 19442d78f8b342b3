"""Open a yard file for a command or a page."""

import tomllib
from pathlib import Path

from pydantic import ValidationError

from mewswright.model.problem import Problem
from mewswright.model.yard import Yard


def open_yard(path: Path) -> Yard:
    """Read a yard file.

    Raises:
        Problem: If it cannot be read or is not a yard.
    """
    try:
        yard = Yard.model_validate(tomllib.loads(path.read_text(encoding="utf-8")))
    except OSError as error:
        raise Problem(f"{path}: cannot be read ({error.strerror}): check its name") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, ValidationError) as error:
        raise Problem(f"{path}: not a yard: {error}") from error
    if broken := yard.broken_names():
        where, wrong, given, allowed = broken[0]
        place = ".".join(str(part) for part in where)
        known = f"; there are: {', '.join(allowed)}" if allowed else ""
        raise Problem(f"{path}: {place}: {wrong}: {given!r}{known}")
    return yard
