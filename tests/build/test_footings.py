"""Posts in concrete, raised floors and sloping ground: hand counts and what holds anywhere."""

from math import hypot, pi

import pytest
from hypothesis import given, settings
from hypothesis.strategies import floats, sampled_from

from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report
from mewswright.build.ground_line import falls_mm, ground_line
from mewswright.build.holding.facts import frame_facts
from mewswright.build.masses import density_kg_m3, part_mass
from mewswright.build.shell import shell_of
from mewswright.build.solids import solids_of, why_not_whole
from mewswright.build.takeoff import take_off
from mewswright.model.yard import Yard
from support.units import unit_yard

IN_CONCRETE = {"base": "posts_in_concrete"}
LOADS = {"source": "test", "ground_snow_kn_m2": 1.0, "basic_wind_m_s": 20, "terrain": "II"}


def _parts(yard, what):
    return [p for p in built_frame(yard, yard.quarters[0]).parts if p.what == what]


def _with_loads(yard, **loads):
    return Yard.model_validate(yard.model_dump() | {"loads": {**LOADS, **loads}})


def test_posts_in_concrete_by_hand():
    """3 posts in front, 3 places under the back, 1 more in each side: 8 holes of 300 x 600 mm.

    100 mm of the depth is gravel, so 500 mm of each 95 x 95 mm post stand in concrete, and
    100 mm stand out of the ground.
    """
    yard = unit_yard(frame=IN_CONCRETE)
    (posts,) = _parts(yard, "short post in concrete")
    assert (posts.count, posts.length_mm, posts.section) == (8, 600, "95x95")
    (concrete,) = _parts(yard, "concrete round a post")
    round_mm2 = pi / 4 * 300**2
    assert concrete.amount == pytest.approx(8 * (round_mm2 - 95 * 95) * 500 / 1e9, abs=1e-4)
    (gravel,) = _parts(yard, "gravel under a post")
    assert gravel.amount == pytest.approx(8 * round_mm2 * 100 / 1e9, abs=1e-4)
    assert "use class 4" in posts.note


def test_a_post_reaches_through_the_slope_to_the_same_depth_of_concrete():
    """Ground that falls 240 mm over 2400 mm falls 0.1 a millimetre; walls are 95 mm thick."""
    yard = unit_yard(frame={**IN_CONCRETE, "ground_fall_back_mm": 240})
    lengths = sorted(
        {(round(s.start_mm[1], 1), round(s.end_mm[2] - s.start_mm[2], 1))
         for p in _parts(yard, "short post in concrete") for s in p.sticks}
    )  # fmt: skip
    # 100 out of the ground at the outer front corner (y = -95), and 500 in concrete.
    assert lengths == [(-47.5, 604.8), (1200.0, 729.5), (2447.5, 854.2)]


def test_concrete_counts_once_as_anchor_and_no_more_than_it_weighs():
    yard = _with_loads(unit_yard(frame=IN_CONCRETE))
    facts = frame_facts(yard, yard.quarters[0])
    assert (facts.anchor, facts.anchor_count) == ("concrete_hole", 8)
    holding = frame_report(yard, yard.quarters[0]).anchors
    weight_kn = 24 * (pi / 4 * 0.3**2 - 0.095**2) * 0.5
    assert holding["per_anchor_kn"] == pytest.approx(0.9 * weight_kn, abs=1e-3)
    assert not [p for p in take_off(yard, yard.quarters[0]).parts if "anchor" in p.what]


def test_an_anchor_beside_posts_in_concrete_is_refused():
    with pytest.raises(ValueError, match="the posts themselves hold the unit down"):
        unit_yard(frame={**IN_CONCRETE, "anchor": "concrete_hole", "anchor_count": 4})


def test_a_hole_of_gravel_alone_is_refused():
    with pytest.raises(ValueError, match="leave nothing above 600 mm of gravel"):
        unit_yard(frame={**IN_CONCRETE, "gravel_mm": 600, "hole_mm": [300, 600]})


@pytest.mark.parametrize(("frost", "said"), [(800, True), (600, False), (None, True)])
def test_a_hole_above_the_frost_is_said(frost, said):
    more = {} if frost is None else {"frost_depth_mm": frost}
    yard = _with_loads(unit_yard(frame=IN_CONCRETE), **more)
    found = [c for c in take_off(yard, yard.quarters[0]).cautions if "frost" in c]
    assert bool(found) is said


BASES = sampled_from(("sleepers", "pads", "posts_in_concrete", "slab"))


@given(back=floats(-500, 500), right=floats(-500, 500), up=floats(0, 300), base=BASES)
@settings(max_examples=25, deadline=None)
def test_every_solid_of_a_base_weighs_what_its_line_says(back, right, up, base):
    yard = unit_yard(
        frame={"base": base, "ground_fall_back_mm": back, "ground_fall_right_mm": right,
               "floor_up_mm": up}
    )  # fmt: skip
    frame = built_frame(yard, yard.quarters[0])
    laid = [p for p in frame.parts if p.kind == "base" and not why_not_whole(p)]
    for part in laid:
        solid = sum(s.volume_m3 for s in solids_of(part, frame)) * density_kg_m3(part)
        assert solid == pytest.approx(part_mass(part).kg, rel=0.01), part.what


