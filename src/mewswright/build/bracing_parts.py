"""What braces a unit and holds it down, as parts to buy: lining, knee braces, anchors."""

from collections.abc import Iterable
from itertools import pairwise
from math import sqrt

from mewswright.build.frame import framed_walls
from mewswright.build.holding.ground import hole_volume_m3
from mewswright.build.holding.means import means
from mewswright.build.lining import NO_SHEET, lining
from mewswright.build.parts import Stick
from mewswright.build.pieces import Piece
from mewswright.build.ridge import inner_posts_mm
from mewswright.build.shell import Shell, Wall
from mewswright.build.solids import KNEE
from mewswright.build.walls import WallFrame
from mewswright.model.footing_keys import AUTO
from mewswright.model.quarters import Frame
from mewswright.model.yard import Yard

NO_ANCHOR = ("none", AUTO)  # what is to be chosen is named before, by `anchoring`


def bracing_pieces(yard: Yard, shell: Shell) -> Iterable[Piece]:
    """Lining, its nails, knee braces and anchors, as the frame has them.

    Lining is in the GLB and on no sheet yet; nails and anchors are counted only.

    Args:
        yard: For doors.
        shell: The unit.
    """
    frame = shell.quarters.frame
    walls = framed_walls(yard, shell)
    if frame.lining != NO_SHEET:
        yield from lining(walls, frame.lining, frame.lining_nail_mm)
    if frame.brace == "knee":
        for wall in walls:
            if wall.wall.side == "front" and not wall.wall.face.is_solid:
                yield from _knees(shell, wall)
    yield from wall_anchors(frame)


def wall_anchors(frame: Frame, where: str = "") -> Iterable[Piece]:
    """The anchors round the walls of a unit; none before they are named.

    Args:
        frame: Its frame.
        where: Whose they are, where that is not plain.
    """
    if frame.anchor not in NO_ANCHOR and frame.anchor_count:
        place = f"sole plates {where}, the corners first".replace(" ,", ",")
        yield from _anchors(frame, frame.anchor_count, place)


def ridge_anchors(shell: Shell) -> Iterable[Piece]:
    """One anchor more under each post inside under a ridge beam, where the walls have some."""
    count = ridge_anchor_count(shell)
    if count:
        yield from _anchors(shell.quarters.frame, count, "under the posts inside")


def ridge_anchor_count(shell: Shell) -> int:
    """How many anchors stand under posts inside; none on posts in concrete, which have none.

    Ground anchors that were not tested hold nothing there, and are left out.
    """
    frame = shell.quarters.frame
    held = frame.anchor not in NO_ANCHOR and frame.anchor_count
    if not held or shell.ridge_mm is None or frame.base == "posts_in_concrete":
        return 0
    counts = means(frame.anchor, frame.hole_mm, frame.anchor_tested_kn).credited
    return len(inner_posts_mm(shell)) if counts else 0


def _anchors(frame: Frame, count: int, place: str) -> Iterable[Piece]:
    hole_m = means(frame.anchor, frame.hole_mm).hole_m
    if hole_m is None:
        yield Piece(
            kind="fixing", what="anchor", place=place, material=frame.anchor,
            amount=count, note="see the frame's pull test",
        )  # fmt: skip
        return
    across, deep = (f"{1000 * size:.0f} mm" for size in hole_m)
    note = f"{count} holes, {across} across and {deep} deep"
    yield Piece(
        kind="fixing", what="concrete of the anchors", place=place, material="concrete",
        amount=round(count * hole_volume_m3(*hole_m), 3), unit="m3", note=note,
    )  # fmt: skip
    yield Piece(
        kind="fixing", what="strap cast into a hole", place=place, material="strap_30",
        amount=2 * count, note="one on each side of the timber",
    )  # fmt: skip


def _knees(shell: Shell, wall: WallFrame) -> Iterable[Piece]:
    frame = shell.quarters.frame
    posts = [upright for upright in wall.uprights if upright.is_post]
    for left, right in pairwise(posts):
        if right.middle_mm - left.middle_mm < 2 * frame.brace_leg_mm:
            continue  # no room for two; such a bay counts for nothing against sway either
        for face_mm, way in ((left.to_mm, 1), (right.from_mm, -1)):
            stick = _knee(shell, wall.wall, face_mm, way)
            yield Piece(
                kind="trim", what=KNEE, place=wall.wall.side,
                material=frame.strength_class, section=frame.nogging,
                length_mm=frame.brace_leg_mm * sqrt(2) + stick.depth_mm, cut_start_deg=45,
                cut_end_deg=45, sawn=True, stick=stick,
                note="at 45 deg from post to head plate, bolted at both ends",
            )  # fmt: skip


def _knee(shell: Shell, wall: Wall, face_mm: float, way: int) -> Stick:
    """A brace from the face of a post up to the head plate, its inner face on the clear line."""
    breadth, depth = shell.size_mm("nogging")
    leg, under = shell.quarters.frame.brace_leg_mm, wall.head_under_mm(face_mm)
    return Stick(
        start_mm=wall.at(face_mm, breadth / 2, under - leg),
        end_mm=wall.at(face_mm + way * leg, breadth / 2, under),
        breadth_mm=breadth,
        depth_mm=depth,
        depth_axis=(-way * sqrt(0.5), 0.0, sqrt(0.5)),  # in the front, which runs along x
    )
