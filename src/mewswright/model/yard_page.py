"""The page that explains a yard file, every key of it, written from the models.

It reads the JSON Schema that the models give, so a key that is new there is new here.
"""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from mewswright.model.fault import YardProblem
from mewswright.model.telling import as_toml
from mewswright.model.yard_file import parse_yard, yard_schema

Schema = Mapping[str, Any]

# The end of a key: its unit in words. The first that fits counts, so long ones come first.
UNITS: Mapping[str, str] = {
    "gamma_g": "",  # a factor, and no grams
    "_kn_m2": "kilonewtons per square metre",
    "_l_s_m2": "litres a second on a square metre",
    "_kn": "kilonewtons",
    "_m_s": "metres a second",
    "_mm": "millimetres",
    "_m": "metres",
    "_g": "grams",
    "_deg": "degrees",
    "_pct": "per cent",
    "_c": "degrees Celsius",
    "_h": "hours",
    "_w": "watts",
    "_age_months": "months",
    "_days": "days",
    "_a_day": "hours",
    "_per_week": "flights",
    "_reach_heights": "tree heights",
    "_share": "share of 1",
    "price": "the yard's currency",
}

HEAD = """\
# The yard file

A yard file is plain text that describes one yard: the ground, the birds, their quarters, the doors,
who lives where, and what timber costs. Its name ends in `.yard.toml`, and it is written in TOML.
This page names every table and every key, in the order in which a file is best written.

```text
mewswright new FILE                                   # start one
mewswright check FILE                                 # read it, and check what it says
mewswright schema --out mewswright-yard.schema.json   # its JSON Schema, for an editor
```

## Where things are

There are two frames, and each has its own unit.

- **On the ground**: metres, `[east, north]` of one point that you choose, such as the south-west
  corner of the yard. Bearings are degrees clockwise from north. Keys end in `_m`.
- **Inside quarters and timber**: millimetres. Look at the front from outside: `x` runs along the
  front from its left inner corner, `y` from the front to the back, `z` up from the finished floor.
  Keys end in `_mm`.

Every size is clear, from inside to inside. The end of a key is its unit, so a figure never needs
one written beside it. Where a description says "blank", leave the key out; a dash in the last
column says that nothing stands in for it.

## Written by hand, changed by program

The file is yours. A program that changes one value in it leaves every comment, blank line and the
order of the keys as they are, and a file is replaced whole or not at all.

## Help while you write

An editor that knows TOML and JSON Schema completes keys, shows what they mean and marks what is
wrong. Put the schema beside the yard file and name it in the first line:

```toml
#:schema ./mewswright-yard.schema.json
```

## When something is wrong

A file is read whole or not at all. All that is wrong is told at once: the line, the key, what
stands there, what may stand there, and the nearest right name. This text:

```toml
{wrong}```

is answered with:

```text
{answer}
```
"""

WRONG = """\
format = 1

[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = "640 m"
time_zone = "Europe/Zurich"

[[bird]]
name = "Flint"
species = "peregrine_falcon"
sex = "male"
mas_g = 610

[[stay]]
bird = "Flnt"
quarters = "Chalk shelter"
mode = "tethered"
"""


def schema_text() -> str:
    """Give the JSON Schema of a yard file as text, keys in the models' order."""
    return json.dumps(yard_schema(), ensure_ascii=False, indent=2) + "\n"


def yard_page() -> str:
    """Give the page of the yard file as Markdown."""
    schema = yard_schema()
    parts = [HEAD.format(wrong=WRONG, answer=_answer())]
    parts.append("## At the top of the file")
    flat = {key: one for key, one in schema["properties"].items() if _table(one, schema) is None}
    parts.append(_keys(flat, schema))
    for key, one in schema["properties"].items():
        if (found := _table(one, schema)) is not None:
            parts.extend(_section((key,), key in schema["required"], one, found, schema, 2))
    return "\n\n".join(part.strip("\n") for part in parts) + "\n"


def _answer() -> str:
    try:
        parse_yard(WRONG, "alder-close.yard.toml")
    except YardProblem as problem:
        return str(problem)
    raise AssertionError("the example of a wrong file is right")


