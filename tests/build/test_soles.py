"""Sole plates between pads by hand: studs at thirds of one span, P L / 3."""

import pytest

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report, member_loads, member_results
from mewswright.build.hung import along_kn
from mewswright.build.lines import lines_of
from mewswright.build.soles import sole_results
from mewswright.model.place import Loads
from support.units import BOARDED, unit_yard

LOADS = Loads(source="test", ground_snow_kn_m2=1.0, basic_wind_m_s=20, terrain="III")


def soles(base="pads", lining="none", width=1600, **frame):
    yard = unit_yard(
        width_mm=width, frame={"base": base, "lining": lining, "stud_spacing_mm": 600, **frame}
    ).model_copy(update={"loads": LOADS})
    unit = yard.quarters[0]
    built = built_frame(yard, unit)
    loads, lines = actions_on(yard, unit, built), lines_of(built, unit.depth_mm)
    _, carried = member_results(unit, loads, lines)
    felt = member_loads(unit, loads)
    found = list(sole_results(yard, unit, lines, felt, carried, built.parts))
    return found, lines, carried, felt


def test_a_sole_plate_bends_under_the_studs_between_two_pads():
    """1600 + 2 x 95 mm, a pad at each end; studs at the ends and at 1 / 3 and 2 / 3."""
    found, lines, carried, felt = soles()
    (back,) = [one for one in found if one.what.endswith("back")]
    studs = sorted((u for u in lines.uprights if u.side == "back"), key=lambda u: u.at_m)
    assert len(studs) == 4
    inner = studs[1]
    most = max(kn for kn, _ in along_kn(carried.on(inner), felt.factors))
    span = back.length_mm / 1e3
    lean = min(studs[1].at_m - studs[0].at_m, studs[2].at_m - studs[1].at_m)
    assert span == pytest.approx(3 * lean, rel=0.1)
    first = inner.at_m - studs[0].at_m + (span - (studs[3].at_m - studs[0].at_m)) / 2
    stress = most * first * 1e6 / (95 * 45**2 / 6)  # two alike, the moment level between them
    bending = next(c for c in back.worst.checks if c.name == "bending")
    assert bending.demand == pytest.approx(stress, rel=0.02)
    assert back.worst.utilisation > 0


@pytest.mark.parametrize("frame", [{"base": "sleepers"}, {"base": "slab"}, {"lining": "osb3_11"}])
def test_what_lies_on_a_whole_base_or_is_sheeted_is_not_asked(frame):
    assert soles(**frame)[0] == []


def test_short_posts_in_concrete_hold_a_sole_plate_too():
    found = soles("posts_in_concrete", width=3000, foot_post="95x95")[0]
    assert [one.what for one in found] == ["sole plate between posts in concrete, back"]


def test_a_wall_of_posts_on_their_own_pads_bends_no_sole_plate():
    assert not any(one.what.endswith("front") for one in soles(width=3000)[0])


def test_the_joints_of_panels_are_checked():
    """Half of the wind on the front is the push at the head; two straps take it on one wall."""
    parted = unit_yard(width_mm=4000, front=BOARDED, frame={"bay_max_mm": 1700})
    yard = parted.model_copy(update={"loads": LOADS})
    joints = {one["name"]: one for one in frame_report(yard, yard.quarters[0]).joints}
    tie, bolts = joints["panel-panel, tie of head plates"], joints["panel-panel, bolts"]
    assert (tie["count"], tie["means"]) == (2, "strap_30")
    assert tie["utilisation"] > 0
    assert bolts["utilisation"] > 0
    whole = unit_yard(width_mm=4000, front=BOARDED).model_copy(update={"loads": LOADS})
    plain = frame_report(whole, whole.quarters[0])
    assert not any(one["name"].startswith("panel-panel") for one in plain.joints)
