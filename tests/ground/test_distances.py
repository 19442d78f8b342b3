"""Distances, bearings and overlap against triangles done by hand."""

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground import distances
from mewswright.model.place import Feature, WindSector

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


def thing(**more):
    return Feature.model_validate({"name": "thing", "kind": "other"} | more)


@pytest.mark.parametrize(
    ("where", "metres"),
    [({"at_m": [7, 8]}, 5), ({"at_m": [2, 2]}, 0), ({"at_m": [6, 2]}, 2),
     ({"line_m": [[7, -10], [7, 10]]}, 3), ({"line_m": [[7, -10], [7, 10]], "width_m": 2}, 2),
     ({"line_m": [[-1, 2], [5, 2]]}, 0), ({"outline_m": [[7, 8], [9, 8], [9, 9]]}, 5),
     ({"outline_m": [[-9, -9], [9, -9], [9, 9], [-9, 9]]}, 0)],
)  # fmt: skip
def test_distance_to_a_square_of_four(where, metres):
    assert distances.outline_distance_m(SQUARE, thing(**where)) == pytest.approx(metres)


@pytest.mark.parametrize(
    ("end", "deg"), [((0, 1), 0), ((1, 0), 90), ((0, -1), 180), ((-1, 1), 315)]
)
def test_bearings_go_clockwise_from_north(end, deg):
    assert distances.bearing_deg((0, 0), end) == pytest.approx(deg)


@given(floats(0, 359.9), floats(0, 359.9))
def test_the_turn_between_two_bearings_is_theirs_alone(one, other):
    turn = distances.turn_between_deg(one, other)
    assert 0 <= turn <= 180
    assert turn == pytest.approx(distances.turn_between_deg(other, one))
    assert cos(radians(turn)) == pytest.approx(cos(radians(one - other)), abs=1e-9)


def test_wind_from_three_of_eight_sectors():
    rose = [WindSector(from_deg=d, share_pct=10, speed_m_s=3) for d in range(0, 360, 45)]
    assert distances.wind_share_pct(rose, 0) == 30
    assert distances.wind_share_pct(rose, 22.5) == 20


@pytest.mark.parametrize(("shift", "deep"), [(3, 1), (4, 0), (5, -1), (0, 4)])
def test_two_squares_of_four_overlap(shift, deep):
    other = tuple((x + shift, y) for x, y in SQUARE)
    assert distances.outlines_overlap_m(SQUARE, other) == pytest.approx(deep)


@given(floats(0, 360), floats(-9, 9), floats(-9, 9))
def test_overlap_does_not_depend_on_the_frame(turn, dx, dy):
    def moved(points):
        c, s = cos(radians(turn)), sin(radians(turn))
        return tuple((x * c - y * s + 50, x * s + y * c - 20) for x, y in points)

    other = tuple((x + dx, y + dy) for x, y in SQUARE)
    here = distances.outlines_overlap_m(SQUARE, other)
    there = distances.outlines_overlap_m(moved(SQUARE), moved(other))
    assert there == pytest.approx(here, abs=1e-9)


def test_edges_that_cross_and_edges_that_do_not():
    cross = distances.crossing_share
    assert cross(((0, 0), (4, 0)), ((1, -1), (1, 3))) == pytest.approx(0.25)
    assert cross(((0, 0), (4, 0)), ((5, -1), (5, 3))) is None
    assert cross(((0, 0), (4, 0)), ((0, 1), (4, 1))) is None


@pytest.mark.parametrize(
    ("point", "inside"),
    [((1, 1), True), ((3, 3), False), ((1.9, 1.9), True), ((2.1, 2.1), False), ((-1, 1), False)],
)
def test_inside_a_triangle_with_a_slanting_side(point, inside):
    """Corners at 0, 4 east and 4 north: the slanting side is where east and north make 4."""
    triangle = ((0.0, 0.0), (4.0, 0.0), (0.0, 4.0))
    assert distances.is_inside(point, triangle) is inside
    assert distances.is_inside(point, triangle[::-1]) is inside


def test_squares_that_a_box_touches():
    assert set(distances.box_squares(((-1, 1), (11, 1), (11, 2)), 10)) == {(-1, 0), (0, 0), (1, 0)}
