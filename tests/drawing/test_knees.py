"""Knee braces on the sheets."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.takeoff import take_off
from mewswright.drawing.framing import wall_framing
from mewswright.drawing.scene import Polygon
from mewswright.drawing.section import side_section
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
