"""What a row with a corridor behind it shows of that: its walls, its width and its heights."""

from collections.abc import Callable

from mewswright.build.corridor import Corridor, corridor_behind
from mewswright.build.parts import BuiltFrame
from mewswright.build.row import row_named
from mewswright.drawing.rows import Edge, Rows
from mewswright.drawing.scene import Mark, Point, Polygon
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard


def corridor_of(yard: Yard, quarters: Quarters) -> Corridor | None:
    """The corridor of what is drawn: of a row that has one."""
    row = row_named(yard, quarters.name)
    return corridor_behind(yard, row) if row is not None else None


def in_corridor(frame: BuiltFrame | None, place: Point) -> bool:
    """Whether a place of the plan lies in the corridor and not in the units [mm]."""
    return frame is not None and frame.corridor_from_mm is not None and (
        place[1] > frame.corridor_from_mm
    )  # fmt: skip


def corridor_walls(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> list[Mark]:
    """Draw the outer walls of a corridor and its partition in plan; nothing without one."""
    found = corridor_of(yard, quarters)
    if found is None:
        return []
    t, y = frame.wall_mm, found.behind_mm
    w, deep = found.whole.width_mm, found.whole.depth_mm
    strips = [
        ("outer wall", (-t, w + t), (y + deep, y + deep + t)),
        ("left wall", (-t, 0.0), (y, y + deep)),
        ("right wall", (w, w + t), (y, y + deep)),
    ]
    if len(found.rooms) > 1:
        left, right = found.rooms
        strips.append(("partition", (left.width_mm, w - right.width_mm), (y, y + deep)))
    return [
        Polygon(
            layer="walls", pen="thin", fill="boards", item=f"corridor:{what}",
            points=((x[0], d[0]), (x[1], d[0]), (x[1], d[1]), (x[0], d[1])),
            title=f"Corridor: {what}, boarded",
        )
        for what, x, d in strips
    ]  # fmt: skip


def corridor_plan_rows(rows: Rows, yard: Yard, quarters: Quarters) -> None:
    """Give the clear width of a corridor, and the clear lengths of its rooms."""
    found = corridor_of(yard, quarters)
    if found is None:
        return
    y, deep, w = found.behind_mm, found.whole.depth_mm, found.whole.width_mm
    rows.single("right", (w, y), (w, y + deep), prefix="corridor ", title="Clear width")
    if len(found.rooms) > 1:
        left, right = found.rooms
        edges = [0.0, left.width_mm, w - right.width_mm, w]
        rows.parts("top", [(x, y) for x in edges], whole="clear ",
                   title="Clear lengths of corridor and lobby, and the partition")  # fmt: skip


def corridor_rows(
    rows: Rows, yard: Yard, quarters: Quarters, along: Callable[[float], float] = float
) -> None:
    """Give the clear width of a corridor and its clear heights, seen from a side.

    Args:
        rows: Rows of the drawing.
        yard: The yard.
        quarters: The row; nothing is added for one without a corridor.
        along: Where a distance behind the clear front lies along the drawing [mm].
    """
    found = corridor_of(yard, quarters)
    if found is None:
        return
    whole, y = found.whole, found.behind_mm
    assert whole.front_height_mm is not None
    assert whole.back_height_mm is not None
    start, end = along(y), along(y + whole.depth_mm)
    at: Edge = "right" if end > start else "left"
    rows.single("bottom", (start, 0), (end, 0), prefix="corridor ", title="Clear width")
    rows.single(
        at, (end, 0), (end, whole.back_height_mm), prefix="corridor ",
        title="Clear height at the outer wall",
    )  # fmt: skip
    rows.single(
        at, (start, 0), (start, whole.front_height_mm), prefix="under the ledger ",
        title="Clear height at the units' back wall",
    )  # fmt: skip


def corridor_notes(yard: Yard, quarters: Quarters) -> list[str]:
    """Say whose sheets show more of a corridor; nothing without one."""
    found = corridor_of(yard, quarters)
    if found is None:
        return []
    return [
        f"Behind it leans {found.whole.name}: its timber and openings are measured on sheets of "
        "its own, asked for by that name."
    ]
