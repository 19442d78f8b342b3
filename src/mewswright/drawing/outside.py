"""A side of a unit as it is seen from outside, square on.

`u` runs to the right of the drawing and z up. Seen from outside, the left side has the
back at its left hand, the right side the front, and the back the unit's own right.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from mewswright.build.openings import bath_opening
from mewswright.build.parts import BuiltFrame, Part, Place
from mewswright.build.shell import Wall, shell_of
from mewswright.build.solids import solids_of
from mewswright.drawing.openings import door_title, doors_of, item_of_door
from mewswright.drawing.projection import hull
from mewswright.drawing.scene import Point, whole
from mewswright.drawing.timber import Piece
from mewswright.model.fitting import Hatch, Side
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

_LEFT_HAND: dict[Side, Side] = {
    "front": "left", "back": "right", "left": "back", "right": "front",
}  # fmt: skip
FLUSH_MM = 1.0  # what reaches no further than this through a plane counts as on its one side


@dataclass(frozen=True)
class Outside:
    """A side of quarters, and where its places lie on a drawing of it."""

    quarters: Quarters
    side: Side

    @property
    def run_mm(self) -> float:
        """Clear length of the side inside [mm]: u runs from 0 to it."""
        if self.side in ("front", "back"):
            return self.quarters.width_mm
        return self.quarters.depth_mm

    @property
    def left_hand(self) -> Side:
        """The side that lies at the drawing's left."""
        return _LEFT_HAND[self.side]

    def u_mm(self, x_mm: float, y_mm: float) -> float:
        """Where a place lies along the drawing."""
        return {
            "front": x_mm,
            "back": self.quarters.width_mm - x_mm,
            "left": self.quarters.depth_mm - y_mm,
            "right": y_mm,
        }[self.side]

    def out_mm(self, place: Place) -> float:
        """How far a place lies outside the clear inside face [mm]; negative inside."""
        x, y, _ = place
        return {
            "front": -y,
            "back": y - self.quarters.depth_mm,
            "left": -x,
            "right": x - self.quarters.width_mm,
        }[self.side]

    def spot(self, place: Place) -> Point:
        """Where a place lies on the drawing."""
        return self.u_mm(place[0], place[1]), place[2]

    def along_mm(self, at_mm: float) -> float:
        """Turn a place along a face, as the yard file gives it, into u."""
        mirrored = self.side in ("back", "left")
        return self.run_mm - at_mm if mirrored else at_mm

    def ceiling_mm(self, u_mm: float, out_mm: float = 0) -> float:
        """Height of the ceiling plane over a place of the drawing [mm]."""
        depth = self.quarters.depth_mm
        y = {
            "front": -out_mm, "back": depth + out_mm, "left": depth - u_mm, "right": u_mm,
        }[self.side]  # fmt: skip
        return self.quarters.ceiling_mm(y)

    @property
    def top_line_mm(self) -> tuple[Point, ...]:
        """Corners of the ceiling along this side, from the left of the drawing [mm]."""
        ridge = self.quarters.ridge_mm
        gable = self.side in ("left", "right") and ridge is not None
        middle = (self.u_mm(0, ridge[0]),) if gable and ridge is not None else ()
        return tuple((u, self.ceiling_mm(u)) for u in (0.0, *middle, self.run_mm))


def outside(quarters: Quarters, side: Side) -> Outside:
    """Look at a side from outside.

    Raises:
        Problem: For a pitch, which has no sides.
    """
    if quarters.front_height_mm is None or quarters.faces is None:
        raise Problem(f"{quarters.name!r} is a pitch and has no {side}: draw its plan alone")
    return Outside(quarters, side)


@dataclass(frozen=True)
class Placed:
    """A solid piece of a part as a side shows it."""

    piece: Piece
    near_mm: float  # its outermost place, out of the clear inside face
    far_mm: float  # its innermost
    low_mm: float


def placed(parts: Iterable[Part], frame: BuiltFrame, view: Outside) -> list[Placed]:
    """Give every solid of parts with its outline on the drawing, its end cuts included."""
    found = []
    for part in parts:
        for solid in solids_of(part, frame):
            places = solid.places_mm
            outs = [view.out_mm(p) for p in places]
            points = hull(view.spot(p) for p in places)
            found.append(
                Placed(
                    Piece(part, places, points), max(outs), min(outs), min(z for *_, z in places)
                )
            )
    return found


@dataclass(frozen=True)
class Opening:
    """The clear outline of a door or hatch on a side, and the side of its hinge."""

    low: Point
    high: Point
    item: str
    title: str
    hinge_u_mm: float | None  # None: a hatch
    words: str


def openings_seen(yard: Yard, view: Outside) -> list[Opening]:
    """Give the doors, hatches and bath openings of a side."""
    quarters, found = view.quarters, []
    for door in doors_of(yard, quarters):
        if door.face != view.side or door.at_mm is None:
            continue
        ends = [view.along_mm(door.at_mm + s * door.width_mm / 2) for s in (-1, 1)]
        title = door_title(door, quarters)
        found.append(
            Opening(
                (min(ends), door.sill_mm), (max(ends), door.sill_mm + door.height_mm),
                item_of_door(door), title, ends[not door.hangs_low], title.partition(",")[0],
            )
        )  # fmt: skip
    for hatch in quarters.fitting:
        if isinstance(hatch, Hatch) and hatch.face == view.side:
            ends = [view.along_mm(hatch.at_mm + s * hatch.width_mm / 2) for s in (-1, 1)]
            title = f"{hatch.name}, {whole(hatch.width_mm)} × {whole(hatch.height_mm)}"
            found.append(
                Opening(
                    (min(ends), hatch.sill_mm), (max(ends), hatch.sill_mm + hatch.height_mm),
                    f"hatch:{hatch.name}", title, None, hatch.name,
                )
            )  # fmt: skip
    for bath in quarters.baths:
        if bath.slides_under == view.side:
            hole = bath_opening(bath, Wall(shell_of(quarters), view.side))
            ends = [view.along_mm(at) for at in (hole.from_mm, hole.to_mm)]
            size = f"{whole(hole.to_mm - hole.from_mm)} × {whole(hole.top_mm - hole.sill_mm)}"
            found.append(
                Opening(
                    (min(ends), hole.sill_mm), (max(ends), hole.top_mm), f"bath:{bath.name}",
                    f"{bath.name}, opening {size}", None, bath.name,
                )
            )  # fmt: skip
    return found
