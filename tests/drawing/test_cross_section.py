"""The cross section and the clear heights over perches, against the yard file's own figures."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.takeoff import take_off
from mewswright.drawing.cross_section import cross_section, cut_behind_front_mm
from mewswright.drawing.scene import Dimension, Running
from mewswright.drawing.section import side_section
from mewswright.papers.sheets import sheets_of
from support.alder_close import UNITS, YARD


def over_perches(scene):
    return sorted(
        (m.item, round(m.length_mm, 6))
        for m in scene.marks
        if isinstance(m, Dimension) and m.item.startswith("perch:")
    )


@pytest.mark.parametrize("unit", UNITS, ids=lambda q: q.name)
def test_both_sections_say_the_clear_height_over_every_perch(unit):
    """By hand: the roof's underside is a straight line from front to back height."""
    fall = (unit.back_height_mm - unit.front_height_mm) / unit.depth_mm
    wanted = sorted(
        (f"perch:{p.name}", round(unit.front_height_mm + fall * p.at_mm[1] - p.height_mm, 6))
        for p in unit.perches
    )
    frame = built_frame(YARD, unit)
    for scene in (side_section(YARD, unit, frame), cross_section(YARD, unit, frame)):
        assert over_perches(scene) == wanted
        heights = {m.length_mm for m in scene.marks if isinstance(m, Running) and m.axis == "y"}
        assert {p.height_mm for p in unit.perches} <= heights


@pytest.mark.parametrize("unit", UNITS, ids=lambda q: q.name)
def test_the_cross_section_runs_lengthwise_through_no_stud(unit):
    frame = built_frame(YARD, unit)
    at = cut_behind_front_mm(unit, frame)
    for part in frame.parts:
        if part.kind == "stud":
            for stick in part.sticks:
                turned = abs(stick.depth_axis[1]) > 0.5
                half = (stick.depth_mm if turned else stick.breadth_mm) / 2
                assert abs(stick.start_mm[1] - at) >= half


@pytest.mark.parametrize("paper", ["A3", "A4", "Letter"])
def test_every_sheet_of_the_largest_unit_fits_on_its_paper(paper):
    unit = max(UNITS, key=lambda q: q.width_mm * q.depth_mm)
    for scene in sheets_of(YARD, unit, take_off(YARD, unit), paper):
        assert scene.sheet is not None
        assert all(scene.box.holds(box) for _, box in scene.text_boxes()), scene.name
        boxes = [(t, b.grown(-0.05 * scene.scale)) for t, b in scene.text_boxes()]
        clash = [(a, b) for i, (a, x) in enumerate(boxes) for b, y in boxes[:i] if x.overlaps(y)]
        assert clash == [], (paper, scene.name)
