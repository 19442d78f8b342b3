"""Footings beside sleepers, pads and slab: posts in concrete, legs, edge boards and fill.

Millimetres in the quarters' own frame. A short post stands in each hole on gravel, concrete
round it, and the sole plate lies on its top: the walls stay panels of their own.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin, sqrt

from mewswright.build.ground_line import GroundLine, Spot
from mewswright.build.parts import Panel, Part, Stick
from mewswright.build.pieces import Piece
from mewswright.build.shell import Shell, breadth_depth_mm
from mewswright.build.tube import tube_of
from mewswright.build.walls import WallFrame, evenly_mm, lengths_mm
from mewswright.handbook.holding import holding_figure
from mewswright.model.problem import Problem

STUBS_MM = 1800.0  # judgement: short posts under a sole plate at most so far apart, as pads
NEAREST_MM = 450.0  # judgement: nearer supports are one
INTO_GROUND_MM = 50.0  # judgement: edge boards reach so far into the ground
SHORT_BOARD_MM = 300.0  # judgement: no shorter edge board is cut
IN_GROUND = "treated for timber in the ground (use class 4); sawn ends up, not in the hole"
FILL = "stone under the floor"  # lies on the ground by itself
_ARC = 4  # sides of a quarter of a hole as it is drawn


@dataclass(frozen=True)
class Hole:
    """A hole with a short post in it [mm]; `embed_mm` of the post stand in concrete."""

    across_mm: float
    deep_mm: float
    gravel_mm: float
    post_mm: tuple[float, float]

    @property
    def embed_mm(self) -> float:
        """Depth of the concrete round the post."""
        return self.deep_mm - self.gravel_mm

    @property
    def concrete_m3(self) -> float:
        """Concrete of one hole, less the post [m3]."""
        across = pi / 4 * self.across_mm**2 - self.post_mm[0] * self.post_mm[1]
        return across * self.embed_mm / 1e9

    @property
    def gravel_m3(self) -> float:
        """Gravel of one hole [m3]."""
        return pi / 4 * self.across_mm**2 * self.gravel_mm / 1e9

    @property
    def as_anchor_mm(self) -> tuple[float, float]:
        """Across and deep of a plain hole with as much concrete: what holds by its weight."""
        return self.across_mm, 4e9 * self.concrete_m3 / (pi * self.across_mm**2)


def hole_of(shell: Shell) -> Hole:
    """Give the holes of a unit on posts in concrete; the handbook's usual ones, if not keyed."""
    frame = shell.quarters.frame
    usual = holding_figure("hole_diameter_mm").value, holding_figure("hole_depth_mm").value
    across, deep = frame.hole_mm or usual
    return Hole(across, deep, frame.gravel_mm, breadth_depth_mm(frame.foot_post or frame.post))


def support_places(
    walls: Iterable[WallFrame],
    nearest_mm: float,
    apart_mm: float,
    out_mm: float,
    inset_mm: float = 0.0,
) -> list[Spot]:
    """Places under the sole plates that are held up: each post, and along the plates between.

    Args:
        walls: The walls.
        nearest_mm: Places nearer than this both ways are one.
        apart_mm: Places under a wall without posts, at most so far apart.
        out_mm: How far outside the clear line.
        inset_mm: How far the outermost places under a wall without posts stand in from its
            ends.
    """
    places: list[Spot] = []
    for frame in walls:
        wall = frame.wall
        start, end = wall.ends_mm
        middles = [u.middle_mm for u in frame.uprights if u.is_post]
        middles = middles or evenly_mm(start + inset_mm, end - inset_mm, apart_mm)
        middles += _beside_cuts_mm(frame)
        for s in middles:
            x, y, _ = wall.at(s, out_mm, 0)
            if all(max(abs(x - p[0]), abs(y - p[1])) >= nearest_mm for p in places):
                places.append((x, y))
    return places


def _beside_cuts_mm(frame: WallFrame) -> list[float]:
    """Middles of the jambs at which a sole plate ends: each end is held up."""
    jamb = breadth_depth_mm(frame.wall.shell.quarters.frame.stud)[0]
    ends = [(cut.from_mm - jamb / 2, cut.to_mm + jamb / 2) for cut in frame.sole_cuts]
    return [middle for pair in ends for middle in pair]


