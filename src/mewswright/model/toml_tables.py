"""A text that a keeper wrote, read into plain tables and then into a model.

A file is read whole or not at all. What the text itself does not allow is told here; what
a model does not allow is told by `model.telling`.
"""

import json
import tomllib
from collections.abc import Mapping
from datetime import date, time
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from mewswright.model.fault import Fault, FileProblem
from mewswright.model.problem import Problem

DEEPEST = 20  # tables and lists within each other; a yard file needs 6
Model = TypeVar("Model", bound=BaseModel)


def too_much(of: str) -> str:
    """Say what is the matter with a text that holds more than any key of its file needs."""
    return (
        "it holds a number with thousands of digits, or brackets within brackets, deeper than any "
        f"key of a {of} needs: take that out"
    )


def text_of(path: Path, remedy: str, problem: type[FileProblem]) -> str:
    """Give the text of a file.

    Args:
        path: The file.
        remedy: What to do when it cannot be read.
        problem: What to raise for a file that is not text.

    Raises:
        Problem: If the file cannot be read.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise Problem(f"{path}: cannot be read ({error.strerror}): {remedy}") from error
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        wrong = "not UTF-8: save it as UTF-8 text"
        raise problem([Fault(path.name, line, "the file", wrong=wrong)]) from error


def tables_of(
    text: str, name: str, of: str, empty: str, problem: type[FileProblem]
) -> dict[str, Any]:
    """Read a text into plain tables.

    Args:
        text: The text.
        name: Name of the file, for the faults.
        of: What the file describes: "yard".
        empty: What to do about an empty file.
        problem: What to raise for a text that cannot be read.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise problem([_syntax(error, name, text)]) from error
    except (RecursionError, ValueError) as error:  # brackets by the thousand; digits as well
        raise problem([Fault(name, None, "the file", wrong=too_much(of))]) from error
    if not data:
        raise problem([Fault(name, None, "the file", wrong=f"it is empty: {empty}")])
    if _is_deeper(data, DEEPEST):
        raise problem([Fault(name, None, "the file", wrong=too_much(of))])
    return data


def model_of(
    data: Mapping[str, Any], model: type[Model], name: str, of: str, problem: type[FileProblem]
) -> tuple[Model | None, list[ErrorDetails]]:
    """Read plain tables into a model, or say what the model refuses.

    It goes by way of JSON, where pydantic is strict about "240" for 240 and yet takes a
    list for a tuple.
    """
    try:
        return model.model_validate_json(json.dumps(data, default=_plain), strict=True), []
    except ValidationError as error:
        return None, error.errors(include_url=False)
    except ValueError as error:  # a hexadecimal number with more digits than can be written out
        raise problem([Fault(name, None, "the file", wrong=too_much(of))]) from error


def _is_deeper(here: object, levels: int) -> bool:
    inner = here.values() if isinstance(here, dict) else here if isinstance(here, list) else ()
    return levels < 0 or any(
        _is_deeper(one, levels - 1) for one in inner if isinstance(one, (dict, list))
    )


def _plain(value: object) -> str:
    if isinstance(value, (date, time)):  # a datetime is a date too
        return value.isoformat()
    raise TypeError(f"no TOML value: {value!r}")


def _syntax(error: tomllib.TOMLDecodeError, name: str, text: str) -> Fault:
    said, _, place = str(error).partition(" (at ")
    line = None
    if place.startswith("line "):
        line = int(place.removeprefix("line ").split(",")[0])
    elif place.startswith("end of document"):
        line = text.count("\n") + 1
    return Fault(name, line, "the file", wrong=f"not TOML: {said[0].lower()}{said[1:]}")
