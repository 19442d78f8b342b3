"""Geometry of the free circle: sums by hand, and sentences that hold for every spot."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, tuples

from mewswright.build.circle import (
    box_distance,
    free_radius_mm,
    in_quarters_mm,
    is_inside,
    nearest_on_line,
    point_distance,
    segment_distance,
    segments_cross,
    side_crossed,
    wall_distances_mm,
)
from mewswright.model.quarters import Quarters
from support.yards import quarters

SPOTS = tuples(floats(-9000, 9000), floats(-9000, 9000))
LENGTHS = floats(0, 5000)


def test_free_radius_is_the_sum_of_the_derived_rule():
    # Facts on tethering: R = leash working + swivel and jess + half the span + 0.15 m.
    assert free_radius_mm(400, 200, 1100, 150) == 1300


@given(leash=LENGTHS, jess=LENGTHS, span=LENGTHS, margin=LENGTHS, more=LENGTHS)
def test_a_longer_leash_never_makes_a_smaller_circle(leash, jess, span, margin, more):
    assert free_radius_mm(leash + more, jess, span, margin) >= free_radius_mm(
        leash, jess, span, margin
    )


@pytest.mark.parametrize("bad", [-1, float("nan"), float("inf")])
def test_a_length_that_no_tape_shows_is_refused(bad):
    with pytest.raises(ValueError, match=r"^lengths of a tether must be 0 or more, got "):
        free_radius_mm(bad, 200, 1100, 150)


def test_distance_to_the_walls():
    assert wall_distances_mm(3000, 2000, (1000, 500)) == {
        "front": 500, "back": 1500, "left": 1000, "right": 2000,
    }  # fmt: skip


@given(spot=SPOTS, a=SPOTS, b=SPOTS)
def test_a_piece_is_never_farther_than_its_ends(spot, a, b):
    near = segment_distance(spot, a, b)
    assert near <= min(point_distance(spot, a), point_distance(spot, b)) + 1e-6
    assert near == pytest.approx(segment_distance(spot, b, a), abs=1e-6)


@pytest.mark.parametrize(
    ("spot", "distance"),
    [((0, 0), 0), ((40, 20), 0), ((60, 0), 10), ((0, -33), 10), ((53, 27), 5)],  # 3-4-5 at last
)
def test_distance_to_a_box_of_100_by_46(spot, distance):
    assert box_distance(spot, (0, 0), (100, 46)) == pytest.approx(distance)


@given(
    x=floats(-60_000, 60_000),
    y=floats(-60_000, 60_000),
    facing=floats(0, 359.9),
    east=floats(-50, 50),
    north=floats(-50, 50),
)
def test_ground_and_quarters_undo_each_other(x, y, facing, east, north):
    place = Quarters.model_validate(
        quarters("lawn", "pitch") | {"facing_deg": facing, "at_m": [east, north]}
    )
    back = in_quarters_mm(place, place.on_ground_m(x, y))
    assert back == pytest.approx((x, y), abs=1e-6 * 60_000)


@pytest.mark.parametrize(
    ("towards", "side"),
    [((1500, -10), "front"), ((1500, 3000), "back"), ((-5, 900), "left"), ((4000, 1000), "right"),
     ((1600, 1100), None)],
)  # fmt: skip
def test_side_that_a_line_leaves_through(towards, side):
    assert side_crossed(3000, 2000, (1500, 1000), towards) == side


def test_nearest_point_of_a_line_and_of_an_outline():
    corners = [(0, 0), (10, 0), (10, 10), (0, 10)]
    assert nearest_on_line((-3, 5), corners, closed=True) == (0, 5)
    assert nearest_on_line((-3, 5), corners, closed=False) == (0, 0)
    with pytest.raises(ValueError, match=r"^a line needs 2 corners or more, got 1$"):
        nearest_on_line((0, 0), [(1, 1)], closed=False)


def test_inside_and_crossing():
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    assert is_inside((5, 5), square)
    assert not is_inside((11, 5), square)
    assert segments_cross((0, 0), (10, 10), (0, 10), (10, 0))
    assert not segments_cross((0, 0), (4, 4), (0, 10), (10, 0))
