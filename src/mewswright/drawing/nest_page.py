"""All layouts of one material on one page, each sheet with its parts, cuts and offcuts."""

from dataclasses import replace
from math import ceil, sqrt

from mewswright.build.nest.plan import NestPlan
from mewswright.drawing.nest_sheet import nest_scene
from mewswright.drawing.scene import (
    Arc,
    Circle,
    Dimension,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Running,
    Scene,
    Text,
)

GAP_MM = (16.0, 18.0)  # between two sheets on paper: dimensions beside, title above
WIDE_TO_HIGH = 1.4  # of a page that lies


def shifted(mark: Mark, by: Point) -> Mark:
    """Give a mark moved by so much [full-size mm].

    Raises:
        TypeError: For a mark of a kind that is not known here.
    """

    def at(point: Point) -> Point:
        return point[0] + by[0], point[1] + by[1]

    match mark:
        case Line():
            return replace(mark, a=at(mark.a), b=at(mark.b))
        case Polyline() | Polygon():
            return replace(mark, points=tuple(at(p) for p in mark.points))
        case Circle() | Arc():
            return replace(mark, centre=at(mark.centre))
        case Text():
            return replace(mark, at=at(mark.at))
        case Dimension():
            line = mark.at + by[1 if mark.axis == "x" else 0]
            return replace(mark, a=at(mark.a), b=at(mark.b), at=line, text_at=at(mark.text_at))
        case Running():
            line = mark.at + by[1 if mark.axis == "x" else 0]
            return replace(mark, point=at(mark.point), at=line, text_at=at(mark.text_at))
        case _:
            raise TypeError(f"a mark of kind {type(mark).__name__!r} cannot be moved")


def columns_of(plan: NestPlan) -> int:
    """How many sheets lie side by side, so that the page comes out about as wide as paper."""
    long = max(float(layout.length_mm) for layout in plan.sheets)
    short = max(float(layout.width_mm) for layout in plan.sheets)
    count = len(plan.sheets)
    return min(count, max(1, ceil(sqrt(count * WIDE_TO_HIGH * short / long))))


def page_size_mm(plan: NestPlan) -> tuple[float, float]:
    """Width and height of all sheets of a page without what lies between them [full-size mm]."""
    columns = columns_of(plan)
    rows = ceil(len(plan.sheets) / columns)
    long = max(float(layout.length_mm) for layout in plan.sheets)
    short = max(float(layout.width_mm) for layout in plan.sheets)
    return columns * long, rows * short


def nest_page(plan: NestPlan, material: str, name: str, scale: int) -> Scene:
    """Draw all layouts of a plan on one page.

    Args:
        plan: The plan, with one layout at the least.
        material: Id of the sheets, for the name of the drawing.
        name: What they are called.
        scale: N of 1:N.
    """
    columns = columns_of(plan)
    wide = max(float(layout.length_mm) for layout in plan.sheets) + GAP_MM[0] * scale
    high = max(float(layout.width_mm) for layout in plan.sheets) + GAP_MM[1] * scale
    marks: list[Mark] = []
    for i, layout in enumerate(plan.sheets):
        by = (i % columns * wide, -(i // columns) * high)
        drawn = nest_scene(layout, i + 1, len(plan.sheets), scale)
        marks += [shifted(mark, by) for mark in drawn.marks]
    bought = sum(layout.count for layout in plan.sheets)
    cuts = sum(len(layout.cuts) * layout.count for layout in plan.sheets)
    return Scene(
        name=f"sheets-{material.replace('_', '-').replace('.', '-')}",
        title=f"Sheet plan, {name}",
        description=(
            f"{bought} sheets of {name} in {len(plan.sheets)} layouts, {cuts} cuts in their order."
        ),
        scale=scale,
        marks=tuple(marks),
    )
