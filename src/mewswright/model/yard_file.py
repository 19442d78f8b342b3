"""The yard file: its text into a yard, and a change into its text.

A file is read whole or not at all. Every fault of it is told at once, with its line.
"""

import os
import tomllib
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import Any

from mewswright.model.comments import lifted, set_back
from mewswright.model.fault import Fault, YardProblem, listed, nearest_name
from mewswright.model.names import broken_names
from mewswright.model.problem import Problem
from mewswright.model.telling import as_toml, faults_of, key_words, line_of
from mewswright.model.toml_tables import model_of, tables_of, text_of
from mewswright.model.yard import Yard

Steps = tuple[str | int, ...]
# Keys whose names a caller may know, and which set they are of.
KNOWN_KEYS: Mapping[tuple[str, ...], str] = {
    ("bird", "species"): "species",
    ("yard", "standards"): "standards",
    ("quarters", "floor", "substrate"): "substrates",
    ("quarters", "roof", "deck"): "materials",
    ("quarters", "frame", "boarding"): "materials",
    ("quarters", "frame", "lining"): "materials",
    ("quarters", "frame", "coating"): "materials",
}
MAY_BE_NONE = ("deck", "lining", "coating")


def read_yard(path: Path, known: Mapping[str, Collection[str]] | None = None) -> Yard:
    """Read a yard file.

    Args:
        path: The file.
        known: Names that a species, standard, substrate or material may have, by those
            words in the plural. A set that is not given is not checked.

    Returns:
        The yard.

    Raises:
        Problem: If the file cannot be read.
        YardProblem: If it is not a yard; all its faults.
    """
    remedy = "name a yard file, or start one with `mewswright new`"
    return parse_yard(text_of(path, remedy, YardProblem), path.name, known)


def parse_yard(text: str, name: str, known: Mapping[str, Collection[str]] | None = None) -> Yard:
    """Read the text of a yard file.

    Args:
        text: The text.
        name: Name of the file, for the faults.
        known: As for `read_yard`.

    Raises:
        YardProblem: If it is not a yard; all its faults.
    """
    empty = "start one with `mewswright new`"
    data = tables_of(text, name, "yard", empty, YardProblem)
    yard, errors = model_of(data, Yard, name, "yard", YardProblem)
    names = list(broken_names(data))
    strangers = list(_strangers(data, known or {}))
    if yard is not None and not names and not strangers:
        return yard

    from mewswright.model.positions import line_of_each_key

    lines = line_of_each_key(text)
    faults = faults_of(errors, data, Yard, name, lines)
    for broken in names:
        faults.append(
            Fault(
                name, line_of(broken.path, lines), key_words(broken.path, data),
                as_toml(broken.name), broken.wrong, listed(broken.allowed) if broken.allowed
                else "", nearest_name(broken.name, broken.allowed),
            )
        )  # fmt: skip
    for path, given, what, allowed in strangers:
        faults.append(
            Fault(
                name, line_of(path, lines), key_words(path, data), as_toml(given),
                f"not in the handbook's {what} (mewswright {_command(what)})",
                nearest=nearest_name(given, allowed),
            )
        )  # fmt: skip
    raise YardProblem(faults)


def _command(what: str) -> str:
    return what if what == "standards" else f"handbook {what}"


def _strangers(
    data: Mapping[str, Any], known: Mapping[str, Collection[str]]
) -> list[tuple[Steps, str, str, Collection[str]]]:
    """Find names that the handbook does not have."""
    found: list[tuple[Steps, str, str, Collection[str]]] = []
    for keys, what in KNOWN_KEYS.items():
        if what in known:
            for path, value in _reach(data, keys, ()):
                if keys[-1] in MAY_BE_NONE and value == "none":
                    continue
                if isinstance(value, str) and value not in known[what]:
                    found.append((path, value, what, known[what]))
    return found


def _reach(here: Any, keys: tuple[str, ...], path: Steps) -> list[tuple[Steps, Any]]:
    if isinstance(here, list):
        return [hit for i, one in enumerate(here) for hit in _reach(one, keys, (*path, i))]
    if not keys:
        return [(path, here)]
    if isinstance(here, Mapping) and keys[0] in here:
        return _reach(here[keys[0]], keys[1:], (*path, keys[0]))
    return []


def set_value(text: str, path: Steps, value: Any) -> str:
    """Change one value in the text of a yard file; comments and order stay.

    Args:
        text: The text.
        path: Where it is: ("bird", 0, "mass_g").
        value: What it becomes.

    Returns:
        The new text. A key that was not there comes at the end of its table.

    Raises:
        Problem: If the text is not TOML, the path leads nowhere, or TOML cannot hold the value.
    """
    import tomlkit
    from tomlkit.exceptions import ConvertError, ParseError

    try:
        bare, headings = lifted(text)
        document = tomlkit.parse(bare)
    except (ParseError, tomllib.TOMLDecodeError) as error:
        raise Problem(f"this is not TOML ({error}): mend that first") from error
    if not path:
        raise Problem("no place is named: name a key")
    here: Any = document
    try:
        for step in path[:-1]:
            here = here[step]
        here[path[-1]] = value
    except ConvertError as error:  # a TypeError too, hence first
        raise Problem(
            f"TOML cannot hold {value!r}: give text, a number, a date or a list"
        ) from error
    except (KeyError, IndexError, TypeError) as error:
        raise Problem(f"no {key_words(path, tomllib.loads(text))} in this yard file") from error
    return set_back(tomlkit.dumps(document), headings)


def rewritten(text: str) -> str:
    """Write a text as it was read: the same bytes, comments, order and all."""
    import tomlkit

    return tomlkit.dumps(tomlkit.parse(text))


def save_text(path: Path, text: str, *, new: bool = False) -> None:
    """Save a text so that the file holds either the old text or the whole new one.

    Args:
        path: The file.
        text: Its new text.
        new: Refuse to replace a file that is there.

    Raises:
        Problem: If it cannot be written, or is there already and `new` was asked for.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    replace: Callable[[Path, Path], None] = os.link if new else os.replace
    try:
        with beside.open("w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        replace(beside, path)
    except FileExistsError as error:
        raise Problem(f"{path} is there already: name a new file") from error
    except OSError as error:
        raise Problem(
            f"{path}: cannot be written ({error.strerror}): choose another place"
        ) from error
    finally:
        beside.unlink(missing_ok=True)


def yard_schema() -> dict[str, Any]:
    """Give the JSON Schema of a yard file, draft 2020-12, for editors."""
    schema = _without_null(Yard.model_json_schema())
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:mewswright:yard:1",
        **schema,
        "title": "Mewswright yard file",
    }


def _without_null(schema: Any) -> Any:
    """Leave null out of a schema: TOML has none, and a choice of it hides where a fault lies."""
    if isinstance(schema, list):
        return [_without_null(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    plain = {key: _without_null(one) for key, one in schema.items()}
    choices = plain.get("anyOf")
    if isinstance(choices, list) and {"type": "null"} in choices:
        left = [one for one in choices if one != {"type": "null"}]
        plain = {k: v for k, v in plain.items() if k != "anyOf" and (k, v) != ("default", None)}
        plain = {**left[0], **plain} if len(left) == 1 else {**plain, "anyOf": left}
    return plain
