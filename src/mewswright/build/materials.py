"""Which handbook material a word of the yard file stands for."""

from mewswright import handbook
from mewswright.handbook.materials import Material
from mewswright.model.problem import Problem

# The yard file may speak more simply than the handbook's ids.
SHORT_NAMES = {
    "shiplapboard": "shiplap_12x125",
    "shiplap": "shiplap_12x125",
    "featheredge": "featheredge_22x150",
    "peagravel": "pea_gravel_river_gravel",
    "gravel": "pea_gravel_river_gravel",
    "sand": "dry_sand_loose",
}


def plain(name: str) -> str:
    """A name without marks, case or a trailing mm: osb3-18 and osb_3_18_mm are one."""
    letters = "".join(letter for letter in name.lower() if letter.isalnum())
    return letters.removesuffix("mm")


def known_material(name: str) -> Material | None:
    """Give the handbook's material of a name, or None."""
    wanted = plain(SHORT_NAMES.get(plain(name), name))
    for material in handbook.materials():
        if plain(material.id) == wanted:
            return material
    return None


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

    Args:
        gap_mm: Widest clear gap allowed [mm].
    """
    fitting = [
        mesh
        for mesh in handbook.materials("mesh")
        if mesh.clear_gap_mm is not None
        and mesh.clear_gap_mm <= gap_mm
        # An oblong mesh is as wide as its long side; a talon or a weasel uses that.
        and _long_gap_mm(mesh) <= gap_mm
    ]
    return max(fitting, key=lambda mesh: (_long_gap_mm(mesh), mesh.wire_mm or 0), default=None)


def _long_gap_mm(mesh: Material) -> float:
    assert mesh.clear_gap_mm is not None
    if mesh.aperture_long_mm is None or mesh.wire_mm is None:
        return mesh.clear_gap_mm
    return mesh.aperture_long_mm - mesh.wire_mm


def waste_pct(material: Material | None) -> float | None:
    """Waste that the handbook adds to a material [%], or None if it gives none."""
    if material is None or not material.waste_pct:
        return None
    return float(material.waste_pct)
