"""Numbers of weight and ration, how fast a bird may lose, and words for foods."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.foods import Food, food, foods
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class LossRate:
    """How fast a bird from this mass up may lose, and where it is an alarm [% of mass a day]."""

    from_mass_g: float
    safe_pct: float
    alarm_pct: float
    note: str
    source: SourceRef


@cache
def _care_figures() -> Mapping[str, Figure]:
    return {
        row["name"]: figure(row, f"care_figures.csv, {row['name']}") for row in rows("care_figures")
    }


def care_figure(name: str) -> Figure:
    """One number of weight, food or casting.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _care_figures():
        raise unknown("figure of care", name, _care_figures(), "see care_figures.csv")
    return _care_figures()[name]


@cache
def loss_rates() -> tuple[LossRate, ...]:
    """Every band of mass, the lightest first."""
    found = (
        LossRate(
            float(row["from_mass_g"]), float(row["safe_pct"]), float(row["alarm_pct"]),
            row["note"], reference(row, f"loss_rates.csv, from {row['from_mass_g']} g"),
        )
        for row in rows("loss_rates")
    )  # fmt: skip
    return tuple(sorted(found, key=lambda rate: rate.from_mass_g))


def loss_rate(mass_g: float) -> LossRate:
    """The band that a bird of this mass [g] is in."""
    return [rate for rate in loss_rates() if rate.from_mass_g <= max(mass_g, 0.0)][-1]


@cache
def _food_words() -> Mapping[str, str]:
    known = {row["word"]: row["food"] for row in rows("food_words")}
    for item in foods():
        known.setdefault(_plain(item.id), item.id)
        known.setdefault(_plain(item.name), item.id)
    return known


def food_called(word: str) -> Food:
    """The food that a keeper's word means: an id, a name, or a row of food_words.csv.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    plain = _plain(word)
    for tried in (plain, plain.removesuffix("s"), plain.removesuffix("es")):
        if tried in _food_words():
            return food(_food_words()[tried])
    near = {one: _food_words()[one] for one in _food_words()}
    raise unknown("food", word, [item.id for item in foods()], "see 'mewswright handbook foods'",
                  other_names=near)  # fmt: skip


def _plain(word: str) -> str:
    return " ".join(word.strip().lower().replace("_", " ").replace("-", " ").split())
