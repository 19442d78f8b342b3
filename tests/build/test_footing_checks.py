"""Short posts, legs and holes under load, by hand."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, lists

from mewswright.build.footing_checks import stub_push_kn
from mewswright.build.frame_report import frame_report
from mewswright.build.holding.facts import frame_facts
from mewswright.build.holding.ground import hole_shear_kn
from mewswright.build.takeoff import take_off
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.units import BOARDED, unit_yard

LOADS = {"source": "test", "ground_snow_kn_m2": 1.0, "basic_wind_m_s": 20, "terrain": "II",
         "soil_bearing_kn_m2": 100}  # fmt: skip
IN_CONCRETE = {"base": "posts_in_concrete"}


def _yard(front=None, **frame):
    yard = unit_yard(front=front, frame=frame)
    return Yard.model_validate(yard.model_dump() | {"loads": LOADS})


def _report(front=None, **frame):
    yard = _yard(front, **frame)
    return frame_report(yard, yard.quarters[0])


def _stub(report):
    (found,) = [one for one in report.members if one.what == "short post in concrete"]
    return found


def test_two_like_short_posts_share_evenly_and_the_shorter_of_two_takes_more():
    """1 kN on arms of 1 and 2: by stiffness 8/9 and 1/9, and no less than half."""
    assert stub_push_kn(1, [1, 1], 1) == pytest.approx(0.5)
    assert stub_push_kn(1, [1, 2], 1) == pytest.approx(8 / 9)
    assert stub_push_kn(2, [1, 2], 1) == pytest.approx(0.5)


@given(lists(floats(100, 1500), min_size=1, max_size=12))
def test_the_shares_of_short_posts_make_no_less_than_the_whole_push(arms):
    assert sum(stub_push_kn(arm, arms, 1) for arm in arms) >= 1 - 1e-9


def test_a_hole_pushed_above_the_ground_holds_less():
    """Broms: L / (e + L), so that a push as high as the hole is deep leaves half."""
    low = hole_shear_kn(0.3, 0.5)
    assert hole_shear_kn(0.3, 0.5, 0.5) == pytest.approx(low / 2)
    with pytest.raises(ValueError, match="0 m or more above"):
        hole_shear_kn(0.3, 0.5, -0.1)


def test_a_raised_floor_is_held_less_across():
    facts = [
        frame_facts(yard, yard.quarters[0])
        for yard in (_yard(**IN_CONCRETE, floor_up_mm=up) for up in (0, 300))
    ]
    assert [one.above_m for one in facts] == pytest.approx([0.1, 0.4])


def test_a_higher_short_post_is_used_more():
    low, high = (_stub(_report(**IN_CONCRETE, floor_up_mm=up)) for up in (0, 400))
    assert 0 < low.utilisation < high.utilisation
    assert low.mark
    assert "wind" in high.combination
    stout = _stub(_report(**IN_CONCRETE, floor_up_mm=400, foot_post="145x145"))
    assert stout.utilisation < high.utilisation


def test_short_posts_far_out_of_the_ground_are_refused_with_a_reason():
    found = _report(**IN_CONCRETE, floor_up_mm=600)
    assert any("stand up to 700 mm out of the ground" in why for why in found.refusals)
    assert not found.sound
    assert not _report(**IN_CONCRETE).refusals


def test_legs_on_pads_are_refused_with_a_reason():
    assert not _report(base="pads").refusals
    found = _report(base="pads", floor_up_mm=300)
    assert any("legs on pads" in why for why in found.refusals)
    assert not found.sound


def test_legs_of_steel_tube_are_refused_and_timber_is_asked_for():
    yard = _yard(base="pads", floor_up_mm=300, post="60x60x3")
    with pytest.raises(Problem, match="give foot_post a timber section"):
        take_off(yard, yard.quarters[0])
    yard = _yard(base="pads", floor_up_mm=300, post="60x60x3", foot_post="95x95")
    legs = [p for p in take_off(yard, yard.quarters[0]).parts if p.what == "leg on a pad"]
    assert {p.section for p in legs} == {"95x95"}


def test_a_pad_under_a_wall_of_studs_carries_more_than_one_stud():
    """Pads stand up to 1800 mm apart, studs 600: what comes down on a pad is not one stud's."""
    for base in ("pads", "posts_in_concrete"):
        walls = _report(BOARDED, base=base).bearing
        close = _report(BOARDED, base="sleepers").bearing
        area = {"pads": 0.45**2, "posts_in_concrete": 3.1416 / 4 * 0.3**2}[base]
        under = (45 + 2 * 100) / 1e3 * min(0.2, 0.295)
        # 3190 mm in two gaps of 1570 at least, against one stud's width of 600 mm at most.
        assert walls["demand"] * area > 2 * close["demand"] * under


def test_what_feet_are_taken_for_is_said():
    said = " ".join(_report(**IN_CONCRETE, bay_max_mm=1700).assumptions)
    assert "no foot is taken as fixed" in said
    assert "cantilever out of its concrete" in said
    assert "count as one stand" in said
