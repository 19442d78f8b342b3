"""Whether fittings have room: inside the walls, and none in another's place.

Millimetres in the frame of the quarters.
"""

from math import sqrt

from mewswright.build import flight, room
from mewswright.model.fitting import AnyFitting, Bath, Perch, Shelf, Upright
from mewswright.model.quarters import Quarters


def plan_of(fitting: AnyFitting) -> room.Rectangle | None:
    """Rectangle round a fitting in plan [mm]; None for what hangs in a wall or has no size."""
    if isinstance(fitting, Perch):
        return room.perch_plan(fitting)
    if isinstance(fitting, Bath):
        return room.bath_plan(fitting)
    if isinstance(fitting, Shelf):
        return room.shelf_plan(fitting)
    if isinstance(fitting, Upright):
        (x, y), half = fitting.at_mm, fitting.size_mm / 2
        return x - half, y - half, x + half, y + half
    return None


def past_wall_mm(quarters: Quarters, fitting: AnyFitting) -> float:
    """How far a fitting reaches through a side [mm]; 0 or less inside, open sides too."""
    plan = plan_of(fitting)
    if plan is None:
        return 0.0
    x0, y0, x1, y1 = plan
    return max(-x0, -y0, x1 - quarters.width_mm, y1 - quarters.depth_mm)


def body_of(quarters: Quarters, fitting: AnyFitting) -> flight.Thing | None:
    """A fitting as a body in space; None for what has none here."""
    if isinstance(fitting, Perch):
        return flight.perch_thing(fitting)
    if isinstance(fitting, Upright):
        return flight.post_thing(quarters, fitting)
    if isinstance(fitting, Shelf):
        return flight.shelf_thing(fitting)
    if isinstance(fitting, Bath):
        x0, y0, x1, y1 = room.bath_plan(fitting)
        return flight.Slab(fitting.name, (x0, y0, 0.0), (x1, y1, fitting.rim_height_mm))
    return None


def between_mm(one: flight.Thing, other: flight.Thing) -> float:
    """Clear distance between two bodies in space [mm]; below 0 where they overlap.

    A round bath counts as the square round it, a bar as the round rod through its middle.
    """
    if isinstance(one, flight.Slab) and isinstance(other, flight.Slab):
        apart = [max(one.low[i] - other.high[i], other.low[i] - one.high[i]) for i in range(3)]
        if max(apart) <= 0:
            return max(apart)  # the least way out
        return sqrt(sum(max(way, 0.0) ** 2 for way in apart))
    if isinstance(one, flight.Slab):
        one, other = other, one
    assert isinstance(one, flight.Stick)
    return flight.way_clear_mm(one.start, one.end, other) - one.half_mm
