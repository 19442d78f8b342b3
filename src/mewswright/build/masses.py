"""What the parts of a take-off weigh, line by line.

Bought sizes count: sawn timber by its section and longest length, end cuts and notches
included; boards by the metre, sheets by their laid area. Fresh or wet stuff is heavier.
"""

from dataclasses import dataclass

from mewswright import handbook
from mewswright.build.base import SLEEPER
from mewswright.build.materials import known_material
from mewswright.build.parts import Part
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import tube_of
from mewswright.handbook.materials import Material
from mewswright.handbook.steel import steel_grade

# Volume [m3] of the smaller of the sizes that these rows range over, which is what the base
# lays (2400 x 200 x 100 and 450 x 450 x 38 mm): the low end of their masses counts.
_SMALLER_OF_ITS_ROW = {SLEEPER: 2.4 * 0.2 * 0.1, "paving_slab": 0.45 * 0.45 * 0.038}


@dataclass(frozen=True)
class Mass:
    """Mass of all pieces of a part [kg], and how it was reckoned."""

    kg: float
    how: str


def part_mass(part: Part) -> Mass | None:
    """Weigh one line of a take-off.

    Args:
        part: The line.

    Returns:
        Mass of all its pieces; where the handbook gives a range its middle. None where
        the handbook has no mass of it: fixings, doors, baths, perches, edge trim.

    Source:
        handbook timber_classes (mean density, EN 338) for sawn timber; materials for the
        rest.
    """
    if part.section:
        return _sawn(part)
    row = known_material(part.material)
    if row is None or part.kind == "fixing":
        return None
    if part.unit == "m3" and row.density_kg_m3 is not None:
        density = _middle(row.density_kg_m3, row.density_high_kg_m3)
        return Mass(part.amount * density, f"{part.amount:g} m3 at {density:g} kg/m3")
    if row.mass_kg is None:
        return None
    high = None if part.material in _SMALLER_OF_ITS_ROW else row.mass_high_kg
    each = _middle(row.mass_kg, high)
    if part.unit == row.mass_per or (part.unit, row.mass_per) in (
        ("piece", "sleeper"), ("piece", "slab"),
    ):  # fmt: skip
        return Mass(part.amount * each, f"{part.amount:g} {part.unit} at {each:g} kg")
    area_m2 = _pack_m2(row)
    if part.unit == "m2" and area_m2:
        by_area = each / area_m2
        return Mass(part.amount * by_area, f"{part.amount:g} m2 at {by_area:.2f} kg/m2")
    return None


def density_kg_m3(part: Part) -> float | None:
    """Density of the stuff that a part is sawn from, laid of or poured [kg/m3]; None: unknown.

    Source:
        handbook timber_classes and materials; of a sheet, its mass by its size, and of a
        sleeper and a paving slab the mass of the size that is laid.
    """
    if part.section:
        tube = tube_of(part.section)
        if tube is not None:  # its solid is drawn full
            return steel_grade(part.material).density_kg_m3 * tube.filled_share
        return handbook.timber_class(part.material).rho_mean
    row = known_material(part.material)
    if row is None:
        return None
    if row.density_kg_m3 is not None:
        return _middle(row.density_kg_m3, row.density_high_kg_m3)
    if row.mass_kg is None:
        return None
    area_m2 = _pack_m2(row)
    if row.mass_per == "sheet" and area_m2 and row.thickness_mm:
        return _middle(row.mass_kg, row.mass_high_kg) / (area_m2 * row.thickness_mm / 1000)
    volume_m3 = _SMALLER_OF_ITS_ROW.get(part.material)
    return row.mass_kg / volume_m3 if volume_m3 else None


def _sawn(part: Part) -> Mass:
    tube = tube_of(part.section)
    if tube is not None:
        steel = steel_grade(part.material)
        solid = tube.area_mm2 * part.length_mm * part.count / 1e9
        how = f"{solid:.5f} m3 of steel at {steel.density_kg_m3:g} kg/m3"
        return Mass(solid * steel.density_kg_m3, how)
    breadth, depth = breadth_depth_mm(part.section)
    density = handbook.timber_class(part.material).rho_mean
    volume = breadth * depth * part.length_mm * part.count / 1e9
    return Mass(volume * density, f"{volume:.4f} m3 at {density:g} kg/m3 ({part.material})")


def _pack_m2(row: Material) -> float | None:
    if row.mass_per == "sheet" and row.sheet_length_mm and row.sheet_width_mm:
        return row.sheet_length_mm * row.sheet_width_mm / 1e6
    if row.mass_per == "roll" and row.roll_length_mm and row.roll_width_mm:
        return row.roll_length_mm * row.roll_width_mm / 1e6
    return None


def _middle(low: float, high: float | None) -> float:
    return low if high is None else (low + high) / 2
