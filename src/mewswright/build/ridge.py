"""The ridge of a duopitch: its beam, and the posts that carry it.

The beam stands on edge between the two slopes, which hang on it; it stands on a post in
each gable, so that nothing pushes the eaves apart and no tie crosses the room. Millimetres
in the quarters' own frame (model/quarters.py).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from mewswright.build.shell import Shell, Slope

BEAM, INNER_POST, GABLE_POST = "ridge beam", "ridge post inside", "gable post"


@dataclass(frozen=True)
class Ridge:
    """Where the ridge beam of a unit stands."""

    at_mm: float  # middle of the beam, behind the front
    breadth_mm: float
    under_mm: float
    top_mm: float
    from_mm: float  # its ends along the front: the outer faces of the gables
    to_mm: float

    def face_mm(self, slope: Slope) -> float:
        """Where the rafters of a slope meet the beam, behind the front."""
        return self.at_mm + (-1 if slope.rise > 0 else 1) * self.breadth_mm / 2


def ridge_of(shell: Shell) -> Ridge | None:
    """Set out the ridge beam; None where there is no ridge.

    Its top is level with the lower of the rafters' tops beside it, so that the deck passes
    over; where it is deeper than their plumb cut, it hangs below them.
    """
    if shell.ridge_mm is None:
        return None
    at, _ = shell.ridge_mm
    breadth, depth = shell.size_mm("ridge")
    rafter = shell.size_mm("rafter")[1]
    tops = []
    for slope in shell.slopes:
        side = -1 if slope.rise > 0 else 1
        tops.append(slope.ceiling_mm(at + side * breadth / 2) + rafter / slope.cos_pitch)
    top = min(tops)
    return Ridge(
        at, breadth, top - depth, top, -shell.wall_mm, shell.width_mm + shell.wall_mm
    )  # fmt: skip


def clear_under_ridge_mm(shell: Shell) -> float | None:
    """Clear height under the ridge: to the rafters or to the beam, which may hang lower [mm]."""
    ridge = ridge_of(shell)
    if ridge is None or shell.ridge_mm is None:
        return None
    return min(shell.ridge_mm[1], ridge.under_mm)


def inner_posts_mm(shell: Shell) -> Sequence[float]:
    """Middles of the posts inside, along the front: they part the beam into even spans [mm]."""
    posts = shell.quarters.frame.ridge_posts
    span = shell.width_mm + shell.wall_mm
    return [-shell.wall_mm / 2 + span * (i + 1) / (posts + 1) for i in range(posts)]


def ridge_span_mm(shell: Shell) -> float:
    """Longest span of the ridge beam, middle to middle of its posts [mm]; 0 without one."""
    if shell.ridge_mm is None:
        return 0.0
    return (shell.width_mm + shell.wall_mm) / (shell.quarters.frame.ridge_posts + 1)


def ridge_assumptions(shell: Shell) -> list[str]:
    """What is taken for granted of a ridge, a sentence each; none without one."""
    ridge = ridge_of(shell)
    if ridge is None or shell.ridge_mm is None:
        return []
    posts = shell.quarters.frame.ridge_posts
    inside = f" and on {posts} inside" if posts else ""
    said = [
        f"the rafters hang on a ridge beam that stands on a post in each gable{inside}: nothing "
        "pushes the eaves apart, and no tie crosses the room"
    ]
    drop = shell.ridge_mm[1] - ridge.under_mm
    if drop >= 1:
        said.append(
            f"the ridge beam hangs {drop:.0f} mm below the rafters: {ridge.under_mm:.0f} mm are "
            "clear under it"
        )
    depth = shell.size_mm("rafter")[1]
    plumb = [depth / slope.cos_pitch for slope in shell.slopes]
    if abs(plumb[0] - plumb[1]) >= 1:
        said.append(
            f"the slopes differ in pitch, so that their tops step by "
            f"{abs(plumb[0] - plumb[1]):.0f} mm at the ridge, under the capping"
        )
    return said
