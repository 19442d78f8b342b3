"""The space beyond a door on the door's plan: its clear sizes, its other door, and what is left.

Seen from above with the room above: the space begins at the outer face of the wall and runs
down the drawing. Lengths are millimetres.
"""

from itertools import pairwise

from mewswright.drawing.openings import item_of_door
from mewswright.drawing.rows import Edge
from mewswright.drawing.scene import Arc, Line, Mark, Point, whole
from mewswright.drawing.wall_detail import rect
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door, Space
from mewswright.model.yard import Yard

LEAF_GAP_MM = 8.0  # judgement: of the 5 to 10 mm all round that the take-off asks for
LEAF_MM = 40.0  # as the take-off's leaf is drawn
_BESIDE_MM = 300.0  # of a corridor beside its door, as far as it is drawn


def beyond(yard: Yard, quarters: Quarters, door: Door) -> Space | None:
    """Give the space on the other side of a door; None for the open air or other quarters."""
    return next((s for s in yard.space if s.name in door.between and s.name != quarters.name), None)


def room_beyond_mm(space: Space) -> float:
    """Give the clear depth before a door: a lobby lies lengthwise, the others across."""
    return space.length_mm if space.kind == "lobby" else space.width_mm


def other_doors(yard: Yard, door: Door, space: Space) -> list[Door]:
    """Give the other doors of a space, in the file's order."""
    return [d for d in yard.door if space.name in d.between and d is not door]


def far_door(yard: Yard, door: Door, space: Space) -> Door | None:
    """Give the second door of a lobby, which stands at its far end; None where it is not clear."""
    others = other_doors(yard, door, space)
    return others[0] if space.kind == "lobby" and len(others) == 1 else None


def leaf_mm(door: Door) -> float:
    """Give the width of a door's leaf."""
    return door.width_mm - 2 * LEAF_GAP_MM


def swing_marks(
    a: float, b: float, plane: float, *, up: bool, at_left: bool, item: str
) -> list[Mark]:
    """Draw a leaf that stands open square, its swing, and the line that it shuts on.

    Args:
        a: Left jamb.
        b: Right jamb.
        plane: Where the leaf's face is when it is shut.
        up: True where it opens up the drawing.
        at_left: True where it hangs on the left jamb.
        item: The door.
    """
    way, inner = (1 if up else -1), (1 if at_left else -1)
    hinge, other = (a, b) if at_left else (b, a)
    leaf = b - a - 2 * LEAF_GAP_MM
    first = {(True, True): 0, (True, False): 90, (False, True): 270, (False, False): 180}
    start = first[up, at_left]
    pivot = (hinge + inner * LEAF_GAP_MM, plane)
    return [
        rect(pivot, (pivot[0] + inner * LEAF_MM, plane + way * leaf), item, "Leaf, open",
             fill="boards"),
        Arc(layer="doors", pen="hair", centre=pivot, radius=leaf, start_deg=start,
            end_deg=start + 90, item=item, title="Swing of the leaf"),
        Line(layer="doors", pen="hair", dash="dashed", a=pivot, b=(other, plane), item=item),
    ]  # fmt: skip


def lobby_marks(yard: Yard, door: Door, space: Space, middle: float, top: float) -> list[Mark]:
    """Draw the clear outline of a space below a wall, and the second door of a lobby."""
    depth = room_beyond_mm(space)
    half = (space.width_mm if space.kind == "lobby" else door.width_mm + 2 * _BESIDE_MM) / 2
    item = f"space:{space.name}"
    marks: list[Mark] = [
        rect((middle - half, top - depth), (middle + half, top), item, space.name, layer="floor")
    ]
    second = far_door(yard, door, space)
    if second is None:
        return marks
    a, b = middle - second.width_mm / 2, middle + second.width_mm / 2
    name = item_of_door(second)
    marks.append(
        Line(layer="doors", pen="heavy", a=(a, top - depth), b=(b, top - depth), item=name,
             title=f"Door {second.between[0]} to {second.between[1]}")
    )  # fmt: skip
    if second.opens_into is not None:
        up = second.opens_into == space.name
        marks += swing_marks(a, b, top - depth, up=up, at_left=second.hinge != "right", item=name)
    return marks


def lobby_rows(
    yard: Yard, door: Door, space: Space, jambs: tuple[float, float], top: float
) -> list[tuple[Edge, list[tuple[Point, Point]], str]]:
    """Give the dimensions of a space: the edge, the spans of a row, and its words."""
    depth, (a, b) = room_beyond_mm(space), jambs
    low = top - depth
    rows: list[tuple[Edge, list[tuple[Point, Point]], str]] = []
    second = far_door(yard, door, space)
    taken = leaf_mm(door) if door.opens_into == space.name else 0.0
    back = leaf_mm(second) if second is not None and second.opens_into == space.name else 0.0
    marks = [top, *([top - taken] if taken else []), *([low + back] if back else []), low]
    if len(marks) > 2 and all(p > q + 0.5 for p, q in pairwise(marks)):
        spans: list[tuple[Point, Point]] = [((b, q), (b, p)) for p, q in pairwise(marks)]
        rows.append(("right", spans, "Leaves open, and what is left between"))
    rows.append(("right", [((b, low), (b, top))], "Clear depth"))
    if space.kind == "lobby":
        middle = (a + b) / 2
        half = space.width_mm / 2
        if second is not None:
            wide = second.width_mm / 2
            rows.append(
                ("bottom", [((middle - wide, low), (middle + wide, low))], "Second door, clear")
            )
        rows.append(("bottom", [((middle - half, low), (middle + half, low))], "Clear width"))
    return rows


def lobby_notes(yard: Yard, quarters: Quarters, door: Door) -> list[str]:
    """Say what a space leaves before the open leaf, and of the other doors of a lobby."""
    space = beyond(yard, quarters, door)
    if space is None:
        return []
    depth, lines = room_beyond_mm(space), []
    if door.opens_into == space.name:
        left = depth - leaf_mm(door)
        lines.append(
            f"{space.name}: {whole(depth)} mm clear before the door; "
            + (f"{whole(left)} mm are left before the open leaf."
               if left > 0 else "the leaf cannot open square in it.")
        )  # fmt: skip
    if space.kind != "lobby":
        return lines
    second = far_door(yard, door, space)
    if second is None:
        count = len(other_doors(yard, door, space))
        lines.append(
            f"{space.name} has {'no second door' if count == 0 else f'{count} more doors'} in the "
            "yard file: " + ("a lobby needs one." if count == 0 else "their places are not drawn.")
        )
        return lines
    other = second.between[1] if second.between[0] == space.name else second.between[0]
    hung = (
        "opens into the lobby" if second.opens_into == space.name
        else "opens out of it" if second.opens_into is not None
        else "its swing is not in the yard file"
    )  # fmt: skip
    lines.append(
        f"{space.name}: second door, to {other}, {whole(second.width_mm)} × "
        f"{whole(second.height_mm)}, {hung}; drawn in the middle of the far end, as the yard file "
        "gives only the length from door to door. Shut one before the other is opened."
    )
    if door.opens_into == second.opens_into == space.name:
        free = depth - leaf_mm(door) - leaf_mm(second)
        lines.append(
            f"Between both open leaves {whole(free)} mm are left." if free > 0
            else f"Both leaves open into the lobby and overlap by {whole(-free)} mm."
        )  # fmt: skip
    return lines
