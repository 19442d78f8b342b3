"""From what the models refuse to what the keeper reads."""

import json
import re
from collections.abc import Mapping, Sequence
from datetime import date
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from mewswright.model.fault import Fault, listed, nearest_name
from mewswright.model.positions import Path

_WANTED = {
    "float_type": "a number, written without quotes",
    "float_parsing": "a number, written without quotes",
    "int_type": "a whole number, written without quotes",
    "int_parsing": "a whole number, written without quotes",
    "int_from_float": "a whole number",
    "decimal_type": "a number, written without quotes",
    "decimal_parsing": "a number, written without quotes",
    "bool_type": "true or false, written without quotes",
    "bool_parsing": "true or false, written without quotes",
    "string_type": 'text, in quotes: "..."',
    "tuple_type": "a list: [..., ...]",
    "list_type": "a list: [..., ...]",
    "date_type": "a date: 2027-03-01",
    "date_parsing": "a date: 2027-03-01",
    "date_from_datetime_parsing": "a date: 2027-03-01",
    "date_from_datetime_inexact": "a date without a time: 2027-03-01",
    "dict_type": "a table of its own",
    "model_type": "a table of its own",
    "model_attributes_type": "a table of its own",
    "finite_number": "a number that can be measured",
    "string_too_short": "text that is not blank",
}
_PATTERNS = {
    r"^\d+(\.\d+)?x\d+(\.\d+)?$": 'breadth x depth in millimetres, such as "45x95"',
    r"^\d+(\.\d+)?x\d+(\.\d+)?(x\d+(\.\d+)?)?$": (
        'breadth x depth in millimetres, such as "45x95", or a steel tube with its wall, such as '
        '"60x60x3"'
    ),
    r"^[a-z0-9]+(-[a-z0-9]+)*$": 'small letters, digits and hyphens, such as "hollow-hills"',
    r"^[a-z0-9]+(_[a-z0-9]+)*$": 'small letters, digits and low lines, such as "large_falcons"',
    r"^[A-Z]{3}$": 'three capital letters, such as "EUR"',
}


def faults_of(
    errors: Sequence[ErrorDetails], data: Mapping[str, Any], model: type[BaseModel], file: str,
    lines: Mapping[Path, int],
) -> list[Fault]:  # fmt: skip
    """Turn a model's refusals into faults.

    Args:
        errors: What pydantic found.
        data: The tables of the file.
        model: Model that the file is read into.
        file: Name of the file.
        lines: Line of every key.
    """
    return [_fault(error, data, model, file, lines) for error in errors]


def _fault(
    error: ErrorDetails, data: Mapping[str, Any], model: type[BaseModel], file: str,
    lines: Mapping[Path, int],
) -> Fault:  # fmt: skip
    path, given, there = _follow(error["loc"], data)
    kind, context = error["type"], error.get("ctx", {})
    shown = as_toml(given) if there and not isinstance(given, (Mapping, list)) else ""
    wrong, allowed, nearest = "", "", ""
    if kind == "missing":
        what, shown = path[-1], ""
        if isinstance(what, int):
            path, what = path[:-1], f"number {what + 1} of the list"
        wrong = f"{what} is missing: give it"
    elif kind == "extra_forbidden":
        keys = _keys_at(model, path[:-1], data)
        shown, nearest = "", nearest_name(str(path[-1]), keys)
        wrong, allowed = "there is no such key", listed(keys, 40)
    elif kind in ("literal_error", "union_tag_invalid"):
        names = _literals(str(context.get("expected") or context.get("expected_tags") or ""))
        if kind == "union_tag_invalid":
            path = (*path, "kind")
            given = given.get("kind") if isinstance(given, Mapping) else given
            shown = as_toml(given)
        shown = shown or _as_words(given)
        allowed, nearest = listed(names, 40), nearest_name(str(given), names)
    elif kind == "union_tag_not_found":
        shown, wrong = "", "kind is missing: give it"
    elif kind in _WANTED:
        shown = shown or _as_words(given)
        allowed = _header(path, given, model, data) or _WANTED[kind]
    elif kind == "string_pattern_mismatch":
        allowed = _PATTERNS.get(str(context.get("pattern")), str(context.get("pattern")))
    elif kind == "value_error":
        shown, wrong = "", str(context.get("error", error["msg"]))
    else:
        allowed = _bounds(kind, context) or error["msg"][0].lower() + error["msg"][1:]
    return Fault(file, line_of(path, lines), key_words(path, data), shown, wrong, allowed, nearest)


def line_of(path: Path, lines: Mapping[Path, int]) -> int | None:
    """Give the line of a key, else of the nearest table round it, else 1."""
    for end in range(len(path), 0, -1):
        if path[:end] in lines:
            return lines[path[:end]]
    return 1


