"""Room round a perch: to the walls, the roof and the other fittings.

Millimetres in the frame of the quarters. A bird stands square to its perch: its
wings open along the perch and its tail hangs across it. On a block, ring or stump
that stands free it may face any way. An open face is no wall; bars and mesh are.
"""

from math import cos, hypot, inf, radians, sin

from mewswright.build.clear_height import under_beam_mm
from mewswright.ground.lee import is_covered
from mewswright.model.fitting import Bath, Hatch, Perch, Shelf, Side
from mewswright.model.quarters import Quarters, perch_ends_mm

Spot = tuple[float, float]
Segment = tuple[Spot, Spot]
Rectangle = tuple[float, float, float, float]  # x from, y from, x to, y to

TURNS_ANY_WAY = ("block", "ring", "stump")
_CORNER_MM = 1e-6  # two sides that are met within this are met in their corner
_LEVEL = 1e-9  # below this a cosine is the hair of a right angle


def faces_any_way(perch: Perch) -> bool:
    """Whether a bird on the perch may turn to all sides."""
    return perch.form in TURNS_ANY_WAY and perch.free_standing


def is_wall(quarters: Quarters, side: Side) -> bool:
    """Whether a wing can strike that side: anything but an open face."""
    return quarters.faces is not None and quarters.faces.side(side).infill != "open"


def wall_distance_mm(quarters: Quarters, spot: Spot, direction: Spot) -> tuple[float, Side | None]:
    """Level distance from a spot to the wall that lies in a direction [mm].

    Args:
        quarters: Whose walls.
        spot: Start, inside the quarters [mm].
        direction: Unit vector, x and y [-].

    Returns:
        The distance and the side that is met; infinity and None past an open face. In a
        corner of two sides the one that is a wall is met.
    """
    best, met = inf, None
    ends: tuple[tuple[float, float, float, Side, Side], ...] = (
        (spot[0], direction[0], quarters.width_mm, "left", "right"),
        (spot[1], direction[1], quarters.depth_mm, "front", "back"),
    )
    for at, pace, size, low, high in ends:
        if abs(pace) <= _LEVEL:
            continue
        side = high if pace > 0 else low
        distance = ((size if pace > 0 else 0.0) - at) / pace
        if met is not None and abs(distance - best) <= _CORNER_MM:
            met = met if is_wall(quarters, met) else side
        elif distance < best:
            best, met = distance, side
    if met is None or not is_wall(quarters, met):
        return inf, None
    return best, met


def _nearest_wall(quarters: Quarters, spot: Spot) -> tuple[float, Side | None]:
    around: tuple[Spot, ...] = ((1, 0), (-1, 0), (0, 1), (0, -1))
    return min(
        (wall_distance_mm(quarters, spot, way) for way in around), key=lambda found: found[0]
    )


def _both_ways(quarters: Quarters, spot: Spot, turn_deg: float) -> tuple[float, Side | None]:
    dx, dy = cos(radians(turn_deg)), sin(radians(turn_deg))
    return min(
        (wall_distance_mm(quarters, spot, way) for way in ((dx, dy), (-dx, -dy))),
        key=lambda found: found[0],
    )


def wing_room_mm(
    quarters: Quarters, perch: Perch, spot: Spot | None = None
) -> tuple[float, Side | None]:
    """Distance to the nearer wall that an open wing points at [mm], and its side.

    Args:
        quarters: Where the perch is.
        perch: The perch.
        spot: Where on it the bird stands [mm]; its middle if left out.
    """
    at = perch.at_mm if spot is None else spot
    if faces_any_way(perch):
        return _nearest_wall(quarters, at)
    return _both_ways(quarters, at, perch.turn_deg)


def tail_room_mm(quarters: Quarters, perch: Perch) -> tuple[float, Side | None]:
    """Distance square to the perch to the nearer wall [mm], and its side."""
    if faces_any_way(perch):
        return _nearest_wall(quarters, perch.at_mm)
    return _both_ways(quarters, perch.at_mm, perch.turn_deg + 90)


def end_room_mm(quarters: Quarters, perch: Perch) -> float:
    """Least wing room over both ends of a perch [mm]."""
    return min(wing_room_mm(quarters, perch, end)[0] for end in perch_ends_mm(perch))


def has_top(quarters: Quarters, y_mm: float) -> bool:
    """Whether roof, mesh, net or bars close the top over that place."""
    if not quarters.has_roof or quarters.roof is None:
        return False
    return is_covered(quarters, y_mm) or quarters.roof.open_infill != "open"


