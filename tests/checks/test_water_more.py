"""Frost, splash and feeding on both sides of their limits; every limit here is a judgement
of ours but the daily change of water, and says so in its source.

Frost by hand: water freezes below 0 C, and a day whose highest mean is 0 C has no thaw.
"""

import pytest
from hypothesis import given, settings
from hypothesis.strategies import floats, sampled_from

from mewswright.checks.registry import run_checks
from support.yards import bird, findings, only, perch, quarters, stay, yard

HAWK = bird(wing_span_mm=1200, body_length_mm=600)
SPACES = [
    {"name": "Corridor", "kind": "corridor", "length_mm": 9000, "width_mm": 1200,
     "height_mm": 2200},
    {"name": "Net walk", "kind": "netted_yard", "length_mm": 9000, "width_mm": 1200,
     "height_mm": 2200},
]  # fmt: skip


def tub(x=2500, y=3000, **more):
    return {"kind": "bath", "name": "tub", "at_mm": [x, y], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 150} | more  # fmt: skip


def hatch(**more):
    return {"kind": "hatch", "name": "hatch", "face": "back", "at_mm": 2500, "sill_mm": 1200,
            "width_mm": 300, "height_mm": 250, "ledge_mm": 250} | more  # fmt: skip


def room(*fittings, who=HAWK, live=None, kind="loft", floor=None, climate=None):
    place = quarters(kind=kind, fitting=list(fittings), floor=floor or {})
    tables = {"climate": climate} if climate else {}
    return yard(
        bird=[who], quarters=[place], stay=[live or stay()], space=SPACES, **tables
    )  # fmt: skip


@pytest.mark.parametrize(
    ("substrate", "drained", "bath", "status"),
    [("pea_gravel", True, {}, "sound"), ("pea_gravel", False, {}, "mind"),
     ("straw", True, {}, "short"), ("straw", True, {"platform_mm": 100}, "short"),
     ("straw", True, {"platform_mm": 100, "drains": True}, "sound"),
     ("straw", True, {"platform_mm": 99, "drains": True}, "short"),
     ("pea_gravel", False, {"platform_mm": 100, "drains": True}, "sound"),
     ("feathers", True, {}, "mind")],
)  # fmt: skip
def test_w109_splash_drains_or_stays_off_the_litter(substrate, drained, bath, status):
    floor = {"substrate": substrate, "drained": drained}
    assert only(room(tub(**bath), floor=floor), "W109").status == status


def test_w109_the_remedy_clears_it():
    floor = {"substrate": "shavings"}
    found = only(room(tub(platform_mm=30), floor=floor), "W109")
    assert found.remedy == (
        "set it 70 mm higher on a platform and give it a drain that leads out; "
        "or lay pea gravel that drains"
    )
    cured = room(tub(platform_mm=30 + 70, drains=True), floor=floor)
    assert only(cured, "W109").status == "sound"


def test_w109_a_lawn_is_moved():
    tied = stay(mode="tethered")
    assert findings(room(tub(), kind="pitch", live=tied), "W109") == []


def climate(low_c, high_c):
    """July is warm; January is as given; the rest of the year does not freeze."""

    def year(january, july, rest):
        return [january, *[rest] * 5, july, *[rest] * 5]

    return {
        "source": "made up", "mean_temp_c": [5] * 12, "mean_daily_min_c": year(low_c, 12, 1),
        "mean_daily_max_c": year(high_c, 25, 15), "rain_mm": [90] * 12, "sun_h": [90] * 12,
        "humidity_pct": [70] * 12, "wind_m_s": [2] * 12,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("low_c", "high_c", "status"),
    [(0, 3, "sound"), (-0.1, 3, "mind"), (-4, 0.1, "mind"), (-4, 0, "short")],
)
def test_w110_frost(low_c, high_c, status):
    found = only(room(tub(), climate=climate(low_c, high_c)), "W110")
    assert (found.status, found.measured.value) == (status, low_c)


def test_w110_a_bath_that_does_not_freeze():
    assert only(room(tub(frost_free=True), climate=climate(-9, -2)), "W110").status == "sound"
    assert only(room(tub(frost_free=True)), "W110").status == "sound"
    assert only(room(tub()), "W110").status == "mind"


