"""What the yard file says of a unit's bracing, base and anchors, for `stability`."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import sqrt

from mewswright.build.bracing_parts import ridge_anchor_count
from mewswright.build.footings import hole_of, stands_out_mm, stub_places
from mewswright.build.frame import framed_walls
from mewswright.build.ground_line import ground_line
from mewswright.build.holding.bracing import Bracing
from mewswright.build.holding.racking import SheathedWall
from mewswright.build.holding.stability import FrameFacts
from mewswright.build.holding.sway import OpenFrame
from mewswright.build.lining import braces
from mewswright.build.row import shell_in
from mewswright.build.shell import Shell
from mewswright.build.strength.column import kc_both
from mewswright.build.strength.design import design_strengths
from mewswright.build.strength.section import Rect
from mewswright.build.tube import STEEL, tube_of
from mewswright.build.walls import WallFrame, uprights_of
from mewswright.handbook import material, timber_class
from mewswright.handbook.steel import steel_grade
from mewswright.model.footing_keys import AUTO
from mewswright.model.problem import Problem
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

WET, GUST = 3, "short"  # service class of an open front, duration of wind: the safe ends


def frame_facts(
    yard: Yard, quarters: Quarters, nail_n: float | None = None, tested_kn: float | None = None
) -> FrameFacts:
    """Read what braces a unit and what holds it down.

    Args:
        yard: For doors.
        quarters: The unit.
        nail_n: Design lateral strength of one nail of the lining [N]; needed where the
            walls are lined.
        tested_kn: Pull that every ground anchor held in a test on the spot [kN].

    Returns:
        A boarded wall counts where it is lined with sheets: featheredge boards brace
        nothing. The front counts where it is open and knee-braced, and a bay holds two braces.

    Raises:
        Problem: For a pitch, a lining that is no sheet, or one without `nail_n`.
    """
    shell = shell_in(yard, quarters)
    frame = quarters.frame
    bracing: list[Bracing] = []
    walls = framed_walls(yard, shell)
    for wall in walls:
        if wall.wall.face.is_solid and braces(frame.lining):
            bracing.append(_sheathed(shell, wall, nail_n))
        elif wall.wall.side == "front" and not wall.wall.face.is_solid and frame.brace == "knee":
            braced = _knee_braced(shell, wall)
            bracing += [] if braced is None else [braced]
    if frame.anchor == "slab_anchor" and frame.base != "slab":
        raise Problem(
            f"{quarters.name!r}: slab anchors need a slab: set base to slab, or hold it by holes "
            "of concrete"
        )
    roof = quarters.roof
    deck = roof is not None and roof.form != "none" and roof.deck is not None
    # Short posts in concrete are anchors: each hole counts once, by its concrete alone.
    in_concrete = frame.base == "posts_in_concrete"
    return FrameFacts(
        bracing=tuple(bracing),
        deck_nailed=deck and roof is not None and roof.covered_share == 1,
        base=frame.base,
        anchor="concrete_hole" if in_concrete else _named_anchor(frame),
        anchor_count=len(stub_places(shell, walls)) if in_concrete else frame.anchor_count,
        hole_mm=hole_of(shell).as_anchor_mm if in_concrete else frame.hole_mm,
        tested_kn=frame.anchor_tested_kn if tested_kn is None else tested_kn,
        under_ridge=ridge_anchor_count(shell),
        above_m=m_from_mm(stands_out_mm(shell, walls, ground_line(yard, shell)))
        if in_concrete
        else 0.0,
    )


def _named_anchor(frame: Frame) -> str:
    """The anchor that is named; what `anchoring` has not chosen yet is none."""
    return "none" if frame.anchor == AUTO else frame.anchor


def sheets_m(wall: WallFrame, sheet_mm: float) -> tuple[float, ...]:
    """Widths of the sheets that run the full height of a wall, beside its openings [m].

    Args:
        wall: The wall, framed.
        sheet_mm: Width of a whole sheet [mm].
    """
    start, end = wall.wall.ends_mm
    cuts = [start, *(x for hole in wall.openings for x in (hole.from_mm, hole.to_mm)), end]
    widths: list[float] = []
    beside = list(pairwise(cuts))[::2]
    for left, right in (run for one in beside for run in wall.carried(*one)):
        clear = max(0.0, right - left)
        whole = int(clear // sheet_mm)
        widths += [m_from_mm(sheet_mm)] * whole
        if clear - whole * sheet_mm > 1:
            widths.append(m_from_mm(clear - whole * sheet_mm))
    return tuple(widths)


def _sheathed(shell: Shell, wall: WallFrame, nail_n: float | None) -> SheathedWall:
    frame = shell.quarters.frame
    sheet = material(frame.lining)
    if sheet.sheet_width_mm is None or sheet.thickness_mm is None:
        raise Problem(
            f"{shell.quarters.name!r}: the lining {frame.lining!r} is no sheet that braces a "
            "wall: take OSB or plywood, or 'none'"
        )
    if nail_n is None:
        raise Problem(
            f"{shell.quarters.name!r} is lined with {frame.lining}: say what one nail of it holds"
        )
    start, end = wall.wall.ends_mm
    whole = SheathedWall(
        side=wall.wall.side,
        height_m=m_from_mm(max(wall.wall.head_top_mm(start), wall.wall.head_top_mm(end))),
        panels_m=sheets_m(replace(wall, joints_mm=()), sheet.sheet_width_mm),
        nail_n=nail_n,
        spacing_mm=frame.lining_nail_mm,
        thickness_mm=sheet.thickness_mm,
        stud_clear_mm=frame.stud_spacing_mm - shell.size_mm("stud")[0],
    )
    split = replace(whole, panels_m=sheets_m(wall, sheet.sheet_width_mm))
    # Sheets as they fall may do better in halves than whole: that is not counted.
    return min(split, whole, key=lambda one: one.capacity_kn)


def frames_in(wall: WallFrame, leg_mm: float) -> int:
    """Count the frames of two posts, a head plate and two knee braces in an open front.

    No post is counted for two frames, and none twice where two panels meet: the pair there
    stands where one post would, and each of it holds its own panel's plate, which ends at the
    joint. A split front counts no more frames than the same front in one panel.

    Args:
        wall: The wall, framed.
        leg_mm: Level and upright leg of the braces [mm].

    Returns:
        The frames whose bay is wide enough for two braces.
    """
    whole = [u.middle_mm for u in uprights_of(wall.wall, wall.openings) if u.is_post]
    posts = [u.middle_mm for u in wall.uprights if u.is_post]
    panels = [[at for at in posts if low < at < high] for low, high in wall.spans]
    return min(_frames(whole, 2 * leg_mm), sum(_frames(own, 2 * leg_mm) for own in panels))


def _frames(middles_mm: Sequence[float], least_mm: float) -> int:
    """Count neighbours that stand far enough apart, no post in two of them."""
    count, free = 0, True
    for left, right in pairwise(middles_mm):
        free = not (free and right - left >= least_mm)
        count += not free
    return count


def _knee_braced(shell: Shell, wall: WallFrame) -> OpenFrame | None:
    """Give the frame of an open front; None where no panel has a bay that holds two braces.

    Its bay is the widest of the front in one panel, though a pair set anew may halve it.
    """
    frame = shell.quarters.frame
    frames = frames_in(wall, frame.brace_leg_mm)
    if not frames:
        return None
    posts = [u for u in uprights_of(wall.wall, wall.openings) if u.is_post]
    breadth, depth = shell.size_mm("post")
    flat, level = shell.size_mm("head")
    brace_b, brace_d = shell.size_mm("nogging")
    timber = timber_class(frame.strength_class)
    high_mm = wall.wall.head_top_mm(wall.wall.ends_mm[0]) - flat / 2
    if not frame.brace_leg_mm < high_mm:
        raise Problem(
            f"{shell.quarters.name!r}: knee braces of {frame.brace_leg_mm:g} mm do not fit under "
            f"{high_mm:.0f} mm: shorten brace_leg_mm"
        )
    start, _ = wall.wall.ends_mm
    along_wall = Rect(depth, breadth)  # the post bends along the wall
    of_post = design_strengths(frame.strength_class, along_wall, WET, GUST)
    post_holds = of_post.fm_y * along_wall.modulus_y_mm3 / 1e6
    brace = Rect(brace_b, brace_d)
    long_mm = frame.brace_leg_mm * sqrt(2)
    kc = min(kc_both(brace, timber, long_mm, long_mm))
    of_brace = design_strengths(frame.strength_class, brace, WET, GUST)
    post_i = depth * breadth**3 / 12  # it bends along the wall
    tube = tube_of(frame.post)
    if tube is not None:  # as stiff as so much timber
        post_i = tube.inertia_mm4(across=False) * steel_grade(STEEL).e_n_mm2 / timber.e_mean
        grade = steel_grade(STEEL)
        post_holds = tube.modulus_mm3() * grade.fy_n_mm2 / grade.gamma_m0 / 1e6
    return OpenFrame(
        side="front",
        kind="knee",
        height_m=m_from_mm(wall.wall.head_top_mm(start) - flat / 2),
        bay_m=m_from_mm(max(b.middle_mm - a.middle_mm for a, b in pairwise(posts))),
        posts=2 * frames,
        e_n_mm2=timber.e_mean,
        post_i_mm4=post_i,
        beam_i_mm4=level * flat**3 / 12,  # the plate lies flat
        brace_leg_m=m_from_mm(frame.brace_leg_mm),
        brace_area_mm2=brace_b * brace_d,
        has_doors=any(hole.is_door for hole in wall.openings),
        post_holds_knm=post_holds,
        brace_holds_kn=kc * of_brace.fc0 * brace.area_mm2 / 1e3,
    )
