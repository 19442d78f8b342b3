"""Short posts in concrete and legs on pads under load, and what their feet are taken for.

A wall's own posts are held level at head and foot and are pinned at both: no moment goes into
the ground through them. A short post under the sole plate is a cantilever out of its concrete,
with a hinge at its head; it takes its share of the wind and of the weight. A leg stands loose on
its pad, a hinge at both ends, so that nothing here keeps legs from toppling: that is refused.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mewswright.build.actions.result import Actions
from mewswright.build.base import PADS_HIGH, has_legs
from mewswright.build.footings import hole_of, stands_out_mm, stub_places
from mewswright.build.frame import framed_walls
from mewswright.build.frame_path import bearing_of
from mewswright.build.frame_uprights import Carried
from mewswright.build.ground_line import GroundLine, Spot, ground_line
from mewswright.build.ground_words import STANDS_OUT_MM
from mewswright.build.holding.ground import bearing_check, under_post_m2
from mewswright.build.holding.standing import Standing, WindCase
from mewswright.build.lines import Lines
from mewswright.build.member_forces import worst_of
from mewswright.build.member_loads import MemberResult
from mewswright.build.parts import Part
from mewswright.build.post_load import footing_places, on_footings_kn
from mewswright.build.row import shell_in
from mewswright.build.shell import Shell
from mewswright.build.strength.check import Check
from mewswright.build.strength.member import Forces, Member, Use, member_checks
from mewswright.build.strength.section import Rect
from mewswright.build.walls import WallFrame
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

STUB = "short post in concrete"
FREE_HEAD = 2.0  # buckling length of a cantilever over its length; Euler


@dataclass(frozen=True)
class Stub:
    """A short post: where it stands, and how far above its firm hold its head is [mm]."""

    spot: Spot
    arm_mm: float


def stubs(shell: Shell, walls: Sequence[WallFrame], ground: GroundLine) -> tuple[Stub, ...]:
    """Give the short posts in concrete; concrete holds one from its own depth under its top."""
    firm = max(hole_of(shell).post_mm)  # judgement: timber yields at the edge of the concrete
    return tuple(Stub(spot, ground.below_mm(*spot) + firm) for spot in stub_places(shell, walls))


def stub_push_kn(own_mm: float, arms_mm: Sequence[float], push_kn: float) -> float:
    """Level push at the head of one short post of many, the unkind way [kN].

    Args:
        own_mm: Its arm [mm].
        arms_mm: The arms of all of them [mm].
        push_kn: Push on all of them together [kN].

    Returns:
        The greater of an even share (the ground yields) and its share by stiffness, 1 / L3.

    Source:
        A cantilever under a push at its head sways P L3 / 3 EI.
    """
    stiff = own_mm**-3 / sum(arm**-3 for arm in arms_mm)
    return push_kn * max(stiff, 1 / len(arms_mm))


def footing_results(
    yard: Yard, quarters: Quarters, loads: Actions, wind: Sequence[WindCase], lines: Lines,
    carried: Carried, parts: Sequence[Part],
) -> Iterator[MemberResult]:  # fmt: skip
    """Check the short posts in concrete of a unit: buckling, bending by wind, and both.

    Args:
        yard: The yard.
        quarters: The unit.
        loads: What acts on it.
        wind: Wind from each side on the whole unit.
        lines: Its lines of force.
        carried: What the beams bring down on each upright.
        parts: Its parts, for their marks.

    Yields:
        The post that is used most; nothing on another base.
    """
    frame = quarters.frame
    if frame.base != "posts_in_concrete":
        return
    shell = shell_in(yard, quarters)
    walls = framed_walls(yard, shell)
    found = stubs(shell, walls, ground_line(yard, shell))
    arms = [stub.arm_mm for stub in found]
    using = loads.factors
    spots = [stub.spot for stub in found]
    down_kn = max(using.gamma_g, using.gamma_q) * max(
        on_footings_kn(lines, carried, loads, shell, spots)
    )
    checked: list[tuple[Check, str]] = []
    for stub in found:
        held = FREE_HEAD * stub.arm_mm
        member = Member(
            Rect(*hole_of(shell).post_mm), frame.strength_class, stub.arm_mm, 3,
            buckling_y_mm=held, buckling_z_mm=held, cantilever=True,
        )  # fmt: skip
        still = Forces(axial_kn=-down_kn, load_on_top=False)
        medium = Use(using.duration["snow"])
        checked += [(c, "STR: what comes down") for c in member_checks(member, still, medium)]
        for case in wind:
            push = using.gamma_q * stub_push_kn(stub.arm_mm, arms, case.push_kn)
            moment = push * m_from_mm(stub.arm_mm)
            deep = case.along == "depth"
            base = m_from_mm(shell.outer_depth_mm if deep else shell.outer_width_mm)
            couple = using.gamma_q * case.push_kn * case.push_height_m / base / leeward(found, deep)
            forces = Forces(
                moment_y_kn_m=moment if deep else 0.0, shear_kn=push if deep else 0.0,
                moment_z_kn_m=0.0 if deep else moment, shear_z_kn=0.0 if deep else push,
                axial_kn=-(down_kn + couple), load_on_top=False,
            )  # fmt: skip
            use = Use(using.duration["wind"])
            name = f"STR: what comes down + {case.name}"
            checked += [(check, name) for check in member_checks(member, forces, use)]
    mark = next((part.mark for part in parts if part.what == STUB), "")
    yield MemberResult(
        mark, STUB, frame.foot_post or frame.post, frame.strength_class,
        max(arms), worst_of(checked),
    )  # fmt: skip


def leeward(found: Sequence[Stub], deep: bool) -> int:
    """Count the short posts of the side with fewest, front and back or left and right."""
    k = 1 if deep else 0
    along = [round(stub.spot[k]) for stub in found]
    return min(along.count(min(along)), along.count(max(along)))


def pressure_of(
    yard: Yard, quarters: Quarters, loads: Actions, lines: Lines, carried: Carried
) -> Standing:
    """Pressure on the ground: under one post, or under the pad or hole that presses most.

    A pad or hole under a wall of studs carries all that comes down between its neighbours.
    Arguments as `frame_path.bearing_of`.
    """
    alone = bearing_of(yard, quarters, loads, lines, carried)
    shell = shell_in(yard, quarters)
    places = footing_places(shell, framed_walls(yard, shell))
    if not places or yard.loads is None:
        return alone
    frame = quarters.frame
    area = under_post_m2(frame.base, hole_of(shell).post_mm, hole_of(shell).across_mm)
    most = max(on_footings_kn(lines, carried, loads, shell, places))
    what = "pads under the walls" if frame.base == "pads" else "short posts under the walls"
    footing = bearing_check(what, most, area, yard.loads.soil_bearing_kn_m2)
    return max((alone, footing), key=lambda check: check.demand)


def footing_refusals(yard: Yard, quarters: Quarters) -> tuple[str, ...]:
    """Say which footings are not reckoned here, and why an engineer must decide."""
    shell = shell_in(yard, quarters)
    base = quarters.frame.base
    if base not in ("pads", "posts_in_concrete"):
        return ()
    ground, walls = ground_line(yard, shell), framed_walls(yard, shell)
    if base == "posts_in_concrete":
        out = stands_out_mm(shell, walls, ground)
        if out <= STANDS_OUT_MM:
            return ()
        return (
            f"short posts that stand up to {out:.0f} mm out of the ground, over "
            f"{STANDS_OUT_MM:.0f} mm (our judgement): their timber is checked, but the sway of "
            "the unit on them is not; brace them both ways or cut a terrace, and let an engineer "
            "decide",
        )
    if not has_legs(shell, walls, ground):
        return ()
    return (
        f"legs on pads, where more than {PADS_HIGH} slabs would lie on each other: a leg stands "
        "loose at head and foot, and the braces that must hold it are not set out; take "
        "posts_in_concrete or cut a terrace, or let an engineer decide",
    )


def footing_assumptions(quarters: Quarters, walls: Sequence[WallFrame]) -> Iterator[str]:
    """Say what feet and joints were taken for."""
    yield "posts and studs are pinned at sole and head plate; no foot is taken as fixed"
    if quarters.frame.base == "posts_in_concrete":
        yield (
            "a short post is a cantilever out of its concrete, hinged under the sole plate, and "
            "takes the greater of an even share of the wind and its share by stiffness; the hole "
            "holds by the soil beside it, pushed at the height of the highest short post"
        )
    if quarters.frame.base in ("pads", "posts_in_concrete"):
        yield (
            "between pads or short posts a wall sheeted with a nailed lining carries itself over "
            "the gap; without one its sole plate is checked as a beam under its studs, whole over "
            "its supports"
        )
    if any(wall.joints_mm for wall in walls):
        yield (
            "head plates end at the joints of panels and sag each by itself; where two posts are "
            "bolted together they count as one stand, and bend each by itself"
        )
