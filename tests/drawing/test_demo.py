"""The demo yard's drawings, as a builder gets them."""

import tomllib
from importlib.resources import files

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.cross_section import cross_section
from mewswright.drawing.front import front_elevation
from mewswright.drawing.plan import quarters_plan
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import sheet
from mewswright.drawing.yard_plan import yard_plan
from mewswright.model.yard import Yard

TEXT = (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")
YARD = Yard.model_validate(tomllib.loads(TEXT))
UNITS = [q for q in YARD.quarters if q.kind != "pitch"]


def overlapping(scene):
    boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
    return [
        (a, b) for i, (a, box) in enumerate(boxes) for b, other in boxes[:i] if box.overlaps(other)
    ]


@pytest.mark.parametrize("unit", UNITS, ids=lambda q: q.name)
def test_no_lettering_overlaps_on_any_sheet_of_the_demo(unit):
    frame = built_frame(YARD, unit)
    for draw in (quarters_plan, front_elevation, side_section, cross_section):
        page = sheet(draw(YARD, unit, frame), f"{YARD.yard.name}: {unit.name}", draw.__name__)
        assert overlapping(page) == []


def test_the_ground_of_the_demo_is_named_without_overlaps():
    scene = yard_plan(YARD)
    said = {text for text, _ in scene.text_boxes()}
    assert {thing.name for thing in (*YARD.feature, *YARD.quarters)} <= said
    assert overlapping(sheet(scene, YARD.yard.name, "Ground")) == []
    assert scene.scale == 200
