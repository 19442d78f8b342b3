"""Where in quarters the sun is asked for: perches, baths, the floor and the back wall.

A bird's spot is its breast, 100 mm over the perch; floor and wall are cut into even cells.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from mewswright.ground.light import Spot
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters

BREAST_MM = 100.0  # judgement: middle of a bird over its perch
CELL_MM = 500.0  # floor cells are at most so wide
FLOOR_MM = 50.0
WALL_STEP_MM = 600.0
WALL_GAP_MM = 10.0

Kind = Literal["perch", "bath", "floor", "back_wall"]
Place = tuple[str, Kind, tuple[float, float, float]]


def spots_of(q: Quarters) -> Iterator[Place]:
    """Name, kind and place [mm, in the quarters' own frame] of every spot."""
    for perch in q.perches:
        yield perch.name, "perch", (*perch.at_mm, perch.height_mm + BREAST_MM)
    for bath in q.baths:
        yield bath.name, "bath", (*bath.at_mm, bath.rim_height_mm)
    for x in _middles(q.width_mm, CELL_MM):
        for y in _middles(q.depth_mm, CELL_MM):
            yield f"floor {x:.0f}, {y:.0f}", "floor", (x, y, FLOOR_MM)
    if q.faces is None:
        return
    for x in _middles(q.width_mm, WALL_STEP_MM):
        for z in _middles(q.ceiling_mm(q.depth_mm), WALL_STEP_MM):
            at = (x, q.depth_mm - WALL_GAP_MM, z)
            yield f"back wall {x:.0f}, {z:.0f} up", "back_wall", at


def _middles(size: float, step: float) -> list[float]:
    count = max(1, -int(-size // step))
    marks = [size * n / count for n in range(count + 1)]
    return [(a + b) / 2 for a, b in pairwise(marks)]


def on_ground(q: Quarters, at: tuple[float, float, float]) -> Spot:
    """A place of quarters [mm] on the yard's ground [m]."""
    east, north = q.on_ground_m(at[0], at[1])
    return east, north, m_from_mm(at[2])
