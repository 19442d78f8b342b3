"""A loft in which nothing does harm or falls short, to plant faults in."""

from typing import Any

from mewswright.checks.registry import run_checks
from mewswright.model.yard import Yard
from support.yards import bird, perch, quarters, stay, yard

FRONT = {
    "infill": "barred", "gap_mm": 25, "bar_mm": 12, "upstand_mm": 600,
    "outer": {"infill": "meshed", "mesh_kind": "welded", "gap_mm": 11, "stand_off_mm": 130},
}  # fmt: skip
LOBBY = {"name": "Lobby", "kind": "lobby", "length_mm": 1500, "width_mm": 1200, "height_mm": 2100}
INNER = {
    "between": ["North loft", "Lobby"], "width_mm": 750, "height_mm": 1900, "self_closing": True,
}  # fmt: skip
OUTER = {"between": ["Lobby", "outside"], "width_mm": 750, "height_mm": 1900, "self_closing": True}


def rod(name: str, x: float, y: float, height_mm: float, **more: Any) -> dict[str, Any]:
    """A round perch that suits a female goshawk."""
    return perch(
        name, x, y, form="round", height_mm=height_mm, length_mm=1200, diameter_mm=45, **more
    )


def fittings(**changed: dict[str, Any]) -> list[dict[str, Any]]:
    """Two perches, a bath and a hatch; each may be changed by its name in lower case."""
    found = [
        rod("Low", 1500, 1400, 900),
        rod("High", 4500, 3600, 1900),
        {
            "kind": "bath", "name": "Bath", "at_mm": [4300, 1200], "diameter_mm": 800,
            "depth_mm": 100, "rim_height_mm": 140,
        },
        {
            "kind": "hatch", "name": "Hatch", "face": "back", "at_mm": 1500, "sill_mm": 1200,
            "width_mm": 300, "height_mm": 220,
        },
    ]  # fmt: skip
    return [one | changed.get(str(one["name"]).lower(), {}) for one in found]


def loft(**more: Any) -> dict[str, Any]:
    """A loft for a goshawk."""
    base: dict[str, Any] = {
        "width_mm": 6000, "depth_mm": 5000, "front_height_mm": 3300, "back_height_mm": 3000,
        "faces": {"front": FRONT}, "fitting": fittings(),
        "floor": {"dig_barrier": "buried", "dig_barrier_mm": 450, "depth_mm": 120},
    }  # fmt: skip
    return quarters(**(base | more))


def yard_of(
    unit: dict[str, Any],
    doors: tuple[dict[str, Any], ...] = (INNER, OUTER),
    birds: tuple[dict[str, Any], ...] = (),
    **more: Any,
) -> Yard:
    """A yard of one unit, its birds loose in it."""
    residents = birds or (bird(),)
    tables: dict[str, Any] = {
        "quarters": [unit], "bird": list(residents), "space": [LOBBY], "door": list(doors),
        "stay": [stay(one["name"]) for one in residents],
    }  # fmt: skip
    return yard(**(tables | more))


def faults(of: Yard, quarters: str = "North loft") -> list[str]:
    """Codes of what does harm or falls short."""
    return sorted(
        f.code for f in run_checks(of, quarters=quarters) if f.status in ("harm", "short")
    )
