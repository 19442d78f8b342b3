"""Ways out of small mazes, against all simple ways counted one by one."""

from hypothesis import given
from hypothesis.strategies import integers, lists, tuples

from mewswright.ground.doors import OUTSIDE, doors_of, open_places, shortest_way_out
from mewswright.model.ways import Door, Space

ROOMS = ["loft", "a", "b", "c", OUTSIDE]


def door(one, other):
    return Door(between=(one, other), width_mm=800, height_mm=1900)


def test_the_way_through_a_lobby():
    doors = doors_of([door("loft", "a"), door("a", OUTSIDE)])
    way = shortest_way_out("loft", doors, frozenset({OUTSIDE}))
    assert way is not None
    assert way.through == "loft to a to outside"
    assert len(way.doors) == 2


def test_a_space_that_is_not_closed_in_is_open_air():
    yard = Space(
        name="a", kind="netted_yard", length_mm=9000, width_mm=9000, height_mm=3000, closed_in=False
    )
    assert open_places([yard], ["pitch"]) == {OUTSIDE, "a", "pitch"}


def fewest(links, here, seen):
    """Doors on the way with the fewest, by walking every way that visits no room twice."""
    if here == OUTSIDE:
        return 0
    onward = [b if a == here else a for a, b in links if here in (a, b)]
    counts = [fewest(links, n, seen | {n}) for n in onward if n not in seen]
    return min((c + 1 for c in counts if c is not None), default=None)


@given(lists(tuples(integers(0, 4), integers(0, 4)).filter(lambda p: p[0] != p[1]), max_size=9))
def test_no_way_has_fewer_doors(pairs):
    links = [(ROOMS[a], ROOMS[b]) for a, b in pairs]
    way = shortest_way_out("loft", doors_of([door(*p) for p in links]), frozenset({OUTSIDE}))
    assert (None if way is None else len(way.doors)) == fewest(links, "loft", {"loft"})
