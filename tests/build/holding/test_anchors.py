"""Anchors: statics that hold for every unit and wind."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, integers, sampled_from

from mewswright.build.holding.anchor_places import anchor_places, lever_m, widest_gap_m
from mewswright.build.holding.anchors import hold_down
from mewswright.build.holding.means import means, number_for_uplift
from mewswright.build.holding.standing import WindCase
from mewswright.model.problem import Problem

size = floats(1, 9)
force = floats(0, 20)


def case(push=4.8, up=7.1, arm=1.6, along="depth", height=1.2):
    return WindCase("wind onto the front", along, push, height, up, arm)


@given(size, size, integers(4, 100))
def test_all_anchors_stand_on_the_edge_and_apart(width, depth, count):
    places = anchor_places(width, depth, count)
    assert len(set(places)) == count
    assert all(x in (0, width) or y in (0, depth) for x, y in places)
    assert all(0 <= x <= width and 0 <= y <= depth for x, y in places)


@given(size, size, integers(4, 96))
def test_one_more_anchor_never_widens_the_gap(width, depth, count):
    fewer = widest_gap_m(anchor_places(width, depth, count), width, depth)
    more = widest_gap_m(anchor_places(width, depth, count + 1), width, depth)
    assert more <= fewer + 1e-9


def test_four_anchors_hold_twice_their_pull_times_the_base():
    """Two at the windward edge, two on the edge that it turns about: 2 x 1 kN x 2.4 m."""
    places = anchor_places(3, 2.4, 4)
    assert lever_m(case(), places, 3, 2.4) == pytest.approx(2 * 2.4)
    assert lever_m(case(along="width"), places, 3, 2.4) == pytest.approx(2 * 3)


@given(force, force, floats(0, 6), floats(0.2, 3), floats(0, 10))
def test_needed_holes_hold_and_one_fewer_does_not(push, up, arm, height, dead):
    """The number that is named is enough, and the least."""
    wind = [case(push, up, arm, height=height)]
    found = hold_down(wind, dead, 3, 2.4, "concrete_hole", 4)
    if found.needed is None:
        assert not hold_down(wind, dead, 3, 2.4, "concrete_hole", 100).sound
        return
    assert hold_down(wind, dead, 3, 2.4, "concrete_hole", found.needed).sound
    if found.needed:
        assert not hold_down(wind, dead, 3, 2.4, "concrete_hole", found.needed - 1).sound


@given(force, force, floats(0, 6), floats(0, 10))
def test_a_heavier_unit_never_needs_more_anchors(push, up, arm, dead):
    wind = [case(push, up, arm)]
    light = hold_down(wind, dead, 3, 2.4, "concrete_hole", 4).needed
    heavy = hold_down(wind, dead + 1, 3, 2.4, "concrete_hole", 4).needed
    assert light is None or (heavy is not None and heavy <= light)


@given(sampled_from(["concrete_hole", "slab_anchor"]), floats(1, 20), floats(0, 10))
def test_the_hardest_pull_times_the_number_covers_the_net_lift(kind, up, dead):
    """No share of the lift is lost on the way to the anchors."""
    found = hold_down([case(0, up, 1.2)], dead, 3, 2.4, kind, 6, slab_kn=30)
    assert found.pull_each_kn * 6 >= 1.5 * up - 0.9 * dead - 1e-9


def test_a_heavy_unit_in_still_air_needs_nothing():
    found = hold_down([case(0, 0, 0)], 5, 3, 2.4)
    assert (found.sound, found.needed, found.pull_each_kn) == (True, 0, 0)


def test_a_light_unit_without_anchors_is_told_so():
    found = hold_down([case()], 1.8, 3, 2.4)
    assert not found.sound
    assert found.notes == (
        "nothing holds the unit down: choose an anchor: 26 x concrete hole; or no number of kind "
        "ground anchor is enough",
    )


def test_a_unit_that_nothing_holds_is_offered_what_would_hold_it():
    """The number offered is the number needed of anchors that are there."""
    bare = hold_down([case()], 2.0, 3.0, 2.4, slab_kn=40.0)
    assert [offer.anchor for offer in bare.offers] == [
        "slab_anchor", "concrete_hole", "ground_anchor",
    ]  # fmt: skip
    for offer in bare.offers:
        there = hold_down([case()], 2.0, 3.0, 2.4, offer.anchor, 4, slab_kn=40.0)
        assert offer.needed == there.needed
        assert there.offers == ()
    assert str(bare.offers[1].needed) in bare.notes[0]
    without_slab = hold_down([case()], 2.0, 3.0, 2.4).offers
    assert [offer.anchor for offer in without_slab] == ["concrete_hole", "ground_anchor"]


def test_a_ground_anchor_counts_for_nothing_until_it_is_tested():
    """The rule of the handbook: evidence of a pull test, and half of what it held."""
    wind = [case(0.1, 3, 1.2)]
    untested = hold_down(wind, 1.8, 3, 2.4, "ground_anchor", 20)
    assert not untested.sound
    assert not untested.credited
    assert "pull each of the" in untested.pull_test
    assert means("ground_anchor", tested_kn=4).pull_kn == 2
    lift_only = [case(0, 3, 1.2)]
    assert hold_down(lift_only, 1.8, 3, 2.4, "ground_anchor", 20, tested_kn=4).sound


def test_an_anchor_that_slides_no_load_never_stops_sliding():
    """A spiral has no shear on record, so a push that friction cannot hold stays unheld."""
    found = hold_down([case(5, 7)], 1.8, 3, 2.4, "ground_anchor", 100, tested_kn=8)
    assert found.needed is None
    assert [c.name for c in found.checks if not c.sound] == ["sliding"]


def test_a_slab_is_one_body_with_its_unit():
    found = hold_down([case(2, 40, 1.2)], 1.8, 3, 2.4, "slab_anchor", 40, slab_kn=10)
    failing = {c.name for c in found.checks if not c.sound}
    assert "uplift with the slab" in failing
    assert any("thicken the slab" in note for note in found.notes)


def test_bad_input_is_refused_by_name():
    with pytest.raises(Problem, match="no anchor 'rope'"):
        hold_down([case()], 1.8, 3, 2.4, "rope", 4)
    with pytest.raises(ValueError, match=r"^slab anchors need a slab"):
        hold_down([case()], 1.8, 3, 2.4, "slab_anchor", 4)
    with pytest.raises(ValueError, match=r"^nothing to hold against"):
        hold_down([], 1.8, 3, 2.4)
    with pytest.raises(ValueError, match="an anchor must hold more than 0 kN, got 0"):
        number_for_uplift(3, 0)
    with pytest.raises(ValueError, match="a push must be 0 or more"):
        case(push=-1)
    with pytest.raises(ValueError, match="must be finite"):
        case(up=float("nan"))


def test_ground_anchors_that_hold_no_push_say_why_no_number_is_enough():
    found = hold_down([case(8, 3)], 1.8, 3, 2.4, "ground_anchor", 20, tested_kn=10)
    assert found.needed is None
    assert any("they hold no push sideways and the unit slides" in note for note in found.notes)
    lifted = hold_down([case(0, 900)], 1.8, 3, 2.4, "concrete_hole", 20)
    assert any(note.startswith("no 100 of these anchors") for note in lifted.notes)