def key_words(path: Path, data: Mapping[str, Any]) -> str:
    """Name a place in the file by the names of the things it is in: `bird "Flint".sex`."""
    words, here = "", data
    for i, step in enumerate(path):
        here = _step(here, step)
        if isinstance(step, str) and not re.fullmatch(r"[\w-]+", step):
            step = as_toml(step)
        if isinstance(step, int):
            name = here.get("name") if isinstance(here, Mapping) else None
            named_end = i + 1 < len(path) or not isinstance(name, str)
            place = f"[{step}]" if named_end else ""
            words += f" {as_toml(name)}" if isinstance(name, str) else place
        else:
            words += f".{step}" if words else step
    return words or "the file"


def as_toml(value: object) -> str:
    """Write a value the way it stands in a TOML file, on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, date):
        return value.isoformat()
    return str(value)


def _as_words(given: object) -> str:
    if isinstance(given, Mapping):
        return "a table"
    return "a list" if isinstance(given, (list, tuple)) else ""


def _header(path: Path, given: object, model: type[BaseModel], data: Mapping[str, Any]) -> str:
    """Say which header a table needs that has one of the other sort; blank for all else."""
    name = ".".join(step for step in path if isinstance(step, str))
    kind, inner = _kind_at(model, path, data), _kind_at(model, (*path, 0), data)
    if isinstance(given, Mapping) and inner is not kind and _is_table(inner):
        return f"one table for each, headed [[{name}]]"
    if isinstance(given, list) and _is_table(kind) and not isinstance(path[-1], int):
        return f"one table, headed [{name}]"
    return ""


def _is_table(kind: Any) -> bool:
    """Whether a type is a model, or a choice of models."""
    if get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    if get_origin(kind) in (Union, UnionType):
        return any(_is_table(one) for one in get_args(kind))
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _step(here: Any, step: str | int) -> Any:
    if isinstance(here, Mapping):
        return here.get(str(step))
    if isinstance(here, (list, tuple)) and isinstance(step, int) and 0 <= step < len(here):
        return here[step]
    return None


def _follow(loc: Sequence[str | int], data: Mapping[str, Any]) -> tuple[Path, Any, bool]:
    """Follow a refusal's place into the file, leaving out what only the models know.

    A table of several kinds is named in the place by its kind as well: no such key.
    """
    path: list[str | int] = []
    here: Any = data
    for i, step in enumerate(loc):
        is_last = i == len(loc) - 1
        if path[-2:-1] == ["fitting"] and loc[i - 1] == path[-1] and here.get("kind") == step:
            continue  # the kind of the fitting, even where it is the name of a key as well
        if isinstance(here, Mapping) and step not in here and not is_last:
            continue
        if isinstance(here, Mapping) and step not in here:
            if here.get("kind") == step:
                continue
            return (*path, step), None, False
        path.append(step)
        if isinstance(here, list) and isinstance(step, int) and step >= len(here):
            return tuple(path), None, False
        here = _step(here, step)
    return tuple(path), here, True


def _keys_at(model: type[BaseModel], path: Path, data: Mapping[str, Any]) -> tuple[str, ...]:
    """Give the keys that a table may hold."""
    kind = _kind_at(model, path, data)
    is_model = isinstance(kind, type) and issubclass(kind, BaseModel)
    return tuple(f.alias or name for name, f in kind.model_fields.items()) if is_model else ()


def _kind_at(model: type[BaseModel], path: Path, data: Mapping[str, Any]) -> Any:
    """Give the type that the models have for a place in the file."""
    here: Any = data
    kind: Any = model
    for step in path:
        here = _step(here, step)
        if isinstance(step, int):
            kind = _element(kind)
        elif isinstance(kind, type) and issubclass(kind, BaseModel):
            fields = {field.alias or name: field for name, field in kind.model_fields.items()}
            kind = fields[step].annotation if step in fields else kind
        kind = _one_model(kind, here)
    return kind


def _element(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is tuple else kind


def _one_model(kind: Any, here: Any) -> Any:
    """Choose, of several models, the one whose `kind` the table names."""
    if get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    if get_origin(kind) not in (Union, UnionType):
        return kind
    models = [k for k in get_args(kind) if isinstance(k, type) and issubclass(k, BaseModel)]
    wanted = here.get("kind") if isinstance(here, Mapping) else None
    for one in models:
        field = one.model_fields.get("kind")
        if field is not None and wanted in get_args(field.annotation):
            return one
    return models[0] if len(models) == 1 else kind


def _literals(expected: str) -> list[str]:
    words = expected.replace(" or ", ", ").split(",")
    return [word.strip(" '\"") for word in words if word.strip()]


def _bounds(kind: str, context: Mapping[str, Any]) -> str:
    words = {
        "greater_than": ("gt", "more than {}"),
        "greater_than_equal": ("ge", "{} or more"),
        "less_than": ("lt", "less than {}"),
        "less_than_equal": ("le", "{} or less"),
    }
    if kind in words:
        key, sentence = words[kind]
        bound = context[key]
        return sentence.format(f"{bound:.15g}" if isinstance(bound, float) else bound)
    if kind in ("too_short", "too_long"):
        least, most = context.get("min_length"), context.get("max_length")
        return f"a list of {least or most}"
    return ""