def _section(
    path: tuple[str, ...], needed: bool, one: Schema, shapes: list[Schema], schema: Schema,
    level: int,
) -> Iterator[str]:  # fmt: skip
    """Say what a table is, give its keys, then the tables inside it."""
    name = ".".join(path)
    many = _is_list(one)
    yield f"{'#' * level} `{f'[[{name}]]' if many else f'[{name}]'}`"
    said = one["description"] if len(shapes) > 1 else _said(shapes[0])
    yield f"{said} {_how_often(one, many, needed)}"
    if len(shapes) > 1:
        for shape in shapes:
            yield f"{'#' * (level + 1)} {_kinds(shape)}"
            yield _said(shape)
            yield _keys(shape["properties"], shape)
        return
    shape = shapes[0]
    inner = {key: _table(value, schema) for key, value in shape["properties"].items()}
    flat = {key: shape["properties"][key] for key, found in inner.items() if found is None}
    if flat:
        yield _keys(flat, shape)
    for key, found in inner.items():
        if found is None:
            continue
        value = shape["properties"][key]
        if path[-1] == "faces" and key != "front":
            yield f"{'#' * (level + 1)} `[{name}.{key}]`"
            yield f"Has the keys of `[{name}.front]`. {_how_often(value, False, False)}"
            continue
        is_needed = key in shape.get("required", ())
        yield from _section((*path, key), is_needed, value, found, schema, level + 1)


def _how_often(one: Schema, many: bool, needed: bool) -> str:
    if many:
        return "Write it once for each, or leave it out where there is none."
    if needed:
        return "Needed."
    default = one.get("default")
    if isinstance(default, Mapping) and "infill" in default:
        return f"May be left out: it is {default['infill']} then."
    return "May be left out."


def _said(shape: Schema) -> str:
    return str(shape["description"]).replace("\n", " ")


def _kinds(shape: Schema) -> str:
    kind = shape["properties"]["kind"]
    names = [kind["const"]] if "const" in kind else kind["enum"]
    return " or ".join(f'`kind = "{name}"`' for name in names)


def _is_list(one: Schema) -> bool:
    return one.get("type") == "array"


def _table(one: Schema, schema: Schema) -> list[Schema] | None:
    """Give the shapes that a table under this key may have; None where it is no table."""
    if _is_list(one):
        items = one.get("items")
        return _table(items, schema) if isinstance(items, Mapping) else None
    if "$ref" in one:
        return [schema["$defs"][one["$ref"].rsplit("/", 1)[1]]]
    for choices in ("anyOf", "oneOf"):
        found = [_table(choice, schema) for choice in one.get(choices, ())]
        shapes = [shape for each in found if each is not None for shape in each]
        if shapes:
            return shapes
    return None


def _keys(properties: Mapping[str, Schema], shape: Schema) -> str:
    """Give the keys of one table as a table of Markdown."""
    needed = shape.get("required", ())
    lines = ["| key | what it is | value | unit | if left out |", "| --- | --- | --- | --- | --- |"]
    for key, one in properties.items():
        cells = (
            f"`{key}`", _escaped(one.get("description", "")), _value(one), _unit(key),
            "needed" if key in needed else _default(one),
        )  # fmt: skip
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines)


def _unit(key: str) -> str:
    if key.startswith("leaf_"):
        return ""  # months of the year, not a span of time
    return next((unit for end, unit in UNITS.items() if key.endswith(end)), "")


def _default(one: Schema) -> str:
    value = one.get("default")
    if value is None:
        return "–"
    if value == "":
        return "no text"
    if isinstance(value, list):
        return f"`[{', '.join(as_toml(each) for each in value)}]`"
    return f"`{as_toml(value)}`"


def _value(one: Schema) -> str:
    """Say in words what may stand there."""
    if "const" in one:
        return f"`{as_toml(one['const'])}`"
    if "enum" in one:
        return ", ".join(f"`{as_toml(each)}`" for each in one["enum"])
    kind = one.get("type")
    if kind == "array":
        return _list(one)
    if kind == "boolean":
        return "`true` or `false`"
    if kind == "string":
        if one.get("format") == "date":
            return "date, as `2027-03-01`"
        return {
            r"^\d+(\.\d+)?x\d+(\.\d+)?$": 'breadth x depth in millimetres, as `"45x95"`',
            r"^[A-Z]{3}$": 'three capital letters, as `"CHF"`',
        }.get(one.get("pattern", ""), "text")
    return ("whole number" if kind == "integer" else "number") + _bounds(one)


def _list(one: Schema) -> str:
    if "prefixItems" in one:
        return f"[{', '.join(_value(each) for each in one['prefixItems'])}]"
    count = one.get("minItems")
    inner = _value(one["items"])
    if count is not None and count == one.get("maxItems"):
        return f"list of {count}: {inner}"
    return f"list: {inner}"


def _bounds(one: Schema) -> str:
    low, above = one.get("minimum"), one.get("exclusiveMinimum")
    high, below = one.get("maximum"), one.get("exclusiveMaximum")
    said = ""
    if low is not None and high is not None:
        said = f"{low:g} to {high:g}"
    elif low is not None and below is not None:
        said = f"{low:g} or more, less than {below:g}"
    elif above is not None and high is not None:
        said = f"more than {above:g}, {high:g} at most"
    elif low is not None:
        said = f"{low:g} or more"
    elif above is not None:
        said = f"more than {above:g}"
    return f", {said}" if said else ""


def _escaped(text: str) -> str:
    return text.replace("|", "\\|")