@pytest.mark.parametrize(
    ("first", "last", "status"),
    [("2026-02-01", "2026-12-31", "sound"), ("2026-02-01", "2027-01-01", "mind"),
     ("2026-01-31", "2026-02-10", "mind"), (None, "2026-12-31", "mind")],
)  # fmt: skip
def test_w110_only_the_months_in_which_birds_are_here(first, last, status):
    live = stay(starts_on=first, ends_on=last)
    assert only(room(tub(), live=live, climate=climate(-3, 3)), "W110").status == status


@pytest.mark.parametrize(
    ("of_hatch", "alone", "status"),
    [({"served_from": "Corridor", "blind": True}, None, "sound"),
     ({"served_from": "Corridor"}, None, "mind"), ({"blind": True}, None, "mind"),
     ({"served_from": "Corridor", "blind": False}, None, "mind"),
     ({"served_from": "Corridor", "blind": False}, 21, "short"),
     ({"served_from": "outside", "blind": True}, 21, "mind"),
     ({"served_from": "Net walk", "blind": True}, None, "mind"),
     ({"served_from": "Coridor", "blind": True}, None, "mind")],
)  # fmt: skip
def test_w111_filled_from_indoors_and_unseen(of_hatch, alone, status):
    found = only(room(hatch(**of_hatch), live=stay(undisturbed_days=alone)), "W111")
    assert found.status == status


def test_w111_says_which_keys_are_missing():
    assert only(room(hatch()), "W111").remedy == "give served_from; give blind"
    outside = only(room(hatch(served_from="outside", blind=True)), "W111")
    assert outside.remedy == "fill it from indoors (Corridor)"


SERVED = {"served_from": "Corridor", "blind": True}
TAP = {"filled_from": "corridor", "drains": True}


@pytest.mark.parametrize(
    ("fittings", "statuses"),
    [([hatch(**SERVED), tub(**TAP)], ["sound", "sound"]),
     ([hatch(holds_days=21), tub(**TAP)], ["sound", "sound"]),
     ([hatch(holds_days=20), tub(**TAP)], ["short", "sound"]),
     ([hatch(), tub(**TAP)], ["mind", "sound"]), ([tub(**TAP)], ["short", "sound"]),
     ([hatch(**SERVED), tub(drains=True)], ["sound", "short"]),
     ([hatch(**SERVED), tub(filled_from="corridor")], ["sound", "short"]),
     ([hatch(**SERVED)], ["sound", "short"])],
)  # fmt: skip
def test_w112_twenty_one_days_alone(fittings, statuses):
    found = findings(room(*fittings, live=stay(undisturbed_days=21)), "W112")
    water = [f for f in found if str(f.measured).startswith(("changed", "no bath"))]
    food = [f for f in found if f not in water]
    assert [f.status for f in food + water] == statuses


def test_w112_a_day_alone_needs_no_tap_and_no_days_alone_no_check():
    short = room(hatch(**SERVED), tub(), live=stay(undisturbed_days=1))
    assert {f.status for f in findings(short, "W112")} == {"sound"}
    assert findings(room(hatch(), tub(), live=stay(undisturbed_days=0)), "W112") == []
    assert findings(room(hatch(), tub()), "W112") == []


@pytest.mark.parametrize(
    ("y_mm", "sill_mm", "status"),
    [(5100, 650, "sound"), (5101, 650, "mind"), (5101, 651, "sound")],
)
def test_w113_a_bath_splashes_300_mm_out_and_500_mm_up(y_mm, sill_mm, status):
    """Ledge from 5750 mm behind the front; rim 350 mm behind the middle, 150 mm up."""
    of = room(tub(y=y_mm), hatch(sill_mm=sill_mm))
    assert only(of, "W113").status == status


def test_w113_one_millimetre_more_is_splashed_and_the_move_clears_it():
    found = only(room(tub(y=5200), hatch(sill_mm=600)), "W113")
    assert (found.status, found.fitting) == ("mind", "tub")
    assert found.remedy == "move it 100 mm towards the front"
    assert only(room(tub(y=5100), hatch(sill_mm=600)), "W113").status == "sound"


