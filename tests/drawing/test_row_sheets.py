"""The sheets of a row: its shared walls, and clear widths that add up to the whole."""

from itertools import pairwise

from mewswright.build.frame import built_frame
from mewswright.build.row import unit_or_row
from mewswright.drawing.foundation import foundation_plan
from mewswright.drawing.plan import quarters_plan
from mewswright.drawing.row_marks import clear_edges
from mewswright.drawing.section import side_section
from mewswright.papers.drawing_files import drawing_files
from support.corridor_yard import corridor_yard
from support.row_yard import SKIN_MM, WALL_MM, row_yard


def _row():
    yard, whole = unit_or_row(row_yard(), "Row")
    return yard, whole, built_frame(yard, whole)


def test_the_clear_widths_and_walls_of_a_row_add_up():
    _, whole, frame = _row()
    widths = [round(b[0] - a[0]) for a, b in pairwise(clear_edges(whole, frame))]
    assert widths == [3000, WALL_MM + SKIN_MM, 3000, WALL_MM + SKIN_MM, 3000]
    assert sum(widths) == round(whole.width_mm)


def test_the_plan_shows_the_shared_walls_and_the_floor_without_them():
    yard, whole, frame = _row()
    plan = quarters_plan(yard, whole, frame)
    items = {mark.item for mark in plan.marks}
    assert {"wall:A", "wall:B"} <= items
    assert "wall:C" not in items
    texts = " ".join(getattr(mark, "text", "") for mark in plan.marks)
    assert "21.60 m²" in texts  # three times 3.0 x 2.4
    assert "A wall between two units is shared" in texts


def test_the_foundation_sets_out_the_whole_row():
    yard, whole, frame = _row()
    sheet = foundation_plan(yard, whole, frame)
    assert f"{9234 + 2 * WALL_MM}" in " ".join(getattr(m, "text", "") for m in sheet.marks)


def test_a_row_is_drawn_like_a_unit():
    files = drawing_files(*unit_or_row(row_yard(), "Row"), "svg")
    assert {"row-plan.svg", "row-front.svg", "row-foundation.svg", "row-roof.svg"} <= set(files)


def test_a_corridor_shows_its_walls_its_width_and_its_heights():
    """1200 mm wide, 2050 mm high outside and 1200 tan 5 = 105 mm more at the units."""
    yard, whole = unit_or_row(corridor_yard(), "Row")
    frame = built_frame(yard, whole)
    plan = quarters_plan(yard, whole, frame)
    items = {mark.item for mark in plan.marks}
    assert {"corridor:outer wall", "corridor:partition"} <= items
    texts = [getattr(mark, "text", "") for mark in plan.marks]
    assert {"corridor 1200", "1500", "7617"} <= set(texts)
    section = side_section(yard, whole, frame)
    texts = {getattr(mark, "text", "") for mark in section.marks}
    assert {"corridor 1200", "corridor 2050", "under the ledger 2155"} <= texts


def test_a_corridor_has_sheets_of_its_own():
    files = drawing_files(*unit_or_row(corridor_yard(lobby=False), "Way"), "svg")
    assert {"way-plan.svg", "way-section.svg", "way-back.svg"} <= set(files)
    assert "way-front.svg" not in files
