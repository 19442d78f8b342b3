"""Small files of standards for tests, changed in one place at a time."""

import json
from typing import Any

from mewswright.handbook.standard_files import known_in_rows
from mewswright.model.standard_file import StandardFile, parse_standard

HEAD = """\
[standard]
key = "hollow-hills"
name = "Hollow Hills norms"
jurisdiction = "Hollow Hills"
strength = "law"
summary = "Invented for tests."

[[source]]
key = "norms"
cite = "Hollow Hills, Norms for members"
trust = "Invented for tests."

[[source]]
key = "letter"
cite = "Hollow Hills, letter to members"
trust = "Invented for tests."
second_hand = true
"""
WITNESS = {"basis": "law", "how_known": "read", "source": "norms"}


def table(kind: str, /, **keys: Any) -> str:
    """One table of an array; a key given as None is left out."""
    body = {key.rstrip("_"): value for key, value in keys.items() if value is not None}
    lines = [
        f"{key} = {value if _is_day(value) else json.dumps(value)}" for key, value in body.items()
    ]
    return "\n".join(["", f"[[{kind}]]", *lines, ""])


def _is_day(value: object) -> bool:
    return hasattr(value, "isoformat")


def size(**keys: Any) -> str:
    base = {
        "class_": "any",
        "purpose": "loft",
        "quantity": "floor_area_m2",
        "value": 6,
        "unit": "m2",
    }
    return table("size", **{**base, **WITNESS, **keys})


def rule(**keys: Any) -> str:
    base = {"topic": "perches_min", "applies_to": "loose", "number": 3, "unit": "count"}
    return table("rule", **{**base, **WITNESS, **keys})


def bird_class(of: list[str], id_: str = "small", **keys: Any) -> str:
    witness = {**WITNESS, **keys}
    return table("class", id=id_, name="small birds") + table("class.members", of=of, **witness)


def standard(*tables: str, head: str = HEAD) -> StandardFile:
    return parse_standard(head + "".join(tables), "hollow-hills.toml", known_in_rows())
