"""The unit taken apart: groups, their moves, and what is seen of every part."""

from itertools import combinations
from math import hypot

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.row import unit_or_row
from mewswright.build.solids import solids_of
from mewswright.drawing.exploded import (
    exploded_view,
    group_of,
    moves_mm,
    on_paper,
    take_apart,
)
from mewswright.drawing.scene import Text
from mewswright.drawing.sheet import sheet
from support.alder_close import UNITS, YARD
from support.row_yard import row_yard
from support.units import unit_yard


def ridged():
    yard = unit_yard(
        roof={"form": "duopitch", "ridge_height_mm": 3000}, back_height_mm=2400, depth_mm=3600
    )
    return yard, yard.quarters[0]


CASES = {
    "one slope": (YARD, UNITS[4]), "two slopes": ridged(), "row": unit_or_row(row_yard(), "Row"),
}  # fmt: skip


@pytest.fixture(scope="module", params=CASES, ids=str)
def drawn(request):
    yard, unit = CASES[request.param]
    frame = built_frame(yard, unit)
    return unit, frame, take_apart(unit, frame)


def overlapping(scene):
    boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
    return [(a, b) for (a, x), (b, y) in combinations(boxes, 2) if x.overlaps(y)]


def test_nothing_overlaps_and_every_group_is_marked(drawn):
    unit, frame, apart = drawn
    page = sheet(exploded_view(unit, frame, apart), "Yard", unit.name)
    assert overlapping(page) == []
    assert all(page.box.holds(box) for _, box in page.text_boxes())
    marks = {m.text for m in page.marks if isinstance(m, Text) and m.layer == "part-marks"}
    for kind in ("sole", "head", "rafter", "deck", "covering", "base"):
        ours = {p.mark for p in frame.parts if p.kind == kind and (p.sticks or p.panels)}
        assert ours & marks, kind


def test_moved_groups_reach_into_no_other(drawn):
    """Each pair of groups has air between along at least one axis of the unit."""
    unit, frame, apart = drawn
    places = {}
    for part in frame.parts:
        for solid in solids_of(part, frame):
            group = group_of(part, solid.places_mm, unit)
            move = apart.moves_mm[group]
            moved = [
                tuple(a + b for a, b in zip(place, move, strict=True)) for place in solid.places_mm
            ]
            places.setdefault(group, []).extend(moved)
    assert {"front", "back", "left", "right", "roof", "cover", "base"} <= set(places)
    boxes = {
        group: [(min(p[k] for p in found), max(p[k] for p in found)) for k in range(3)]
        for group, found in places.items()
    }
    for (a, first), (b, second) in combinations(boxes.items(), 2):
        apart_mm = max(max(s[0] - f[1], f[0] - s[1]) for f, s in zip(first, second, strict=True))
        assert apart_mm > 0 or "inside" in (a, b), (a, b)


def test_the_notes_state_the_moves(drawn):
    unit, frame, apart = drawn
    said = " ".join(
        m.text
        for m in exploded_view(unit, frame, apart).marks
        if getattr(m, "layer", "") == "notes"
    )
    moves = moves_mm(unit)
    assert f"each wall {moves['right'][0]:.0f} mm outwards" in said
    assert f"rafters {moves['roof'][2]:.0f} mm up" in said
    assert f"covering {moves['cover'][2]:.0f} mm up" in said
    assert f"base and floor {-moves['base'][2]:.0f} mm down" in said


def test_lengths_along_the_edges_are_true_on_paper():
    """Isometric: each edge of a cube is drawn as long as it is."""
    for edge in ((1000, 0, 0), (0, 1000, 0), (0, 0, 1000)):
        assert hypot(*on_paper(edge)) == pytest.approx(1000)


def test_the_same_unit_gives_the_same_picture(drawn):
    unit, frame, apart = drawn
    assert take_apart(unit, frame) == apart


def test_bars_each_of_their_own_length_do_not_crowd_the_picture():
    """Clear heights run from 2100 to 2400, so each bar of the left has a mark of its own."""
    yard = unit_yard(faces={"left": {"infill": "barred", "gap_mm": 38, "bar_mm": 12}})
    unit = yard.quarters[0]
    frame = built_frame(yard, unit)
    bars = {p.mark for p in frame.parts if p.kind == "bar" and "left" in p.place}
    scene = exploded_view(unit, frame)
    written = {m.text for m in scene.marks if isinstance(m, Text) and m.layer == "part-marks"}
    assert len(bars) > 20
    assert not bars & written
