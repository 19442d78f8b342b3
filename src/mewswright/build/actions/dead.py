"""Dead load: what a unit itself weighs, layer by layer, once heavy and once light.

The heavy end presses down: wet or treated timber, the heaviest sheet. The light end is
all that counts against lifting. Base, floor, perches and stored goods count for nothing.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from mewswright.build.masses import part_mass
from mewswright.build.materials import known_material
from mewswright.build.parts import Part, PartKind
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import STEEL
from mewswright.handbook import Material, load_factor, timber_class, timber_classes
from mewswright.model.quantity import m_from_mm

GRAVITY_M_S2 = 9.80665  # standard gravity, 3rd CGPM, 1901
NOT_HELD: tuple[PartKind, ...] = (
    "base", "membrane", "substrate", "fixing", "perch", "bath", "finish", "rain",
)  # fmt: skip
Range = tuple[float, float]
Where = Literal["roof", "walls"]


@dataclass(frozen=True)
class Layer:
    """One layer of the roof or of the walls: its mass, light and heavy [kg]."""

    where: Where
    name: str
    low_kg: float
    high_kg: float


@dataclass(frozen=True)
class Dead:
    """Dead load of a unit. The roof's is spread over its plan, overhangs included."""

    layers: tuple[Layer, ...]
    roof_plan_m2: float
    roof_low_kn_m2: float  # as reckoned, light
    roof_high_kn_m2: float  # as reckoned, heavy
    roof_down_kn_m2: float  # to design with: at least the handbook's
    roof_up_kn_m2: float  # to count against lifting: at most the handbook's
    walls_low_kn: float
    walls_high_kn: float
    missing: tuple[str, ...]  # what is not on record with a mass


def weight_kn(mass_kg: float) -> float:
    """Weight of a mass [kN]."""
    return mass_kg * GRAVITY_M_S2 / 1000


def dead(parts: Iterable[Part], roof_plan_m2: float) -> Dead:
    """Dead load of a unit from its parts.

    Args:
        parts: The parts of its frame.
        roof_plan_m2: Plan area of the roof, overhangs included [m2]; 0 without a roof.

    Returns:
        The layers and loads. Without a roof its loads are 0.

    Raises:
        ValueError: If the area is negative.

    Source:
        Volumes of the parts; masses of handbook/materials.csv, densities of EN 338. The
        floor and ceiling of a roof's load are the rows dead_roof_* of load_factors.csv.
    """
    if roof_plan_m2 < 0:
        raise ValueError(f"a roof has a plan of 0 m2 or more, got {roof_plan_m2:g}")
    masses: dict[tuple[Where, str], Range] = {}
    missing: list[str] = []
    for part in parts:
        if part.kind in NOT_HELD or part.what.startswith("dig barrier"):
            continue
        found = part_mass_kg(part)
        if found is None:
            missing.append(part.what)
            continue
        where: Where = "roof" if is_of_roof(part) else "walls"
        key = (where, _layer(part))
        low, high = masses.get(key, (0.0, 0.0))
        masses[key] = (low + found[0], high + found[1])
    layers = tuple(Layer(*key, *mass) for key, mass in masses.items())

    def total_kn(where: Where, heavy: bool) -> float:
        kept = (layer for layer in layers if layer.where == where)
        return weight_kn(sum(layer.high_kg if heavy else layer.low_kg for layer in kept))

    low = high = down = up = 0.0
    if roof_plan_m2:
        low = total_kn("roof", heavy=False) / roof_plan_m2
        high = total_kn("roof", heavy=True) / roof_plan_m2
        down = max(high, load_factor("dead_roof_down_kn_m2").value)
        up = min(low, load_factor("dead_roof_up_kn_m2").value)
    return Dead(
        layers=layers,
        roof_plan_m2=roof_plan_m2,
        roof_low_kn_m2=low,
        roof_high_kn_m2=high,
        roof_down_kn_m2=down,
        roof_up_kn_m2=up,
        walls_low_kn=total_kn("walls", heavy=False),
        walls_high_kn=total_kn("walls", heavy=True),
        missing=tuple(dict.fromkeys(missing)),
    )


def is_of_roof(part: Part) -> bool:
    """Whether a part lies on the roof's side of the plates."""
    return part.kind in ("rafter", "deck", "covering") or part.place.startswith("roof")


def _layer(part: Part) -> str:
    if part.section:
        return "rafters and blocking" if is_of_roof(part) else "frame"
    if part.kind in ("bar", "mesh", "net"):
        return "bars and mesh"
    return {"deck": "deck", "covering": "covering", "board": "boarding"}.get(part.kind, part.kind)


def part_mass_kg(part: Part) -> Range | None:
    """Mass of all pieces of a part, light and heavy [kg]; None where none is on record."""
    if part.section and part.material == STEEL:
        steel = part_mass(part)
        return (steel.kg, steel.kg) if steel else None
    if part.section and part.material in timber_classes():
        breadth, depth = breadth_depth_mm(part.section)
        volume = m_from_mm(breadth) * m_from_mm(depth) * m_from_mm(part.length_mm) * part.count
        light, wet = timber_density_kg_m3(part.material)
        return volume * light, volume * wet
    if part.unit == "m2":
        per_m2 = area_mass_kg_m2(part.material)
        return (part.amount * per_m2[0], part.amount * per_m2[1]) if per_m2 else None
    material = known_material(part.material)
    if material is None or material.mass_kg is None:
        return None
    if (part.unit, material.mass_per) == ("m", "m"):
        heavy = material.mass_high_kg or material.mass_kg
        return part.amount * material.mass_kg, part.amount * heavy
    return None


def timber_density_kg_m3(name: str) -> Range:
    """Density of a strength class: its mean, and treated or wet at most [kg/m3].

    Source:
        EN 338:2016, Table 1; the wet end is from memory.
    """
    wet = load_factor(f"timber_wet_{name.lower()}_kg_m3").value
    return timber_class(name).rho_mean, wet


def area_mass_kg_m2(name: str) -> Range | None:
    """Mass of a sheet, felt, mesh or panel on a square metre, light and heavy [kg/m2]."""
    if name in ("corrugated_sheet", "polycarbonate_sheet"):
        kind = name.removesuffix("_sheet")
        low = load_factor(f"sheet_{kind}_low_kg_m2").value
        return low, load_factor(f"sheet_{kind}_high_kg_m2").value
    material = known_material(name)
    if material is None or material.mass_kg is None:
        return None
    area = _area_of_one_m2(material)
    if area is None:
        return None
    return material.mass_kg / area, (material.mass_high_kg or material.mass_kg) / area


def _area_of_one_m2(material: Material) -> float | None:
    if material.mass_per == "m2":
        return 1.0
    sides = {
        "sheet": (material.sheet_length_mm, material.sheet_width_mm),
        "roll": (material.roll_width_mm, material.roll_length_mm),
    }.get(material.mass_per, (None, None))
    if sides[0] is None or sides[1] is None:
        return None
    return m_from_mm(sides[0]) * m_from_mm(sides[1])
