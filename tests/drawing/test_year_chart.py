"""The wall chart: every stay and move is on it, in places that its days give, and can be read."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import takewhile

import pytest

from mewswright.drawing.dxf import to_dxf
from mewswright.drawing.paper import PAPER_MM
from mewswright.drawing.scene import Polygon, Text
from mewswright.drawing.svg import to_svg
from mewswright.drawing.year_chart import year_chart, year_sheets
from mewswright.drawing.year_time import TimeAxis, head
from support.year_plans import crowd, small_plan


def words(scene):
    return [mark.text for mark in scene.marks if isinstance(mark, Text)]


def bars(scene, title):
    """Left and right ends of the bars whose title begins so."""
    return [
        (min(x for x, _ in m.points), max(x for x, _ in m.points))
        for m in scene.marks
        if isinstance(m, Polygon) and m.title.startswith(title)
    ]


def test_a_bar_is_as_long_as_its_stay():
    (scene,) = year_sheets(small_plan())
    (tethered,) = bars(scene, "Sleet: Slate shelter, tethered")
    (isolated,) = bars(scene, "Sorrel: Isolation")
    assert (tethered[1] - tethered[0]) / 49 == pytest.approx((isolated[1] - isolated[0]) / 42)
    assert tethered[0] == pytest.approx(isolated[0])  # both begin on 15 March


def test_modes_and_empty_days_differ_by_pattern_and_not_by_colour_alone():
    (scene,) = year_sheets(small_plan())
    looks = {
        title: next(
            (m.hatch for m in scene.marks if isinstance(m, Polygon) and title in m.title), None
        )
        for title in ("loose", "tethered", "clean", "closed")
    }
    assert len(set(looks.values())) == 4


def test_every_move_is_listed_with_its_day_and_its_weekday():
    (scene,) = year_sheets(small_plan())
    listed = words(scene)
    plan = small_plan()
    for move in plan.moves:
        assert move.words in listed
    assert "Mon 12 Apr" in listed


@pytest.mark.parametrize("paper", ["A3", "A4", "Letter"])
@pytest.mark.parametrize(("birds", "quarters"), [(9, 14), (60, 64), (0, 0), (0, 3)])
def test_everything_lies_on_the_paper_and_no_two_pieces_of_lettering_cross(birds, quarters, paper):
    plan = crowd(birds, quarters)
    sheets = year_sheets(plan, paper)
    named = set()
    for scene in sheets:
        assert (scene.box.width, scene.box.height) == PAPER_MM[paper]
        boxes = sorted(scene.text_boxes(), key=lambda found: found[1].bottom)
        for i, (text, box) in enumerate(boxes):
            assert scene.box.holds(box), text
            level = takewhile(lambda found, top=box.top: found[1].bottom < top, boxes[i + 1 :])
            assert [other for other, at in level if box.overlaps(at)] == [], text
        named |= {m.item for m in scene.marks}
        to_svg(scene)
    assert {f"bird:{b}" for b in plan.birds} | {f"quarters:{q}" for q in plan.quarters} <= named


def test_one_drawing_holds_all_where_sheets_would_be_many():
    plan = crowd(60, 64)
    assert len(year_sheets(plan)) > 1
    scene = year_chart(plan)
    assert scene.box.width == PAPER_MM["A3"][0]
    assert {f"bird:{b}" for b in plan.birds} <= {m.item for m in scene.marks}


def test_weeks_are_numbered_as_iso_8601_numbers_them():
    # ISO 8601: 1 January 2027 is a Friday and belongs to week 53 of 2026.
    axis = TimeAxis(date(2026, 12, 28), date(2027, 1, 17), 0.0, 120.0)
    numbers = [m.text for m in head(axis, 0.0) if isinstance(m, Text) and m.text.isdigit()]
    assert numbers == ["53", "1", "2"]


def test_the_chart_has_a_dxf_too():
    (scene,) = year_sheets(small_plan())
    assert to_dxf(scene)


def test_odd_lengths_are_drawn():
    plan = small_plan()
    one_day = replace(plan, starts_on=date(2027, 4, 15), ends_on=date(2027, 4, 15))
    years = replace(plan, ends_on=plan.starts_on + timedelta(days=3 * 365))
    for odd in (one_day, years):
        to_svg(year_chart(odd))