def stub_places(shell: Shell, walls: Iterable[WallFrame]) -> list[Spot]:
    """Middles of the short posts of a unit on posts in concrete."""
    nearest = max(NEAREST_MM, hole_of(shell).across_mm)
    half = hole_of(shell).post_mm[0] / 2
    return support_places(walls, nearest, STUBS_MM, shell.size_mm("sole")[1] / 2, half)


def stands_out_mm(shell: Shell, walls: Iterable[WallFrame], ground: GroundLine) -> float:
    """How far the highest of the short posts in concrete stands out of the ground [mm]."""
    return max(ground.below_mm(*spot) for spot in stub_places(shell, walls))


def footing_count(parts: Iterable[Part]) -> int:
    """Count the places where pads or holes press on the ground; stacked slabs are one."""
    spots: set[tuple[int, int]] = set()
    for part in parts:
        if part.what == "short post in concrete":
            spots |= {(round(s.start_mm[0]), round(s.start_mm[1])) for s in part.sticks}
        if part.material == "paving_slab":
            for panel in part.panels:
                a, b = panel.corners_mm[0], panel.corners_mm[2]
                spots.add((round((a[0] + b[0]) / 2), round((a[1] + b[1]) / 2)))
    return len(spots)


def _upright(shell: Shell, spot: Spot, foot_mm: float) -> Stick:
    frame = shell.quarters.frame
    breadth, depth = breadth_depth_mm(frame.foot_post or frame.post)
    return Stick(
        start_mm=(*spot, foot_mm), end_mm=(*spot, 0.0), breadth_mm=breadth, depth_mm=depth,
        depth_axis=(0.0, 1.0, 0.0),
    )  # fmt: skip


def leg(shell: Shell, spot: Spot, foot_mm: float) -> Piece:
    """Give a leg from a pad up to the sole plate.

    Raises:
        Problem: If it would be of steel tube, whose plates are not set out.
    """
    frame = shell.quarters.frame
    if tube_of(frame.foot_post or frame.post) is not None:
        raise Problem(
            f"{shell.quarters.name!r} would stand on legs of steel tube {frame.post}, whose plates "
            "are not set out: give foot_post a timber section"
        )
    return Piece(
        kind="base", what="leg on a pad", place="under the sole plates",
        material=frame.strength_class, section=frame.foot_post or frame.post,
        length_mm=-foot_mm, sawn=True,
        note="on a damp-proof pad; brace legs to each other both ways",
        stick=_upright(shell, spot, foot_mm),
    )  # fmt: skip


def posts_in_concrete(
    shell: Shell, walls: Sequence[WallFrame], ground: GroundLine
) -> Iterable[Piece]:
    """Short posts, the concrete round them and the gravel under them."""
    frame, hole = shell.quarters.frame, hole_of(shell)
    places = stub_places(shell, walls)
    for spot in places:
        foot = -(ground.below_mm(*spot) + hole.embed_mm)
        yield Piece(
            kind="base", what="short post in concrete", place="under the sole plates",
            material=frame.strength_class, section=frame.foot_post or frame.post,
            length_mm=-foot, sawn=True,
            note=f"{hole.embed_mm:.0f} mm of it in concrete; {IN_GROUND}",
            stick=_upright(shell, spot, foot),
        )  # fmt: skip
    for spot in places:
        top = -ground.below_mm(*spot)
        yield Piece(
            kind="base", what="concrete round a post", place="holes under the sole plates",
            material="concrete", length_mm=hole.embed_mm, width_mm=hole.across_mm,
            amount=hole.concrete_m3, unit="m3",
            note=(
                f"hole {hole.across_mm:.0f} mm across and {hole.deep_mm:.0f} mm deep, less the "
                "post; its top slopes away from the post"
            ),
            panels=_round_a_post(spot, hole, top - hole.embed_mm / 2),
        )  # fmt: skip
    if not hole.gravel_mm:
        return
    for spot in places:
        bottom = -(ground.below_mm(*spot) + hole.deep_mm)
        ring = _circle(spot, hole.across_mm / 2, 4 * _ARC)
        yield Piece(
            kind="base", what="gravel under a post", place="bottom of the holes",
            material="pea_gravel", length_mm=hole.gravel_mm, width_mm=hole.across_mm,
            amount=hole.gravel_m3, unit="m3", note="tamped, so that the foot of the post drains",
            panel=Panel(
                corners_mm=tuple((x, y, bottom + hole.gravel_mm / 2) for x, y in ring),
                thickness_mm=hole.gravel_mm,
            ),
        )  # fmt: skip


