"""Things on the ground sorted into squares, so that what is near a place is found at once.

Metres. Without it every bird of a large yard would be held against every thing of it.
"""

from collections import defaultdict
from collections.abc import Sequence
from typing import Generic, TypeVar

from mewswright.ground.distances import box_squares
from mewswright.model.place import Point

Thing = TypeVar("Thing")
SIDE_M = 10.0


class Squares(Generic[Thing]):
    """Things by the squares that the boxes round their corners touch."""

    def __init__(self) -> None:
        self._things: list[Thing] = []
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def add(self, thing: Thing, corners: Sequence[Point], wide_m: float = 0.0) -> None:
        """Enter a thing.

        Args:
            thing: The thing.
            corners: Its corners on the ground.
            wide_m: How far it sticks out round them [m].
        """
        for square in box_squares(_grown(corners, wide_m), SIDE_M):
            self._cells[square].append(len(self._things))
        self._things.append(thing)

    def near(self, spot_m: Point, reach_m: float) -> list[Thing]:
        """Everything that may lie so near a place, each once, in the order entered.

        Nothing nearer than `reach_m` is missed; what is farther may come along.
        """
        squares = box_squares(_grown((spot_m,), reach_m), SIDE_M)
        found = {index for square in squares for index in self._cells.get(square, ())}
        return [self._things[index] for index in sorted(found)]


def _grown(corners: Sequence[Point], by_m: float) -> tuple[Point, Point]:
    """Two corners of the box round some corners, made wider all round."""
    xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
    return (min(xs) - by_m, min(ys) - by_m), (max(xs) + by_m, max(ys) + by_m)
