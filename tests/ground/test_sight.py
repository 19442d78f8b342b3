"""Sight over a wall, by similar triangles."""

import pytest

from mewswright.ground.sight import Body, feature_screens, sees
from mewswright.model.place import Feature
from mewswright.model.yard import Yard
from support.yards import quarters, yard


def wall(height_m, north_m=5):
    return Feature.model_validate(
        {"name": "wall", "kind": "wall", "line_m": [[-9, north_m], [9, north_m]],
         "height_m": height_m}
    )  # fmt: skip


@pytest.mark.parametrize(
    ("eye_m", "thing_m", "height_m", "clear"),
    [(1, 3, 1.99, True), (1, 3, 2.01, False), (2, 0, 0.99, True), (2, 0, 1.01, False)],
)
def test_a_wall_half_way_hides_below_the_mean_of_both_heights(eye_m, thing_m, height_m, clear):
    screens = feature_screens([wall(height_m)])
    assert sees((0, 0, eye_m), (0, 10, thing_m), [], screens) is clear


@pytest.mark.parametrize(("height_m", "clear"), [(1.39, True), (1.41, False)])
def test_a_wall_a_fifth_of_the_way(height_m, clear):
    """From 1 m to 3 m over 10 m, the line is 1.4 m up after 2 m."""
    screens = feature_screens([wall(height_m, north_m=2)])
    assert sees((0, 0, 1), (0, 10, 3), [], screens) is clear


def body(**more):
    of: Yard = yard(quarters=[quarters(**more)])
    return Body(of.quarters[0])


def test_a_solid_roof_hides_what_stands_under_it_from_above():
    """The floor covers 0 to 5 m east and 0 to 6 m north; the roof is 3 m up and level."""
    loft = body(faces={"front": {"infill": "open"}})
    inside, over = (2.5, 3.0, 1.0), (2.5, -3.0, 9.0)
    assert not sees(over, inside, [loft], [])
    netted = body(faces={"front": {"infill": "open"}}, roof={"covered_share": 0})
    assert sees(over, inside, [netted], [])


@pytest.mark.parametrize(("share", "clear"), [(0.7, True), (0.8, False)])
def test_the_front_part_of_the_top_may_be_open(share, clear):
    """The line comes through the roof's plane 1.5 m behind the front of 6 m: a quarter."""
    loft = body(faces={"front": {"infill": "open"}}, roof={"covered_share": share})
    assert sees((2.5, -1.5, 7.0), (2.5, 3.0, 1.0), [loft], []) is clear


def test_sight_goes_both_ways():
    screens = feature_screens([wall(1.5)])
    one, other = (0, 0, 1.2), (3, 10, 2.1)
    assert sees(one, other, [body()], screens) is sees(other, one, [body()], screens)
