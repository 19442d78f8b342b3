"""The shell: the planes and thicknesses that every other part of a unit is set out from.

Millimetres in the quarters' own frame (model/quarters.py). The underside of the rafters
is the ceiling, so the clear heights stay clear; all wall timber stands outside the clear
width and depth. The front and the back wall run through, the side walls stand between.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import atan, cos, degrees, inf, radians, sin, sqrt

from mewswright.build.parts import Place, Stick
from mewswright.model.fitting import Side
from mewswright.model.problem import Problem
from mewswright.model.quarters import Face, Frame, Quarters

# Below this pitch a rafter sits on a tapered packing; above it a birdsmouth is cut.
# Source: engineering practice, memory: a wedge is better than a birdsmouth under 10 deg.
PACKING_UP_TO_DEG = 10.0
DEEPEST_NOTCH = 0.25  # of the rafter's depth; practice, memory


@lru_cache(maxsize=1024)
def breadth_depth_mm(section: str) -> tuple[float, float]:
    """Read a section, "45x95" or "60x60x3", as breadth and depth [mm]."""
    breadth, depth = section.split("x")[:2]
    return float(breadth), float(depth)


def head_mm(frame: Frame) -> tuple[float, float]:
    """How high a head plate stands, and how wide it is across the wall [mm].

    A plate lies flat, its breadth upright, unless the frame says that it stands on edge.
    """
    breadth, depth = breadth_depth_mm(frame.head)
    return (depth, breadth) if frame.head_on_edge else (breadth, depth)


@dataclass(frozen=True)
class Join:
    """A side of a unit at which another unit of its row stands (build/row.py).

    `lent` means that the other builds the wall. `skin_mm` is what boards or battens add to
    its timber, on the side away from whoever builds it.
    """

    side: Side
    other: str
    lent: bool
    skin_mm: float


@dataclass(frozen=True)
class Slope:
    """One slope of the roof: the plane of its rafters' undersides, and where it ends.

    `from_mm` and `to_mm` are its ends behind the front; an end at an eave has none, for
    the overhang goes on in the same plane.
    """

    name: str  # "front slope" or "back slope"; blank where there is but one
    at_mm: float  # a place behind the front
    z_mm: float  # and the height of the plane there
    rise: float  # towards the back per length [-]; negative: falls
    from_mm: float = -inf
    to_mm: float = inf

    @property
    def pitch_deg(self) -> float:
        """Pitch [deg]; positive: falls to the back."""
        return degrees(atan(-self.rise))

    @property
    def cos_pitch(self) -> float:
        """Cosine of the pitch [-]."""
        return 1 / sqrt(1 + self.rise**2)

    @property
    def cut_deg(self) -> float:
        """Angle of a plumb cut from square on a piece that follows the pitch [deg]."""
        return round(abs(self.pitch_deg), 2)

    def ceiling_mm(self, y_mm: float) -> float:
        """Height of its plane [mm]."""
        return self.z_mm + self.rise * (y_mm - self.at_mm)

    @property
    def up(self) -> Place:
        """Unit vector at right angles to it, upwards."""
        return (0.0, -self.rise * self.cos_pitch, self.cos_pitch)

    def ridge_end_mm(self, y_mm: float, over_mm: float) -> float:
        """Where on its plane a layer stands whose lower face meets the plumb line at `y_mm`.

        Args:
            y_mm: Place of the plumb line behind the front [mm].
            over_mm: Height of the layer's lower face, at right angles to the slope [mm].

        Source:
            Geometry: the layer lies off its plane by over sin a, level.
        """
        return y_mm + self.rise * self.cos_pitch * over_mm


@dataclass(frozen=True)
class Shell:
    """Planes and sections of one unit."""

    quarters: Quarters
    width_mm: float
    depth_mm: float
    front_mm: float
    back_mm: float
    wall_mm: float  # thickness of the walls, the deepest of their timbers
    joins: tuple[Join, ...] = ()
    rafters_mm: tuple[float, ...] | None = None  # their middles, where something else sets them

    def join(self, side: Side) -> Join | None:
        """What of its row stands at a side, if anything."""
        return next((join for join in self.joins if join.side == side), None)

    @property
    def leans(self) -> bool:
        """It leans on the back wall of a row, whose boards are its front: a corridor."""
        return self.join("front") is not None

    def edge_mm(self, side: Side) -> float:
        """How far its own timber reaches past the clear line at a side [mm]."""
        join = self.join(side)
        return join.skin_mm if join is not None and join.lent else self.wall_mm

    @property
    def ridge_mm(self) -> tuple[float, float] | None:
        """Where the slopes of a duopitch meet: behind the front, and up [mm]; else None."""
        return self.quarters.ridge_mm

    @cached_property
    def slopes(self) -> tuple[Slope, ...]:
        """The slopes of the roof, front to back: one, or the two of a duopitch."""
        if self.ridge_mm is None:
            return (Slope("", 0.0, self.front_mm, (self.back_mm - self.front_mm) / self.depth_mm),)
        at, high = self.ridge_mm
        back = (self.back_mm - high) / (self.depth_mm - at)
        return (
            Slope("front slope", 0.0, self.front_mm, (high - self.front_mm) / at, to_mm=at),
            Slope("back slope", self.depth_mm, self.back_mm, back, from_mm=at),
        )

    def slope_at(self, y_mm: float) -> Slope:
        """The slope over a place behind the front; at the ridge the front one."""
        return next(slope for slope in self.slopes if y_mm <= slope.to_mm)

    @property
    def steepest(self) -> Slope:
        """The steepest slope; of two alike the front one."""
        return max(self.slopes, key=lambda slope: abs(slope.rise))

    def ceiling_mm(self, y_mm: float) -> float:
        """Height of the underside of the rafters, walls and overhangs included [mm]."""
        return self.slope_at(y_mm).ceiling_mm(y_mm)

    @property
    def outer_width_mm(self) -> float:
        """Width over the frame [mm]."""
        return self.width_mm + 2 * self.wall_mm

    @property
    def outer_depth_mm(self) -> float:
        """Depth over the frame [mm]."""
        return self.depth_mm + 2 * self.wall_mm

    def size_mm(self, part: str) -> tuple[float, float]:
        """Breadth and depth of a part of the frame, by its key in the yard file [mm].

        Of head plates, how high they stand and how wide they are across the wall.
        """
        if part == "head":
            return head_mm(self.quarters.frame)
        return breadth_depth_mm(getattr(self.quarters.frame, part))

    def seat_mm(self, slope: Slope) -> float:
        """Level seat of a rafter's birdsmouth [mm]; 0: it sits on a packing instead."""
        return seat_mm(slope.pitch_deg, self.wall_mm, self.size_mm("rafter")[1])


