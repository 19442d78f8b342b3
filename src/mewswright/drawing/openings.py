"""Doors and hatches in the walls of one unit."""

from math import atan2, degrees

from mewswright.drawing.scene import Arc, Line, Mark, Point, Polygon
from mewswright.model.fitting import Hatch, Side
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard


def doors_of(yard: Yard, quarters: Quarters) -> tuple[Door, ...]:
    """Give the doors of a unit, in the file's order."""
    return tuple(door for door in yard.door if quarters.name in door.between)


def item_of_door(door: Door) -> str:
    """Give the item name that links and tests use."""
    return f"door:{door.between[0]}|{door.between[1]}"


def door_title(door: Door, quarters: Quarters) -> str:
    """Say a door in one line, seen from a unit."""
    other = door.between[0] if door.between[1] == quarters.name else door.between[1]
    return f"Door to {other}, {door.width_mm:.0f} × {door.height_mm:.0f}, sill {door.sill_mm:.0f}"


def along(side: Side, quarters: Quarters, at_mm: float, out_mm: float) -> Point:
    """Give the plan place of a spot along a face, so far out from its inner side."""
    return {
        "front": (at_mm, -out_mm),
        "back": (at_mm, quarters.depth_mm + out_mm),
        "left": (-out_mm, at_mm),
        "right": (quarters.width_mm + out_mm, at_mm),
    }[side]


def door_middle_mm(door: Door, quarters: Quarters, wall: float) -> float:
    """Give how far out from the inner face the middle of a door's swing lies [mm]."""
    half = door.width_mm / 2
    return -half if door.opens_into == quarters.name else wall + half


def door_marks(door: Door, quarters: Quarters, wall: float) -> list[Mark]:
    """Draw a door in plan: a clear opening, the leaf open at right angles, and its swing.

    Args:
        door: The door; one that does not say its face and place is not drawn.
        quarters: The unit.
        wall: Thickness of the wall [mm].

    Returns:
        Its marks.
    """
    if door.face is None or door.at_mm is None:
        return []
    low, high = door.at_mm - door.width_mm / 2, door.at_mm + door.width_mm / 2
    into = door.opens_into == quarters.name
    plane = 0.0 if into else wall
    tip_out = plane - door.width_mm if into else plane + door.width_mm
    spot = [
        along(door.face, quarters, *p) for p in ((low, 0), (high, 0), (high, wall), (low, wall))
    ]
    hung, shut = (low, high) if door.hangs_low else (high, low)
    hinge, jamb, tip = (
        along(door.face, quarters, *p) for p in ((hung, plane), (shut, plane), (hung, tip_out))
    )
    start, end = sorted((_deg(hinge, jamb), _deg(hinge, tip)))
    if end - start > 180:
        start, end = end, start + 360
    item, title = item_of_door(door), door_title(door, quarters)
    marks: list[Mark] = []
    if wall > 0:
        marks.append(
            Polygon(
                layer="doors", pen="thin", points=tuple(spot), fill="paper", item=item, title=title
            )
        )  # fmt: skip
    return [
        *marks,
        Line(layer="doors", pen="medium", a=hinge, b=tip, item=item, title=title),
        Arc(
            layer="doors", pen="hair", centre=hinge, radius=door.width_mm, start_deg=start,
            end_deg=end, item=item, title=title,
        ),
    ]  # fmt: skip


def _deg(a: Point, b: Point) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0])) % 360


def opening_points(yard: Yard, quarters: Quarters, side: Side) -> list[Point]:
    """Give both jambs of each door and hatch in a face, on its inner side [mm]."""
    spans = [
        (door.at_mm, door.width_mm)
        for door in doors_of(yard, quarters)
        if door.face == side and door.at_mm is not None
    ]
    spans += [
        (f.at_mm, f.width_mm) for f in quarters.fitting if isinstance(f, Hatch) and f.face == side
    ]
    return [
        along(side, quarters, at + half * width / 2, 0) for at, width in spans for half in (-1, 1)
    ]
