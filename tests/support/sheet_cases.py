"""Units of every kind whose sheets the tests read, and what a sheet must hold of each."""

from dataclasses import dataclass
from functools import cache

from mewswright.build.row import unit_or_row
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.drawing.paper import Paper
from mewswright.drawing.scene import Scene
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.papers.sheets import sheets_of
from support.alder_close import UNITS, YARD
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import BARRED, unit_yard

FITTINGS = [
    {"kind": "perch", "name": "High perch", "form": "round", "at_mm": [900, 1800],
     "height_mm": 1500, "length_mm": 900, "diameter_mm": 40},
    {"kind": "bath", "name": "Sliding bath", "at_mm": [2200, 600], "width_mm": 700,
     "length_mm": 500, "depth_mm": 100, "rim_height_mm": 160, "platform_mm": 45,
     "slides_under": "right", "drains": True},
    {"kind": "hatch", "name": "Left hatch", "face": "left", "at_mm": 900, "sill_mm": 1100,
     "width_mm": 300, "height_mm": 220, "ledge_mm": 200, "blind": True, "served_from": "outside"},
]  # fmt: skip
DOORS = [
    {"between": ["Unit", "Lobby"], "width_mm": 700, "height_mm": 1800, "sill_mm": 100,
     "face": "back", "at_mm": 2300, "opens_into": "Lobby"},
    {"between": ["Lobby", "outside"], "width_mm": 750, "height_mm": 1800, "opens_into": "Lobby"},
]  # fmt: skip
HIGH = {"front_height_mm": 2400, "back_height_mm": 2400}
OTHERS = {
    "duopitch": lambda: unit_yard(
        width_mm=4000, depth_mm=4000, front_height_mm=2300, back_height_mm=2300,
        roof={"form": "duopitch", "ridge_height_mm": 3000}, fitting=FITTINGS, door=DOORS,
    ),
    "split": lambda: unit_yard(
        width_mm=5000, depth_mm=2800, frame={"bay_max_mm": 1800}, fitting=FITTINGS, door=DOORS
    ),
    "raised": lambda: unit_yard(
        frame={"base": "posts_in_concrete", "floor_up_mm": 300, "ground_fall_back_mm": 240},
        fitting=FITTINGS, door=DOORS,
    ),
    "slab": lambda: unit_yard(frame={"base": "slab"}, fitting=FITTINGS, door=DOORS),
    "barred at the sides": lambda: unit_yard(
        width_mm=4000, faces={"left": {**BARRED, "upstand_mm": 500}, "right": BARRED},
        fitting=FITTINGS, door=DOORS,
    ),
    "pads": lambda: unit_yard(frame={"base": "pads"}),
    "level": lambda: unit_yard(roof={}, **HIGH),
    "one of a row": row_yard,
    "row": lambda: unit_or_row(corridor_yard(), "Row"),
    "corridor": lambda: unit_or_row(corridor_yard(lobby=False), "Way"),
    "lobby": lambda: unit_or_row(corridor_yard(), "Lobby"),
}  # fmt: skip
NAMES = (*(unit.name for unit in UNITS), *OTHERS)


@dataclass(frozen=True)
class Case:
    """A unit with all its sheets."""

    yard: Yard
    unit: Quarters
    taken: TakeOff
    sheets: tuple[Scene, ...]


@cache
def case(name: str, paper: Paper = "A3") -> Case:
    """Give a unit by its name, drawn once in a run."""
    if name in OTHERS:
        made = OTHERS[name]()
        yard, unit = made if isinstance(made, tuple) else (made, made.quarters[0])
    else:
        yard, unit = YARD, YARD.quarters_named(name)
    taken = take_off(yard, unit)
    return Case(yard, unit, taken, sheets_of(yard, unit, taken, paper))
