"""A door at a larger scale: opening, leaf, hinges, bolts, threshold, swing and the lobby.

Drawn from outside: the elevation, and beside it the plan with the unit above and the space
beyond the door below. Lengths are millimetres; heights start at the finished floor.
"""

from collections.abc import Sequence

from mewswright.build.parts import BuiltFrame
from mewswright.drawing.door_lobby import (
    LEAF_GAP_MM,
    beyond,
    lobby_marks,
    lobby_notes,
    lobby_rows,
    room_beyond_mm,
    swing_marks,
)
from mewswright.drawing.openings import door_title, item_of_door
from mewswright.drawing.outside import Opening, Outside, openings_seen, outside
from mewswright.drawing.paper import Paper, at_scale
from mewswright.drawing.placing import Lettering, avoid_marks
from mewswright.drawing.projection import middle
from mewswright.drawing.rows import Edge, Rows
from mewswright.drawing.scene import Box, Mark, Point, Scene, box_of, extent, whole
from mewswright.drawing.timber import Piece
from mewswright.drawing.wall_detail import (
    caption,
    cut_level,
    cut_list,
    finished,
    floor_line,
    mark_names,
    rect,
    seen_near,
    shifted,
    timber_marks,
)
from mewswright.model.quarters import Quarters
from mewswright.model.ways import Door
from mewswright.model.yard import Yard

_CUT = 0.3  # share of its height at which a door is cut, where few noggings stand
BESIDE_MM = 250.0  # of the wall beside and above a door, as far as it is drawn
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


def _laid_out(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, door: Door, number: int, scale: int
) -> Scene:  # fmt: skip
    assert door.face is not None
    view = outside(quarters, door.face)
    item, title = item_of_door(door), door_title(door, quarters)
    seen = next(o for o in openings_seen(yard, view) if o.item == item and o.title == title)
    letters = Lettering(scale, boxed=True)
    (left, _), (right, top) = seen.low, seen.high
    box = Box(left - BESIDE_MM, -BESIDE_MM, right + BESIDE_MM, top + BESIDE_MM)
    near = seen_near(frame, view, box)
    marks = [floor_line(box.left, box.right), *timber_marks(near)]
    marks += _leaf_marks(door, seen)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, scale)))
    _dimension(rows, door, seen, near)
    rows.finish()

    x0 = rows.box.right + _APART_MM * scale
    plan, across, walls = _plan(yard, quarters, frame, door, seen, view, x0, letters)
    drawn = [*marks, *plan]
    avoid_marks(letters, [m for m in drawn if m.layer in ("doors", "timber")])
    names = caption(marks, "from outside", letters)
    names += caption([*plan, *across], "plan, the room above", letters)
    names += mark_names([*near, *walls], letters)
    if (space := beyond(yard, quarters, door)) is not None:
        name = f"space:{space.name}"
        spot = middle(p for m in plan if m.item == name for p in extent(m, scale))
        names += letters.label(spot, space.name, item=name, centred=True)
    return finished(
        letters, f"door-{number}", f"{title.partition(',')[0]}, {quarters.name}",
        f"Seen from outside, with its plan: {title}.", dims=[*rows.marks, *across], drawn=drawn,
        names=names, lines=_notes(yard, quarters, door) + cut_list([*near, *walls]),
    )  # fmt: skip


def _leaf_marks(door: Door, seen: Opening) -> list[Mark]:
    """Draw opening, leaf, hinges and bolts from outside."""
    (left, low), (right, top) = seen.low, seen.high
    a, b = (left + LEAF_GAP_MM, low + LEAF_GAP_MM), (right - LEAF_GAP_MM, top - LEAF_GAP_MM)
    item = seen.item
    marks: list[Mark] = [
        rect(seen.low, seen.high, item, "Clear opening", pen="medium"),
        rect(a, b, item, "Leaf", fill="boards"),
    ]
    at_left = seen.hinge_u_mm == left
    hinge, shut = (a[0], b[0]) if at_left else (b[0], a[0])
    marks += [
        rect((hinge - 12, z - _HINGE_MM / 2), (hinge + 12, z + _HINGE_MM / 2), item, "Hinge",
             fill="ink")
        for z in _hinges_mm(a[1], b[1])
    ]  # fmt: skip
    inwards = 1 if at_left else -1
    marks += [
        rect((shut + 10 * inwards, z - 10), (shut - 110 * inwards, z + 10), item, "Bolt or lock",
             fill="cut")
        for z in _bolts_mm(door, a[1], b[1])
    ]  # fmt: skip
    return marks


