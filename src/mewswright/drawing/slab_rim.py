"""The rim of a concrete slab around the tray of the floor: counted with the slab, drawn here.

The slab lies under the whole unit; its rim rises from it to the finished floor, outside the
clear inside. Lengths are millimetres.
"""

from typing import Literal

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.outside import Outside
from mewswright.drawing.projection import reach
from mewswright.drawing.scene import Mark, Polygon
from mewswright.drawing.timber import part_title
from mewswright.model.quarters import Quarters

_SLAB = "concrete slab"


def rim_in_section(
    quarters: Quarters, frame: BuiltFrame | None, view: Literal["side", "front"]
) -> list[Mark]:
    """Draw the rim where a section cuts it, before and behind the clear inside; or nothing."""
    axis = 1 if view == "side" else 0
    run = (quarters.width_mm, quarters.depth_mm)[axis]
    found: list[Mark] = []
    for low, high in _edges(frame, axis):
        found += _rim(quarters, frame, low, 0.0)
        found += _rim(quarters, frame, run, high)
    return found


def rim_from_outside(view: Outside, frame: BuiltFrame | None) -> list[Mark]:
    """Draw the rim as a side shows it; nothing for another base."""
    axis = 0 if view.side in ("front", "back") else 1
    found: list[Mark] = []
    for low, high in _edges(frame, axis):
        ends = sorted(view.u_mm(at, at) for at in (low, high))
        found += _rim(view.quarters, frame, *ends)
    return found


def _edges(frame: BuiltFrame | None, axis: int) -> list[tuple[float, float]]:
    if frame is None:
        return []
    return [
        reach(panel.corners_mm, axis)
        for part in frame.parts if part.what == _SLAB
        for panel in part.panels
    ]  # fmt: skip


def _rim(quarters: Quarters, frame: BuiltFrame | None, low: float, high: float) -> list[Mark]:
    deep = quarters.floor.depth_mm
    if frame is None or deep <= 0 or high <= low:
        return []
    slab = next(part for part in frame.parts if part.what == _SLAB)
    return [
        Polygon(
            layer="base", pen="medium", fill="ground", hatch="diagonal", item=f"part:{slab.mark}",
            points=((low, -deep), (high, -deep), (high, 0), (low, 0)),
            title=f"Rim of {part_title(slab)}, up to the finished floor",
        )
    ]  # fmt: skip