def roof_room_mm(quarters: Quarters, perch: Perch) -> float:
    """Clear height above the middle of a perch [mm]; infinity under the open sky.

    A ridge beam over any part of it counts, for a bird may stand there.
    """
    y_mm = perch.at_mm[1]
    if quarters.kind == "pitch" or not has_top(quarters, y_mm):
        return inf
    _, near_mm, _, far_mm = perch_plan(perch)
    over_mm = min(quarters.ceiling_mm(y_mm), under_beam_mm(quarters, near_mm, far_mm))
    return over_mm - perch.height_mm


def half_width_mm(perch: Perch) -> float:
    """Half of what a perch measures across [mm]: its width where it is flat."""
    flat = perch.form in ("flat", "shelf")
    return ((perch.width_mm if flat else perch.diameter_mm) or 0) / 2


def spot_to_segment_mm(spot: Spot, segment: Segment) -> tuple[float, float]:
    """Distance from a spot to a segment, and where on it the nearest point lies, 0 to 1."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    length2 = dx * dx + dy * dy
    share = 0.0
    if length2 > 0:
        share = min(1.0, max(0.0, ((spot[0] - ax) * dx + (spot[1] - ay) * dy) / length2))
    return hypot(spot[0] - ax - share * dx, spot[1] - ay - share * dy), share


def segments_cross(one: Segment, other: Segment) -> bool:
    """Whether two segments cross in plan."""

    def turn(a: Spot, b: Spot, c: Spot) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def segment_gap_mm(one: Segment, other: Segment) -> float:
    """Least distance in plan between two segments [mm]."""
    if segments_cross(one, other):
        return 0.0
    return min(
        *(spot_to_segment_mm(end, other)[0] for end in one),
        *(spot_to_segment_mm(end, one)[0] for end in other),
    )


def segment_to_rectangle_mm(segment: Segment, rectangle: Rectangle) -> float:
    """Least distance in plan between a segment and a rectangle [mm]; 0 where they meet."""
    x0, y0, x1, y1 = rectangle
    if any(x0 <= x <= x1 and y0 <= y <= y1 for x, y in segment):
        return 0.0
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return min(segment_gap_mm(segment, (corners[i], corners[(i + 1) % 4])) for i in range(4))


def perch_gap_mm(one: Perch, other: Perch) -> float:
    """Clear distance in plan between two perches [mm]; 0 or less where they overlap."""
    between = segment_gap_mm(perch_ends_mm(one), perch_ends_mm(other))
    return between - half_width_mm(one) - half_width_mm(other)


def perch_plan(perch: Perch) -> Rectangle:
    """Rectangle round a perch in plan [mm]."""
    half = half_width_mm(perch)
    xs, ys = zip(*perch_ends_mm(perch), strict=True)
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


def bath_plan(bath: Bath) -> Rectangle:
    """Outline of a bath in plan [mm]; a round one by the square round it."""
    (x, y), (dx, dy) = bath.at_mm, bath.size_mm
    return x - dx / 2, y - dy / 2, x + dx / 2, y + dy / 2


def shelf_plan(shelf: Shelf) -> Rectangle:
    """Outline of a shelf or nest box in plan [mm]."""
    x, y = shelf.at_mm
    dx, dy = shelf.length_mm / 2, shelf.width_mm / 2
    return x - dx, y - dy, x + dx, y + dy


def ledge_plan(quarters: Quarters, hatch: Hatch) -> Rectangle | None:
    """Outline of a hatch's ledge in plan [mm]; None without a ledge."""
    if hatch.ledge_mm <= 0:
        return None
    low, high = hatch.at_mm - hatch.width_mm / 2, hatch.at_mm + hatch.width_mm / 2
    if hatch.face == "front":
        return low, 0.0, high, hatch.ledge_mm
    if hatch.face == "back":
        return low, quarters.depth_mm - hatch.ledge_mm, high, quarters.depth_mm
    if hatch.face == "left":
        return 0.0, low, hatch.ledge_mm, high
    return quarters.width_mm - hatch.ledge_mm, low, quarters.width_mm, high


def rectangle_to_perch_mm(rectangle: Rectangle, perch: Perch) -> float:
    """Clear distance in plan between a perch and a rectangle [mm]."""
    return segment_to_rectangle_mm(perch_ends_mm(perch), rectangle) - half_width_mm(perch)


__all__ = [
    "bath_plan", "end_room_mm", "faces_any_way", "half_width_mm", "has_top", "is_covered",
    "is_wall", "ledge_plan", "perch_gap_mm", "perch_plan", "rectangle_to_perch_mm", "roof_room_mm",
    "segment_gap_mm", "segments_cross", "shelf_plan", "spot_to_segment_mm", "tail_room_mm",
    "wall_distance_mm", "wing_room_mm",
]  # fmt: skip