def _dimension(rows: Rows, door: Door, seen: Opening, near: Sequence[Piece]) -> None:
    (left, low), (right, top) = seen.low, seen.high
    foot, head = low + LEAF_GAP_MM, top - LEAF_GAP_MM
    item = seen.item
    rows.single("bottom", (left, low), (right, low), prefix="clear ", item=item,
                title="Clear width")  # fmt: skip
    rows.single(
        "bottom", (left + LEAF_GAP_MM, foot), (right - LEAF_GAP_MM, foot), prefix="leaf ",
        title="Width of the leaf",
    )  # fmt: skip
    jambs = [u for p in near if p.part.what == "jamb" for u, _ in p.points]
    if jambs and min(jambs) < left and max(jambs) > right:
        rows.single("bottom", (min(jambs), low), (max(jambs), low), prefix="over jambs ",
                    title="Over the jambs")  # fmt: skip
    at_left = seen.hinge_u_mm == left
    hinge, shut = (left, right) if at_left else (right, left)
    hinges: Edge = "left" if at_left else "right"
    bolts: Edge = "right" if at_left else "left"
    rows.running(bolts, "bolts, from floor", 0, [(shut, z) for z in _bolts_mm(door, foot, head)])
    rows.single(bolts, (shut, foot), (shut, head), prefix="leaf ", title="Height of the leaf")
    rows.running(hinges, "hinges, from floor", 0, [(hinge, z) for z in _hinges_mm(foot, head)])
    rows.parts(hinges, [(hinge, 0), (hinge, low), (hinge, top)], item=item,
               title="Sill over the floor, clear height, and head over the floor")  # fmt: skip


def _bolts_mm(door: Door, foot: float, head: float) -> list[float]:
    """Give the heights of bolts or locks; none where the yard file has none."""
    return [] if door.locks == "none" else [foot + 150, (foot + head) / 2, head - 150]


def _hinges_mm(low: float, high: float) -> list[float]:
    """Give the middles of the hinges above the floor, from the foot up."""
    ends = [low + _HINGES_MM[1], high - _HINGES_MM[0]]
    if high - low <= sum(_HINGES_MM) + _HINGE_MM:
        return [(low + high) / 2]
    return [ends[0], (low + high) / 2, ends[1]] if high - low > _THREE_FROM_MM else ends


def _plan(
    yard: Yard, quarters: Quarters, frame: BuiltFrame, door: Door, seen: Opening, view: Outside,
    x0: float, letters: Lettering,
) -> tuple[list[Mark], list[Mark], list[Piece]]:  # fmt: skip
    """Draw wall, leaf and swing from above; marks, dimensions, and the timber that is cut."""
    t, item = frame.wall_mm, seen.item
    space = beyond(yard, quarters, door)
    (left, low), (right, top) = seen.low, seen.high
    if space is not None and space.kind == "lobby":
        x0 += max(0.0, (space.width_mm - door.width_mm) / 2 - BESIDE_MM)
    dx = x0 + BESIDE_MM - left
    depth = room_beyond_mm(space) if space is not None else 0.0
    inner, outer = (
        depth + t,
        depth,
    )  # faces of the wall on the paper, so that both views stand level
    beside = Box(left - BESIDE_MM, -t - BESIDE_MM, right + BESIDE_MM, BESIDE_MM)
    walls = shifted(cut_level(frame, view, low + _CUT * (top - low), beside), dx, inner)
    a, b = left + dx, right + dx
    marks: list[Mark] = [*timber_marks(walls, is_cut=True)]
    into = door.opens_into == quarters.name
    at_left = seen.hinge_u_mm == left
    plane = inner if into else outer
    marks += swing_marks(a, b, plane, up=into, at_left=at_left, item=item)
    rows_of: list[tuple[Edge, list[tuple[Point, Point]], str]] = []
    if space is not None:
        marks += lobby_marks(yard, door, space, (a + b) / 2, outer)
        rows_of = lobby_rows(yard, door, space, (a, b), outer)
    rows = Rows(letters, box_of(p for m in marks for p in extent(m, letters.scale)))
    rows.single("top", (a, inner), (b, inner), prefix="clear ", item=item, title="Clear width")
    rows.single("left", (a, outer), (a, inner), prefix="wall ", title="Thickness of the frame")
    for edge, spans, words in rows_of:
        prefix = "clear " if len(spans) == 1 else ""
        name = f"space:{space.name}" if space is not None else ""
        rows.chain(edge, spans, prefix=prefix, title=words, item=name)
    rows.finish()
    return marks, rows.marks, walls


def _notes(yard: Yard, quarters: Quarters, door: Door) -> list[str]:
    lines = [
        f"{door_title(door, quarters)}. Leaf {whole(LEAF_GAP_MM)} mm clear all round (5 to 10 mm). "
        f"Opens into {door.opens_into or 'a side that the yard file does not name'}; secured by: "
        f"{door.locks}; {'falls shut by itself' if door.self_closing else 'not self-closing'}; "
        f"{'opens' if door.opens_from_inside else 'does not open'} from inside.",
        "Hung "
        + (
            f"on the {door.hinge}, seen from outside"
            if door.hinge
            else "at the end nearer the left or front, for the yard file does not say"
        )
        + "; hinges, bolts and gap are judgement, for the joiner to settle.",
    ]
    return lines + lobby_notes(yard, quarters, door)
