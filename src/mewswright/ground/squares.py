"""Things on the ground sorted into squares, so that what is near a place is found at once.

Metres. Without it every bird of a large yard would be held against every thing of it.
"""

from collections import defaultdict
from collections.abc import Sequence
from typing import Generic, TypeVar

from mewswright.ground.distances import box_squares
from mewswright.model.place import Point

Thing = TypeVar("Thing")
Box = tuple[Point, Point]  # its south-west and its north-east corner
SIDE_M = 10.0
# A box over more squares than this, such as the shade of a sun on the horizon, is kept apart.
MOST_SQUARES = 4000
ROUNDED_M = 1e-9  # a distance may round to the reach from just beyond it


class Squares(Generic[Thing]):
    """Things by the squares that the boxes round their corners touch."""

    def __init__(self) -> None:
        self._things: list[tuple[Thing, Box]] = []
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        self._wide: list[int] = []

    def add(self, thing: Thing, corners: Sequence[Point], wide_m: float = 0.0) -> None:
        """Enter a thing.

        Args:
            thing: The thing.
            corners: Its corners on the ground.
            wide_m: How far it sticks out round them [m].
        """
        box = _grown(corners, wide_m)
        (west, south), (east, north) = box
        if ((east - west) / SIDE_M + 1) * ((north - south) / SIDE_M + 1) > MOST_SQUARES:
            self._wide.append(len(self._things))
        else:
            for square in box_squares(box, SIDE_M):
                self._cells[square].append(len(self._things))
        self._things.append((thing, box))

    def near(self, spot_m: Point, reach_m: float) -> list[Thing]:
        """Everything whose box comes so near a place, each once, in the order entered.

        Nothing nearer than `reach_m` is missed; by a corner of its box a thing may come
        along that is farther.
        """
        (x0, y0), (x1, y1) = round_it = _grown((spot_m,), reach_m + ROUNDED_M)
        found = set(self._wide)
        if ((x1 - x0) / SIDE_M + 1) * ((y1 - y0) / SIDE_M + 1) > MOST_SQUARES:
            found.update(range(len(self._things)))
        else:
            for square in box_squares(round_it, SIDE_M):
                found.update(self._cells.get(square, ()))
        return [
            thing
            for thing, (low, high) in (self._things[index] for index in sorted(found))
            if low[0] <= x1 and high[0] >= x0 and low[1] <= y1 and high[1] >= y0
        ]


def _grown(corners: Sequence[Point], by_m: float) -> Box:
    """Two corners of the box round some corners, made wider all round."""
    xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
    return (min(xs) - by_m, min(ys) - by_m), (max(xs) + by_m, max(ys) + by_m)
