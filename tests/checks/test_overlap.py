"""Fittings through walls and in one place, worked by hand in a room of 5000 x 6000 mm."""

import pytest

from support.yards import bird, only, perch, quarters, stay, yard


def room(*fittings):
    return yard(bird=[bird()], quarters=[quarters(fitting=list(fittings))], stay=[stay()])


def bar(name, x, y, z=1500, **more):
    size = {"form": "round", "length_mm": 1000, "diameter_mm": 40, "height_mm": z}
    return perch(name, x, y) | size | more


BATH = {"kind": "bath", "name": "bath", "at_mm": [3000, 3000], "diameter_mm": 800,
        "depth_mm": 100, "rim_height_mm": 140}  # fmt: skip


@pytest.mark.parametrize(("x", "status"), [(520, "sound"), (519, "short"), (4481, "short")])
def test_p118_a_perch_through_a_wall(x, status):
    """Half of 1000 mm and half of 40 mm; the room is 5000 mm wide."""
    found = only(room(bar("a", x, 3000)), "P118")
    assert found.status == status
    if status == "short":
        assert found.remedy == "move it 1 mm in, or take a shorter one"


@pytest.mark.parametrize(("y", "status"), [(3040, "sound"), (3039, "short")])
def test_p118_two_bars_in_one_place(y, status):
    """Two rods of 40 mm, side by side at one height."""
    assert only(room(bar("a", 2500, 3000), bar("b", 2500, y)), "P118").status == status
    apart = room(bar("a", 2500, 3000), bar("b", 2500, y, z=1541))
    assert only(apart, "P118").status == "sound"


@pytest.mark.parametrize(("x", "status"), [(2549, "sound"), (2551, "short")])
def test_p118_a_block_in_the_bath(x, status):
    """Half of 800 mm and half of a block of 100 mm from the middle of the bath."""
    block = perch("block", x, 3000, height_mm=300)
    assert only(room(block, BATH), "P118").status == status


def test_p118_what_a_post_carries_may_touch_it():
    post = {"kind": "post", "name": "post", "at_mm": [2500, 3000], "size_mm": 90}
    assert only(room(bar("a", 2500, 3000), post), "P118").status == "sound"
