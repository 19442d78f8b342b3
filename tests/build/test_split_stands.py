"""Walls in bolted panels stand no better than the same walls in one."""

import pytest
from hypothesis import given, settings
from hypothesis.strategies import integers, sampled_from

from mewswright.build.frame import built_frame, framed_walls
from mewswright.build.frame_report import frame_report
from mewswright.build.holding.facts import frame_facts
from mewswright.build.lines import lines_of
from mewswright.build.shell import shell_of
from mewswright.model.yard import Yard
from support.units import BARRED, unit_yard

LOADS = {"source": "test", "ground_snow_kn_m2": 1.0, "basic_wind_m_s": 20, "terrain": "II"}
KNEES = {"brace": "knee", "brace_leg_mm": 400, "lining": "osb3_9"}


def _facts(width=3000, depth=2400, **frame):
    yard = unit_yard(front=BARRED, width_mm=width, depth_mm=depth, frame={**KNEES, **frame})
    return frame_facts(yard, yard.quarters[0], 397)


def _front(facts):
    return next((wall for wall in facts.bracing if wall.side == "front"), None)


def test_a_pair_at_a_joint_is_one_stand_by_hand():
    """3 posts: one frame of two and one left over, whole or bolted together at the middle one.

    Post by post the split front has 4, and two frames: its pair is no post more.
    """
    whole, split = (_front(_facts(bay_max_mm=bay)) for bay in (None, 1700))
    assert whole.posts == split.posts == 2
    assert (
        split.post_i_mm4 == 95**4 / 12
    )  # one post: the pair does not act as one of twice its width
    assert split.sway_mm(1) == pytest.approx(whole.sway_mm(1))


def test_a_pair_set_anew_shortens_no_bay():
    """2 posts 3095 mm apart, a pair set between them: the widest bay stays as it was."""
    whole, split = (_front(_facts(post_count=2, bay_max_mm=bay)) for bay in (None, 1700))
    assert whole.bay_m == pytest.approx(3.095, abs=0.005)
    assert split.bay_m == whole.bay_m
    assert split.posts == whole.posts == 2


def test_a_front_whose_panels_hold_no_two_braces_has_no_frame():
    """Two legs of 600 mm need a bay of 1200; panels of 1100 mm have none."""
    assert _front(_facts(brace_leg_mm=600)) is not None
    assert _front(_facts(brace_leg_mm=600, bay_max_mm=1100)) is None
    yard = unit_yard(frame={**KNEES, "brace_leg_mm": 600, "bay_max_mm": 1100})
    loaded = Yard.model_validate(yard.model_dump() | {"loads": LOADS})
    assert not frame_report(loaded, loaded.quarters[0]).sound


@given(
    width=integers(2400, 6500), bay=integers(900, 3000), posts=sampled_from((None, 2, 3, 4, 5)),
    leg=sampled_from((250, 400, 600)), clad=sampled_from((True, False)),
)  # fmt: skip
@settings(max_examples=40, deadline=None)
def test_a_split_front_sways_no_less_and_racks_no_better(width, bay, posts, leg, clad):
    keys = {"post_count": posts, "brace_leg_mm": leg, "carry_clad": clad}
    whole, split = (_facts(width, 2400, bay_max_mm=b, **keys) for b in (None, bay))
    if _front(whole) is None:
        assert _front(split) is None
    elif _front(split) is not None:
        assert _front(split).sway_mm(1) >= _front(whole).sway_mm(1) - 1e-9
    for one in whole.bracing:
        other = [w for w in split.bracing if w.side == one.side and one.side != "front"]
        assert all(w.capacity_kn <= one.capacity_kn + 1e-9 for w in other)


def _plates(yard):
    q = yard.quarters[0]
    lines = lines_of(built_frame(yard, q), q.depth_mm)
    return [plate for plate in lines.plates if plate.side == "front"]


def test_a_rafter_beside_a_joint_brings_its_whole_bay():
    """Only the first and the last rafter of the roof carry half: the roof runs over a joint."""
    yard = unit_yard(width_mm=4000, frame={"bay_max_mm": 2600})
    assert [plate.outermost for plate in _plates(yard)] == [(True, False), (False, True)]


def test_the_reach_of_a_pair_is_held_by_its_own_panel():
    """Each panel's head plate ends on an upright of its own, half a post from its end."""
    yard = unit_yard(width_mm=4000, frame={"bay_max_mm": 2600})
    (wall,) = (w for w in framed_walls(yard, shell_of(yard.quarters[0])) if w.wall.side == "front")
    assert len(wall.joints_mm) == 1
    left, right = _plates(yard)
    assert left.supports_m[-1] == pytest.approx(left.length_m - 0.095 / 2, abs=1e-3)
    assert right.supports_m[0] == pytest.approx(0.095 / 2, abs=1e-3)