@given(back=floats(-500, 500), right=floats(-500, 500), up=floats(0, 300), base=BASES)
@settings(max_examples=25, deadline=None)
def test_a_base_reaches_down_to_the_ground_and_not_far_past_it(back, right, up, base):
    """What lies on the ground lies in it by less than one course, and over it by a packing."""
    yard = unit_yard(
        frame={"base": base, "ground_fall_back_mm": back, "ground_fall_right_mm": right,
               "floor_up_mm": up}
    )  # fmt: skip
    ground = ground_line(yard, shell_of(yard.quarters[0]))
    for part in built_frame(yard, yard.quarters[0]).parts:
        if part.what == "short post in concrete":
            for stick in part.sticks:
                x, y, foot = stick.start_mm
                assert foot == pytest.approx(-ground.below_mm(x, y) - 500)
        if part.what == "paving slab as a pad":
            places = [(p.corners_mm[0], p.corners_mm[2], p.thickness_mm) for p in part.panels]
            lowest = {}
            for a, b, thick in places:
                spot = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                lowest[spot] = min(lowest.get(spot, 0), a[2] - thick / 2)
            for spot, z in lowest.items():
                assert -38 <= z + ground.below_mm(*spot) <= 20 + 1e-6


def test_sleepers_are_stacked_down_the_slope_by_hand():
    """A fall of 200 mm over 2400 mm: at the outer back the ground lies 316 mm down.

    The front needs one course, the back four less 20 mm of packing: three of 100 mm reach
    300, and 312 at the middle of the back sleepers is packed with 12 mm of stone.
    """
    yard = unit_yard(frame={"ground_fall_back_mm": 200})
    ground = ground_line(yard, shell_of(yard.quarters[0]))
    assert ground.below_mm(0, 2400 + 95) == pytest.approx(100 + 200 / 2400 * (2400 + 190))
    courses = {
        (p.place, p.what) for p in built_frame(yard, yard.quarters[0]).parts
        if p.material == "sleeper_softwood"
    }  # fmt: skip
    assert ("back", "sleepers, course 3 down") in courses
    assert not any("course 4" in what for _, what in courses)
    assert not any(place == "front" and "course" in what for place, what in courses)


def test_level_ground_is_built_as_ever():
    """The keys' defaults change nothing: no edge boards, no stone, one course."""
    for base in ("sleepers", "pads", "slab"):
        yard = unit_yard(frame={"base": base})
        kinds = {p.what for p in built_frame(yard, yard.quarters[0]).parts if p.kind == "base"}
        assert len(kinds) == 1, kinds


@pytest.mark.parametrize(
    ("to_deg", "back", "right"),
    [(180, -240, 0), (0, 240, 0), (90, 0, 300), (270, 0, -300)],
)
def test_the_yards_slope_falls_the_right_way(to_deg, back, right):
    """The unit looks south, 3000 mm wide and 2400 mm deep, on ground that falls by a tenth."""
    yard = unit_yard()
    slope = yard.yard.model_copy(update={"ground_fall_pct": 10, "ground_falls_to_deg": to_deg})
    sloping = yard.model_copy(update={"yard": slope})
    assert falls_mm(sloping, sloping.quarters[0]) == pytest.approx((back, right), abs=1e-6)


def test_a_raised_floor_is_edged_filled_and_stepped():
    """150 mm higher on level ground: 250 mm from ground to floor, 100 mm of it substrate."""
    yard = unit_yard(
        frame={**IN_CONCRETE, "floor_up_mm": 150},
        floor={"dig_barrier": "buried", "dig_barrier_mm": 400},
    )
    boards = _parts(yard, "edge board under the sole plate")
    # 250 mm and 50 mm into the ground: two courses of 145 mm reach 290, a third is needed.
    assert sum(b.count for b in boards) == 3 * 4
    (stone,) = _parts(yard, "stone under the floor")
    assert stone.amount == pytest.approx(3.0 * 2.4 * 0.15)
    (barrier,) = _parts(yard, "dig barrier, buried")
    assert barrier.width_mm == 400 + 150
    said = take_off(yard, yard.quarters[0])
    assert any("step at the front, from the ground to the floor, is 250 mm" in a
               for a in said.assumptions)  # fmt: skip
    assert any("tread" in c for c in said.cautions)


def test_a_stack_too_high_is_said():
    yard = unit_yard(frame={"ground_fall_back_mm": 400})
    cautions = take_off(yard, yard.quarters[0]).cautions
    assert any("over 300 mm (our judgement)" in c for c in cautions)
    assert any("Water comes down the slope to the front" in c for c in cautions)


def test_holes_keep_their_distance():
    """No two holes meet, whatever stands above them."""
    yard = unit_yard(frame={**IN_CONCRETE, "post_count": 9})
    spots = [s.start_mm[:2] for p in _parts(yard, "short post in concrete") for s in p.sticks]
    for i, a in enumerate(spots):
        assert all(hypot(a[0] - b[0], a[1] - b[1]) >= 300 for b in spots[:i])
