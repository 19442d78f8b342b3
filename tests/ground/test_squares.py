"""What is near a place is found, whatever square it lies in."""

from math import hypot

from hypothesis import example, given
from hypothesis.strategies import floats, lists, tuples

from mewswright.ground.squares import Squares

SPOT = tuples(floats(-60, 60), floats(-60, 60))


@given(lists(SPOT, max_size=20), SPOT, floats(0, 30))
@example(places=[(0.0, -8.4e-168)], spot=(0.0, 1.0), reach=1.0)
def test_nothing_near_is_missed_and_nothing_comes_twice(places, spot, reach):
    squares = Squares()
    for i, place in enumerate(places):
        squares.add(i, (place,))
    found = squares.near(spot, reach)
    assert found == sorted(set(found))
    near = {i for i, (x, y) in enumerate(places) if hypot(x - spot[0], y - spot[1]) <= reach}
    assert near <= set(found)


def test_a_long_thing_is_found_from_its_middle():
    squares = Squares()
    squares.add("wall", ((-40, 0), (40, 0)))
    squares.add("far", ((35, 35),))
    assert squares.near((0, 1), 2) == ["wall"]
    assert squares.near((0, 11), 0.5) == []
    wide = Squares()
    wide.add("hedge", ((-40, 0), (40, 0)), wide_m=11)
    assert wide.near((0, 11), 0.5) == ["hedge"]


def test_a_shade_over_half_a_county_is_found_at_once():
    """A sun on the horizon throws shade for 400 km: over 40 000 squares by 40 000."""
    squares = Squares()
    squares.add("shade", ((0, 0), (4e5, 4e5)))
    squares.add("near", ((1e5, 1e5),))
    assert squares.near((1e5, 1e5), 3) == ["shade", "near"]
    assert squares.near((-9, 0), 3) == []
    assert squares.near((0, 0), 3e5) == ["shade", "near"]
