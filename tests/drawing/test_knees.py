"""Knee braces on the sheets."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.row import unit_or_row
from mewswright.build.takeoff import take_off
from mewswright.drawing.framing import wall_framing
from mewswright.drawing.scene import Polygon
from mewswright.drawing.section import side_section
from support.row_yard import row_yard
from support.units import unit_yard


@pytest.mark.parametrize("brace", ["knee", "none"])
def test_knee_braces_are_drawn_with_the_marks_of_the_take_off(brace):
    """By hand: two a bay; each reaches a leg along the front and down the post, and its cut."""
    yard = unit_yard(frame={"brace": brace, "brace_leg_mm": 400, "post_count": 2})
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    knees = {p.mark: p.count for p in take_off(yard, unit).parts if p.what == "knee brace"}
    assert sum(knees.values()) == (2 if brace == "knee" else 0)
    front = wall_framing(yard, unit, frame, "front")
    items = {f"part:{mark}" for mark in knees}
    drawn = [m for m in front.marks if isinstance(m, Polygon) and m.item in items]
    assert len(drawn) == sum(knees.values())
    for knee in drawn:
        high = [z for _, z in knee.points]
        assert max(high) - min(high) >= 400
    for scene in (front, side_section(yard, unit, frame)):
        assert items <= {m.item for m in scene.marks if isinstance(m, Polygon)}
        assert set(knees) <= {getattr(m, "text", "").split(" ")[0] for m in scene.marks}


def test_the_knee_braces_of_a_row_are_drawn_where_each_unit_stands():
    """Three units of 3000 mm and walls of 95 + 22 between: two bays and four braces each."""
    frame_keys = {"brace": "knee", "brace_leg_mm": 400, "post_count": 3}
    yard, whole = unit_or_row(row_yard(frame=frame_keys), "Row")
    frame = built_frame(yard, whole)
    knees = {p.mark for p in take_off(yard, whole).parts if p.what == "knee brace"}
    front = wall_framing(yard, whole, frame, "front")
    drawn = [
        sum(x for x, _ in m.points) / len(m.points)
        for m in front.marks
        if isinstance(m, Polygon) and (m.item or "").removeprefix("part:") in knees
    ]
    assert len(drawn) == 12
    for start in (0, 3117, 6234):
        assert sum(start < x < start + 3000 for x in drawn) == 4
