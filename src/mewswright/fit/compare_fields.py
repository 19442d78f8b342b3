"""Which fields of quarters are varied, and every unit that comes of it.

A field is named by a dotted path as in the yard file: `floor.substrate`,
`faces.front.gap_mm`, `fitting.High round.cover`, `fitting.0.at_mm.1`. A name that holds a
dot stands in quotes. A number with a plus is more than stands there: `depth_mm=+1000`.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import product
from math import prod
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from mewswright.checks.open import known_names
from mewswright.fit.compare_words import filled_in, known_word
from mewswright.model.fault import Fault, YardProblem, listed, nearest_name
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.telling import as_toml, faults_of, key_words
from mewswright.model.toml_tables import model_of
from mewswright.model.yard import Yard
from mewswright.model.yard_file import KNOWN_KEYS

MOST = 64  # variants of one run: each is taken off, sawn, checked and framed
NONE = "none"  # takes an optional key away; TOML has no word for nothing
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
Steps = tuple[str | int, ...]


class BadVariant(Problem):
    """A variant that cannot exist, said as the yard file's own faults are."""


@dataclass(frozen=True)
class Axis:
    """One field and the values that it takes in turn."""

    path: str  # as it was given
    steps: Steps
    values: tuple[Any, ...]
    stands: Any  # the value of the unit as it stands; None: not set


def axes_of(quarters: Quarters, vary: Sequence[str]) -> tuple[Axis, ...]:
    """Read what is to be varied.

    Args:
        quarters: The unit as it stands.
        vary: One `path=value,value` for each field.

    Raises:
        Problem: For nothing to vary, a path that leads nowhere, a field or value given
            twice, or more combinations than `MOST`.
    """
    if not vary:
        raise Problem("nothing is varied: give --vary, such as --vary floor.substrate=sand,bark")
    axes: list[Axis] = []
    for text in vary:
        path, equals, values = text.partition("=")
        if not equals or not path.strip() or not values.strip():
            raise Problem(
                f"--vary {text!r} names no field and values: write it as "
                "floor.substrate=sand,pea_gravel"
            )
        axis = _axis(quarters, path.strip(), values)
        for other in axes:
            shorter = min(len(axis.steps), len(other.steps))
            if axis.steps == other.steps:
                raise Problem(f"--vary {axis.path} is given twice: put all of its values into one")
            if axis.steps[:shorter] == other.steps[:shorter]:
                raise Problem(
                    f"--vary {other.path} and --vary {axis.path}: one lies in the other; vary "
                    "either the whole or its parts"
                )
        axes.append(axis)
    count = prod(len(axis.values) for axis in axes)
    if count > MOST:
        of_each = " x ".join(str(len(axis.values)) for axis in axes)
        raise Problem(
            f"--vary asks for {of_each} = {count} variants, and at most {MOST} are worked out in "
            "one run: give fewer values, or one field after the other"
        )
    return tuple(axes)


def combinations(axes: Sequence[Axis]) -> list[tuple[Any, ...]]:
    """Every combination of values, the last field changing fastest."""
    return list(product(*(axis.values for axis in axes)))


def varied(yard: Yard, name: str, axes: Sequence[Axis], values: Sequence[Any]) -> Yard:
    """Give the yard with one unit varied.

    Raises:
        BadVariant: If the model refuses it or a name is not in the handbook; all faults.
    """
    quarters = yard.quarters_named(name)
    data = quarters.model_dump(mode="json")
    for axis, value in zip(axes, values, strict=True):
        _put(data, axis.steps, value)
    filled_in(data, {axis.steps for axis in axes})
    found, errors = model_of(data, Quarters, "variant", "unit", YardProblem)
    faults = [*faults_of(errors, data, Quarters, "variant", {}), *_strangers(data)]
    if found is None or faults:
        raise BadVariant("; ".join(_told(fault) for fault in faults))
    return yard.model_copy(
        update={"quarters": tuple(found if q.name == name else q for q in yard.quarters)}
    )


def taken_as(yard: Yard, name: str, axes: Sequence[Axis], values: Sequence[Any]) -> list[str]:
    """What a variant needs beside its values and was given: one sentence each."""
    data = yard.quarters_named(name).model_dump(mode="json")
    for axis, value in zip(axes, values, strict=True):
        _put(data, axis.steps, value)
    return filled_in(data, {axis.steps for axis in axes})


