"""What both sections of a unit show of its room: the floor, and the doors of the far wall."""

from collections.abc import Sequence

from mewswright.drawing.front import Span, opening
from mewswright.drawing.openings import door_title, doors_of, item_of_door
from mewswright.drawing.scene import Line, Mark, Polygon
from mewswright.model.fitting import Side
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def clear_cut_mm(run_mm: float, blocked: Sequence[tuple[float, float]]) -> float:
    """Where a section is cut [mm]: the middle of a run, or the nearest place clear of timber.

    Args:
        run_mm: Clear length that the plane stands across.
        blocked: Stretches in which timber would be cut lengthwise.
    """
    middle_mm = run_mm / 2
    edges = [edge for low, high in blocked for edge in (low - 1, high + 1)]
    for place in sorted(
        (p for p in (middle_mm, *edges) if 0 < p < run_mm),
        key=lambda p: (abs(p - middle_mm), p),
    ):
        if not any(low <= place <= high for low, high in blocked):
            return place
    return middle_mm


def floor_marks(run_mm: float, quarters: Quarters) -> list[Mark]:
    """Draw the substrate and the finished floor under a clear length [mm]."""
    marks: list[Mark] = []
    deep = quarters.floor.depth_mm
    if deep > 0:
        marks.append(
            Polygon(
                layer="floor", points=((0, -deep), (run_mm, -deep), (run_mm, 0), (0, 0)),
                fill="ground", hatch="gravel", item="floor:all",
                title=f"{quarters.floor.substrate}, {deep:g} mm deep",
            )
        )  # fmt: skip
    marks.append(
        Line(
            layer="floor", pen="medium", a=(-400, 0), b=(run_mm + 400, 0), item="floor:all",
            title="Finished floor",
        )
    )  # fmt: skip
    return marks


def doors_in(yard: Yard, quarters: Quarters, side: Side) -> list[tuple[Mark, Span]]:
    """Draw the doors of the wall that a section looks at, with two of its corners."""
    found: list[tuple[Mark, Span]] = []
    for door in doors_of(yard, quarters):
        if door.face == side and door.at_mm is not None:
            low = (door.at_mm - door.width_mm / 2, door.sill_mm)
            high = (door.at_mm + door.width_mm / 2, door.sill_mm + door.height_mm)
            mark = opening(low, high, item_of_door(door), door_title(door, quarters))
            found.append((mark, (low, high)))
    return found
