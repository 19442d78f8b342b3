"""Masses as people write them: grams, ounces, pounds and ounces, with a point or a comma."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal

Unit = Literal["g", "kg", "oz", "lb"]

# Avoirdupois pound: exactly 453.59237 g (international agreement of 1959; from memory).
GRAMS: dict[str, float] = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237}
_WORDS = {
    "g": "g", "gr": "g", "gm": "g", "gms": "g", "gram": "g", "grams": "g", "gramm": "g",
    "kg": "kg", "kilo": "kg", "kilos": "kg",
    "oz": "oz", "ozs": "oz", "ounce": "oz", "ounces": "oz", "unze": "oz", "unzen": "oz",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "pfund": "lb?",
}  # fmt: skip
_NUMBER = r"(\d+(?:[.,]\d+)?|\d+\s+\d/\d|\d/\d)"
_ONE = re.compile(rf"{_NUMBER}\s*([a-z]+)?\.?")
_TWO = re.compile(
    rf"(\d+)\s*(?:lbs?|pounds?|#)\.?[\s,]*(?:and\s+)?{_NUMBER}\s*(?:oz|ozs|ounces?)?\.?"
)
_GROUPED = re.compile(r"\d{1,3}(?:[,'’ .]\d{3})+")


def unit_named(text: str) -> Unit | None:
    """The unit that a header names, in brackets or after its last mark: `weight (g)`, `wt_oz`."""
    words = re.findall(r"[a-z]+", text.lower())
    for word in reversed(words):
        unit = _WORDS.get(word)
        if unit in GRAMS:
            return unit  # type: ignore[return-value]
    return None


def _number(text: str) -> float:
    if "/" in text:
        whole, _, part = text.rpartition(" ")
        above, below = part.split("/")
        return (int(whole) if whole.strip() else 0) + int(above) / max(1, int(below))
    return float(text.replace(",", "."))


@lru_cache(maxsize=20_000)
def grams_of(text: str, unit: Unit | None) -> float | str:
    """The mass that a text means [g], or why it means none.

    Args:
        text: As written: 905, 905,5 g, 31.9 oz, 2 lb 3 1/2 oz.
        unit: Of a bare number; None where nobody said.
    """
    bare = text.strip().lower()
    if found := _TWO.fullmatch(bare):
        ounces = _number(found[2])
        if ounces >= 16:
            return "16 ounces are a pound: look at the ounces"
        return round(int(found[1]) * GRAMS["lb"] + ounces * GRAMS["oz"], 2)
    if _GROUPED.fullmatch(bare):
        return "thousands or a decimal? write the number without a mark between thousands"
    found = _ONE.fullmatch(bare)
    if not found:
        return "no mass that is understood: write it as 905 or 2 lb 3 oz"
    word = found[2]
    named = _WORDS.get(word) if word else unit
    if word and named not in GRAMS:
        return f"unit {word!r} is not known: g, kg, oz, lb"
    if named is None:
        return "in which unit? name it in the header, or say --unit g, oz or lb"
    return round(_number(found[1]) * GRAMS[named], 2)
