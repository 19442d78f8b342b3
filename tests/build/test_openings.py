"""Openings for baths and hatches: trimmed, closed round about, and counted."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.build.order import build_order
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


@pytest.mark.parametrize("base", ["sleepers", "pads", "posts_in_concrete"])
@pytest.mark.parametrize("platform", [0, 44, 45, 60])
def test_the_sole_plate_ends_at_the_jambs_of_a_bath_that_would_meet_it(platform, base):
    """45 mm of plate: a platform as high clears it. The opening is 740 mm wide about 1000."""
    bath = {**BATH, "platform_mm": platform, "rim_height_mm": 130 + platform}
    yard = unit_yard(front={**BARRED, "upstand_mm": 600}, fitting=[bath], frame={"base": base})
    frame = built_frame(yard, yard.quarters[0])
    soles = [s for p in frame.parts if p.kind == "sole" for s in p.sticks if s.start_mm[1] < 0]
    ends = sorted((s.start_mm[0], s.end_mm[0]) for s in soles)
    if platform >= 45:
        assert ends == [(-95, 3095)]
        return
    assert ends == [(-95, 630), (1370, 3095)]
    assert any("ends at the jamb" in p.note for p in frame.parts if p.kind == "sole")
    if base == "sleepers":
        return
    # Something holds both ends up, no further away than a pad is wide.
    spots = [
        (sum(v) / len(v))
        for p in frame.parts
        if p.kind == "base"
        for v in (*((s.start_mm[0],) for s in p.sticks if s.start_mm[1] < 0),
                  *([x for x, *_ in q.corners_mm] for q in p.panels
                    if max(y for _, y, _ in q.corners_mm) < 500))
    ]  # fmt: skip
    for end in (630, 1370):
        assert min(abs(x - end) for x in spots) <= 450


def test_a_door_keeps_its_sole_plate_until_the_wall_stands():
    door = {"between": ["Unit", "outside"], "width_mm": 800, "height_mm": 1900, "face": "back",
            "at_mm": 1500}  # fmt: skip
    frame = built_frame(yard := unit_yard(door=[door]), yard.quarters[0])
    soles = [s for p in frame.parts if p.kind == "sole" for s in p.sticks if s.start_mm[1] > 2400]
    assert [(s.start_mm[0], s.end_mm[0]) for s in soles] == [(-95, 3095)]
    assert any("saw the sole plate out" in line for line in frame.assumptions)


@pytest.mark.parametrize(
    ("keys", "flaps"),
    [({}, 1), ({"blind": True}, 2), ({"blind": False}, 1), ({"closes": False, "blind": True}, 0)],
)
def test_a_blind_hatch_has_a_second_flap_with_hinges_of_its_own(keys, flaps):
    yard = unit_yard(front={**BARRED, "upstand_mm": 600}, fitting=[{**HATCH, **keys}])
    taken = take_off(yard, yard.quarters[0])
    inner = [p for p in taken.parts if p.what.startswith("inner flap")]
    assert len(inner) == (flaps == 2)
    assert all((p.width_mm, p.length_mm) == (300, 220) for p in inner)
    catches = sum(p.amount for p in taken.parts if p.material == "hatch_catch")
    assert catches == max(1, flaps)
    order = build_order(yard.quarters[0], taken)
    works = {work.id: work.amount for step in order.steps for work in step.works}
    assert works["hatch"] == 1
    assert works.get("flap", 0) == (flaps == 2)


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


def test_openings_in_each_others_way_are_told():
    """By hand: 700 mm doors whose middles are 100 mm apart share 600 mm; a hatch above is free."""
    door = {"between": ["Unit", "outside"], "width_mm": 700, "height_mm": 1200, "face": "back"}
    near = unit_yard(door=[door | {"at_mm": 900}, door | {"at_mm": 1000}])
    told = [a for a in built_frame(near, near.quarters[0]).assumptions if "overlap" in a]
    assert told == [
        "door to outside and door to outside overlap in the back face by 600 mm: move one of them"
    ]
    hatch = HATCH | {"face": "back", "at_mm": 900, "sill_mm": 1500}
    free = unit_yard(door=[door | {"at_mm": 900}], fitting=[hatch])
    assert not any("overlap" in a for a in built_frame(free, free.quarters[0]).assumptions)
