"""How far a litre of paint goes, and what a wet floor weighs."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class Coating:
    """Square metres that a litre covers in one coat, and the tins that are sold [l]."""

    id: str
    low_m2_l: float
    high_m2_l: float
    tins_l: tuple[float, ...]
    source: SourceRef

    @property
    def middle_m2_l(self) -> float:
        """The middle of its range [m2/l]."""
        return (self.low_m2_l + self.high_m2_l) / 2


@dataclass(frozen=True)
class WetFloor:
    """A cubic metre of floor: drained, and soaked to the brim [kg/m3]."""

    id: str
    drained_kg_m3: float
    soaked_kg_m3: float
    source: SourceRef


@cache
def coatings() -> Mapping[str, Coating]:
    """Every coating by its id."""
    return {
        row["id"]: Coating(
            row["id"],
            float(row["cover_m2_l_low"]),
            float(row["cover_m2_l_high"]),
            tuple(float(tin) for tin in row["tins_l"].split()),
            reference(row, f"coatings.csv, {row['id']}"),
        )
        for row in rows("coatings")
    }


def coating(name: str) -> Coating:
    """The coating with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in coatings():
        raise unknown("coating", name, coatings())
    return coatings()[name]


@cache
def wet_floors() -> Mapping[str, WetFloor]:
    """What floors weigh when wet, by substrate; not every substrate has a row."""
    return {
        row["id"]: WetFloor(
            row["id"],
            float(row["drained_kg_m3"]),
            float(row["soaked_kg_m3"]),
            reference(row, f"wet_floors.csv, {row['id']}"),
        )
        for row in rows("wet_floors")
    }
