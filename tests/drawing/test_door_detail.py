"""Sheets of doors, against the yard file's own figures."""

from itertools import combinations

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.door_detail import door_detail
from mewswright.drawing.openings import door_marks, doors_of
from mewswright.drawing.outside import Outside, openings_seen
from mewswright.drawing.scene import Arc, Dimension
from mewswright.drawing.sheet import sheet
from support.alder_close import UNITS, YARD
from support.units import unit_yard

CASES = [(unit, door) for unit in UNITS for door in doors_of(YARD, unit)]


@pytest.mark.parametrize(("unit", "door"), CASES)
def test_a_door_measures_what_the_yard_file_says_and_nothing_overlaps(unit, door):
    scene = door_detail(YARD, unit, built_frame(YARD, unit), door)
    lengths = {round(m.length_mm) for m in scene.marks if isinstance(m, Dimension)}
    assert {750, 734, 1884} <= lengths  # by hand: 8 mm off each edge of 750 x 1900
    assert {150, 1900, 2050} <= lengths
    page = sheet(scene, YARD.yard.name, unit.name)
    boxes = [(text, box.grown(-0.05 * page.scale)) for text, box in page.text_boxes()]
    assert [(a, b) for (a, x), (b, y) in combinations(boxes, 2) if x.overlaps(y)] == []
    assert all(page.box.holds(box) for _, box in page.text_boxes())


def test_what_the_lobby_leaves_before_the_leaf_is_drawn_and_said():
    """By hand: the porch is 1800 mm long and the leaf 734 mm wide."""
    unit, door = next((u, d) for u, d in CASES if "Isolation porch" in d.between)
    scene = door_detail(YARD, unit, built_frame(YARD, unit), door)
    lengths = {round(m.length_mm) for m in scene.marks if isinstance(m, Dimension)}
    assert {1800, 734, 1066} <= lengths
    assert "1066 mm are left before the open leaf" in " ".join(
        getattr(m, "text", "") for m in scene.marks
    )


def test_a_door_without_a_place_is_refused():
    unit, door = CASES[0]
    lost = door.model_copy(update={"face": None})
    with pytest.raises(ValueError, match=r"has no face and place: it cannot be drawn$"):
        door_detail(YARD, unit, built_frame(YARD, unit), lost)


HANDED = [
    ("front", None, "left"), ("front", "left", "left"), ("front", "right", "right"),
    ("back", None, "right"), ("back", "left", "left"), ("back", "right", "right"),
    ("left", None, "right"), ("left", "left", "left"), ("left", "right", "right"),
    ("right", None, "left"), ("right", "left", "left"), ("right", "right", "right"),
]  # fmt: skip


@pytest.mark.parametrize(("face", "hinge", "seen_at"), HANDED)
def test_a_door_hangs_where_the_yard_file_says_seen_from_outside(face, hinge, seen_at):
    """Blank hangs it where doors hung before there was a word for it."""
    door = {
        "between": ["Unit", "outside"], "width_mm": 700, "height_mm": 1800, "face": face,
        "at_mm": 900, "opens_into": "outside", "hinge": hinge,
    }  # fmt: skip
    yard = unit_yard(door=[door])
    (unit,) = yard.quarters
    (seen,) = openings_seen(yard, Outside(unit, face))
    assert seen.hinge_u_mm == {"left": seen.low[0], "right": seen.high[0]}[seen_at]
    (arc,) = [m for m in door_marks(yard.door[0], unit, 95) if isinstance(m, Arc)]
    # Whoever stands outside has the low end of front and right walls on the left.
    low = (seen_at == "left") == (face in ("front", "right"))
    along = arc.centre[0] if face in ("front", "back") else arc.centre[1]
    assert along == (550 if low else 1250)
    assert 0 <= arc.end_deg - arc.start_deg - 90 < 1e-9
