"""The units that a take-off is of, each where it stands: one alone, or those of a row."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mewswright.build.corridor import Corridor, behind_the_row, corridor_behind
from mewswright.build.frame import framed_walls
from mewswright.build.pieces import Piece
from mewswright.build.row import row_named, shell_in, starts_mm, units_in
from mewswright.build.row_frame import placed
from mewswright.build.walls import WallFrame
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


@dataclass(frozen=True)
class Standing:
    """One unit, or one room of a corridor, where it stands in what is taken off.

    Attributes:
        yard: The yard that it is seen in.
        unit: The unit.
        beside: The units that it stands among, left to right; none: it stands alone.
        index: Which of them it is.
        start_mm: Where its clear width starts.
        corridor: The corridor that it is a room of, if it is one.
    """

    yard: Yard
    unit: Quarters
    beside: tuple[Quarters, ...] = ()
    index: int = 0
    start_mm: float = 0.0
    corridor: Corridor | None = None

    def placed(self, pieces: Iterable[Piece]) -> Iterator[Piece]:
        """Move its pieces to where they stand."""
        if self.beside:
            pieces = placed(pieces, self.start_mm, self.beside, self.index)
        for piece in pieces:
            yield piece if self.corridor is None else behind_the_row(piece, self.corridor)


def standing_with(yard: Yard, quarters: Quarters) -> list[Standing]:
    """A unit; or the units of a row and the rooms of the corridor behind it."""
    row = row_named(yard, quarters.name)
    if row is None:
        return [Standing(yard, quarters)]
    units = units_in(yard, row)
    found = [
        Standing(yard, unit, units, i, start)
        for i, (unit, start) in enumerate(zip(units, starts_mm(yard, row), strict=True))
    ]
    corridor = corridor_behind(yard, row)
    if corridor is None:
        return found
    rooms = corridor.rooms
    starts = starts_mm(corridor.yard, corridor.yard.row[-1]) if len(rooms) > 1 else (0.0,)
    return found + [
        Standing(corridor.yard, room, rooms, i, start, corridor)
        for i, (room, start) in enumerate(zip(rooms, starts, strict=True))
    ]


def shared_walls(yard: Yard, quarters: Quarters) -> list[WallFrame]:
    """Walls between the units of a row, each framed as its owner builds it; none of one unit."""
    found = []
    for one in standing_with(yard, quarters):
        if one.beside and one.corridor is None:
            shell = shell_in(one.yard, one.unit)
            walls = framed_walls(one.yard, shell)
            found += [wall for wall in walls if shell.join(wall.wall.side) is not None]
    return found
