"""Sheets of hatches, baths and lobbies, against the yard file's own figures."""

import pytest

from mewswright.build.frame import built_frame
from mewswright.drawing.bath_detail import bath_detail
from mewswright.drawing.bath_water import levels_of
from mewswright.drawing.door_detail import door_detail
from mewswright.drawing.hatch_detail import hatch_detail
from mewswright.drawing.scene import Dimension, Running
from mewswright.model.fitting import Bath
from support.alder_close import UNITS, YARD
from support.sheet_cases import DOORS, FITTINGS
from support.units import unit_yard

LONG = UNITS[0]


def _yard(door=DOORS, **bath):
    fitting = [{**f, **bath} if f["kind"] == "bath" else f for f in FITTINGS]
    return unit_yard(fitting=fitting, door=door)


def _unit(yard):
    return yard, yard.quarters[0], built_frame(yard, yard.quarters[0])


def _lengths(scene, axis, prefix=None):
    return {
        round(m.length_mm) for m in scene.marks
        if isinstance(m, Dimension) and m.axis == axis and prefix in (None, m.prefix)
    }  # fmt: skip


def _heights(scene):
    return {round(m.length_mm) for m in scene.marks if isinstance(m, Running)}


def _said(scene):
    return " ".join(getattr(m, "text", "") for m in scene.marks if m.layer == "notes")


def test_a_hatch_by_hand():
    """300 x 220 in a wall of 95 with jambs of 45; sill at 1250; flap 3 mm clear all round."""
    scene = hatch_detail(YARD, LONG, built_frame(YARD, LONG), LONG.hatches[0])
    assert {300, 294, 390, 95, 250, 345} <= _lengths(scene, "x")
    assert {214, 220, 1250, 1470} <= _lengths(scene, "y")
    assert {1205, 1250, 1470, 1515} <= _heights(scene)  # sill and lintel are 45 thick
    said = _said(scene)
    assert "T1 lintel, 45x95, 300 long" in said
    assert "T2 sill, 45x95, 300 long" in said
    assert "two flaps" in said


def test_the_marks_of_a_hatch_are_those_of_its_trimming():
    frame = built_frame(YARD, LONG)
    scene = hatch_detail(YARD, LONG, frame, LONG.hatches[0])
    trim = {p.mark for p in frame.parts if "Long hatch" in p.place}
    assert trim == {"W3", "T1", "T2"}
    assert {f"part:{mark}" for mark in trim} <= {m.item for m in scene.marks}


def test_a_hatch_that_does_not_shut_has_no_flap():
    hatch = LONG.hatches[0].model_copy(update={"closes": False, "ledge_mm": 0})
    unit = LONG.model_copy(update={"fitting": (hatch,)})
    scene = hatch_detail(YARD, unit, built_frame(YARD, unit), hatch)
    assert "Flap" not in {m.title for m in scene.marks}
    assert "No flap" in _said(scene)
    assert "No ledge" in _said(scene)


def test_a_bath_that_is_slid_in_by_hand():
    """700 x 500 about 2200, 600 in 3000: its middle is 800, its edge 450 from the right wall.

    The opening has 20 mm of room on each side: 540 wide, from the platform to 180.
    """
    yard, unit, frame = _unit(_yard())
    scene = bath_detail(yard, unit, frame, unit.baths[0])
    assert _lengths(scene, "x", "clear ") == {540}
    assert {500, 450, 700, 1150} <= _lengths(scene, "x")
    assert {450, 350} <= _lengths(scene, "y")
    assert _lengths(scene, "y", "middle ") == {800}
    assert _lengths(scene, "y", "water ") == {100}
    assert {45, 160, 180} <= _heights(scene)
    assert "reaches" not in _said(scene)  # its platform is as high as the sole plate


def test_a_sole_plate_ends_where_a_bath_is_slid_in_below_its_top():
    yard, unit, frame = _unit(_yard(platform_mm=0, rim_height_mm=120))
    said = _said(bath_detail(yard, unit, frame, unit.baths[0]))
    assert "reaches" not in said
    assert any("the sole plate ends at its jambs" in line for line in frame.assumptions)


def test_the_demo_bath_has_waste_inlet_and_overflow():
    """The air gap is two bores of 15 mm; the fall is 18 to 90 mm a metre."""
    scene = bath_detail(YARD, LONG, built_frame(YARD, LONG), LONG.baths[0])
    assert _lengths(scene, "y", "air gap ") == {30}
    assert {"Waste pipe", "Inlet", "Overflow"} <= {m.title for m in scene.marks}
    assert "falls 18 to 90 mm a metre" in _said(scene)
    assert "from Yard tap" in _said(scene)


@pytest.mark.parametrize(
    ("depth", "rim", "platform"), [(100, 120, 0), (100, 100, 0), (120, 0, 0), (60, 400, 300)]
)
def test_water_stands_between_floor_and_rim(depth, rim, platform):
    bath = Bath(
        kind="bath", name="B", at_mm=(1, 1), diameter_mm=500, depth_mm=depth, rim_height_mm=rim,
        platform_mm=platform,
    )  # fmt: skip
    at = levels_of(bath)
    assert at.foot < at.bottom < at.water <= at.rim == rim
    assert at.water - at.bottom == pytest.approx(depth)
    assert at.foot <= platform


def test_a_lobby_shows_both_doors_and_what_is_left_between():
    """1500 mm long; leaves of 700 and 750 less twice 8 mm both open into it: 82 mm are left."""
    yard, unit, frame = _unit(_yard())
    scene = door_detail(yard, unit, frame, yard.door[0])
    assert {684, 734, 82, 1500, 1800, 1900, 100} <= _lengths(scene, "y")
    assert {700, 750, 1200, 790} <= _lengths(scene, "x")
    assert "Between both open leaves 82 mm are left" in _said(scene)
    assert {"door:Unit|Lobby", "door:Lobby|outside"} <= {m.item for m in scene.marks}


def test_leaves_that_meet_in_a_lobby_are_said():
    wide = [{**door, "width_mm": 780} for door in DOORS]
    yard, unit, frame = _unit(_yard(wide))
    said = _said(door_detail(yard, unit, frame, yard.door[0]))
    assert "Both leaves open into the lobby and overlap by 28 mm" in said


def test_a_lobby_without_a_second_door_is_said():
    yard, unit, frame = _unit(_yard(DOORS[:1]))
    said = _said(door_detail(yard, unit, frame, yard.door[0]))
    assert "has no second door in the yard file: a lobby needs one" in said
