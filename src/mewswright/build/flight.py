"""Flight between perches: the tube that a bird sweeps, and the steps that it can make.

Millimetres in the frame of the quarters. A flight is the straight line between the
places where the feet stand, middle to middle; the wings sweep a round tube about it,
half a span in radius. Walls and the floor are not held against the tube: a bird turns
and lands along them, and the room round each perch is judged for itself.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, hypot, inf, sqrt

from mewswright.build import room
from mewswright.model.fitting import Perch, Shelf, Upright
from mewswright.model.quarters import Quarters, perch_ends_mm

Spot3 = tuple[float, float, float]
ON_A_FOOT = ("block", "stump")  # solid from the floor up to where the bird stands
HAIR_MM = 1e-6  # what floats lose over a room
FLOOR = ""  # name of the floor among the places that a bird climbs from


@dataclass(frozen=True)
class Stick:
    """A straight thing with a thickness: a bar on its side, or a post upright."""

    name: str
    start: Spot3
    end: Spot3
    half_mm: float


@dataclass(frozen=True)
class Slab:
    """An upright box: a shelf or a nest box."""

    name: str
    low: Spot3
    high: Spot3


Thing = Stick | Slab


def foot_spot(perch: Perch) -> Spot3:
    """Where the feet stand on a perch: its middle, at its top [mm]."""
    return perch.at_mm[0], perch.at_mm[1], perch.height_mm


def perch_thing(perch: Perch) -> Stick:
    """A perch as something to fly round.

    A bar hangs with its top where the foot is. A block or stump stands on the floor.
    """
    half = room.half_width_mm(perch)
    x, y = perch.at_mm
    if perch.form in ON_A_FOOT:
        return Stick(perch.name, (x, y, 0.0), (x, y, perch.height_mm), half)
    (ax, ay), (bx, by) = perch_ends_mm(perch)
    return Stick(perch.name, (ax, ay, perch.height_mm), (bx, by, perch.height_mm), half)


def post_thing(quarters: Quarters, post: Upright) -> Stick:
    """A post as something to fly round; without a top of its own it goes up to the roof."""
    x, y = post.at_mm
    top_mm = post.top_mm
    if top_mm is None:
        top_mm = inf if quarters.front_height_mm is None else quarters.ceiling_mm(y)
    top_mm = min(top_mm, 1e6)
    return Stick(post.name, (x, y, 0.0), (x, y, top_mm), post.size_mm / 2)


def shelf_thing(shelf: Shelf) -> Slab:
    """A shelf, or a nest box with its height, as something to fly round."""
    x0, y0, x1, y1 = room.shelf_plan(shelf)
    top_mm = shelf.height_mm + (shelf.box_height_mm or 0)
    return Slab(shelf.name, (x0, y0, shelf.height_mm), (x1, y1, top_mm))


def segment_gap_mm(a: Spot3, b: Spot3, c: Spot3, d: Spot3) -> float:
    """Least distance in space between the segments a-b and c-d [mm].

    Args:
        a: One end of the first [mm].
        b: The other.
        c: One end of the second [mm].
        d: The other.

    Source:
        Closest points of two segments by clamping the common normal; Ericson,
        Real-Time Collision Detection (2005), 5.1.9, from memory.
    """
    ux, uy, uz = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    vx, vy, vz = d[0] - c[0], d[1] - c[1], d[2] - c[2]
    wx, wy, wz = a[0] - c[0], a[1] - c[1], a[2] - c[2]
    uu, vv = ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz
    uv = ux * vx + uy * vy + uz * vz
    uw, vw = ux * wx + uy * wy + uz * wz, vx * wx + vy * wy + vz * wz
    if uu <= 0 and vv <= 0:
        s = t = 0.0
    elif uu <= 0:
        s, t = 0.0, min(1.0, max(0.0, vw / vv))
    elif vv <= 0:
        s, t = min(1.0, max(0.0, -uw / uu)), 0.0
    else:
        level = uu * vv - uv * uv
        s = min(1.0, max(0.0, (uv * vw - uw * vv) / level)) if level > 1e-12 * uu * vv else 0.0
        t = (uv * s + vw) / vv
        if t < 0:
            t, s = 0.0, min(1.0, max(0.0, -uw / uu))
        elif t > 1:
            t, s = 1.0, min(1.0, max(0.0, (uv - uw) / uu))
    dx, dy, dz = wx + s * ux - t * vx, wy + s * uy - t * vy, wz + s * uz - t * vz
    return sqrt(dx * dx + dy * dy + dz * dz)


def segment_to_slab_mm(a: Spot3, b: Spot3, slab: Slab) -> float:
    """Least distance in space between a segment and an upright box [mm], 0 inside it.

    Along the segment the squared distance is a parabola between the places where it
    passes a plane of the box, so the least lies at such a place or at a vertex between.
    """
    stops = {0.0, 1.0}
    for i in range(3):
        pace = b[i] - a[i]
        if pace:
            stops.update(
                share
                for plane in (slab.low[i], slab.high[i])
                if 0 < (share := (plane - a[i]) / pace) < 1
            )
    ends = sorted(stops)
    least = inf
    for start, end in pairwise(ends):
        middle = (start + end) / 2
        square = slope = 0.0  # of share^2 and of share
        for i in range(3):
            pace, at = b[i] - a[i], a[i] + (b[i] - a[i]) * middle
            plane = slab.low[i] if at < slab.low[i] else slab.high[i] if at > slab.high[i] else None
            if plane is not None:
                square += pace * pace
                slope += 2 * pace * (a[i] - plane)
        vertex = -slope / (2 * square) if square > 0 else start
        for share in (start, end, min(max(vertex, start), end)):
            least = min(least, _square_to_slab(a, b, slab, share))
    return sqrt(least)


def _square_to_slab(a: Spot3, b: Spot3, slab: Slab, share: float) -> float:
    total = 0.0
    for i in range(3):
        at = a[i] + (b[i] - a[i]) * share
        over = max(slab.low[i] - at, 0.0, at - slab.high[i])
        total += over * over
    return total


def way_clear_mm(start: Spot3, end: Spot3, thing: Thing) -> float:
    """Clear distance between the line of a flight and a thing [mm]; below 0 inside it."""
    if isinstance(thing, Slab):
        return segment_to_slab_mm(start, end, thing)
    return segment_gap_mm(start, end, thing.start, thing.end) - thing.half_mm


def low_and_high_mm(thing: Thing) -> tuple[float, float]:
    """Lowest and highest place of a thing's core [mm above the floor]."""
    if isinstance(thing, Slab):
        return thing.low[2], thing.high[2]
    return min(thing.start[2], thing.end[2]), max(thing.start[2], thing.end[2])


