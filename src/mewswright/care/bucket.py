"""How much disinfectant goes into a bucket, from the strength on its label."""

from dataclasses import dataclass

from mewswright.handbook.places import Disinfectant, disinfectants
from mewswright.model.problem import Problem

CAUTION = (
    "Clean first, then disinfect; the label and its safety sheet decide over this sum. Gloves, "
    "eyes covered, air; never mix two products, above all never bleach with an acid or ammonia. "
    "No bird in the room until it is rinsed, dry and aired."
)


@dataclass(frozen=True)
class Bucket:
    """One bucket of a disinfectant.

    Args:
        agent: What it is.
        product_ml: Product to measure out [ml]; grams for a powder that is given in percent.
        water_ml: Water to add it to [ml].
        contact_min: How long the surface must stay wet [min], None where no row says.
        strength: As its row tells it.
        source: Who says so.
    """

    agent: str
    product_ml: float
    water_ml: float
    contact_min: float | None
    strength: str
    source: str


def bucket(agent: str, litres: float) -> Bucket:
    """What to measure out for a bucket.

    `parts water to 1` of 32 is one part of product in 33 parts of solution; `ml per litre of water`
    is added to the water; percent is of the finished solution, by volume.

    Args:
        agent: Id of a disinfectant of the handbook.
        litres: Solution wanted [l]; for millilitres per litre, the water.

    Raises:
        Problem: If the handbook has no such disinfectant, or the bucket no size.
    """
    known = {d.id: d for d in disinfectants()}
    if agent not in known:
        raise Problem(f"disinfectant {agent!r}: the handbook has {', '.join(known)}")
    if not 0 < litres <= 1000:
        raise Problem(f"a bucket of {litres:g} l: give litres from above 0 to 1000")
    return _bucket(known[agent], litres * 1000)


def _bucket(row: Disinfectant, whole_ml: float) -> Bucket:
    strength = row.strength.value
    unit = row.strength.unit
    if unit == "parts water to 1":
        product = whole_ml / (strength + 1)
        water = whole_ml - product
    elif unit == "ml per litre of water":
        product, water = strength * whole_ml / 1000, whole_ml
    elif unit == "%":
        product = whole_ml * strength / 100
        water = whole_ml - product
    else:  # a new unit in the handbook must be thought about
        raise Problem(f"disinfectant {row.id!r}: no sum is known for {unit!r}")
    return Bucket(
        row.agent,
        product,
        water,
        row.contact_min,
        f"{strength:g} {unit}",
        f"{row.source.name} ({row.source.how_known})",
    )
