"""The DXF of each sheet, read back and measured: what it says is what the model says."""

import io
import os
import subprocess
import sys
from dataclasses import dataclass

import ezdxf
import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.bath_detail import bath_detail
from mewswright.drawing.cross_section import cross_section
from mewswright.drawing.door_detail import door_detail
from mewswright.drawing.dxf import APP, to_dxf
from mewswright.drawing.elevation import elevation
from mewswright.drawing.exploded import exploded_view
from mewswright.drawing.foundation import foundation_plan
from mewswright.drawing.framing import wall_framing
from mewswright.drawing.front import front_elevation
from mewswright.drawing.hatch_detail import hatch_detail
from mewswright.drawing.openings import doors_of
from mewswright.drawing.perch_plan import WingCircle, perch_plan
from mewswright.drawing.plan import FreeCircle, quarters_plan
from mewswright.drawing.roof_plan import roof_plan
from mewswright.drawing.scene import (
    Dimension,
    Line,
    Mark,
    Polygon,
    Running,
    Scene,
    Text,
)
from mewswright.drawing.section import side_section
from mewswright.drawing.sheet import sheet
from mewswright.drawing.yard_plan import yard_plan
from mewswright.model.problem import Problem
from support.alder_close import UNITS, YARD
from support.drawn_units import PERCHES, yard_of


def pages():
    """Sheets of two units of the demo, of one with halves in its sizes, and the ground."""
    odd = yard_of(3010.5, 2430.5, 2510.5, 2190, perches=PERCHES)
    for yard, unit in ((YARD, UNITS[0]), (YARD, UNITS[-1]), (odd, odd.quarters[0])):
        frame = built_frame(yard, unit)
        for scene in (
            quarters_plan(yard, unit, frame, [FreeCircle((1500, 1200), 900, "Flint")]),
            front_elevation(yard, unit, frame),
            side_section(yard, unit, frame),
            cross_section(yard, unit, frame),
            perch_plan(yard, unit, frame, [WingCircle(p.name, 500, "Flint") for p in unit.perches]),
            elevation(yard, unit, frame, "left"),
            wall_framing(yard, unit, frame, "back"),
            roof_plan(unit, frame),
            foundation_plan(yard, unit, frame),
            exploded_view(unit, frame),
            door_detail(yard, unit, frame, doors_of(yard, unit)[0]),
            *(hatch_detail(yard, unit, frame, hatch) for hatch in unit.hatches),
            *(bath_detail(yard, unit, frame, bath) for bath in unit.baths),
        ):
            yield f"{unit.name} {scene.name}", sheet(scene, yard.yard.name, scene.title)
    yield "ground", sheet(yard_plan(YARD), YARD.yard.name, "Ground")


PAGES = dict(pages())


def read(content):
    return ezdxf.read(io.StringIO(content.decode()))


@pytest.fixture(scope="module", params=PAGES, ids=str)
def drawn(request):
    page = PAGES[request.param]
    return page, read(to_dxf(page))


def marks(page, kind):
    return [mark for mark in page.marks if isinstance(mark, kind)]


def shown(dimension):
    """What a dimension's own picture writes."""
    return [text.plain_text() for text in dimension.get_geometry_block().query("MTEXT")]


def test_no_fault_in_the_audit(drawn):
    _, document = drawn
    audit = document.audit()
    assert [fault.message for fault in audit.errors] == []
    assert [fault.message for fault in audit.fixes] == []


def test_every_dimension_measures_what_the_scene_measures(drawn):
    """Real DIMENSION entities, one a dimension; length and figure both."""
    page, document = drawn
    found = document.modelspace().query("DIMENSION")
    linear = [d for d in found if d.dimtype == 0]
    ordinate = [d for d in found if d.dimtype == 6]
    singles, running = marks(page, Dimension), marks(page, Running)
    assert (len(linear), len(ordinate)) == (len(singles), len(running))
    for mark, dimension in zip(singles, linear, strict=True):
        assert dimension.get_measurement() == pytest.approx(mark.length_mm, abs=1e-6)
        assert shown(dimension) == [mark.text]
    for mark, dimension in zip(running, ordinate, strict=True):
        ahead = dimension.get_measurement()
        length = ahead if isinstance(ahead, float) else ahead["xy".index(mark.axis)]
        assert abs(length) == pytest.approx(abs(mark.length_mm), abs=1e-6)
        assert shown(dimension) == [mark.text]


def test_the_plan_gives_clear_and_outer_sizes_of_the_model():
    """By hand: 7200 by 4200 mm clear in the yard file, and 95 mm of wall on each side."""
    measured = {
        (dimension.dxf.text, round(dimension.get_measurement(), 6))
        for dimension in read(to_dxf(PAGES["Long loft plan"])).modelspace().query("DIMENSION")
        if dimension.dimtype == 0
    }
    assert measured == {
        ("clear <>", 7200), ("clear <>", 4200), ("outer <>", 7390), ("outer <>", 4390),
    }  # fmt: skip


def test_every_layer_of_the_scene_is_a_layer(drawn):
    page, document = drawn
    assert {mark.layer for mark in page.marks} <= {layer.dxf.name for layer in document.layers}
    for entity in document.modelspace():
        assert entity.dxf.layer in document.layers


def test_all_lettering_is_there(drawn):
    page, document = drawn
    letters = {e.dxf.text for s in ("Model", "Sheet") for e in document.layout(s).query("TEXT")}
    assert letters == {mark.text for mark in marks(page, Text)}


