"""Openings for baths and hatches: trimmed, closed round about, and counted."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.takeoff import take_off
from mewswright.drawing.framing import wall_framing
from support.units import BARRED, unit_yard

BATH = {
    "kind": "bath", "name": "Tray", "at_mm": [1000, 400], "width_mm": 700, "length_mm": 500,
    "depth_mm": 100, "rim_height_mm": 130, "slides_under": "front",
}  # fmt: skip
HATCH = {
    "kind": "hatch", "name": "Hatch", "face": "front", "at_mm": 2200, "sill_mm": 1200,
    "width_mm": 300, "height_mm": 220,
}  # fmt: skip


def _named(frame, what, name):
    return [p for p in frame.parts if p.what == what and name in p.place]


@pytest.mark.parametrize("front", [{**BARRED, "upstand_mm": 600}, {"infill": "boarded"}])
def test_a_bath_that_slides_in_has_jambs_a_lintel_and_a_flap(front):
    yard = unit_yard(front=front, fitting=[BATH])
    taken = take_off(yard, yard.quarters[0])
    jambs = [s.start_mm[0] for p in _named(taken.frame, "jamb", "Tray") for s in p.sticks]
    # 700 mm of bath, 20 mm of room at each side, and half a jamb of 45 mm.
    assert sorted(jambs) == pytest.approx([1000 - 370 - 22.5, 1000 + 370 + 22.5])
    lintel = _named(taken.frame, "lintel", "Tray")[0]
    assert lintel.length_mm == 740
    assert lintel.sticks[0].start_mm[2] == pytest.approx(150 + 22.5)
    flap = next(p for p in taken.parts if p.what.startswith("flap"))
    assert (flap.width_mm, flap.length_mm) == (740, 150)
    assert sum(p.amount for p in taken.parts if p.material == "hatch_catch") == 1


def test_the_infill_above_a_low_bath_starts_at_the_upstand():
    front = {**BARRED, "upstand_mm": 600}
    yard = unit_yard(front=front, fitting=[BATH])
    frame = built_frame(yard, yard.quarters[0])
    bars = [s for p in frame.parts if p.kind == "bar" for s in p.sticks]
    assert min(s.start_mm[2] for s in bars) == pytest.approx(600)
    over = [p for p in frame.parts if p.what == "upstand rail" for s in p.sticks
            if s.start_mm[0] <= 1000 <= s.end_mm[0]]  # fmt: skip
    assert len(over) == 1


def test_below_a_hatch_an_open_face_is_boarded_to_the_sill():
    yard = unit_yard(front={**BARRED, "upstand_mm": 600}, fitting=[HATCH])
    frame = built_frame(yard, yard.quarters[0])
    panels = [p for part in frame.parts if part.kind == "board" for p in part.panels]
    over = [p for p in panels if all(y < 0 for _, y, _ in p.corners_mm)
            and min(z for *_, z in p.corners_mm) >= 600 - 1e-6]  # fmt: skip
    assert min(z for p in over for *_, z in p.corners_mm) == pytest.approx(600)
    assert max(z for p in over for *_, z in p.corners_mm) == pytest.approx(1200)
    assert {min(x for x, *_ in p.corners_mm) for p in over} == {2200 - 150 - 45}
    assert {max(x for x, *_ in p.corners_mm) for p in over} == {2200 + 150 + 45}


def test_the_framing_sheet_shows_the_opening_with_its_size():
    yard = unit_yard(front={**BARRED, "upstand_mm": 600}, fitting=[BATH])
    quarters = yard.quarters[0]
    sheet = wall_framing(yard, quarters, built_frame(yard, quarters), "front")
    titles = {mark.title for mark in sheet.marks if mark.item == "bath:Tray"}
    assert titles == {"Tray, opening 740 × 150"}
    assert any("lintel" in (mark.title or "") for mark in sheet.marks)
