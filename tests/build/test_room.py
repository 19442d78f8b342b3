"""Room round a perch, against triangles done by hand and against its mirror image."""

from math import inf, sqrt

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build import room
from mewswright.model.fitting import Perch
from mewswright.model.quarters import perch_ends_mm
from support.yards import perch, quarters, yard


def place(**more):
    return yard(quarters=[quarters(**more)]).quarters[0]


def one(**more):
    return Perch.model_validate(perch(**more))


def test_a_perch_across_the_corner_measures_along_the_wing():
    """Turned by 45 deg at 1000 mm from two walls, a wing meets them after 1000 times root 2."""
    turned = one(x=1000, y=1000, turn_deg=45)
    assert room.wing_room_mm(place(), turned)[0] == pytest.approx(1000 * sqrt(2))
    assert room.tail_room_mm(place(), turned)[0] == pytest.approx(1000 * sqrt(2))


def test_an_open_face_gives_room_without_end():
    shelter = place(kind="shelter")
    assert room.wall_distance_mm(shelter, (2500, 100), (0, -1)) == (inf, None)
    assert room.wall_distance_mm(shelter, (2500, 100), (0, 1)) == (5900, "back")


@given(floats(1, 4999), floats(1, 5999), floats(-180, 180))
def test_left_and_right_are_mirror_images(x, y, turn):
    here, mirrored = one(x=x, y=y, turn_deg=turn), one(x=5000 - x, y=y, turn_deg=-turn)
    for measure in (room.wing_room_mm, room.tail_room_mm):
        assert measure(place(), here)[0] == pytest.approx(measure(place(), mirrored)[0], abs=1e-3)


@given(floats(1, 4999), floats(1, 5999), floats(-180, 90))
def test_the_tail_hangs_where_a_wing_would_be_a_quarter_turn_on(x, y, turn):
    here, turned = one(x=x, y=y, turn_deg=turn), one(x=x, y=y, turn_deg=turn + 90)
    tail, wing = room.tail_room_mm(place(), here)[0], room.wing_room_mm(place(), turned)[0]
    assert tail == pytest.approx(wing)


@pytest.mark.parametrize(
    ("other", "gap_mm"),
    [({"x": 2000, "y": 1000}, 900), ({"x": 1000, "y": 1000}, -100), ({"x": 1300, "y": 1400}, 400)],
)
def test_gap_between_two_blocks_of_100_mm(other, gap_mm):
    assert room.perch_gap_mm(one(x=1000, y=1000), one(**other)) == pytest.approx(gap_mm)


def test_rods_that_cross_have_no_gap():
    rod = {"form": "round", "length_mm": 1000, "diameter_mm": 40}
    across = one(x=1000, y=1000, **rod), one(x=1000, y=1000, turn_deg=90, **rod)
    assert room.segment_gap_mm(*(perch_ends_mm(p) for p in across)) == 0


def test_a_rod_over_the_middle_of_a_bath_lies_over_it():
    """Both ends are outside the rectangle, and the rod runs across it."""
    rod = one(x=1000, y=1000, form="round", length_mm=2000, diameter_mm=40)
    assert room.rectangle_to_perch_mm((800, 900, 1200, 1100), rod) == -20


@pytest.mark.parametrize(("y_mm", "covered"), [(2999, False), (3000, True), (6000, True)])
def test_the_roof_covers_its_share_from_the_back(y_mm, covered):
    assert room.is_covered(place(roof={"covered_share": 0.5}), y_mm) is covered


@pytest.mark.parametrize(("left", "front"), [("open", "boarded"), ("boarded", "open")])
def test_a_wing_into_a_corner_meets_the_side_that_is_a_wall(left, front):
    """From 1000 mm off both, at 45 degrees, an open side does not open the corner."""
    faces = {"front": {"infill": front}, "left": {"infill": left}}
    way = (-sqrt(0.5), -sqrt(0.5))
    found_mm, side = room.wall_distance_mm(place(faces=faces), (1000, 1000), way)
    assert (round(found_mm, 3), side) == (1414.214, "front" if left == "open" else "left")
