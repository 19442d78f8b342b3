"""The sheet plan on one page: what is drawn is what the plan says, and nothing overlaps."""

from itertools import combinations

import pytest

from mewswright.build.sheeting import sheeting_of
from mewswright.build.takeoff import take_off
from mewswright.drawing.nest_page import columns_of, nest_page, page_size_mm, shifted
from mewswright.drawing.scene import Dimension, Line, Mark, Polygon, Text
from mewswright.papers.unit import sheet_plans_of
from support.units import unit_yard


@pytest.fixture(scope="module")
def plan():
    yard = unit_yard(frame={"lining": "hdpe_6"})
    return sheeting_of(yard, take_off(yard, yard.quarters[0]).parts).of("hdpe_6").plan


def boxes(scene, layer):
    return [
        (min(x for x, _ in m.points), min(y for _, y in m.points),
         max(x for x, _ in m.points), max(y for _, y in m.points))
        for m in scene.marks if isinstance(m, Polygon) and m.layer == layer
    ]  # fmt: skip


def test_every_layout_part_and_cut_is_drawn_once(plan):
    scene = nest_page(plan, "hdpe_6", "polyethylene sheet", 20)
    assert len(boxes(scene, "sheet")) == len(plan.sheets)
    assert len(boxes(scene, "parts")) == sum(len(layout.parts) for layout in plan.sheets)
    cuts = [m for m in scene.marks if isinstance(m, Line) and m.layer == "cuts"]
    assert len(cuts) == sum(len(layout.cuts) for layout in plan.sheets)
    drawn = sum((c - a) * (d - b) for a, b, c, d in boxes(scene, "parts"))
    placed = sum(
        float(part.length_mm * part.width_mm) for layout in plan.sheets for part in layout.parts
    )
    assert drawn == pytest.approx(placed)


def test_sheets_lie_apart_and_every_part_on_one(plan):
    scene = nest_page(plan, "hdpe_6", "polyethylene sheet", 20)
    sheets = boxes(scene, "sheet")
    for one, other in combinations(sheets, 2):
        assert one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]
    for part in boxes(scene, "parts"):
        assert any(s[0] <= part[0] and s[1] <= part[1] and part[2] <= s[2] and part[3] <= s[3]
                   for s in sheets)  # fmt: skip
    wide, high = page_size_mm(plan)
    assert wide == columns_of(plan) * 2440
    assert high >= 1220


def test_a_dimension_still_measures_the_same_when_moved():
    mark = Dimension(layer="d", a=(0, 0), b=(2440, 0), axis="x", at=-60, text_at=(1220, -50))
    moved = shifted(mark, (100, 30))
    assert (moved.length_mm, moved.at, moved.text_at) == (2440, -30, (1320, -20))
    upright = Dimension(layer="d", a=(0, 0), b=(0, 9), axis="y", at=5, text_at=(0, 0))
    assert shifted(upright, (7, 1)).at == 12


def test_a_mark_that_is_not_known_is_refused():
    with pytest.raises(TypeError, match="a mark of kind 'Mark' cannot be moved"):
        shifted(Mark(layer="x"), (0, 0))


def test_the_pack_draws_a_page_for_each_material():
    yard = unit_yard(frame={"lining": "pvc_wall_2.5"})
    quarters = yard.quarters[0]
    pages = sheet_plans_of(yard, quarters, take_off(yard, quarters))
    assert [page.name for page in pages] == ["sheets-osb3-18", "sheets-pvc-wall-2-5"]
    assert any(isinstance(m, Text) and m.text.startswith("Sheet 1 of") for m in pages[0].marks)