def shifted(thing: Thing, by: Spot3) -> Thing:
    """A thing moved by so much along x, y and z [mm]."""

    def moved(spot: Spot3) -> Spot3:
        return spot[0] + by[0], spot[1] + by[1], spot[2] + by[2]

    if isinstance(thing, Slab):
        return Slab(thing.name, moved(thing.low), moved(thing.high))
    return Stick(thing.name, moved(thing.start), moved(thing.end), thing.half_mm)


def shift_clear_mm(start: Spot3, end: Spot3, thing: Thing, way: Spot3, clear_mm: float) -> float:
    """How far to move a thing one way, so that a flight passes it by a distance [mm].

    Args:
        start: Start of the flight [mm].
        end: Its end.
        thing: What is nearer to it now.
        way: Direction to move in, a unit vector [-].
        clear_mm: Distance that is wanted [mm].

    Returns:
        The least such move; infinity where it leads along the flight and never clears.
    """
    low, high = 0.0, clear_mm
    while way_clear_mm(start, end, shifted(thing, _times(way, high))) < clear_mm:
        low, high = high, 2 * high
        if high > 1e7:
            return inf
    while high - low > 1e-7:  # the distance to what moves straight off only grows
        middle = (low + high) / 2
        if way_clear_mm(start, end, shifted(thing, _times(way, middle))) < clear_mm:
            low = middle
        else:
            high = middle
    return high


def _times(way: Spot3, by_mm: float) -> Spot3:
    return way[0] * by_mm, way[1] * by_mm, way[2] * by_mm


