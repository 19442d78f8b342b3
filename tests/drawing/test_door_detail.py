"""Sheets of doors, against the yard file's own figures."""

from itertools import combinations

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.door_detail import door_detail
from mewswright.drawing.openings import doors_of
from mewswright.drawing.scene import Dimension
from mewswright.drawing.sheet import sheet
from support.alder_close import UNITS, YARD

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
