"""A keeper's word for a floor or a sheet, and what goes with a face that is varied alone.

`gravel` is pea gravel where the handbook has no other; `osb` may be one of five and is refused
with their names. A face that is turned to mesh needs a kind of mesh.
"""

from collections.abc import Mapping
from typing import Any

from mewswright import handbook
from mewswright.checks.open import known_names
from mewswright.model.fault import listed
from mewswright.model.problem import Problem
from mewswright.model.quarters import SIDES
from mewswright.model.yard_file import KNOWN_KEYS, MAY_BE_NONE

KIND_OF_MESH = {"meshed": "welded", "netted": "knotted_net"}
SHEETS = ("lining", "deck")  # keys that take a sheet: a word is looked for among sheets alone


def known_word(keys: tuple[str | int, ...], value: Any) -> Any:
    """Give the handbook's id that a keeper's word stands for, or the word as it is.

    Args:
        keys: Where it stands in the quarters.
        value: What was given.

    Raises:
        Problem: If the word may stand for several; the sentence names them.
    """
    what = KNOWN_KEYS.get(("quarters", *map(str, keys)))
    if what is None or not isinstance(value, str) or value in known_names()[what]:
        return value
    if value == "none" and keys[-1] in MAY_BE_NONE:
        return value
    found = [one for one, words in _words(what, str(keys[-1])).items() if value.lower() in words]
    if len(found) > 1:
        raise Problem(
            f"--vary {'.'.join(map(str, keys))}: {value!r} may be any of {listed(found, 40)}; "
            "name the one"
        )
    return found[0] if found else value


def _words(what: str, key: str) -> dict[str, set[str]]:
    """Every id with the words that it goes by: the parts of its id and name, and its kind."""
    if what == "substrates":
        return {one.id: _parts(one.id, one.name) for one in handbook.substrates()}
    if what != "materials":
        return {}
    kinds = ("sheet", "plastic") if key in SHEETS else ("board",)
    kinds = ("coating",) if key == "coating" else kinds
    return {
        one.id: _parts(one.id, one.name, one.kind)
        for kind in kinds
        for one in handbook.materials(kind)
    }


def _parts(*texts: str) -> set[str]:
    words = " ".join(texts).lower().replace("_", " ").replace("/", " ").replace(",", " ")
    return {*words.split(), *(word.rstrip("0123456789") for word in words.split())} - {""}


def filled_in(data: Mapping[str, Any], varied: set[tuple[str | int, ...]]) -> list[str]:
    """Give a face the kind of mesh that its new infill asks for, and say so.

    Args:
        data: The quarters as plain values; changed in place.
        varied: The paths that are varied, so that nothing given is overruled.
    """
    told = []
    faces = data.get("faces") or {}
    for side in SIDES:
        face = faces.get(side)
        if not isinstance(face, dict):
            continue
        wanted = KIND_OF_MESH.get(str(face.get("infill")))
        if wanted and face.get("mesh_kind") is None and ("faces", side, "infill") in varied:
            face["mesh_kind"] = wanted
            told.append(
                f"a {face['infill']} {side} face without mesh_kind is taken as {wanted}, with the "
                "gap that stands"
            )
    return told
