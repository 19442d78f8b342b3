"""The perch plan against the yard file's own figures."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.perch_plan import WingCircle, perch_plan
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import Circle, Running
from mewswright.drawing.sheet import sheet
from mewswright.drawing.table import cells_of, table
from mewswright.papers.sheets import wing_circles
from support.alder_close import UNITS, YARD
from support.drawn_units import PERCHES, yard_of


def overlapping(scene):
    boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
    return [
        (a, b) for i, (a, box) in enumerate(boxes) for b, other in boxes[:i] if box.overlaps(other)
    ]


@pytest.mark.parametrize("unit", UNITS, ids=lambda q: q.name)
def test_every_perch_is_measured_from_two_walls_and_listed(unit):
    scene = perch_plan(YARD, unit, built_frame(YARD, unit), wing_circles(YARD, unit))
    measured = {
        axis: {round(m.length_mm) for m in scene.marks if isinstance(m, Running) and m.axis == axis}
        for axis in "xy"
    }
    cells = cells_of(scene.marks)
    for perch in unit.perches:
        assert round(perch.at_mm[0]) in measured["x"]
        assert round(perch.at_mm[1]) in measured["y"]
        at = cells.index(perch.name)
        assert cells[at - 1].startswith("PE")  # the mark of the take-off
        assert cells[at + 1 : at + 5] == [
            perch.form, *(f"{v:.0f}" for v in (*perch.at_mm, perch.height_mm))
        ]  # fmt: skip
        # By hand: the roof's underside is a straight line from front to back height.
        fall = (unit.back_height_mm - unit.front_height_mm) / unit.depth_mm
        over = unit.front_height_mm + fall * perch.at_mm[1] - perch.height_mm
        assert abs(float(cells[at + 5]) - over) <= 0.5
    page = sheet(scene, YARD.yard.name, scene.title)
    assert overlapping(page) == []
    assert all(page.box.holds(box) for _, box in page.text_boxes())


def test_the_wings_drawn_are_those_of_the_widest_bird():
    """By hand: the Long loft houses Tansy (wing span 1160 mm in the yard file) and Rook."""
    unit = UNITS[0]
    wings = wing_circles(YARD, unit)
    assert {(c.bird, c.radius_mm) for c in wings} == {("Tansy", 580)}
    scene = perch_plan(YARD, unit, None, wings)
    drawn = [m for m in scene.marks if isinstance(m, Circle) and m.item.startswith("wings:")]
    assert sorted(m.centre for m in drawn) == sorted(p.at_mm for p in unit.perches)
    assert {m.radius for m in drawn} == {580}


def test_ends_of_a_turned_perch_are_measured_too():
    yard = yard_of(perches=PERCHES)
    unit = yard.quarters[0]
    perch = unit.perches[0].model_copy(update={"turn_deg": 90.0})
    turned = unit.model_copy(update={"fitting": (perch, *unit.fitting[1:])})
    scene = perch_plan(yard, turned, None, [WingCircle(perch.name, 500, "Flint")])
    into = {round(m.length_mm, 3) for m in scene.marks if isinstance(m, Running) and m.axis == "y"}
    y = perch.at_mm[1]
    assert {round(y - 450, 3), round(y + 450, 3)} <= into  # 900 mm long
    assert overlapping(scene) == []


def test_a_table_refuses_a_row_that_does_not_fill_its_columns():
    with pytest.raises(ValueError, match=r"^a row of 1 cells in a table of 2 columns: \['a'\]$"):
        table(Lettering(20), 0, 0, ["mark", "top"], [["a"]])
    assert table(Lettering(20), 0, 0, ["mark"], []) == []
