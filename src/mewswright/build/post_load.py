"""What presses on each pad or short post under the sole plates."""

from collections.abc import Sequence
from math import hypot

from mewswright.build.actions.result import Actions
from mewswright.build.base import pad_places
from mewswright.build.footings import stub_places
from mewswright.build.frame_path import pressed_kn
from mewswright.build.frame_uprights import Carried
from mewswright.build.ground_line import Spot
from mewswright.build.lines import Lines, UprightLine
from mewswright.build.shell import Shell
from mewswright.build.walls import WallFrame
from mewswright.model.quantity import mm_from_m

NEAR_MM = 1.0  # footings as near as that to an upright are taken to be equally near


def footing_places(shell: Shell, walls: Sequence[WallFrame]) -> list[Spot]:
    """Middles of pads or of short posts in concrete; none on another base."""
    kind = shell.quarters.frame.base
    if kind == "pads":
        return pad_places(shell, walls)
    return stub_places(shell, walls) if kind == "posts_in_concrete" else []


def on_footings_kn(
    lines: Lines, carried: Carried, loads: Actions, shell: Shell, places: Sequence[Spot]
) -> list[float]:
    """What presses on each footing, without factors [kN].

    All that comes down an upright goes to the footing next to it, with its length of wall;
    where two are equally near, the whole of it to each, which is safe.

    Args:
        lines: The uprights.
        carried: What the beams bring down on each.
        loads: For the weight of the walls.
        shell: For where the walls are.
        places: Middles of the footings.
    """
    wall_kn_m = loads.dead.walls_high_kn / (2 * (loads.roof_width_m + loads.roof_depth_m))
    total = [0.0] * len(places)
    for one in lines.uprights:
        if one.side == "inside":
            continue  # a post of the ridge beam has a footing of its own
        x, y = _spot(one, shell)
        away = [hypot(x - px, y - py) for px, py in places]
        load = pressed_kn(carried.on(one), loads.factors) + wall_kn_m * one.width_m
        for i, far in enumerate(away):
            if far <= min(away) + NEAR_MM:
                total[i] += load
    return total


def _spot(one: UprightLine, shell: Shell) -> Spot:
    at, half = mm_from_m(one.at_m), shell.wall_mm / 2
    if one.side in ("front", "back"):
        return at, -half if one.side == "front" else shell.depth_mm + half
    return (-half if one.side == "left" else shell.width_mm + half), at
