"""Anchors round a unit, as the foundation plan shows them: at the corners first, then evenly."""

from mewswright.build.anchoring import anchored
from mewswright.build.bracing_parts import NO_ANCHOR
from mewswright.build.holding.anchor_places import anchor_places
from mewswright.build.holding.means import means
from mewswright.build.parts import BuiltFrame
from mewswright.drawing.scene import Circle, Mark, whole
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

BOLT_MM = 60.0  # as large as an anchor that is no hole is drawn


def anchor_marks(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> tuple[list[Mark], list[str]]:
    """Draw the anchors of a unit on its foundation plan, and say what they are.

    Args:
        yard: For its wind, where anchors are chosen.
        quarters: The unit.
        frame: Its parts.

    Returns:
        A circle for each, "anchor:1" on, and a sentence; none of either without anchors.
    """
    chosen = anchored(yard, quarters).quarters.frame
    if chosen.anchor in NO_ANCHOR or not chosen.anchor_count:
        return [], []
    size = (m_from_mm(frame.outer_width_mm), m_from_mm(frame.outer_depth_mm))
    across, words = _size(chosen)
    marks: list[Mark] = [
        Circle(
            layer="base", pen="thin", centre=(1000 * x - frame.wall_mm, 1000 * y - frame.wall_mm),
            radius=across / 2, item=f"anchor:{n}", title=f"Anchor {n}: {words}",
        )
        for n, (x, y) in enumerate(anchor_places(*size, chosen.anchor_count), 1)
    ]  # fmt: skip
    return marks, [
        f"Anchors, drawn as circles on the outer corners and edges of the frame: "
        f"{chosen.anchor_count} × {words}, the corners first, the rest evenly between them."
    ]


def _size(frame: Frame) -> tuple[float, str]:
    """How wide an anchor is drawn [mm], and what it is."""
    hole_m = means(frame.anchor, frame.hole_mm).hole_m
    if hole_m is None:
        return BOLT_MM, frame.anchor.replace("_", " ")
    across, deep = (1000 * size for size in hole_m)
    return across, f"hole of concrete, {whole(across)} across and {whole(deep)} deep"
