"""Sole plates between pads or short posts: a beam under the studs that stand on it.

A wall sheeted with a nailed lining carries itself over the gap; boards and mesh do not. Where
a sole plate is joined, the next piece is taken to go on: joints are laid over a support.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from mewswright.build.actions.combine import ActionKind
from mewswright.build.analysis import BeamLoads, PointLoad, beam
from mewswright.build.base import PAD_MM
from mewswright.build.footings import hole_of
from mewswright.build.frame import framed_walls
from mewswright.build.frame_members import stiffness_kn_m2
from mewswright.build.frame_uprights import Carried
from mewswright.build.lines import Lines, UprightLine
from mewswright.build.lining import braces
from mewswright.build.member_forces import Case, beam_worst
from mewswright.build.member_loads import MemberLoads, MemberResult, rect
from mewswright.build.parts import Part
from mewswright.build.post_load import footing_places
from mewswright.build.row import shell_in
from mewswright.build.shell import Shell
from mewswright.build.strength.member import Member
from mewswright.build.walls import WallFrame
from mewswright.model.quantity import m_from_mm, mm_from_m
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

ON_LINE_MM = 300.0  # a pad in the corner, laid for the other wall, holds this one up too
SAME_M = 0.001
SOLE_BASES = ("pads", "posts_in_concrete")  # on which a sole plate spans from one to the next


def sole_results(
    yard: Yard, quarters: Quarters, lines: Lines, loads: MemberLoads, carried: Carried,
    parts: Sequence[Part],
) -> Iterator[MemberResult]:  # fmt: skip
    """Check the sole plate of each wall that carries the roof and stands on single supports.

    Args:
        yard: The yard.
        quarters: The unit.
        lines: Its uprights.
        loads: For the factors.
        carried: What comes down on each upright.
        parts: Its parts, for their marks.

    Yields:
        One for each wall with studs that bring something down; none on another base.
    """
    frame = quarters.frame
    shell = shell_in(yard, quarters)
    walls = framed_walls(yard, shell)
    places = footing_places(shell, walls)
    if not places:
        return
    seat = PAD_MM if frame.base == "pads" else hole_of(shell).post_mm[0]
    for wall in walls:
        if braces(frame.lining) and wall.wall.face.is_solid:
            continue
        standing = [one for one in lines.uprights if one.side == wall.wall.side]
        supports = _supports_m(shell, wall, places)
        cases = _cases(frame.sole, frame.strength_class, supports, standing, carried)
        if not cases:
            continue
        gap = max(b - a for a, b in pairwise(supports))
        member = Member(
            rect(frame.sole, lies_flat=True), frame.strength_class, mm_from_m(gap), 3,
            top_held_mm=mm_from_m(gap), bottom_held_mm=mm_from_m(gap), bearing_mm=seat,
        )  # fmt: skip
        worst = beam_worst(member, cases, loads.factors, shares_deck=False)
        mark = next((p.mark for p in parts if p.kind == "sole" and wall.wall.side in p.place), "")
        yield MemberResult(
            mark, f"sole plate between {frame.base.replace('_', ' ')}, {wall.wall.side}",
            frame.sole, frame.strength_class, mm_from_m(gap), worst,
        )  # fmt: skip


def _supports_m(
    shell: Shell, wall: WallFrame, places: Sequence[tuple[float, float]]
) -> list[float]:
    """Where a wall is held up, along it [m]."""
    level = wall.wall.is_level
    half = shell.wall_mm / 2
    line = {
        "front": -half, "back": shell.depth_mm + half,
        "left": -half, "right": shell.width_mm + half,
    }[wall.wall.side]  # fmt: skip
    near = [(x, y) if level else (y, x) for x, y in places]
    return sorted({round(m_from_mm(s), 4) for s, out in near if abs(out - line) <= ON_LINE_MM})


def _cases(
    sole: str, strength_class: str, supports: Sequence[float], standing: Sequence[UprightLine],
    carried: Carried,
) -> list[Case]:  # fmt: skip
    """What the uprights between two supports do to the sole plate, by load; none without any.

    An upright past the last support presses on it, for the plate ends there or soon after.
    """
    if len(supports) < 2:
        return []
    start, end = supports[0], supports[-1]
    kinds: dict[str, ActionKind] = {}
    asked: dict[str, list[PointLoad]] = {}
    between = False
    for one in standing:
        at = min(max(one.at_m, start), end) - start
        between |= min(abs(at + start - s) for s in supports) > SAME_M
        for name, down in carried.on(one).items():
            kinds[name] = down.kind
            asked.setdefault(name, []).append(PointLoad(down.kn, at))
    if not between or not asked:
        return []
    solved = beam(
        end - start, [s - start for s in supports],
        stiffness_kn_m2(rect(sole, lies_flat=True), strength_class),
        {name: BeamLoads(points=tuple(points)) for name, points in asked.items()},
        sorted({point.at_m for points in asked.values() for point in points}),
    )  # fmt: skip
    return [Case(kinds[name], name, case) for name, case in solved.items()]
