"""The perch plan against the yard file's own figures."""

from math import hypot

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.room import roof_room_mm
from mewswright.drawing.cross_section import cross_section
from mewswright.drawing.perch_plan import WingCircle, over_mm, perch_plan
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import Circle, Running
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import sheet
from mewswright.drawing.table import cells_of, table
from mewswright.papers.sheets import wing_circles
from support.alder_close import UNITS, YARD
from support.drawn_units import PERCHES, yard_of
from support.units import unit_yard


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


def test_a_deep_ridge_beam_is_what_a_perch_has_over_it():
    """By hand: 95 x 295 under rafters of 145 at 700 in 2000, its top level with theirs."""
    yard = unit_yard(
        width_mm=4000, depth_mm=4000, front_height_mm=2300, back_height_mm=2300,
        roof={"form": "duopitch", "ridge_height_mm": 3000}, frame={"ridge": "95x295"},
        fitting=[
            {"kind": "perch", "name": name, "form": "flat", "at_mm": [2000, y], "height_mm": 1500,
             "width_mm": 60, "length_mm": 900}
            for name, y in (("under it", 2000), ("beside it", 1000))
        ],
    )  # fmt: skip
    unit = yard.quarters[0]
    under = 3000 - 0.35 * 95 / 2 + 145 * hypot(700, 2000) / 2000 - 295
    wanted = {"under it": under - 1500, "beside it": 2300 + 350 - 1500}
    assert {p.name: over_mm(p, unit) for p in unit.perches} == pytest.approx(wanted)
    assert {p.name: roof_room_mm(unit, p) for p in unit.perches} == pytest.approx(wanted)
    frame = built_frame(yard, unit)
    for scene in (side_section(yard, unit, frame), cross_section(yard, unit, frame)):
        told = {
            m.title.removeprefix("Clear height over "): m.length_mm
            for m in scene.marks
            if getattr(m, "title", "").startswith("Clear height over") and hasattr(m, "length_mm")
        }
        assert told == pytest.approx(wanted)
