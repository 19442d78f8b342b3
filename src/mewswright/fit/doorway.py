"""What a door needs in front of it: a place to step in, and room for its leaf to swing.

No check asks for this, for a keeper can stoop under a perch. A layout that is still to be
built leaves it free, wherever one can. Millimetres in the frame of the quarters.
"""

from dataclasses import dataclass

from mewswright.build.room import Rectangle
from mewswright.model.fitting import Hatch, Side
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

DOORWAY = "doorway"  # stands among the codes of a screen; no check has it
STEP_IN_MM = 600.0  # one step behind a door that swings outward: a judgement
JAMB_MM = 50.0  # timber between a door and a hatch beside it: the same


@dataclass(frozen=True)
class Doorway:
    """A door in a face and the floor that it needs; `top_mm` is its head above the floor."""

    side: Side
    at_mm: float
    width_mm: float
    top_mm: float
    floor: Rectangle

    def in_hatch_mm(self, hatch: Hatch) -> float:
        """How far a hatch reaches into the door or its frame [mm]; 0 or less beside or above."""
        if hatch.face != self.side or hatch.sill_mm >= self.top_mm:
            return 0.0
        return (hatch.width_mm + self.width_mm) / 2 + JAMB_MM - abs(hatch.at_mm - self.at_mm)


def doorways(yard: Yard, quarters: Quarters) -> tuple[Doorway, ...]:
    """The doors of a unit whose place is known: those with a face, and where along it."""
    return tuple(
        _doorway(quarters, door, door.face, door.at_mm)
        for door in yard.door
        if quarters.name in door.between and door.face is not None and door.at_mm is not None
    )


def _doorway(q: Quarters, door: Door, side: Side, at_mm: float) -> Doorway:
    deep_mm = max(STEP_IN_MM, door.width_mm if door.opens_into == q.name else 0.0)
    low, high = at_mm - door.width_mm / 2, at_mm + door.width_mm / 2
    floor: Rectangle = {
        "front": (low, 0.0, high, deep_mm),
        "back": (low, q.depth_mm - deep_mm, high, q.depth_mm),
        "left": (0.0, low, deep_mm, high),
        "right": (q.width_mm - deep_mm, low, q.width_mm, high),
    }[side]
    return Doorway(side, at_mm, door.width_mm, door.sill_mm + door.height_mm, floor)