def seat_mm(pitch_deg: float, wall_mm: float, rafter_depth_mm: float) -> float:
    """Level seat of a birdsmouth over a wall [mm]; 0: the rafter sits on a packing instead.

    Args:
        pitch_deg: Pitch, of either sign [deg].
        wall_mm: Thickness of the wall [mm].
        rafter_depth_mm: Depth of the rafter [mm].

    Source:
        Engineering practice, memory: notch no deeper than a quarter of the rafter.
    """
    if abs(pitch_deg) <= PACKING_UP_TO_DEG:
        return 0.0
    return min(wall_mm, DEEPEST_NOTCH * rafter_depth_mm / sin(radians(abs(pitch_deg))))


def birdsmouth_mm(seat_mm: float, pitch_deg: float) -> tuple[float, float]:
    """Heel and depth of a birdsmouth.

    Args:
        seat_mm: Level seat [mm].
        pitch_deg: Pitch of the rafter [deg].

    Returns:
        Plumb heel, and depth at right angles to the rafter [mm].

    Source:
        Geometry: heel = seat tan a, depth = seat sin a.
    """
    pitch = radians(pitch_deg)
    return seat_mm * sin(pitch) / cos(pitch), seat_mm * sin(pitch)


def diagonal_mm(length_mm: float, width_mm: float) -> float:
    """Diagonal of a rectangle, to set it out square [mm]. Source: Pythagoras."""
    return sqrt(length_mm**2 + width_mm**2)


def rafter_length_mm(run_mm: float, pitch_deg: float, depth_mm: float = 0) -> float:
    """Longest length of a rafter with two plumb cuts [mm].

    Args:
        run_mm: Level length, overhangs included [mm].
        pitch_deg: Pitch [deg].
        depth_mm: Depth of the rafter [mm]; 0 gives the length of one edge.

    Source:
        Geometry: an edge is run / cos a; the cuts set the edges off by depth tan a.
    """
    pitch = radians(abs(pitch_deg))
    return run_mm / cos(pitch) + depth_mm * sin(pitch) / cos(pitch)


def shell_of(quarters: Quarters) -> Shell:
    """Set out the shell of quarters.

    Raises:
        Problem: For a pitch, which has no frame.
    """
    if quarters.kind == "pitch" or quarters.front_height_mm is None:
        raise Problem(
            f"{quarters.name!r} is a pitch, and a pitch has no frame: "
            "ask for a loft, shelter or isolation"
        )
    assert quarters.back_height_mm is not None
    frame = quarters.frame
    wall_mm = max(
        head_mm(frame)[1],
        *(breadth_depth_mm(section)[1] for section in (frame.post, frame.sole, frame.stud)),
    )
    return Shell(
        quarters=quarters,
        width_mm=quarters.width_mm,
        depth_mm=quarters.depth_mm,
        front_mm=quarters.front_height_mm,
        back_mm=quarters.back_height_mm,
        wall_mm=wall_mm,
    )


