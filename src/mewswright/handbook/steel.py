"""Structural steel of tubes, and the end plates of posts."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows


@dataclass(frozen=True)
class SteelGrade:
    """A grade of steel: N/mm2 and kg/m3; `alpha` is that of its buckling curve [-]."""

    id: str
    fy_n_mm2: float
    e_n_mm2: float
    density_kg_m3: float
    alpha: float
    gamma_m0: float
    gamma_m1: float
    source: SourceRef


@cache
def _grades() -> Mapping[str, SteelGrade]:
    return {
        row["id"]: SteelGrade(
            row["id"],
            float(row["fy_n_mm2"]),
            float(row["e_n_mm2"]),
            float(row["density_kg_m3"]),
            float(row["alpha"]),
            float(row["gamma_m0"]),
            float(row["gamma_m1"]),
            reference(row, f"steel_grades.csv, {row['id']}"),
        )
        for row in rows("steel_grades")
    }


def steel_grade(name: str) -> SteelGrade:
    """The grade of steel with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _grades():
        raise unknown("grade of steel", name, _grades())
    return _grades()[name]


@cache
def _plates() -> Mapping[str, Figure]:
    return {
        row["id"]: figure(row, f"steel_plates.csv, {row['id']}") for row in rows("steel_plates")
    }


def plate_figure(name: str) -> Figure:
    """A size or factor of end plates and their welds.

    Raises:
        Problem: If there is none of this name; the sentence names the nearest.
    """
    if name not in _plates():
        raise unknown("figure of end plates", name, _plates())
    return _plates()[name]
