"""What birds are fed, and the equations of what they need."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import SourceRef, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import number, rows


@dataclass(frozen=True)
class Food:
    """One food item. Grams, percent of wet mass, kilojoules per gram wet.

    `source` witnesses the composition; `metabolisable_how` says how the share that a
    bird can use is known. None stands for a value that is not on record.
    """

    id: str
    name: str
    category: str
    mass_typical_g: float | None
    mass_min_g: float | None
    mass_max_g: float | None
    water_pct: float | None
    protein_pct: float | None
    fat_pct: float | None
    ash_pct: float | None
    calcium_mg_per_100g: float | None
    gross_energy_kj_g: float
    metabolisable_fraction: float
    metabolisable_kj_g: float
    metabolisable_kj_per_item: float | None
    casting: str
    kept: str
    frozen_life_months: float | None
    thawed_life_h: float | None
    metabolisable_how: str
    source: SourceRef
    confidence: str
    note: str


@dataclass(frozen=True)
class Equation:
    """A published equation with one worked input and output.

    `use` is `preferred`, `yes`, or `no` for one that is kept only to be seen.
    """

    name: str
    formula: str
    a: str
    b: str
    input_unit: str
    output_unit: str
    group: str
    worked_input: float | None
    worked_output: float | None
    use: str
    source: SourceRef
    confidence: str
    note: str


@cache
def _foods() -> Mapping[str, Food]:
    return {
        row["id"]: Food(
            row["id"],
            row["name"],
            row["category"],
            number(row["mass_typical_g"]),
            number(row["mass_min_g"]),
            number(row["mass_max_g"]),
            number(row["water_pct"]),
            number(row["protein_pct_wet"]),
            number(row["fat_pct_wet"]),
            number(row["ash_pct_wet"]),
            number(row["calcium_mg_per_100g_wet"]),
            float(row["gross_energy_kj_g_wet"]),
            float(row["metabolisable_fraction"]),
            float(row["me_kj_g_wet"]),
            number(row["me_kj_per_item"]),
            row["casting"],
            row["kept"],
            number(row["frozen_life_months"]),
            number(row["thawed_life_h_at_4c"]),
            row["metabolisable_how"],
            reference(row, f"foods.csv, {row['id']}"),
            row["confidence"],
            row["note"],
        )
        for row in rows("foods")
    }


def foods() -> tuple[Food, ...]:
    """Every food item, sorted by id."""
    return tuple(_foods().values())


def food(name: str) -> Food:
    """The food item with this id.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _foods():
        raise unknown("food", name, _foods(), "see 'mewswright handbook foods'")
    return _foods()[name]


@cache
def _equations() -> Mapping[str, Equation]:
    return {
        row["name"]: Equation(
            row["name"],
            row["formula"],
            row["a"],
            row["b"],
            row["input_unit"],
            row["output_unit"],
            row["group"],
            number(row["worked_input"]),
            number(row["worked_output"]),
            row["use"],
            reference(row, f"allometry.csv, {row['name']}"),
            row["confidence"],
            row["note"],
        )
        for row in rows("allometry")
    }


def allometry() -> tuple[Equation, ...]:
    """Every equation, sorted by name."""
    return tuple(_equations().values())


def equation(name: str) -> Equation:
    """The equation with this name.

    Raises:
        Problem: If there is none; the sentence names the nearest.
    """
    if name not in _equations():
        raise unknown("equation", name, _equations(), "see 'mewswright handbook allometry'")
    return _equations()[name]