def test_w113_food_on_the_floor_under_a_perch():
    """Without a ledge it lies up to 300 mm out; a 100 mm block, 150 mm clear: y = 5500."""
    low = hatch(ledge_mm=0, sill_mm=300)
    assert only(room(perch(x=2500, y=5500), low), "W113").status == "sound"
    found = only(room(perch(x=2500, y=5600), low), "W113")
    assert (found.status, found.fitting) == ("short", "perch")
    assert found.remedy == "move it 100 mm towards the front"
    assert only(room(perch(x=2500, y=5600), hatch()), "W113").status == "sound"  # P107 speaks


def test_w113_a_room_without_a_place_for_both():
    wide = tub(diameter_mm=None, width_mm=4900, length_mm=5900, x=2500, y=3000)
    found = only(room(wide, hatch(sill_mm=300)), "W113")
    assert found.remedy == "move hatch, or raise its ledge: the room has no place for both"


@pytest.mark.parametrize(
    ("flies", "sill_mm", "status"),
    [("weakly", 600, "sound"), ("weakly", 601, "short"), ("not", 300, "sound"),
     ("not", 301, "harm"), ("strongly", 2000, "sound"), (None, 2000, "sound")],
)  # fmt: skip
def test_w114_a_hop_is_a_body_length(flies, sill_mm, status):
    found = only(room(hatch(sill_mm=sill_mm), who=HAWK | {"flies": flies}), "W114")
    assert found.status == status


def test_w114_a_one_winged_bird_hops_too():
    assert only(room(hatch(), who=HAWK | {"one_winged": True}), "W114").status == "short"


@pytest.mark.parametrize(
    ("y_mm", "height_mm", "status"),
    [(5100, 600, "sound"), (5100, 599, "short"), (5098, 600, "short"), (5100, 1300, "sound")],
)
def test_w114_from_a_perch_within_a_hop(y_mm, height_mm, status):
    """Ledge 5750 to 6000 mm behind the front, block 100 mm across: 600 mm apart at 5100."""
    near = perch(x=2500, y=y_mm, height_mm=height_mm)
    assert only(room(hatch(), near, who=HAWK | {"flies": "weakly"}), "W114").status == status


def test_w114_the_remedy_clears_it():
    weak = HAWK | {"flies": "not"}
    found = only(room(hatch(sill_mm=1000), who=weak), "W114")
    assert found.remedy == (
        "lower the ledge 700 mm, or set a perch 700 to 1000 mm up, within 300 mm of it"
    )
    assert only(room(hatch(sill_mm=300), who=weak), "W114").status == "sound"
    step = perch(x=2500, y=5400, height_mm=700)  # 5450 to 5750
    assert only(room(hatch(sill_mm=1000), step, who=weak), "W114").status == "sound"


def test_w114_food_that_falls_to_the_floor_is_in_reach():
    of = room(hatch(ledge_mm=0), who=HAWK | {"flies": "not"})
    assert only(of, "W114").status == "sound"


def test_what_is_not_lived_in_is_not_asked():
    empty = yard(quarters=[quarters(fitting=[tub(), hatch()])])
    assert [f for n in range(109, 115) for f in findings(empty, f"W{n}")] == []


@settings(max_examples=50)
@given(
    floats(400, 4600), floats(400, 5600), floats(100, 4900), floats(100, 5900),
    sampled_from(["front", "back", "left", "right"]), floats(200, 4800), sampled_from([0, 250]),
)  # fmt: skip
def test_mirrored_from_left_to_right_it_says_the_same(bath_x, bath_y, x, y, face, at_mm, ledge_mm):
    """The room is 5000 mm wide; what runs along the front is turned about its middle."""
    turned = {"left": "right", "right": "left"}
    along = 5000 - at_mm if face in ("front", "back") else at_mm
    weak = HAWK | {"flies": "weakly"}
    one = room(tub(bath_x, bath_y), perch(x=x, y=y, height_mm=400),
               hatch(face=face, at_mm=at_mm, ledge_mm=ledge_mm, sill_mm=600), who=weak)  # fmt: skip
    other = room(hatch(face=turned.get(face, face), at_mm=along, ledge_mm=ledge_mm, sill_mm=600),
                 perch(x=5000 - x, y=y, height_mm=400), tub(5000 - bath_x, bath_y),
                 who=weak)  # fmt: skip
    told = [
        sorted((f.code, f.fitting, f.status, round(f.measured.value) if f.measured else None)
               for f in run_checks(of) if f.code in ("W109", "W113", "W114"))
        for of in (one, other)
    ]  # fmt: skip
    assert told[0] == told[1]