def shown(value: Any) -> str:
    """Write a value in words: none, text without quotes, a table as the yard file has it."""
    if value is None:
        return NONE
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {shown(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(shown(one) for one in value) + "]"
    return value if isinstance(value, str) else as_toml(value)


def _told(fault: Fault) -> str:
    """A fault without its place in a file, for it stands in none."""
    return str(fault).removeprefix("variant:1: ").removeprefix("the file: ")


def _axis(quarters: Quarters, path: str, values: str) -> Axis:
    steps, stands, optional = _walked(quarters, path)
    read = [_added(path, stands, part) for part in _parted(values, ",")]
    taken = tuple(None if one == NONE and optional else known_word(steps, one) for one in read)
    for i, one in enumerate(taken):
        if any(one == other and type(one) is type(other) for other in taken[:i]):
            raise Problem(f"--vary {path} has the value {as_toml(one)} twice: give it once")
    return Axis(path, steps, taken, stands)


def _walked(quarters: Quarters, path: str) -> tuple[Steps, Any, bool]:
    """Follow a path through the unit: its steps, what stands there, and if it may be empty."""
    steps: list[str | int] = []
    here: Any = quarters
    kind: Any = Quarters
    optional = False
    for word in (_unquoted(part) for part in _parted(path, ".")):
        model = _model(kind, here)
        if model is not None:
            if word not in model.model_fields:
                raise _nowhere(path, steps, word, tuple(model.model_fields), quarters)
            kind = model.model_fields[word].annotation
            here = None if here is None else getattr(here, word)
            optional = _may_be_none(kind)
            steps.append(word)
        elif isinstance(here, tuple):
            at = _place(here, word)
            if at is None:
                names = tuple(getattr(one, "name", str(i)) for i, one in enumerate(here))
                raise _nowhere(path, steps, word, names, quarters)
            kind, here, optional = _item(kind), here[at], False
            steps.append(at)
        else:
            raise _nowhere(path, steps, word, (), quarters)
    if steps[-1] == "name":
        raise Problem(
            f"--vary {path}: a name is what doors and stays call a thing by, and nothing comes of "
            "another one: vary a size, a place or a material"
        )
    plain: Any = quarters.model_dump(mode="json")
    for step in steps:
        plain = None if plain is None else plain[step]
    return tuple(steps), plain, optional


def _nowhere(
    path: str, steps: Sequence[str | int], word: str, names: Sequence[str], quarters: Quarters
) -> Problem:
    place = repr(quarters.name)
    if steps:
        place = f"{key_words(tuple(steps), quarters.model_dump(mode='json'))} of {place}"
    near = nearest_name(word, names)
    told = f"; did you mean {near}?" if near else ""
    there = f"there are: {listed(names, 40)}" if names else "it holds no others"
    return Problem(f"--vary {path}: no {word!r} in {place}; {there}{told}")


def _place(here: Sequence[Any], word: str) -> int | None:
    for i, one in enumerate(here):
        if getattr(one, "name", None) == word:
            return i
    return int(word) if word.isdigit() and int(word) < len(here) else None


def _model(kind: Any, here: Any) -> type[BaseModel] | None:
    """The model of a place: that of what stands there, or the only one that may."""
    if isinstance(here, BaseModel):
        return type(here)
    choices = [one for one in _choices(kind) if isinstance(one, type)]
    models = [one for one in choices if issubclass(one, BaseModel)]
    return models[0] if here is None and len(models) == 1 else None


def _choices(kind: Any) -> tuple[Any, ...]:
    if get_origin(kind) is Annotated:
        return _choices(get_args(kind)[0])
    if get_origin(kind) in (Union, UnionType):
        return tuple(one for choice in get_args(kind) for one in _choices(choice))
    return (kind,)


def _may_be_none(kind: Any) -> bool:
    return NoneType in _choices(kind)


def _item(kind: Any) -> Any:
    return next((get_args(one)[0] for one in _choices(kind) if get_args(one)), None)


def _put(data: Any, steps: Steps, value: Any) -> None:
    here = data
    for step in steps[:-1]:
        if here[step] is None:  # an optional table that is not there yet
            here[step] = {}
        here = here[step]
    here[steps[-1]] = value


def _strangers(data: Mapping[str, Any]) -> Iterator[Fault]:
    """Names of substrates and materials that the handbook does not have."""
    known = known_names()
    for keys, what in KNOWN_KEYS.items():
        if keys[0] != "quarters":
            continue
        here: Any = data
        for key in keys[1:]:
            here = here.get(key) if isinstance(here, Mapping) else None
        if isinstance(here, str) and here != NONE and here not in known[what]:
            wrong = f"not in the handbook's {what} (mewswright handbook {what})"
            near = nearest_name(here, known[what])
            yield Fault("variant", 1, ".".join(keys[1:]), as_toml(here), wrong, nearest=near)


def _parted(text: str, mark: str) -> list[str]:
    """Part a text at a mark that stands outside quotes, brackets and braces."""
    parts, depth, quote = [""], 0, ""
    for letter in text:
        if quote:
            quote = "" if letter == quote else quote
        elif letter == '"':
            quote = letter
        elif letter in "[{":
            depth += 1
        elif letter in "]}":
            depth -= 1
        elif letter == mark and not depth:
            parts.append("")
            continue
        parts[-1] += letter
    return [part.strip() for part in parts]


def _unquoted(word: str) -> str:
    return word[1:-1] if len(word) > 1 and word[0] == word[-1] == '"' else word


def _added(path: str, stands: Any, text: str) -> Any:
    """A value; +1000 is 1000 more than stands there: "a metre deeper"."""
    value = _value(text)
    if not (text.startswith("+") and _NUMBER.fullmatch(text)):
        return value
    if isinstance(stands, bool) or not isinstance(stands, int | float):
        told = "nothing" if stands is None else as_toml(stands)
        raise Problem(
            f"--vary {path}: {text} asks for that much more, and {told} stands there: give the "
            f"value itself, such as {path}={text.removeprefix('+')}"
        )
    total = float(Decimal(str(stands)) + Decimal(text))
    return int(total) if total.is_integer() else total


def _value(text: str) -> Any:
    """A number, true or false, a list or table as TOML has it; all else is text as it stands."""
    if text in ("true", "false") or text[:1] in ("[", "{", '"') or _NUMBER.fullmatch(text):
        try:
            return tomllib.loads(f"value = {text.removeprefix('+')}")["value"]
        except tomllib.TOMLDecodeError as error:
            raise Problem(f"--vary: the value {text} is not TOML ({error})") from error
    if not text:
        raise Problem("--vary: a value is empty: leave out the comma, or write none")
    return text
