"""Small yards for tests: one valid yard, changed in one place at a time."""

from typing import Any

from mewswright.checks.finding import Finding
from mewswright.checks.registry import run_checks
from mewswright.model.yard import Yard

BOARDED = {"infill": "boarded"}


def perch(name: str = "perch", x: float = 1500, y: float = 1500, **more: Any) -> dict[str, Any]:
    return {
        "kind": "perch", "name": name, "form": "block", "at_mm": [x, y], "height_mm": 300,
        "diameter_mm": 100, "cover": "turf",
    } | more  # fmt: skip


def quarters(name: str = "North loft", kind: str = "loft", **more: Any) -> dict[str, Any]:
    base: dict[str, Any] = {
        "name": name, "kind": kind, "at_m": [0, 0], "facing_deg": 180,
        "width_mm": 5000, "depth_mm": 6000,
    }  # fmt: skip
    if kind != "pitch":
        front = (
            {"infill": "open"}
            if kind == "shelter"
            else {"infill": "barred", "gap_mm": 25, "bar_mm": 18}
        )
        base |= {
            "front_height_mm": 3000, "back_height_mm": 3000, "roof": {},
            "faces": {"front": front},
        }  # fmt: skip
    return base | more


def bird(name: str = "Bramble", species: str = "eurasian_goshawk", **more: Any) -> dict[str, Any]:
    return {"name": name, "species": species, "sex": "f"} | more


def stay(
    bird: str = "Bramble", quarters: str = "North loft", mode: str = "loose", **more: Any
) -> dict[str, Any]:
    return {"bird": bird, "quarters": quarters, "mode": mode} | more


def yard(standards: tuple[str, ...] = ("house",), **tables: Any) -> Yard:
    holding = {
        "name": "Alder Close", "latitude_deg": 47.12, "longitude_deg": 6.88, "altitude_m": 640,
        "time_zone": "Europe/Zurich", "standards": list(standards),
    }  # fmt: skip
    return Yard.model_validate({"format": 1, "yard": holding} | tables)


def findings(of: Yard, code: str, **where: str) -> list[Finding]:
    """Findings of one code, narrowed by bird, quarters, fitting or status."""
    return [
        f
        for f in run_checks(of)
        if f.code == code and all(getattr(f, key) == value for key, value in where.items())
    ]


def only(of: Yard, code: str, **where: str) -> Finding:
    """The one finding of a code."""
    found = findings(of, code, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]
