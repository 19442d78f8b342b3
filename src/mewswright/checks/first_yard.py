"""What a keeper answers to start a yard file: one place, some birds, one unit.

Each function reads one answer as a keeper types it, and refuses it in one sentence.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Literal, get_args

from mewswright.handbook import Species, all_species, species
from mewswright.handbook.shelf import SHIPPED, Shelf
from mewswright.model.bird import Bird
from mewswright.model.fault import nearest_name
from mewswright.model.problem import Problem
from mewswright.model.ways import OUTSIDE

Kind = Literal["loft", "shelter", "pitch", "isolation"]
Sex = Literal["m", "f", "unknown"]
KINDS: tuple[Kind, ...] = get_args(Kind)
SEXES: tuple[Sex, ...] = get_args(Sex)


@dataclass(frozen=True)
class FirstUnit:
    """The first quarters: clear sizes [mm] and the bearing of the front [deg].

    A pitch has no heights: they are 0.
    """

    name: str
    kind: Kind
    width_mm: float
    depth_mm: float
    front_height_mm: float
    back_height_mm: float
    facing_deg: float


@dataclass(frozen=True)
class FirstYard:
    """All answers. The first bird lives in the unit; there is at least one."""

    name: str
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    time_zone: str
    currency: str
    standards: tuple[str, ...]
    birds: tuple[Bird, ...]
    unit: FirstUnit


def name_from(what: str, text: str) -> str:
    """Read a name.

    Raises:
        Problem: If it is blank, or has something in it that cannot be printed.
    """
    name = text.strip()
    if not name or not name.isprintable():
        raise Problem(f"{what} is {text!r}: give a name of one line that is not blank")
    return name


def number_from(what: str, text: str, low: float = float("-inf"), high: float = float("inf"),
                unit: str = "", example: str = "640") -> float:  # fmt: skip
    """Read a number between two limits, both included.

    Raises:
        Problem: If it is no number, or lies outside.
    """
    try:
        value = float(text)
    except ValueError:
        raise Problem(
            f"{what} is {text!r}: give a number{f' in {unit}' if unit else ''}, such as {example}"
        ) from None
    if not isfinite(value) or not low <= value <= high:
        limits = f" from {low:g} to {high:g}" if isfinite(low) else ""
        raise Problem(f"{what} is {text!r}: give {unit or 'a number'}{limits}, such as {example}")
    return value


def currency_from(text: str) -> str:
    """Read a currency.

    Raises:
        Problem: If it is not three letters.
    """
    code = text.strip().upper()
    if not re.fullmatch("[A-Z]{3}", code):
        raise Problem(f"currency is {text!r}: give the three letters of ISO 4217, such as CHF")
    return code


def standards_from(texts: Sequence[str], shelf: Shelf = SHIPPED) -> tuple[str, ...]:
    """Read the keys of standards, each once; one text may hold several, with commas.

    Args:
        texts: Keys as given.
        shelf: Standards that there are, the keeper's own among them.

    Raises:
        Problem: If there is no such standard, or none is given.
    """
    keys = [key.strip() for text in texts for key in text.split(",") if key.strip()]
    if not keys:
        raise Problem("no standard: give one, such as house (mewswright standards)")
    return tuple(dict.fromkeys(shelf.standard(key).key for key in keys))


def choice_from(what: str, text: str, allowed: Sequence[str]) -> str:
    """Read one of a few words.

    Raises:
        Problem: If it is none of them; names the nearest.
    """
    word = text.strip().lower()
    if word in allowed:
        return word
    near = nearest_name(word, allowed)
    raise Problem(
        f"{what} is {text!r}: give {', '.join(allowed[:-1])} or {allowed[-1]}"
        + (f"; did you mean {near}?" if near else "")
    )


def sex_from(text: str) -> Sex:
    """Read a sex.

    Raises:
        Problem: If it is none.
    """
    word = choice_from("sex", text, SEXES)
    return next(sex for sex in SEXES if sex == word)


def kind_from(text: str) -> Kind:
    """Read a kind of quarters.

    Raises:
        Problem: If it is none.
    """
    word = choice_from("kind of quarters", text, KINDS)
    return next(kind for kind in KINDS if kind == word)


def species_from(text: str) -> Species:
    """Read a species: its id, with blanks for underscores too, or one of its names.

    Raises:
        Problem: If there is none; names the nearest.
    """
    plain = "_".join(text.lower().split())
    return species(plain if plain in {one.id for one in all_species()} else text)


def bird_from(text: str) -> Bird:
    """Read NAME:SPECIES or NAME:SPECIES:SEX; the species by id or by common name.

    Raises:
        Problem: If it is neither, or there is no such species.
    """
    parts = text.split(":")
    if len(parts) not in (2, 3):
        raise Problem(
            f"bird {text!r}: give NAME:SPECIES or NAME:SPECIES:SEX, such as "
            "Flint:peregrine_falcon:m"
        )
    kind = species_from(parts[1])
    sex = sex_from(parts[2]) if len(parts) == 3 else "unknown"
    return Bird(name=name_from("name of a bird", parts[0]), species=kind.id, sex=sex)


def unit_from(text: str) -> FirstUnit:
    """Read NAME:KIND:WIDTHxDEPTHxFRONTxBACK:FACING [mm, deg]; a pitch has no heights.

    Raises:
        Problem: If it is not that.
    """
    parts = text.rsplit(":", 3)
    if len(parts) != 4:
        raise Problem(
            f"unit {text!r}: give NAME:KIND:WIDTHxDEPTHxFRONTxBACK:FACING in millimetres and "
            "degrees, such as Long loft:loft:6000x3000x2800x2500:180"
        )
    name, kind = unit_name_from(parts[0]), kind_from(parts[1])
    return FirstUnit(name, kind, *sizes_from(kind, parts[2]), facing_from(parts[3]))


def unit_name_from(text: str) -> str:
    """Read the name of quarters.

    Raises:
        Problem: If it is blank, or means the open air.
    """
    name = name_from("name of the unit", text)
    if name == OUTSIDE:
        raise Problem(f"name of the unit is {name!r}: that means the open air; choose another")
    return name


def sizes_from(kind: Kind, text: str) -> tuple[float, float, float, float]:
    """Read WIDTHxDEPTHxFRONTxBACK [mm]; of a pitch WIDTHxDEPTH, its heights being 0.

    Raises:
        Problem: If it is not that, or a size is not from 300 to 100 000 mm.
    """
    sizes = [size.strip() for size in text.lower().split("x")]
    wanted = 2 if kind == "pitch" else 4
    if len(sizes) != wanted:
        say = "WIDTHxDEPTH, such as 3600x3600" if wanted == 2 else (
            "WIDTHxDEPTHxFRONTxBACK, such as 6000x3000x2800x2500"
        )  # fmt: skip
        raise Problem(f"size of the {kind} is {text!r}: give {say}, in millimetres")
    read = [number_from("a size of the unit", s, 300, 100_000, "millimetres", "3000")
            for s in sizes]  # fmt: skip
    width, depth, *heights = read
    front, back = heights or (0.0, 0.0)
    return width, depth, front, back


def facing_from(text: str) -> float:
    """Read a bearing [deg], 360 being 0.

    Raises:
        Problem: If it is not from 0 to 360.
    """
    return number_from("facing", text, 0, 360, "degrees from north", "180 for south") % 360
