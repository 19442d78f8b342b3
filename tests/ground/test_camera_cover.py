"""What a camera shows, against shapely's wedges and lines on generated grounds."""

import random
from math import cos, hypot, radians, sin

import pytest
from shapely import LineString, Point, Polygon

from mewswright.ground.camera_cover import View, front_spots
from mewswright.ground.sight import feature_screens
from mewswright.model.place import Feature
from mewswright.model.quarters import Quarters
from support.yards import quarters


def wall(a, b, name="wall"):
    return Feature(name=name, kind="wall", line_m=(a, b), height_m=10)


def wedge(view, reach_m):
    """The sector of a camera as shapely's polygon, an arc of many corners."""
    steps = 720
    half = view.view_deg / 2
    arc = [view.looks_deg - half + view.view_deg * i / steps for i in range(steps + 1)]
    east, north = view.at[:2]
    rim = [(east + reach_m * sin(radians(b)), north + reach_m * cos(radians(b))) for b in arc]
    return Polygon([(east, north), *rim])


@pytest.mark.parametrize("seed", range(300))
def test_a_spot_is_shown_where_shapely_says_so(seed):
    dice = random.Random(seed)

    def place():
        return dice.uniform(-20, 20), dice.uniform(-20, 20)

    view = View((0.0, 0.0, 3.0), dice.uniform(0, 360), dice.uniform(20, 170), dice.uniform(5, 25))
    walls = [wall(place(), place(), f"wall {i}") for i in range(2)]
    spot = place()
    turn = radians(view.looks_deg)
    line = LineString([(0.3 * sin(turn), 0.3 * cos(turn)), spot])  # from the end of its bracket
    lines = [LineString(w.line_m) for w in walls]
    inside = wedge(view, view.range_m).contains(Point(spot))
    # The arc has 720 corners, so at its rim the two may differ by a hair; no seed falls there.
    assert wedge(view, view.range_m).exterior.distance(Point(spot)) > 0.001
    free = not any(line.intersects(one) for one in lines)
    assert view.shows((*spot, 1.0), (), feature_screens(walls)) == (inside and free)


@pytest.mark.parametrize(("range_m", "shown"), [(10, True), (9.999, False)])
def test_reach(range_m, shown):
    assert View((0, 0, 3), 90, 90, range_m).shows((10, 0, 1), (), ()) == shown


@pytest.mark.parametrize(("bearing", "shown"), [(45, True), (44.9, False), (135.1, False)])
def test_edge_of_the_wedge(bearing, shown):
    spot = (5 * sin(radians(bearing)), 5 * cos(radians(bearing)), 1)
    assert View((0, 0, 3), 90, 90, 10).shows(spot, (), ()) == shown


def test_the_wall_that_it_hangs_on_hides_what_lies_behind_alone():
    house = feature_screens([wall((0, -10), (0, 10))])
    before = View((0.1, 0, 3), 90, 360, 20)
    assert before.shows((5, 0, 1), (), house)
    assert not before.shows((-5, 0, 1), (), house)


def test_a_high_camera_looks_over_a_low_wall():
    """From 3 m over a wall of 1.9 m half way to a spot at 1 m: the line is at 2 m there."""
    low = Feature(name="low", kind="wall", line_m=((5, -5), (5, 5)), height_m=1.9)
    high = Feature(name="high", kind="wall", line_m=((5, -5), (5, 5)), height_m=2.1)
    view = View((0, 0, 3), 90, 90, 20)
    assert view.shows((10, 0, 1), (), feature_screens([low]))
    assert not view.shows((10, 0, 1), (), feature_screens([high]))


def test_spots_of_a_front_lie_evenly_before_it():
    """A front of 5 m that faces south: ten spots, half a metre apart, 0.3 m before it."""
    spots = front_spots(Quarters.model_validate(quarters()))
    assert [round(x, 9) for x, _, _ in spots] == [0.25 + 0.5 * i for i in range(10)]
    assert {(round(y, 9), z) for _, y, z in spots} == {(-0.3, 1.0)}


def test_turning_the_yard_turns_the_view():
    """A yard turned by 30 degrees shows the same."""
    view = View((1, 2, 3), 70, 80, 12)
    spot = (8, 5, 1)

    def turned(x, y):
        a = radians(-30)
        return x * cos(a) - y * sin(a), x * sin(a) + y * cos(a)

    other = View((*turned(1, 2), 3), 100, 80, 12)
    assert hypot(*turned(3, 4)) == pytest.approx(5)
    assert view.shows(spot, (), ()) == other.shows((*turned(8, 5), 1), (), ())
