"""Pieces to place: quarters to build or to move, each a rectangle that is set down as a whole.

Metres. A piece lies in a frame of its own: `u` to the right as seen from in front, `v` from the
front backwards, both from its middle. Its rectangle is its outside: clear size, walls, and for
new quarters a strip behind for the lobby. It is set down by its middle and by the bearing that
its front looks to.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import atan2, cos, degrees, hypot, radians, sin

from mewswright.build.row import row_named, row_with, starts_mm
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.row import Row
from mewswright.model.yard import Yard

WALL_M = 0.15  # boards, studs and battens outside the clear size: a judgement
ROW = "row"
# Bearing that each side looks to, less that of the front.
TURN_OF_SIDE = {"front": 0.0, "right": -90.0, "back": 180.0, "left": 90.0}

Spot = tuple[float, float]


@dataclass(frozen=True)
class Unit:
    """Quarters of a piece: their clear front left corner in its frame, and their turn [deg]."""

    quarters: Quarters
    u_m: float
    v_m: float
    turn_deg: float = 0.0


@dataclass(frozen=True)
class Piece:
    """Something to be set down.

    Attributes:
        name: Of the quarters or of the row.
        kind: Kind of quarters, or "row".
        alike: Pieces with the same mark can stand in each other's place.
        half_m: Half its width along the front and half its depth.
        units: Its quarters.
        door_uv: Where its door is, on its outside.
        open_turns: Bearings its open sides look to, less its heading; () = open all round.
        is_new: Whether it is to be built.
    """

    name: str
    kind: str
    alike: str
    half_m: Spot
    units: tuple[Unit, ...]
    door_uv: Spot
    open_turns: tuple[float, ...]
    is_new: bool

    @property
    def living_kind(self) -> str:
        """Kind of quarters that it is weighed as: a row as its first unit."""
        return self.units[0].quarters.kind


@dataclass(frozen=True)
class Placed:
    """A piece where it is set down: its middle, and the bearing of its front."""

    piece: Piece
    x_m: float
    y_m: float
    heading_deg: float
    quarters: tuple[Quarters, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Set its quarters down too, to the millimetre."""
        object.__setattr__(self, "quarters", tuple(self._set(unit) for unit in self.piece.units))

    def _set(self, unit: Unit) -> Quarters:
        x, y = on_ground(self.x_m, self.y_m, self.heading_deg, unit.u_m, unit.v_m)
        facing = (self.heading_deg + unit.turn_deg) % 360
        return unit.quarters.model_copy(
            update={"at_m": (round(x, 3), round(y, 3)), "facing_deg": round(facing, 3) % 360}
        )

    @property
    def corners_m(self) -> tuple[Spot, ...]:
        """Corners of its outside: front left, front right, back right, back left."""
        return box_corners(self.x_m, self.y_m, self.heading_deg, *self.piece.half_m)

    @property
    def door_m(self) -> Spot:
        """Where its door is, on its outside."""
        return on_ground(self.x_m, self.y_m, self.heading_deg, *self.piece.door_uv)


def on_ground(x_m: float, y_m: float, heading_deg: float, u_m: float, v_m: float) -> Spot:
    """Give the place on the ground of a spot in the frame of a piece [m east, m north]."""
    east, north = sin(radians(heading_deg)), cos(radians(heading_deg))
    return x_m - u_m * north - v_m * east, y_m + u_m * east - v_m * north


def box_corners(
    x_m: float, y_m: float, heading_deg: float, half_w: float, half_d: float
) -> tuple[Spot, ...]:
    """Corners of a turned rectangle, front left first."""
    return tuple(
        on_ground(x_m, y_m, heading_deg, u, v)
        for u, v in ((-half_w, -half_d), (half_w, -half_d), (half_w, half_d), (-half_w, half_d))
    )


def in_frame(of: Quarters, spot: Spot) -> Spot:
    """A place on the ground in the frame of quarters, from their front left corner [m]."""
    east, north = sin(radians(of.facing_deg)), cos(radians(of.facing_deg))
    dx, dy = spot[0] - of.at_m[0], spot[1] - of.at_m[1]
    return -dx * north + dy * east, -dx * east - dy * north


def open_turns(quarters: Quarters, turn_deg: float = 0.0) -> tuple[float, ...]:
    """Turns of the sides that can be looked through; () for a pitch, which is open all round."""
    if quarters.faces is None:
        return ()
    found = tuple(
        (TURN_OF_SIDE[side] + turn_deg) % 360
        for side in SIDES
        if not quarters.faces.side(side).is_solid
    )
    return found or (turn_deg % 360,)


