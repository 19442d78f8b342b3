"""Paper sizes, and the largest scale at which a drawing fits on one."""

from collections.abc import Callable
from typing import Literal

from mewswright.drawing.scene import SCALES, Scene

Paper = Literal["A3", "A4", "Letter"]
PAPER_MM: dict[Paper, tuple[float, float]] = {  # lying on its long side
    "A3": (420, 297), "A4": (297, 210), "Letter": (279.4, 215.9),
}  # fmt: skip
BORDER_MM = 8.0
STRIP_MM = 26.0  # title block along the lower edge
AIR_MM = 3.0
_ROWS_MM = 20.0  # dimensions and notes take at least this on paper, both ways


def room_mm(paper: Paper) -> tuple[float, float]:
    """Give the width and height of paper that a drawing may cover [mm]."""
    width, height = PAPER_MM[paper]
    edge = 2 * (BORDER_MM + AIR_MM)
    return width - edge, height - edge - STRIP_MM


def fits(scene: Scene, paper: Paper) -> bool:
    """Say whether a scene at its own scale fits on a paper."""
    width, height = room_mm(paper)
    return scene.box.width / scene.scale <= width and scene.box.height / scene.scale <= height


def at_scale(
    lay_out: Callable[[int], Scene],
    scale: int | None,
    paper: Paper = "A3",
    least_mm: tuple[float, float] = (0, 0),
) -> Scene:
    """Lay a drawing out at a scale, or at the largest that fits.

    Args:
        lay_out: Makes the drawing for N of 1:N.
        scale: N, or None for the largest scale that fits on the paper.
        paper: The paper.
        least_mm: Full-size width and height that the drawing covers at least; scales at
            which not even this fits are not tried.

    Returns:
        The scene.

    Raises:
        ValueError: If no scale is given and none fits.
    """
    if scale is not None:
        return lay_out(scale)
    width, height = room_mm(paper)
    for n in SCALES:
        if least_mm[0] / n > width - _ROWS_MM or least_mm[1] / n > height - _ROWS_MM:
            continue
        scene = lay_out(n)
        if fits(scene, paper):
            return scene
    raise ValueError(
        f"the drawing does not fit on {paper} even at 1:{SCALES[-1]}: give a scale of your own"
    )
