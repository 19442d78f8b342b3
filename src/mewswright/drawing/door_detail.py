"""A door at a larger scale: opening, leaf, hinges, bolts, threshold, swing and the lobby.

Drawn from outside: the elevation, and beside it the plan with the unit above and the space
beyond the door below. Lengths are millimetres; heights start at the finished floor.
"""

from mewswright.build.parts import BuiltFrame
from mewswright.build.shell import breadth_depth_mm
from mewswright.drawing.openings import door_title, item_of_door
from mewswright.drawing.outside import outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.rows import Rows, notes_below
from mewswright.drawing.scene import (
    Arc,
    Fill,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Scene,
    box_of,
    extent,
    whole,
)  # fmt: skip
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door, Space
from mewswright.model.yard import Yard

LEAF_GAP_MM = 8.0  # judgement: of the 5 to 10 mm all round that the take-off asks for
LEAF_MM = 40.0  # as the take-off's leaf is drawn
_HINGE_MM = 100.0  # judgement: height of a hinge
_HINGES_MM = (150.0, 225.0)  # judgement: from the leaf's top, from its foot
_THREE_FROM_MM = 1500.0  # judgement: a leaf higher than this has a third hinge, in its middle
_APART_MM = 34.0  # from elevation to plan, on paper


def door_detail(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, door: Door, number: int = 1, *,
    scale: int | None = None, paper: Paper = "A3",
) -> Scene:  # fmt: skip
    """Draw one door of a unit, whose place in a face is known.

    Args:
        yard: The yard, for the space beyond.
        quarters: The unit.
        frame: Its parts.
        door: The door.
        number: Its number among the unit's sheets of doors.
        scale: N of 1:N; the largest that fits on the paper, if blank.
        paper: The paper.

    Returns:
        A scene named "door-NUMBER" with items "door:A|B" and "space:NAME".

    Raises:
        ValueError: If the file does not say where the door is.
    """
    if door.face is None or door.at_mm is None:
        raise ValueError(f"the door {door.between} has no face and place: it cannot be drawn")
    least = (2 * door.width_mm, door.sill_mm + door.height_mm)
    return at_scale(
        lambda n: _laid_out(yard, quarters, frame, door, number, n), scale, paper, least
    )


def beyond(yard: Yard, quarters: Quarters, door: Door) -> Space | None:
    """Give the space on the other side of a door; None for the open air or other quarters."""
    return next((s for s in yard.space if s.name in door.between and s.name != quarters.name), None)


def room_beyond_mm(space: Space) -> float:
    """Give the clear depth before a door: a lobby lies lengthwise, the others across."""
    return space.length_mm if space.kind == "lobby" else space.width_mm


def _rect(
    a: Point, b: Point, item: str, title: str, *, fill: Fill = "none", pen: Pen = "thin",
    layer: str = "doors",
) -> Polygon:  # fmt: skip
    return Polygon(
        layer=layer, pen=pen, points=(a, (b[0], a[1]), b, (a[0], b[1])), fill=fill, item=item,
        title=title,
    )  # fmt: skip


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, door: Door, number: int, scale: int
) -> Scene:  # fmt: skip
    assert door.face is not None
    assert door.at_mm is not None
    view = outside(quarters, door.face)
    at_left = view.along_mm(door.at_mm - 1) < view.along_mm(door.at_mm + 1)
    letters = Lettering(scale, boxed=True)
    w, low, top = door.width_mm, door.sill_mm, door.sill_mm + door.height_mm
    jamb = breadth_depth_mm(quarters.frame.stud)[0]
    item, title = item_of_door(door), door_title(door, quarters)
    leaf_low, leaf_high = (LEAF_GAP_MM, low + LEAF_GAP_MM), (w - LEAF_GAP_MM, top - LEAF_GAP_MM)
    marks: list[Mark] = [
        _rect((-jamb, 0), (0, top + jamb), item, "Jamb", fill="timber", layer="timber"),
        _rect((w, 0), (w + jamb, top + jamb), item, "Jamb", fill="timber", layer="timber"),
        _rect((0, top), (w, top + jamb), item, "Lintel", fill="timber", layer="timber"),
        _rect((0, low), (w, top), item, "Clear opening", pen="medium"),
        _rect(leaf_low, leaf_high, item, "Leaf", fill="boards"),
        Line(layer="floor", pen="medium", a=(-300, 0), b=(w + 300, 0), title="Finished floor"),
    ]  # fmt: skip
    if low > 0:
        marks.append(_rect((0, 0), (w, low), item, "Threshold", fill="timber", layer="timber"))
    hinge, shut = (leaf_low[0], leaf_high[0]) if at_left else (leaf_high[0], leaf_low[0])
    middles = _hinges_mm(leaf_low[1], leaf_high[1])
    marks += [
        _rect((hinge - 12, z - _HINGE_MM / 2), (hinge + 12, z + _HINGE_MM / 2), item, "Hinge",
              fill="ink")
        for z in middles
    ]  # fmt: skip
    bolts = [] if door.locks == "none" else [leaf_low[1] + 150, (low + top) / 2, leaf_high[1] - 150]
    inwards = 1 if at_left else -1
    marks += [
        _rect((shut + 10 * inwards, z - 10), (shut - 110 * inwards, z + 10), item, "Bolt or lock",
              fill="cut")
        for z in bolts
    ]  # fmt: skip
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    rows.single("bottom", (0, low), (w, low), prefix="clear ", item=item, title="Clear width")
    rows.single(
        "bottom", leaf_low, (leaf_high[0], leaf_low[1]), prefix="leaf ", title="Width of the leaf"
    )
    rows.running("left", "hinges, from floor", 0, [(hinge, z) for z in middles])
    heights: list[Point] = [(w, z) for z in (low, top) if z > 0]
    rows.running("right", "sill and head, from floor", 0, heights)
    rows.single("right", (w, leaf_low[1]), (w, leaf_high[1]), prefix="leaf ", title="Leaf")
    rows.finish()

    x0 = rows.box.right + _APART_MM * scale
    plan = _plan(yard, quarters, frame, door, x0, at_left, letters)
    avoid_marks(letters, [m for m in (*marks, *plan) if m.layer in ("doors", "timber")])
    box = box_of(p for m in (*marks, *rows.marks, *plan) for p in extent(m, scale))
    notes = notes_below(letters, box.left, box.bottom, _notes(yard, quarters, door))
    return Scene(
        name=f"door-{number}",
        title=f"{title.partition(',')[0]}, {quarters.name}",
        description=f"Seen from outside, with its plan: {title}.",
        scale=scale,
        marks=(*rows.marks, *marks, *plan, *notes),
    )


