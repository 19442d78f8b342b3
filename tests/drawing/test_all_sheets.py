"""Every sheet of every kind of unit: chains add up and agree, lettering is clear, all fits."""

from itertools import combinations, pairwise

import pytest

from mewswright.drawing.paper import BORDER_MM, STRIP_MM
from mewswright.drawing.scene import Box, Dimension, Running, box_of, extent, whole
from support.sheet_cases import NAMES, case

CASES = [(name, "A3") for name in NAMES] + [
    (name, "A4") for name in ("Long loft", "Isolation", "duopitch", "raised", "row")
]


@pytest.fixture(params=CASES, ids=lambda c: f"{c[0]} on {c[1]}")
def sheets(request):
    return case(*request.param).sheets


def chains(scene):
    """Dimensions that stand on one line, from low to high, line by line."""
    lines = {}
    for mark in scene.marks:
        if isinstance(mark, Dimension):
            k = 0 if mark.axis == "x" else 1
            low, high = sorted((mark.a[k], mark.b[k]))
            lines.setdefault((mark.axis, round(mark.at, 3)), []).append((low, high, mark))
    return {line: sorted(found, key=lambda f: f[:2]) for line, found in lines.items()}


def runs_of(found):
    """Part a line's dimensions into runs that touch end to end: chains."""
    runs = [[found[0]]]
    for before, after in pairwise(found):
        if abs(after[0] - before[1]) < 1e-6:
            runs[-1].append(after)
        else:
            runs.append([after])
    return runs


def test_every_chain_adds_up_to_an_overall_dimension(sheets):
    """Whole millimetres: each figure may be half of one off, so n of them n / 2 together."""
    for scene in sheets:
        lines = chains(scene)
        overall = {
            (axis, round(low, 3), round(high, 3)): mark
            for (axis, _), found in lines.items()
            for low, high, mark in found
        }
        for (axis, _), found in lines.items():
            for (_, end, _), (start, _, _) in pairwise(found):
                assert start > end - 1e-6, (scene.name, "two dimensions lie on each other")
            for run in runs_of(found):
                if len(run) < 2:
                    continue
                key = (axis, round(run[0][0], 3), round(run[-1][1], 3))
                assert key in overall, (scene.name, [m.text for *_, m in run], "no overall")
                figures = sum(int(whole(mark.length_mm)) for *_, mark in run)
                assert abs(figures - int(whole(overall[key].length_mm))) <= len(run) / 2


def test_a_figure_is_what_its_line_measures(sheets):
    for scene in sheets:
        for mark in scene.marks:
            if isinstance(mark, Dimension):
                assert mark.text == f"{mark.prefix}{whole(mark.length_mm)}"
                assert mark.length_mm > 0.5, (scene.name, mark.title, "a length of nothing")
            if isinstance(mark, Running):
                assert mark.text == whole(mark.length_mm)


def test_no_two_pieces_of_lettering_lie_on_each_other(sheets):
    for scene in sheets:
        boxes = [(text, box.grown(-0.05 * scene.scale)) for text, box in scene.text_boxes()]
        on = [(a, b) for (a, x), (b, y) in combinations(boxes, 2) if x.overlaps(y)]
        assert on == [], scene.name


def test_nothing_lies_outside_the_frame_or_on_the_title_block(sheets):
    for scene in sheets:
        n = scene.scale
        inner = scene.sheet.grown(-BORDER_MM * n)
        room = Box(inner.left, inner.bottom + STRIP_MM * n, inner.right, inner.top)
        for mark in scene.marks:
            if mark.layer != "sheet":
                assert room.holds(box_of(extent(mark, n)), 0.01), (scene.name, mark)
            assert inner.holds(box_of(extent(mark, n)), 0.01), (scene.name, mark)


@pytest.mark.parametrize("name", NAMES)
def test_overall_dimensions_are_those_of_the_model(name):
    """Clear and outer sizes wherever a sheet gives them, against the unit and its frame."""
    found = case(name)
    unit, frame = found.unit, found.taken.frame
    clear = {
        "plan": {unit.width_mm, unit.depth_mm}, "front": {unit.width_mm}, "back": {unit.width_mm},
        "left": {unit.depth_mm}, "right": {unit.depth_mm}, "section": {unit.depth_mm},
        "cross": {unit.width_mm}, "foundation": {unit.depth_mm},
    }  # fmt: skip
    outer = {
        "plan": {frame.outer_width_mm, frame.outer_depth_mm}, "front": {frame.outer_width_mm},
        "back": {frame.outer_width_mm}, "left": {frame.outer_depth_mm},
        "section": {frame.outer_depth_mm}, "cross": {frame.outer_width_mm},
    }  # fmt: skip
    for scene in found.sheets:
        spans = [m for m in scene.marks if isinstance(m, Dimension)]
        for prefix, sizes in (("clear ", clear), ("outer ", outer)):
            level = {m.length_mm for m in spans if m.prefix == prefix}
            for size in sizes.get(scene.name, ()):
                if not frame.of_row or prefix == "outer ":
                    assert any(abs(size - got) < 1e-6 for got in level), (scene.name, prefix, size)


@pytest.mark.parametrize("name", NAMES)
def test_each_drawing_that_applies_is_there(name):
    found = case(name)
    names = [scene.name for scene in found.sheets]
    assert len(names) == len(set(names))
    front = [] if "front" in found.taken.frame.shared else ["front", "framing-front"]
    wanted = {
        "plan", "back", "left", "right", "section", "cross", "roof", "foundation", "exploded",
        "framing-back", "framing-left", "framing-right", *front,
    }  # fmt: skip
    wanted |= {"perches"} if found.unit.perches else set()
    wanted |= {f"hatch-{i}" for i, _ in enumerate(found.unit.hatches, 1)}
    wanted |= {f"bath-{i}" for i, _ in enumerate(found.unit.baths, 1)}
    assert wanted <= set(names)
