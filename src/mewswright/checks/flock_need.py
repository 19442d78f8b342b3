"""What a flock eats in a day, in grams of day-old chicks and in litres as they are frozen."""

from collections.abc import Iterable

from mewswright.checks.case import Known, evidence
from mewswright.checks.finding import Evidence
from mewswright.handbook import equation, food, species
from mewswright.model.yard import Yard

NEED = "maintenance_raptor_kirkwood_kj"
CHICK = "doc_with_yolk"
# Frozen chicks in bags, with the air between them: a judgement.
PACKED_KG_L = 0.5


def daily_food_g(mass_g: float) -> float:
    """Whole day-old chicks that keep a bird at its weight for a day [g].

    Holds for a bird at rest in mild weather, about 15 to 20 C. Cold, moult, growth and
    hard flying ask for more, up to twice as much.

    Args:
        mass_g: Full weight [g], above 0.

    Returns:
        Maintenance energy over what a bird takes up of a gram of chick [g].

    Raises:
        ValueError: If the weight is not above 0.

    Source:
        Kirkwood 1981 (allometry.csv); Dierenfeld et al. 2002 (foods.csv).
    """
    if not mass_g > 0:
        raise ValueError(f"a bird weighs more than 0 g, got {mass_g:g}")
    need = equation(NEED)
    kilojoules: float = float(need.a) * (mass_g / 1000) ** float(need.b)
    return kilojoules / food(CHICK).metabolisable_kj_g


def packed_l(food_g: float) -> float:
    """Room that frozen food takes [l]."""
    return food_g / 1000 / PACKED_KG_L


def flock(yard: Yard) -> tuple[Known, ...]:
    """Every bird of a yard with its species."""
    return tuple(Known(bird, species(bird.species)) for bird in yard.bird)


def flock_food_g(birds: Iterable[Known]) -> float:
    """What some birds eat in a day [g]; see `daily_food_g`."""
    return sum(daily_food_g(bird.mass.value) for bird in birds)


def need_sources() -> tuple[Evidence, ...]:
    """The witnesses of what a bird eats."""
    return evidence(equation(NEED).source, food(CHICK).source)