@dataclass(frozen=True)
class Wall:
    """One wall, with a measure of its own: `s` along it (along x or y), `out` outwards."""

    shell: Shell
    side: Side

    @property
    def face(self) -> Face:
        """What the keeper says of it."""
        assert self.shell.quarters.faces is not None
        return self.shell.quarters.faces.side(self.side)

    @property
    def is_level(self) -> bool:
        """Its head plate is level: front or back."""
        return self.side in ("front", "back")

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Both ends of its frame along it [mm]."""
        if self.is_level:
            shell = self.shell
            return -shell.edge_mm("left"), shell.width_mm + shell.edge_mm("right")
        return 0.0, self.shell.depth_mm

    def at(self, s_mm: float, out_mm: float, z_mm: float) -> Place:
        """Turn the wall's own measure into a place in the quarters."""
        if self.side == "front":
            return (s_mm, -out_mm, z_mm)
        if self.side == "back":
            return (s_mm, self.shell.depth_mm + out_mm, z_mm)
        if self.side == "left":
            return (-out_mm, s_mm, z_mm)
        return (self.shell.width_mm + out_mm, s_mm, z_mm)

    @property
    def across(self) -> Place:
        """Unit vector across the wall."""
        return (0.0, 1.0, 0.0) if self.is_level else (1.0, 0.0, 0.0)

    def head_top_mm(self, s_mm: float) -> float:
        """Top of its head plate [mm]."""
        shell = self.shell
        if not self.is_level:
            return shell.ceiling_mm(s_mm)
        inner = 0.0 if self.side == "front" else shell.depth_mm
        outer = inner + (-shell.wall_mm if self.side == "front" else shell.wall_mm)
        lowest = min(shell.ceiling_mm(inner), shell.ceiling_mm(outer))
        slope = shell.slope_at(inner)
        return lowest + shell.seat_mm(slope) * abs(slope.rise)

    def head_under_mm(self, s_mm: float) -> float:
        """Underside of its head plate, measured plumb [mm]."""
        thickness = self.shell.size_mm("head")[0]
        if not self.is_level:
            thickness /= self.shell.slope_at(s_mm).cos_pitch
        return self.head_top_mm(s_mm) - thickness

    @property
    def parts_mm(self) -> tuple[tuple[float, float], ...]:
        """Its frame parted where its head breaks: under the ridge, if it is a gable [mm]."""
        start, end = self.ends_mm
        ridge = self.shell.ridge_mm
        if self.is_level or ridge is None:
            return ((start, end),)
        return ((start, ridge[0]), (ridge[0], end))

    def lowest_head_mm(self, from_mm: float, to_mm: float) -> float:
        """Lowest underside of its head plate over a stretch: at one of the ends [mm]."""
        return min(self.head_under_mm(from_mm), self.head_under_mm(to_mm))

    def highest_head_mm(self, from_mm: float, to_mm: float) -> float:
        """Highest underside of its head plate over a stretch [mm]."""
        ends = [self.head_under_mm(from_mm), self.head_under_mm(to_mm)]
        ridge = self.shell.ridge_mm
        if not self.is_level and ridge is not None and from_mm < ridge[0] < to_mm:
            ends.append(self.head_under_mm(ridge[0]))
        return max(ends)

    def roof_line_mm(self, s_mm: float) -> float:
        """Height of the ceiling plane at its outer face [mm]: the top of its boarding."""
        shell = self.shell
        if self.side == "front":
            return shell.ceiling_mm(-shell.wall_mm)
        if self.side == "back":
            return shell.ceiling_mm(shell.depth_mm + shell.wall_mm)
        return shell.ceiling_mm(s_mm)

    def upright(self, section: str, middle_mm: float, foot_mm: float, top_mm: float) -> Stick:
        """Place an upright, its inner face on the clear line."""
        breadth, depth = breadth_depth_mm(section)
        return Stick(
            start_mm=self.at(middle_mm, depth / 2, foot_mm),
            end_mm=self.at(middle_mm, depth / 2, top_mm),
            breadth_mm=breadth,
            depth_mm=depth,
            depth_axis=self.across,
        )

    def level(self, section: str, from_mm: float, to_mm: float, under_mm: float) -> Stick:
        """Place a level piece lying flat, its inner face on the clear line."""
        return self._lying(breadth_depth_mm(section), from_mm, to_mm, under_mm)

    def head_plate(self, from_mm: float, to_mm: float, under_mm: float) -> Stick:
        """Place a level head plate, flat or on edge, its inner face on the clear line."""
        return self._lying(head_mm(self.shell.quarters.frame), from_mm, to_mm, under_mm)

    def _lying(
        self, size_mm: tuple[float, float], from_mm: float, to_mm: float, under_mm: float
    ) -> Stick:
        breadth, depth = size_mm
        middle = under_mm + breadth / 2
        return Stick(
            start_mm=self.at(from_mm, depth / 2, middle),
            end_mm=self.at(to_mm, depth / 2, middle),
            breadth_mm=breadth,
            depth_mm=depth,
            depth_axis=self.across,
        )


def walls_of(shell: Shell) -> tuple[Wall, ...]:
    """The walls that the unit builds itself: front, back, left, right."""
    sides: tuple[Side, ...] = ("front", "back", "left", "right")
    lent = [join.side for join in shell.joins if join.lent]
    return tuple(Wall(shell, side) for side in sides if side not in lent)
