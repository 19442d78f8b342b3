"""No two timbers of a frame stand in the same place.

With a level roof all timber is square to the room, so boxes tell the whole truth.
"""

from itertools import combinations

import pytest

from mewswright.build.frame import built_frame
from support.units import BARRED, BOARDED, corners, unit_yard

SOLID = ("post", "sole", "head", "rafter", "stud", "nogging", "batten", "trim")
DOOR = {
    "between": ["Unit", "Lobby"], "width_mm": 750, "height_mm": 1800, "sill_mm": 150,
    "face": "back", "at_mm": 1200,
}  # fmt: skip
HATCH = {
    "kind": "hatch", "name": "Hatch", "face": "back", "at_mm": 2300, "sill_mm": 1200,
    "width_mm": 300, "height_mm": 220,
}  # fmt: skip
OUTER = {"infill": "meshed", "gap_mm": 11, "mesh_kind": "welded", "stand_off_mm": 130}


def _box(stick):
    places = corners(stick)
    return [(min(p[i] for p in places), max(p[i] for p in places)) for i in range(3)]


@pytest.mark.parametrize(
    "front",
    [
        BOARDED,
        {**BARRED, "upstand_mm": 600, "outer": OUTER},
        {"infill": "meshed", "gap_mm": 24, "mesh_kind": "welded", "upstand_mm": 500},
        {"infill": "slatted", "gap_mm": 40, "direction": "horizontal"},
    ],
    ids=lambda face: face["infill"],
)
@pytest.mark.parametrize("door_face", ["back", "front"])
def test_no_two_timbers_share_a_place(front, door_face):
    yard = unit_yard(
        front=front,
        faces={"left": front},
        door=[{**DOOR, "face": door_face}],
        fitting=[HATCH],
        back_height_mm=2400,
        width_mm=3600,
    )
    boxes = [
        (part.mark, part.what, part.place, _box(stick))
        for part in built_frame(yard, yard.quarters[0]).parts
        if part.kind in SOLID and part.what != "roof batten"
        for stick in part.sticks
    ]
    assert len(boxes) > 50
    clashes = [
        (one[:3], other[:3])
        for one, other in combinations(boxes, 2)
        if all(
            a[0] < b[1] - 0.01 and b[0] < a[1] - 0.01 for a, b in zip(one[3], other[3], strict=True)
        )
    ]
    assert clashes == []