def piece_of(
    name: str, quarters: Sequence[Quarters], yard: Yard, *, behind_m: float = 0.0,
    is_new: bool = False, alike: str | None = None,
) -> Piece:  # fmt: skip
    """Make a piece of quarters as they stand to each other.

    Args:
        name: Of the piece.
        quarters: One unit, or the units of a row, left to right.
        yard: The yard, for the doors.
        behind_m: Depth of what is built behind: a lobby or a corridor.
        is_new: Whether it is to be built.
        alike: Mark of pieces that can stand in its place; its name if it is like no other.
    """
    first = quarters[0]
    wall = 0.0 if first.kind == "pitch" else WALL_M
    spots = [in_frame(first, corner) for one in quarters for corner in one.corners_m]
    us, vs = [u for u, _ in spots], [v for _, v in spots]
    low_u, high_u, low_v = min(us) - wall, max(us) + wall, min(vs) - wall
    high_v = max(vs) + wall + behind_m
    middle = (low_u + high_u) / 2, (low_v + high_v) / 2
    half = (high_u - low_u) / 2, (high_v - low_v) / 2
    units = []
    for one in quarters:
        u, v = in_frame(first, one.at_m)
        turn = (one.facing_deg - first.facing_deg) % 360
        units.append(Unit(one, u - middle[0], v - middle[1], turn))
    turns = tuple(dict.fromkeys(t for unit in units for t in open_turns(unit.quarters,
                                                                       unit.turn_deg)))  # fmt: skip
    return Piece(
        name=name,
        kind=ROW if len(quarters) > 1 else first.kind,
        alike=alike or name,
        half_m=half,
        units=tuple(units),
        door_uv=_door(first, middle, half, yard, bool(behind_m) or (is_new and wall > 0)),
        open_turns=turns,
        is_new=is_new,
    )


def _door(first: Quarters, middle: Spot, half: Spot, yard: Yard, at_back: bool) -> Spot:
    """Where its door is; in front where the file does not say, behind what is to be built."""
    out_u, out_v = half
    if at_back:
        return 0.0, out_v
    for door in yard.door:
        if first.name not in door.between or door.face is None:
            continue
        along = None if door.at_mm is None else m_from_mm(door.at_mm)
        if door.face in ("front", "back"):
            u = 0.0 if along is None else min(max(along - middle[0], -half[0]), half[0])
            return u, -out_v if door.face == "front" else out_v
        v = 0.0 if along is None else min(max(along - middle[1], -half[1]), half[1])
        return -out_u if door.face == "left" else out_u, v
    return 0.0, -out_v


def as_placed(piece: Piece) -> Placed:
    """A piece of quarters of the yard where it stands today."""
    unit = piece.units[0]
    heading = unit.quarters.facing_deg - unit.turn_deg
    x, y = on_ground(*unit.quarters.at_m, heading, -unit.u_m, -unit.v_m)
    return Placed(piece, x, y, heading % 360)


def row_piece(yard: Yard, row: Row) -> Piece:
    """A row of the yard, with its corridor, as one piece."""
    units = [yard.quarters_named(name) for name in row.quarters]
    behind = 0.0 if row.corridor_mm is None else m_from_mm(row.corridor_mm) + WALL_M
    if len(units) == 1:
        return piece_of(row.name, units, yard, behind_m=behind)
    starts_mm(yard, row)  # refuses what does not fit together
    return piece_of(row.name, units, yard, behind_m=behind)


def pieces_that_stand(yard: Yard) -> tuple[Piece, ...]:
    """Everything that stands in a yard, rows as wholes."""
    rows = [row_piece(yard, row) for row in yard.row]
    single = [piece_of(q.name, (q,), yard) for q in yard.quarters if not row_with(yard, q.name)]
    return (*rows, *single)


def piece_to_move(yard: Yard, name: str) -> Piece:
    """The piece of a name that is to be moved.

    Raises:
        Problem: If there is none, or if it is one unit of a row.
    """
    row = row_named(yard, name)
    if row is not None:
        return row_piece(yard, row)
    quarters = yard.quarters_named(name)
    row = row_with(yard, name)
    if row is not None:
        raise Problem(
            f"--move {name!r}: it shares walls in the row {row.name!r} and cannot go alone: "
            f"give --move {row.name!r}, or take it out of the row in the yard file"
        )
    return piece_of(name, (quarters,), yard)


def bearing_of(start: Spot, end: Spot) -> float:
    """Bearing of an edge, clockwise from north, 0 to 360."""
    return degrees(atan2(end[0] - start[0], end[1] - start[1])) % 360


def reach_m(piece: Piece) -> float:
    """Half the diagonal of its outside [m]."""
    return hypot(*piece.half_m)
