"""What was fed, from a keeper's words: `chick`, `2 chicks`, `quail; chick`, with grams beside."""

import re
from dataclasses import dataclass

from mewswright.handbook.care import food_called
from mewswright.handbook.foods import Food
from mewswright.model.problem import Problem

_PARTS = re.compile(r"\s*[;+&]\s*")
_COUNT = re.compile(r"^(?:(?P<n>\d+(?:[.,]\d+)?)|(?P<p>\d+)/(?P<q>\d+))\s*[x×]?\s+(?P<word>\D.*)$")


@dataclass(frozen=True)
class Fed:
    """So many grams of one food."""

    food: Food
    grams: float

    @property
    def energy_kj(self) -> float:
        """Energy that the bird can use [kJ], mean of the food."""
        return self.grams * self.food.metabolisable_kj_g


def foods_named(words: str) -> tuple[tuple[Food, float | None], ...]:
    """Foods in a cell, each with its count where the words give one.

    Args:
        words: One food or several, parted by `;`, `+` or `&`. A number before a word counts items.

    Raises:
        Problem: For an unknown food; the sentence names the nearest.
    """
    found: list[tuple[Food, float | None]] = []
    for part in _PARTS.split(words.strip()):
        if not part:
            continue
        counted = _COUNT.match(part)
        if counted is None:
            found.append((food_called(part), None))
        elif counted["n"]:
            found.append((food_called(counted["word"]), float(counted["n"].replace(",", "."))))
        elif float(counted["q"]) > 0:
            found.append((food_called(counted["word"]), float(counted["p"]) / float(counted["q"])))
        else:
            raise Problem(f"food {part!r}: a part by nothing; give a count such as 1/2")
    return tuple(found)


def fed(words: str, grams: tuple[float, ...]) -> tuple[Fed, ...]:
    """Pair foods with grams.

    One figure for several foods is shared by their counts, or evenly; no figure is worked out
    from the counts and the usual mass of an item.

    Raises:
        Problem: If foods and grams cannot be paired.
    """
    named = foods_named(words)
    if not named:
        raise Problem("grams without a food: name the food, such as 'chick'")
    if len(grams) == len(named):
        return tuple(Fed(food, g) for (food, _), g in zip(named, grams, strict=True))
    if len(grams) == 1:
        return _shared(named, grams[0])
    if grams:
        raise Problem(
            f"{len(named)} foods in {words!r} and {len(grams)} figures of grams: give one figure "
            "for each food, or one for all"
        )
    return tuple(Fed(food, _of_items(food, count)) for food, count in named)


def _shared(named: tuple[tuple[Food, float | None], ...], grams: float) -> tuple[Fed, ...]:
    masses = [(count or 0.0) * (food.mass_typical_g or 0.0) for food, count in named]
    shares = masses if all(masses) else [1.0] * len(named)
    return tuple(
        Fed(food, grams * share / sum(shares))
        for (food, _), share in zip(named, shares, strict=True)
    )


def _of_items(food: Food, count: float | None) -> float:
    if count is None:
        raise Problem(f"no grams of {food.id}: give food_g, or a count such as '2 {food.id}'")
    if not food.mass_typical_g:
        raise Problem(f"{food.id} is cut meat and has no usual item: give food_g")
    return count * food.mass_typical_g