def test_the_viewport_shows_the_drawing_at_the_scale_of_the_sheet(drawn):
    page, document = drawn
    paper = document.layout("Sheet")
    assert (paper.dxf_layout.dxf.paper_width, paper.dxf_layout.dxf.paper_height) == (420, 297)
    (view,) = [v for v in paper.query("VIEWPORT") if v.dxf.id != 1]
    assert view.dxf.view_height / view.dxf.height == pytest.approx(page.scale)
    assert document.layers.get(view.dxf.layer).is_off()
    # What lies in the middle of the window on paper is what lies there on the page.
    page_at = (
        (view.dxf.view_center_point.x - page.box.left) / page.scale,
        (view.dxf.view_center_point.y - page.box.bottom) / page.scale,
    )
    assert page_at == pytest.approx((view.dxf.center.x, view.dxf.center.y), abs=1e-6)
    # All lettering of the drawing lies inside the window.
    half_w, half_h = view.dxf.width * page.scale / 2, view.dxf.view_height / 2
    for text in document.modelspace().query("TEXT"):
        at = text.get_placement()[1]
        assert abs(at.x - view.dxf.view_center_point.x) <= half_w
        assert abs(at.y - view.dxf.view_center_point.y) <= half_h


def test_alike_pieces_are_inserts_of_one_block():
    page = PAGES["Long loft front"]
    document = read(to_dxf(page))
    inserts = document.modelspace().query('INSERT[name=="R1-1"]')
    rafters = [m for m in marks(page, Polygon) if m.item == "part:R1"]
    assert len(inserts) == len(rafters) == 14
    # The block, put where it is inserted, has the corners of the scene's piece.
    for insert, mark in zip(inserts, rafters, strict=True):
        (outline,) = [e for e in insert.virtual_entities() if e.dxftype() == "LWPOLYLINE"]
        corners = [(x, y) for x, y, *_ in outline.get_points()]
        for corner, wanted in zip(corners, mark.points, strict=True):
            assert corner == pytest.approx(wanted, abs=0.02)


def test_a_thing_carries_its_name():
    document = read(to_dxf(PAGES["Long loft plan"]))
    told = {
        entity.get_xdata(APP)[0].value
        for entity in document.modelspace()
        if entity.has_xdata(APP)
    }  # fmt: skip
    assert {"perch:High round", "part:P1", "door:Long loft|Corridor", "face:front"} <= told


def test_hatches_stand_for_material():
    document = read(to_dxf(PAGES["Long loft front"]))
    patterns = {h.dxf.pattern_name for h in document.modelspace().query("HATCH")}
    blocks = {h.dxf.pattern_name for b in document.blocks for h in b.query("HATCH")}
    assert {"MW_MESH", "MW_DIAGONAL", "SOLID"} <= patterns | blocks


def test_true_spacing_of_bars():
    """Bars drawn as a hatch stand their real centres apart: 12 mm bars, 35 mm gaps."""
    bars = Polygon(
        layer="walls", points=((0, 0), (940, 0), (940, 500), (0, 500)), hatch="bars", hatch_mm=47
    )
    document = read(to_dxf(Scene("front", "t", "d", 10, (bars,))))
    (hatch,) = document.modelspace().query("HATCH")
    (line,) = hatch.pattern.lines
    assert (line.angle, line.offset.x, line.offset.y) == (90, pytest.approx(47), pytest.approx(0))


def test_the_same_scene_gives_the_same_bytes_in_any_home(tmp_path):
    """Another process, another hash seed, another time zone, no home and so no font cache."""
    page = PAGES["Isolation front"]
    here = to_dxf(page)
    assert to_dxf(page) == here
    code = (
        "import sys\n"
        "from mewswright.build.frame import built_frame\n"
        "from mewswright.drawing.dxf import to_dxf\n"
        "from mewswright.drawing.front import front_elevation\n"
        "from mewswright.drawing.sheet import sheet\n"
        "from support.alder_close import UNITS, YARD\n"
        "unit = UNITS[-1]\n"
        "scene = front_elevation(YARD, unit, built_frame(YARD, unit))\n"
        "page = sheet(scene, YARD.yard.name, scene.title)\n"
        "sys.stdout.buffer.write(to_dxf(page))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={
            **os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland", "HOME": "/dev/null/none",
            "XDG_CACHE_HOME": str(tmp_path), "PYTHONPATH": "tests",
        },
        capture_output=True, check=True,
    )  # fmt: skip
    assert done.stdout == here
    assert done.stderr == b""


def test_a_mark_that_dxf_cannot_draw_is_refused():
    @dataclass(frozen=True, slots=True, kw_only=True)
    class Spline(Mark):
        pass

    scene = Scene("s", "s", "", 10, (Line(layer="l", a=(0, 0), b=(1, 1)), Spline(layer="l")))
    with pytest.raises(TypeError, match=r"a mark of kind 'Spline'$"):
        to_dxf(scene)


def test_a_place_that_is_no_number_is_refused():
    line = Line(layer="l", a=(0, 0), b=(float("nan"), 1))
    with pytest.raises(ValueError, match=r"^a mark lies at a point that is not a number$"):
        to_dxf(Scene("s", "s", "", 10, (line,)))


def test_missing_faces_are_told(tmp_path):
    with pytest.raises(Problem, match=r"^a DXF cannot be lettered: its faces are missing"):
        to_dxf(PAGES["ground"], fonts=tmp_path)
