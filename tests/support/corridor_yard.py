"""A row of two units with a corridor behind it and a lobby at its right end."""

from mewswright.model.yard import Yard
from support.row_yard import row_yard

# Clear width of the row: two units of 3000 and a shared wall of 95 and its boards of 22.
WIDTH_MM = 3 * 3000 + 2 * (95 + 22)
BEHIND_MM = 2400 + 95 + 22  # depth, back wall and its boards


def corridor_yard(*, lobby=True, change=None, units=("A", "B", "C"), door=None, **quarters):
    """Units of 2400 mm in front and 2700 behind, and a corridor 1200 mm wide, 2050 high outside.

    Args:
        lobby: False leaves out the lobby.
        change: Keys of the row that differ.
        units: Those in the row.
        door: Doors, instead of one from A, one in the partition and one out of the lobby.
        quarters: Keys of all units.
    """
    yard = row_yard(**{"front_height_mm": 2400, "back_height_mm": 2700, **quarters})
    data = yard.model_dump(mode="json", exclude_none=True)
    size = {"width_mm": 1200, "height_mm": 2050}
    data["space"] = [
        {"name": "Way", "kind": "corridor", "length_mm": 7600, **size},
        {"name": "Lobby", "kind": "lobby", "length_mm": 1500, **size},
    ]
    leaf = {"width_mm": 700, "height_mm": 1800}
    outer = (change or {}).get("lobby_end", "right")
    last = {"between": ["Lobby", "outside"], **leaf, "face": outer, "at_mm": 600}
    if not lobby:
        last = {"between": ["Way", "outside"], **leaf, "face": "right", "at_mm": 600}
    doors = [
        {"between": ["A", "Way"], **leaf, "face": "back", "at_mm": 1500, "sill_mm": 100},
        *([{"between": ["Way", "Lobby"], **leaf, "at_mm": 600}] if lobby else []),
        last,
    ]
    row = {"name": "Row", "quarters": list(units), "corridor_mm": 1200,
           "corridor_height_mm": 2050, "corridor_space": "Way"}  # fmt: skip
    if lobby:
        row |= {"lobby_mm": 1500, "lobby_end": "right", "lobby_space": "Lobby"}
    return Yard.model_validate(
        {**data, "door": doors if door is None else door, "row": [{**row, **(change or {})}]}
    )
