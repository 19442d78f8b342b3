"""Gutters on the sheets: where they hang, marked as in the take-off, and never twice."""

from math import dist

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.gutter_places import hung_gutters
from mewswright.build.takeoff import take_off
from mewswright.build.water.report import drainage
from mewswright.drawing.elevation import elevation
from mewswright.drawing.front import front_elevation
from mewswright.drawing.rain_marks import with_rain
from mewswright.drawing.roof_plan import roof_plan
from mewswright.drawing.scene import Line, Polygon, Running, Text
from mewswright.drawing.section import side_section
from mewswright.drawing.yard_plan import yard_plan
from support.row_yard import row_yard
from support.units import unit_yard


@pytest.fixture(scope="module")
def unit():
    """Falls to the back, so that the gutter hangs there; its outlet at the left end."""
    yard = unit_yard(roof={"gutter": "butt"})
    quarters = yard.quarters[0]
    return yard, quarters, built_frame(yard, quarters), take_off(yard, quarters)


def shown(scene):
    return {m.item for m in scene.marks if isinstance(m, Polygon) and m.item.startswith("part:RW")}


def test_parts_are_marked_as_in_the_take_off(unit):
    yard, quarters, frame, takeoff = unit
    assert [p for p in with_rain(yard, quarters, frame).parts if p.kind == "rain"] == [
        p for p in takeoff.parts if p.kind == "rain"
    ]
    twice = with_rain(yard, quarters, with_rain(yard, quarters, frame))
    assert twice == with_rain(yard, quarters, frame)


def test_a_gutter_is_seen_from_its_own_side_and_from_both_ends(unit):
    yard, quarters, frame, takeoff = unit
    gutter, pipe = (
        f"part:{next(p for p in takeoff.parts if p.what == what).mark}"
        for what in ("gutter", "downpipe")
    )
    assert {gutter, pipe} <= shown(elevation(yard, quarters, frame, "back"))
    assert gutter in shown(elevation(yard, quarters, frame, "right"))
    assert {gutter, pipe} <= shown(elevation(yard, quarters, frame, "left"))
    assert gutter not in shown(front_elevation(yard, quarters, frame))
    assert {gutter, pipe} <= shown(side_section(yard, quarters, frame))
    assert {gutter, pipe} <= shown(roof_plan(quarters, with_rain(yard, quarters, frame)))


def test_the_back_gives_the_rim_of_the_gutter_from_the_floor(unit):
    yard, quarters, frame, _ = unit
    (hung,) = hung_gutters(yard, quarters)
    scene = elevation(yard, quarters, frame, "back")
    figures = {m.text for m in scene.marks if isinstance(m, Running)}
    low = hung.rim_mm(hung.outlets_mm[0])
    assert {f"{hung.rim_mm(hung.high_mm):.0f}", f"{low:.0f}"} <= figures
    high = max(
        y for m in scene.marks if isinstance(m, Polygon) and m.item == "part:RW1"
        for _, y in m.points
    )  # fmt: skip
    assert high == pytest.approx(hung.rim_mm(hung.high_mm), abs=2)  # half of its thickness


def test_the_roof_plan_measures_the_outlet_from_the_outer_left(unit):
    yard, quarters, frame, _ = unit
    scene = roof_plan(quarters, with_rain(yard, quarters, frame))
    words = [m.text for m in scene.marks if isinstance(m, Text)]
    assert "48" in {
        m.text for m in scene.marks if isinstance(m, Running)
    }  # over the middle of the corner post, 95 mm thick
    assert "outlets, from outer left" in words
    assert any(line.startswith("RW1 gutter, back eave") for line in words)


def test_a_gutter_before_an_open_front_is_drawn_over_it():
    yard = unit_yard(front_height_mm=2100, back_height_mm=2400, roof={"gutter": "butt"})
    quarters = yard.quarters[0]
    frame = built_frame(yard, quarters)
    assert "part:RW1" in shown(front_elevation(yard, quarters, frame))
    assert "part:RW1" not in shown(elevation(yard, quarters, frame, "back"))


def test_without_the_key_no_sheet_shows_one():
    yard = unit_yard()
    quarters = yard.quarters[0]
    frame = built_frame(yard, quarters)
    assert with_rain(yard, quarters, frame) is frame
    assert shown(elevation(yard, quarters, frame, "back")) == set()


def test_a_soakaway_is_on_the_plan_of_the_yard_with_its_drain():
    """As far from the downpipe as `drain` says, and as wide as a cube of its stone."""
    yard = unit_yard(roof={"gutter": "soakaway"})
    told = drainage(yard, yard.quarters[0]).soakaway
    scene = yard_plan(yard)
    (pit,) = [m for m in scene.marks if isinstance(m, Polygon) and m.item == "soakaway:Unit"]
    x, y = zip(*pit.points, strict=True)
    assert sum(x) / 4 == pytest.approx(told.place_m[0] * 1000)
    assert sum(y) / 4 == pytest.approx(told.place_m[1] * 1000)
    assert max(x) - min(x) == pytest.approx(1000 * told.rubble_m3 ** (1 / 3))
    (drain,) = [m for m in scene.marks if isinstance(m, Line) and m.title == "Rain drain of Unit"]
    assert dist(drain.a, drain.b) == pytest.approx(told.from_downpipe_m * 1000, abs=300)
    assert not any((m.item or "").startswith("soakaway") for m in yard_plan(unit_yard()).marks)
    row = yard_plan(row_yard(roof={"gutter": "soakaway"}))
    assert {m.item for m in row.marks if (m.item or "").startswith("soakaway")} == {"soakaway:Row"}