def _hinges_mm(low: float, high: float) -> list[float]:
    """Give the middles of the hinges above the floor, from the foot up."""
    ends = [low + _HINGES_MM[1], high - _HINGES_MM[0]]
    if high - low <= sum(_HINGES_MM) + _HINGE_MM:
        return [(low + high) / 2]
    return [ends[0], (low + high) / 2, ends[1]] if high - low > _THREE_FROM_MM else ends


def _plan(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, door: Door, x0: float, at_left: bool,
    letters: Lettering,
) -> list[Mark]:  # fmt: skip
    """Draw wall, leaf and swing from above, the unit above and the space beyond below."""
    w, t, scale = door.width_mm, frame.wall_mm, letters.scale
    jamb = breadth_depth_mm(quarters.frame.stud)[0]
    item, title = item_of_door(door), door_title(door, quarters)
    into = door.opens_into == quarters.name
    space = beyond(yard, quarters, door)
    x0 += max(0.0, (space.width_mm - w) / 2 if space and space.kind == "lobby" else 0.0)
    marks: list[Mark] = [
        _rect((x0 - 300, 0), (x0, t), item, "Wall", fill="boards", layer="walls"),
        _rect((x0 + w, 0), (x0 + w + 300, t), item, "Wall", fill="boards", layer="walls"),
        _rect((x0 - jamb, 0), (x0, t), item, "Jamb", fill="cut", layer="timber"),
        _rect((x0 + w, 0), (x0 + w + jamb, t), item, "Jamb", fill="cut", layer="timber"),
    ]
    plane, way = (t, 1) if into else (0.0, -1)
    hinge, other = (x0, x0 + w) if at_left else (x0 + w, x0)
    inner = 1 if at_left else -1
    leaf = w - 2 * LEAF_GAP_MM
    start = {(True, True): 0, (True, False): 90, (False, True): 270, (False, False): 180}
    first = start[into, at_left]
    pivot = (hinge + inner * LEAF_GAP_MM, plane)
    tip = (pivot[0], plane + way * leaf)
    marks += [
        _rect(pivot, (pivot[0] + inner * LEAF_MM, tip[1]), item, title, fill="boards"),
        Arc(layer="doors", pen="hair", centre=pivot, radius=leaf, start_deg=first,
            end_deg=first + 90, item=item, title="Swing of the leaf"),
        Line(layer="doors", pen="hair", dash="dashed", a=pivot, b=(other, plane), item=item),
    ]  # fmt: skip
    depth = room_beyond_mm(space) if space is not None else 0.0
    if space is not None:
        half = (space.width_mm if space.kind == "lobby" else w + 600) / 2
        c = x0 + w / 2
        marks.append(
            _rect((c - half, -depth), (c + half, 0), f"space:{space.name}", space.name,
                  layer="floor")
        )  # fmt: skip
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    rows.single("top", (x0, t), (x0 + w, t), prefix="clear ", item=item, title="Clear width")
    if space is not None:
        name = f"space:{space.name}"
        if not into:
            spans = [((x0, tip[1]), (x0, 0.0))]
            if depth > leaf:
                spans.append(((x0, -depth), (x0, tip[1])))
            rows.chain("right", spans, item=name, title="Leaf open, and what is left before it")
        rows.single("right", (x0, -depth), (x0, 0), prefix="clear ", item=name, title="Clear depth")
    rows.finish()
    return [*rows.marks, *marks]


def _notes(yard: Yard, quarters: Quarters, door: Door) -> list[str]:
    space = beyond(yard, quarters, door)
    leaf = door.width_mm - 2 * LEAF_GAP_MM
    lines = [
        f"{door_title(door, quarters)}. Leaf {whole(LEAF_GAP_MM)} mm clear all round (5 to 10 mm). "
        f"Opens into {door.opens_into or 'a side that the yard file does not name'}; secured by: "
        f"{door.locks}; {'falls shut by itself' if door.self_closing else 'not self-closing'}; "
        f"{'opens' if door.opens_from_inside else 'does not open'} from inside.",
        "Hung at the end nearer the left or front; hinges, bolts and gap are judgement, for the "
        "joiner to settle.",
    ]
    if space is not None and door.opens_into == space.name:
        left = room_beyond_mm(space) - leaf
        lines.append(
            f"{space.name}: {whole(room_beyond_mm(space))} mm clear before the door; "
            + (f"{whole(left)} mm are left before the open leaf."
               if left > 0 else "the leaf cannot open square in it.")
        )  # fmt: skip
    return lines
