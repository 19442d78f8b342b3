"""Which handbook material a word of the yard file stands for."""

from functools import cache

from mewswright import handbook
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem

# A floor of sand is bought as loose dry sand; other substrates are called as they are bought.
BOUGHT_AS: dict[str, str] = {"sand": "dry_sand_loose"}


TAPE_MM = 0.5  # a tape reads to the millimetre


@cache
def known_material(name: str) -> Material | None:
    """Give the handbook's material of a name, or None."""
    wanted = BOUGHT_AS.get(name, name)
    return next((one for one in handbook.materials() if one.id == wanted), None)


def material_of(name: str, place: str) -> Material:
    """Give the handbook's material of a name.

    Raises:
        Problem: If there is none; names the place and the nearest.
    """
    found = known_material(name)
    if found is not None:
        return found
    try:
        return handbook.material(name)
    except Problem as problem:
        raise Problem(f"{place}: {problem}") from problem


def welded_mesh(gap_mm: float) -> Material | None:
    """The welded mesh with the widest clear gap that is no wider than asked, or None.

    The gap of an oblong mesh is its short one: a body needs room both ways to pass.

    Args:
        gap_mm: Widest clear gap allowed [mm], as a tape reads it.
    """
    fitting = [
        mesh
        for mesh in handbook.materials("mesh")
        if mesh.clear_gap_mm is not None and mesh.clear_gap_mm <= gap_mm + TAPE_MM
    ]
    return max(fitting, key=lambda mesh: (mesh.clear_gap_mm or 0, mesh.wire_mm or 0), default=None)


def waste_pct(material: Material | None) -> float | None:
    """Waste that the handbook adds to a material [%], or None if it gives none."""
    if material is None or not material.waste_pct:
        return None
    return float(material.waste_pct)