def things(quarters: Quarters) -> tuple[Thing, ...]:
    """All that a bird in flight could strike inside: perches, posts, shelves, nest boxes."""
    found: list[Thing] = []
    for fitting in quarters.fitting:
        if isinstance(fitting, Perch):
            found.append(perch_thing(fitting))
        elif isinstance(fitting, Upright):
            found.append(post_thing(quarters, fitting))
        elif isinstance(fitting, Shelf):
            found.append(shelf_thing(fitting))
    return tuple(found)


@dataclass(frozen=True)
class Flight:
    """The straight flight between two perches, and the thing that stands nearest to it."""

    start: Perch
    end: Perch
    length_mm: float
    clear_mm: float  # infinity where nothing stands in the room
    nearest: Thing | None

    @property
    def way(self) -> str:
        """The way in words."""
        return f"{self.start.name} to {self.end.name}"


def flight(start: Perch, end: Perch, around: Sequence[Thing]) -> Flight:
    """The flight between two perches, past everything else.

    Args:
        start: Perch that it leaves.
        end: Perch that it comes to.
        around: What stands in the room; the two perches themselves are passed over.
    """
    a, b = foot_spot(start), foot_spot(end)
    clear_mm, nearest = inf, None
    for thing in around:
        if thing.name in (start.name, end.name):
            continue
        gap_mm = way_clear_mm(a, b, thing)
        if nearest is None or (gap_mm, thing.name) < (clear_mm, nearest.name):
            clear_mm, nearest = gap_mm, thing
    return Flight(start, end, distance_mm(a, b), clear_mm, nearest)


def distance_mm(a: Spot3, b: Spot3) -> float:
    """Distance in space [mm]."""
    return sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2)


def climb_deg(rise_mm: float, level_mm: float) -> float:
    """Angle of a climb over level [deg]; 0 for a way down or level, 90 straight up."""
    return degrees(atan2(rise_mm, level_mm)) if rise_mm > 0 else 0.0


def run_up_mm(quarters: Quarters, perch: Perch) -> float:
    """Level way from the farthest corner of the floor to the middle of a perch [mm]."""
    x, y = perch.at_mm
    return hypot(max(x, quarters.width_mm - x), max(y, quarters.depth_mm - y))


@dataclass(frozen=True)
class Stride:
    """What a bird can climb in one go: by wing at an angle, or by a hop.

    `hop_mm` is both how high and how far it hops from edge to edge.
    """

    climb_deg: float
    hop_mm: float


def can_step(start: Perch | None, end: Perch, quarters: Quarters, stride: Stride) -> bool:
    """Whether a bird gets from one perch, or from the floor (None), up to another in one go."""
    if start is None:
        rise_mm, run_mm, gap_mm = end.height_mm, run_up_mm(quarters, end), 0.0
    else:
        rise_mm = end.height_mm - start.height_mm
        run_mm = hypot(end.at_mm[0] - start.at_mm[0], end.at_mm[1] - start.at_mm[1])
        gap_mm = max(0.0, room.perch_gap_mm(start, end))
    if rise_mm <= stride.hop_mm and gap_mm <= stride.hop_mm:
        return True
    return stride.climb_deg > 0 and climb_deg(rise_mm, run_mm) <= stride.climb_deg + 1e-9


def reached(
    quarters: Quarters, stride: Stride, perches: Sequence[Perch] | None = None
) -> Mapping[str, str]:
    """Walk from the floor up: every perch that a bird comes to, and from where.

    Args:
        quarters: The room.
        stride: What the bird can climb in one go.
        perches: Perches in it; those that it has if left out.

    Returns:
        Name of each perch that is reached, to the name of the place before it; `FLOOR`
        for one that is reached from the floor. A perch that is missing is out of reach.
    """
    before: dict[str, str] = {}
    frontier: list[Perch | None] = [None]
    while frontier:
        here = frontier.pop(0)
        for perch in quarters.perches if perches is None else perches:
            if perch.name in before or not can_step(here, perch, quarters, stride):
                continue
            before[perch.name] = FLOOR if here is None else here.name
            frontier.append(perch)
    return before