def _circle(spot: Spot, radius_mm: float, sides: int) -> list[Spot]:
    """Give a polygon with the area of a circle round a spot."""
    grown = radius_mm * sqrt(2 * pi / (sides * sin(2 * pi / sides)))
    turns = [2 * pi * i / sides for i in range(sides)]
    return [(spot[0] + grown * cos(turn), spot[1] + grown * sin(turn)) for turn in turns]


def _round_a_post(spot: Spot, hole: Hole, z_mm: float) -> tuple[Panel, ...]:
    """Give the concrete as four convex pieces, one on each side of the post."""
    half_b, half_d = hole.post_mm[0] / 2, hole.post_mm[1] / 2
    corner = atan2(half_d, half_b)
    edges = [-corner, corner, pi - corner, pi + corner, 2 * pi - corner]
    arcs = [(b - a) / _ARC for a, b in pairwise(edges)]
    grown = hole.across_mm / 2 * sqrt(2 * pi / sum(_ARC * sin(arc) for arc in arcs))
    away = hypot(half_b, half_d)
    panels = []
    for start, arc in zip(edges, arcs, strict=False):
        outer = [(grown, start + arc * i) for i in range(_ARC + 1)]
        ring = [(away, start), *outer, (away, start + arc * _ARC)]
        panels.append(
            Panel(
                corners_mm=tuple((spot[0] + r * cos(t), spot[1] + r * sin(t), z_mm)
                                 for r, t in ring),
                thickness_mm=hole.embed_mm,
            )
        )  # fmt: skip
    return tuple(panels)


def edge_boards(
    shell: Shell, walls: Sequence[WallFrame], ground: GroundLine, longest_mm: float
) -> Iterable[Piece]:
    """Boards on edge that close the gap under raised sole plates and hold the floor in.

    They stand outside the frame and reach into the ground; front and back run through.
    """
    frame = shell.quarters.frame
    thick, high = breadth_depth_mm(frame.edge_board)
    for one in walls:
        wall = one.wall
        run = shell.width_mm if wall.is_level else shell.depth_mm
        over = shell.wall_mm + (thick if wall.is_level else 0.0)
        out = shell.wall_mm + thick / 2
        # The boards of a lean-to start at the wall that it leans on.
        start, end = 0.0 if shell.leans and not wall.is_level else -over, run + over
        a, b = (wall.at(s, out, 0)[:2] for s in (start, end))
        courses = ground.courses(a, b, high, -INTO_GROUND_MM, SHORT_BOARD_MM)
        for course, first, last in courses:
            from_mm, to_mm = (start + share * (end - start) for share in (first, last))
            joints = [u.middle_mm for u in one.uprights]
            for left, right in lengths_mm(from_mm, to_mm, longest_mm, joints):
                z = -high * (course + 0.5)
                yield Piece(
                    kind="base", what="edge board under the sole plate", place=wall.side,
                    material=frame.strength_class, section=frame.edge_board,
                    length_mm=right - left, sawn=True,
                    note="on edge, outside the short posts; treated for timber in the ground "
                    "(use class 4)",
                    stick=Stick(
                        start_mm=wall.at(left, out, z), end_mm=wall.at(right, out, z),
                        breadth_mm=thick, depth_mm=high, depth_axis=(0.0, 0.0, 1.0),
                    ),
                )  # fmt: skip


def fill_under_floor(shell: Shell, ground: GroundLine, laid_mm: float) -> Iterable[Piece]:
    """Stone between the ground and what the floor is laid of, once the topsoil is off."""
    deep = ground.mean_mm(laid_mm)
    if deep < 1:
        return
    area = shell.width_mm * shell.depth_mm
    yield Piece(
        kind="base", what=FILL, place="inside", material="crushed_stone",
        amount=area * deep / 1e9, unit="m3",
        note=f"{deep:.0f} mm deep on average, compacted in layers; order a fifth more loose",
    )  # fmt: skip
