"""What cameras show: a wedge of view with a reach, cut off by what stands in the line.

Metres. The view is level; a camera is taken to tilt far enough down.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, hypot, radians, sin

from mewswright.ground.distances import bearing_deg, turn_between_deg
from mewswright.ground.sight import Blocker, Body, Eye, in_the_way, sees
from mewswright.model.quantity import m_from_mm, mm_from_m
from mewswright.model.quarters import Quarters

# A camera looks from a bracket: the wall that it hangs on is not in its way.
BRACKET_M = 0.3
BEFORE_FRONT_M = 0.3  # where somebody stands who reaches in
BREAST_M = 1.0
SPACING_M = 0.5
FEWEST_SPOTS = 8


@dataclass(frozen=True)
class View:
    """One camera: where it hangs, where it looks, how wide [deg] and how far [m]."""

    at: Eye
    looks_deg: float
    view_deg: float
    range_m: float

    def shows(
        self,
        spot: Eye,
        bodies: Sequence[Body],
        screens: Sequence[Blocker],
        stands_in_m: float = 0.0,
    ) -> bool:
        """Whether a spot is in the wedge, in reach, and behind nothing.

        Args:
            spot: East, north and height [m].
            bodies: Every quarters that may stand in the line.
            screens: What the features make, from `feature_screens`.
            stands_in_m: Last piece of the line in which nothing is in the way [m], for a
                gate that stands in a wall.
        """
        east, north = spot[0] - self.at[0], spot[1] - self.at[1]
        away_m = hypot(east, north)
        if away_m > self.range_m:
            return False
        if away_m <= BRACKET_M + stands_in_m:
            return True
        off_deg = turn_between_deg(bearing_deg(self.at[:2], spot[:2]), self.looks_deg)
        if off_deg > self.view_deg / 2 + 1e-9:
            return False
        turn = radians(self.looks_deg)  # out on its bracket, the wall behind hides what is behind
        start = (
            self.at[0] + BRACKET_M * sin(turn),
            self.at[1] + BRACKET_M * cos(turn),
            self.at[2],
        )
        left = 1 - stands_in_m / away_m
        end = (self.at[0] + east * left, self.at[1] + north * left, spot[2])
        return sees(start, end, bodies, screens)


def front_spots(quarters: Quarters) -> tuple[Eye, ...]:
    """Places at breast height along the outside of a front, evenly spaced."""
    count = max(FEWEST_SPOTS, ceil(m_from_mm(quarters.width_mm) / SPACING_M))
    before_mm = -mm_from_m(BEFORE_FRONT_M)
    spots = (
        quarters.on_ground_m(quarters.width_mm * (i + 0.5) / count, before_mm) for i in range(count)
    )
    return tuple((east, north, BREAST_M) for east, north in spots)


def within_reach(view: View, bodies: Sequence[Body]) -> tuple[Body, ...]:
    """The quarters that may stand in some line of a camera's view."""
    east, north, _ = view.at
    return tuple(
        body
        for body in bodies
        if hypot(body.centre_m[0] - east, body.centre_m[1] - north) <= view.range_m + body.reach_m
    )


def views_of(
    spots: Sequence[Eye],
    views: Sequence[View],
    bodies: Sequence[Sequence[Body]],
    screens: Sequence[Blocker],
    stands_in_m: float = 0.0,
) -> tuple[tuple[int, ...], ...]:
    """For each spot the places in `views` of the cameras that show it.

    Args:
        spots: The spots.
        views: The cameras.
        bodies: For each camera the quarters that may stand in its lines.
        screens: What the features make, from `feature_screens`.
        stands_in_m: As `View.shows` takes it [m].
    """
    found: list[list[int]] = [[] for _ in spots]
    for i, view in enumerate(views):
        # Out on its bracket, no line ends farther off than the bracket is long.
        close, between = in_the_way((view.at,), spots, bodies[i], screens, BRACKET_M)
        for spot, by in zip(spots, found, strict=True):
            if view.shows(spot, close, between, stands_in_m):
                by.append(i)
    return tuple(tuple(by) for by in found)
