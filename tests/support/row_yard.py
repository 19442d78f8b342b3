"""A yard with a row of three like units, side by side and facing south."""

from mewswright.model.yard import Yard
from support.units import BARRED, BOARDED, unit_yard

SKIN_MM = 22  # the boarding of the demo's walls, featheredge 22 mm thick
WALL_MM = 95


def row_yard(*, rows=True, shared=None, change_b=None, door=(), fittings=None, **quarters):
    """Units A, B and C of 3000 x 2400 mm; a wall and its skin between their clear sides.

    Args:
        rows: False leaves out the row.
        shared: Both faces of every shared wall.
        change_b: Keys of B that differ.
        door: Doors.
        fittings: Fittings by unit.
        quarters: Keys of all units.
    """
    face = shared or BOARDED
    skin = 0
    if face["infill"] == "boarded" or face.get("upstand_mm"):
        skin = SKIN_MM
    if face["infill"] == "meshed":
        skin = max(skin, 22)
    unit = unit_yard(**quarters).quarters[0].model_dump(mode="json", exclude_none=True)
    units = []
    for i, name in enumerate("ABC"):
        faces = {"front": quarters.get("front", BARRED)}
        if i > 0:
            faces["left"] = face
        if i < 2:
            faces["right"] = face
        at_m = [i * (3000 + WALL_MM + skin) / 1000, 0]
        change = change_b if change_b and name == "B" else {}
        units.append(
            {**unit, "name": name, "at_m": at_m, "faces": faces,
             "fitting": list((fittings or {}).get(name, ())), **change}
        )  # fmt: skip
    base = unit_yard().model_dump(mode="json", exclude_none=True)
    return Yard.model_validate(
        {**base, "quarters": units, "door": list(door),
         "row": [{"name": "Row", "quarters": ["A", "B", "C"]}] if rows else []}
    )  # fmt: skip
