"""The lee in a room, worked by hand on a room of 5 x 6 m."""

import pytest

from mewswright.ground.lee import is_in_the_lee, looks_deg, windward_of
from mewswright.model.quarters import Quarters
from support.yards import perch, quarters

BARS = {"infill": "barred", "gap_mm": 25}


def room(**more):
    return Quarters.model_validate(quarters(**more))


def at(x, y):
    return room(fitting=[perch("p", x, y)]).perches[0]


@pytest.mark.parametrize(
    ("side", "deg"), [("front", 180), ("right", 90), ("back", 0), ("left", 270)]
)
def test_who_looks_north_at_the_front_has_east_at_the_right(side, deg):
    place = room(facing_deg=180)
    assert looks_deg(place, side) == deg
    beyond = {"front": (2500, -1000), "right": (6000, 3000), "back": (2500, 7000),
              "left": (-1000, 3000)}[side]  # fmt: skip
    middle, out = place.on_ground_m(2500, 3000), place.on_ground_m(*beyond)
    assert (out[0] > middle[0] + 1) == (deg == 90)
    assert (out[1] > middle[1] + 1) == (deg == 0)


@pytest.mark.parametrize(
    ("x", "y", "windward"),
    [(1000, 2999, ("front",)), (1000, 3000, ()), (1000, 3001, ()), (4000, 100, ("front",))],
)
def test_the_nearer_of_two_sides_counts(x, y, windward):
    assert windward_of(room(), at(x, y)) == windward


def test_a_boarded_second_skin_keeps_wind_off():
    skin = {"infill": "boarded", "stand_off_mm": 50}
    assert windward_of(room(faces={"front": BARS | {"outer": skin}}), at(1000, 100)) == ()


def test_all_four_sides_of_a_pitch_let_wind_in():
    assert len(windward_of(room(kind="pitch"), at(1000, 1000))) == 4


@pytest.mark.parametrize(("share", "lee"), [(0.5, True), (0.49, False)])
def test_the_lee_lies_under_the_roof(share, lee):
    assert is_in_the_lee(room(roof={"covered_share": share}), at(1000, 3000)) is lee
