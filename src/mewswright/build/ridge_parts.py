"""The ridge beam of a duopitch and the posts inside under it, as pieces."""

from collections.abc import Iterable

from mewswright.build.base import PAD_MM, flat
from mewswright.build.parts import Stick
from mewswright.build.pieces import Piece
from mewswright.build.ridge import BEAM, INNER_POST, inner_posts_mm, ridge_of
from mewswright.build.shell import Shell
from mewswright.build.tube import stuff_of
from mewswright.build.walls import lengths_mm


def ridge_pieces(shell: Shell, longest_mm: float) -> Iterable[Piece]:
    """The ridge beam and the posts inside under it.

    Args:
        shell: The unit.
        longest_mm: Longest length of the beam's section to be had; a longer beam is joined
            over a post inside, or left whole where there is none.
    """
    ridge = ridge_of(shell)
    if ridge is None:
        return
    frame = shell.quarters.frame
    posts = inner_posts_mm(shell)
    middle = (ridge.under_mm + ridge.top_mm) / 2
    for from_mm, to_mm in lengths_mm(ridge.from_mm, ridge.to_mm, longest_mm, posts):
        joined = from_mm > ridge.from_mm or to_mm < ridge.to_mm
        yield Piece(
            kind="ridge",
            what=BEAM,
            place="roof, from gable to gable",
            material=stuff_of(frame.ridge, frame.strength_class),
            section=frame.ridge,
            length_mm=to_mm - from_mm,
            sawn=True,
            note="stands on edge" + ("; joined over a post" if joined else ""),
            stick=Stick(
                start_mm=(from_mm, ridge.at_mm, middle),
                end_mm=(to_mm, ridge.at_mm, middle),
                breadth_mm=ridge.breadth_mm,
                depth_mm=ridge.top_mm - ridge.under_mm,
                depth_axis=(0.0, 0.0, 1.0),
            ),
        )
    breadth, depth = shell.size_mm("post")
    half = PAD_MM / 2
    for x in posts:
        yield Piece(
            kind="post",
            what=INNER_POST,
            place="inside, under the ridge beam",
            material=stuff_of(frame.post, frame.strength_class),
            section=frame.post,
            length_mm=ridge.under_mm,
            sawn=True,
            note="on a pad of its own",
            stick=Stick(
                start_mm=(x, ridge.at_mm, 0.0),
                end_mm=(x, ridge.at_mm, ridge.under_mm),
                breadth_mm=breadth,
                depth_mm=depth,
                depth_axis=(1.0, 0.0, 0.0),
            ),
        )
        yield Piece(
            kind="base",
            what="paving slab under a ridge post",
            place="inside, under the ridge beam",
            material="paving_slab",
            length_mm=PAD_MM,
            width_mm=PAD_MM,
            amount=1,
            note="bedded level on firm ground, its top at the finished floor",
            panel=flat((x - half, x + half), (ridge.at_mm - half, ridge.at_mm + half), -19, 38),
        )
