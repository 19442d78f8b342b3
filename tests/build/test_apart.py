"""Two rectangles in plan against shapely, and the way that parts them."""

import pytest
from hypothesis import assume, given
from hypothesis.strategies import floats, tuples
from shapely.geometry import box

from mewswright.build.apart import feeding_height_mm, feeding_plan, gap_mm, way_clear
from mewswright.model.fitting import Hatch
from support.yards import quarters, yard

SIZE = floats(50, 900)
RECTANGLES = tuples(floats(0, 5000), floats(0, 6000), SIZE, SIZE).map(
    lambda r: (r[0], r[1], r[0] + r[2], r[1] + r[3])
)
ROOM = yard(quarters=[quarters(width_mm=6000, depth_mm=7000)]).quarters[0]
MOVES = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "back": (0, 1)}


@given(RECTANGLES, RECTANGLES)
def test_the_gap_is_shapelys(one, other):
    assert gap_mm(one, other) == pytest.approx(box(*one).distance(box(*other)))


@given(RECTANGLES, RECTANGLES, floats(1, 400))
def test_the_way_parts_them_and_stays_in_the_room(one, other, clear_mm):
    assume(one[2] <= 6000 and one[3] <= 7000)
    way = way_clear(ROOM, one, other, clear_mm)
    if way is None:
        return
    by_mm, side = way
    dx, dy = (step * by_mm for step in MOVES[side])
    moved = (one[0] + dx, one[1] + dy, one[2] + dx, one[3] + dy)
    assert gap_mm(moved, other) >= clear_mm - 1e-5
    assert min(moved[0], moved[1], 6000 - moved[2], 7000 - moved[3]) >= -1e-5


def test_a_full_room_has_no_way():
    assert way_clear(ROOM, (0, 0, 6000, 7000), (10, 10, 20, 20), 1) is None


@pytest.mark.parametrize(
    ("face", "ledge_mm", "plan"),
    [("front", 0, (850, 0, 1150, 300)), ("back", 250, (850, 6750, 1150, 7000)),
     ("left", 0, (0, 850, 300, 1150)), ("right", 250, (5750, 850, 6000, 1150))],
)  # fmt: skip
def test_food_lies_on_the_ledge_or_before_the_hatch(face, ledge_mm, plan):
    hatch = Hatch.model_validate(
        {"kind": "hatch", "name": "hatch", "face": face, "at_mm": 1000, "sill_mm": 1200,
         "width_mm": 300, "height_mm": 250, "ledge_mm": ledge_mm}
    )  # fmt: skip
    assert feeding_plan(ROOM, hatch, 300) == plan
    assert feeding_height_mm(hatch) == (1200 if ledge_mm else 0)
