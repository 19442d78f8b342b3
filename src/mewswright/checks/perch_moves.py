"""Where to move a perch: away from walls, and aside from what lies below it.

Millimetres in the frame of the quarters. Moves away from walls are tried out one after
another, so that a remedy for one wall does not drive the bird into the next.
"""

from collections.abc import Callable
from math import ceil, cos, radians, sin

from mewswright.build import room
from mewswright.checks.finding import TAPE_MM
from mewswright.checks.limits import ABOVE_A_HAIR
from mewswright.model.fitting import Perch, Side
from mewswright.model.quarters import Quarters

Room = Callable[[Quarters, Perch], tuple[float, Side | None]]
OTHER: dict[Side, Side] = {"front": "back", "back": "front", "left": "right", "right": "left"}
TRIES = 8  # two walls on each of two axes, each moved from or built out once


def wall_name(side: Side) -> str:
    """A side as remedies name it; at the front stand bars or mesh."""
    return "front" if side == "front" else f"{side} wall"


def away_from_walls(
    quarters: Quarters, perch: Perch, limit_mm: float, room_mm: Room, turn_deg: float
) -> str:
    """Say how to set a perch so that it has room on every side that counts.

    Args:
        quarters: Where the perch is.
        perch: The perch.
        limit_mm: Distance that is wanted to the walls [mm].
        room_mm: Gives the distance to the nearest wall that counts, and its side.
        turn_deg: Direction that is measured along [deg], 0 = along the front. Of no
            account for a perch on which a bird turns any way.

    Returns:
        A remedy in words; "" where the room is enough.
    """
    moved: dict[Side, int] = {}
    grown: dict[str, int] = {}
    for _ in range(TRIES):
        found_mm, side = room_mm(quarters, perch)
        if side is None or limit_mm - found_mm <= TAPE_MM:
            break
        across = side in ("left", "right")
        pace = 1.0
        if not room.faces_any_way(perch):
            turn = radians(turn_deg)
            pace = abs(cos(turn) if across else sin(turn))
        by_mm = ceil((limit_mm - found_mm) * pace - ABOVE_A_HAIR)
        size_mm = quarters.width_mm if across else quarters.depth_mm
        at_mm = perch.at_mm[0 if across else 1] + (by_mm if side in ("left", "front") else -by_mm)
        if OTHER[side] in moved or not 0 < at_mm < size_mm:
            wanted_mm = 2 * limit_mm * pace
            word = "wider" if across else "deeper"
            grown[word] = ceil(wanted_mm - size_mm - ABOVE_A_HAIR)
            key = "width_mm" if across else "depth_mm"
            quarters = quarters.model_copy(update={key: size_mm + grown[word]})
            at_mm = (size_mm + grown[word]) / 2
            moved.pop(OTHER[side], None)
            moved.pop(side, None)
        else:
            moved[side] = moved.get(side, 0) + by_mm
        spot = (at_mm, perch.at_mm[1]) if across else (perch.at_mm[0], at_mm)
        perch = perch.model_copy(update={"at_mm": spot})
    told = [f"{mm} mm away from the {wall_name(side)}" for side, mm in moved.items()]
    parts = [f"make the room {mm} mm {word} and set it in the middle" for word, mm in grown.items()]
    if told:
        parts.append(f"move it {' and '.join(told)}")
    return ", and ".join(parts)


def aside_mm(
    quarters: Quarters, perch: Perch, under: room.Rectangle, clear_mm: float
) -> tuple[int, Side] | None:
    """Give the shortest straight way to bring a perch clear of a thing below it.

    The perch is taken as the rectangle round it, so a slanted one may go a little farther
    than it must.

    Args:
        quarters: Where both are.
        perch: The perch to move.
        under: Outline of the thing below [mm].
        clear_mm: Distance in plan that is wanted [mm].

    Returns:
        How far [mm] and towards which side; None where no way leaves its middle in the room.
    """
    left, front, right, back = room.perch_plan(perch)
    x0, y0, x1, y1 = under
    ways: tuple[tuple[float, Side], ...] = (
        (right - x0 + clear_mm, "left"),
        (x1 + clear_mm - left, "right"),
        (back - y0 + clear_mm, "front"),
        (y1 + clear_mm - front, "back"),
    )
    x, y = perch.at_mm
    free = {"left": x, "right": quarters.width_mm - x, "front": y, "back": quarters.depth_mm - y}
    whole = [(ceil(by_mm - ABOVE_A_HAIR), side) for by_mm, side in ways]
    fits = [(by, side) for by, side in whole if by < free[side]]
    return min(fits, key=lambda way: (way[0], -free[way[1]]), default=None)
