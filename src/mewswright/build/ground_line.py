"""The ground under a unit: how far below its finished floor it lies, place by place.

Millimetres in the quarters' own frame (model/quarters.py). The ground is taken as one even
slope. At its highest under the frame it lies as far below the finished floor as the base is
usually high, and `frame.floor_up_mm` more.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians

from mewswright.build.shell import Shell
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

SLEEPER_HIGH_MM = 100.0  # the smaller of the handbook's sleepers
PAD_HIGH_MM = 38.0  # the handbook's paving slab
STUB_UP_MM = 100.0  # judgement: short posts stand so far out of the ground, as sleepers do
USUAL_MM = {
    "sleepers": SLEEPER_HIGH_MM, "pads": PAD_HIGH_MM, "slab": 0.0, "posts_in_concrete": STUB_UP_MM,
}  # fmt: skip
LEVEL_MM = 1.0  # a fall that a spirit level does not show
GRID = 20  # places each way in which a mean is taken
Spot = tuple[float, float]


@dataclass(frozen=True)
class GroundLine:
    """An even slope under a unit.

    Attributes:
        usual_mm: How high the base usually is [mm].
        up_mm: How far it is raised above that [mm].
        back_mm: Fall of the ground over the clear depth [mm]; minus rises.
        right_mm: Fall over the clear width, from the left to the right [mm].
        width_mm: Clear width [mm].
        depth_mm: Clear depth [mm].
        wall_mm: Thickness of the walls [mm].
    """

    usual_mm: float
    up_mm: float
    back_mm: float
    right_mm: float
    width_mm: float
    depth_mm: float
    wall_mm: float

    @property
    def is_plain(self) -> bool:
        """Level ground and a floor that is not raised."""
        return not self.up_mm and self.is_level

    @property
    def is_level(self) -> bool:
        """No fall that a level shows."""
        return max(abs(self.back_mm), abs(self.right_mm)) < LEVEL_MM

    def _fall_mm(self, x_mm: float, y_mm: float) -> float:
        return self.right_mm * x_mm / self.width_mm + self.back_mm * y_mm / self.depth_mm

    @property
    def corners_mm(self) -> tuple[Spot, ...]:
        """Outer corners of the frame: front left, front right, back right, back left."""
        t = self.wall_mm
        w, d = self.width_mm + t, self.depth_mm + t
        return ((-t, -t), (w, -t), (w, d), (-t, d))

    def below_mm(self, x_mm: float, y_mm: float) -> float:
        """How far the ground lies below the finished floor [mm]."""
        highest = min(self._fall_mm(*corner) for corner in self.corners_mm)
        return self.usual_mm + self.up_mm + self._fall_mm(x_mm, y_mm) - highest

    @property
    def deepest_mm(self) -> float:
        """The same at the lowest corner of the frame [mm]."""
        return max(self.below_mm(*corner) for corner in self.corners_mm)

    def deeper_than(self, a: Spot, b: Spot, limit_mm: float) -> tuple[float, float] | None:
        """Stretch of a straight run in which the ground lies deeper than a limit.

        Returns:
            Where it begins and ends as shares of the run from `a` to `b`; None: nowhere.
        """
        at_a, at_b = self.below_mm(*a) - limit_mm, self.below_mm(*b) - limit_mm
        if at_a <= 0 and at_b <= 0:
            return None
        if at_a > 0 and at_b > 0:
            return 0.0, 1.0
        meets = at_a / (at_a - at_b)
        return (0.0, meets) if at_a > 0 else (meets, 1.0)

    def courses(
        self, a: Spot, b: Spot, high_mm: float, spare_mm: float, least_mm: float
    ) -> Iterator[tuple[int, float, float]]:
        """Part the drop under a run into level courses, the first right under the floor.

        Args:
            a: Where the run begins.
            b: Where it ends.
            high_mm: Height of a course [mm].
            spare_mm: Drop that needs no course of its own [mm]; minus: so far into the ground.
            least_mm: Shortest piece that is laid [mm].

        Yields:
            Number of the course from 0, and its start and end as shares of the run.
        """
        long = abs(b[0] - a[0]) + abs(b[1] - a[1])
        course = 0
        while True:
            found = self.deeper_than(a, b, course * high_mm + spare_mm)
            if found is None:
                return
            start, end = found
            if (end - start) * long >= least_mm:
                yield course, start, end
            course += 1

    def mean_mm(self, less_mm: float) -> float:
        """Mean of what of the drop inside exceeds a depth [mm]; 0 where nothing does."""
        total = 0.0
        for i in range(GRID):
            for j in range(GRID):
                x, y = (i + 0.5) / GRID * self.width_mm, (j + 0.5) / GRID * self.depth_mm
                total += max(0.0, self.below_mm(x, y) - less_mm)
        return total / GRID**2

    @property
    def step_mm(self) -> float:
        """Step from the ground up to the floor at the middle of the open front [mm]."""
        return self.below_mm(self.width_mm / 2, -self.wall_mm)

    @property
    def uphill(self) -> tuple[str, ...]:
        """The sides that the slope comes down to."""
        sides = []
        if abs(self.back_mm) >= LEVEL_MM:
            sides.append("front" if self.back_mm > 0 else "back")
        if abs(self.right_mm) >= LEVEL_MM:
            sides.append("left" if self.right_mm > 0 else "right")
        return tuple(sides)


def falls_mm(yard: Yard, quarters: Quarters) -> tuple[float, float]:
    """Fall of the ground under quarters, to the back and to the right [mm].

    The frame's own figures count; where they are blank, the slope of the yard along the
    depth and along the width. Source: geometry.
    """
    frame, slope = quarters.frame, yard.yard.ground_fall_pct / 100
    back, right = frame.ground_fall_back_mm, frame.ground_fall_right_mm
    away = radians(yard.yard.ground_falls_to_deg - quarters.facing_deg)
    if back is None:
        back = quarters.depth_mm * slope * -cos(away)
    if right is None:
        right = quarters.width_mm * slope * cos(away + radians(90))
    return back, right


def ground_line(yard: Yard, shell: Shell) -> GroundLine:
    """Give the ground under a unit."""
    quarters = shell.quarters
    back, right = falls_mm(yard, quarters)
    return GroundLine(
        usual_mm=USUAL_MM[quarters.frame.base],
        up_mm=quarters.frame.floor_up_mm,
        back_mm=back,
        right_mm=right,
        width_mm=shell.width_mm,
        depth_mm=shell.depth_mm,
        wall_mm=shell.wall_mm,
    )
