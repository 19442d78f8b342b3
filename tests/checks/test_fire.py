"""Ways out of a fire on both sides of their limits.

By hand: quarters of 5 x 6 m are 7.81 m from corner to corner (the root of 61). One way may be
18 m long, a judgement: 7.81 m and 10.19 m of corridor.
"""

import pytest

from support.yards import bird, findings, only, quarters, stay, yard


def door(a="North loft", b="Corridor", **more):
    return {"between": [a, b], "width_mm": 800, "height_mm": 1900} | more


def corridor(length_mm=5000, name="Corridor"):
    return {
        "name": name, "kind": "corridor", "length_mm": length_mm, "width_mm": 1200,
        "height_mm": 2200,
    }  # fmt: skip


OUT = door("Corridor", "outside")


def holding(*doors, spaces=None, kind="loft", **more):
    place = quarters(kind=kind, **more)
    return yard(
        bird=[bird()], quarters=[place], stay=[stay()], space=spaces or [corridor()],
        door=list(doors),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("inner", "outer", "status"),
    [({}, {}, "sound"), ({"locks": "key"}, {"locks": "key"}, "sound"),
     ({"opens_from_inside": False}, {}, "short"), ({}, {"opens_from_inside": False}, "short")],
)  # fmt: skip
def test_d110_every_door_opens_from_inside(inner, outer, status):
    of = holding(door(**inner), door("Corridor", "outside", **outer))
    assert only(of, "D110", quarters="North loft").status == status


def test_d110_names_the_door_that_stops_it():
    of = holding(door(), door("Corridor", "outside", opens_from_inside=False))
    found = only(of, "D110", quarters="North loft")
    assert found.why == "who is inside cannot open door Corridor to outside"
    assert found.remedy == (
        "fit a latch that opens from inside without a key: door Corridor to outside"
    )
    assert only(of, "D110", fitting="Corridor").status == "short"


@pytest.mark.parametrize(("length_mm", "status"), [(10189, "sound"), (10191, "mind")])
def test_d110_one_way_may_be_so_long(length_mm, status):
    of = holding(door(), OUT, spaces=[corridor(length_mm)])
    assert only(of, "D110", quarters="North loft").status == status


def test_d110_a_second_way_where_it_says_is_enough():
    long = [corridor(30000)]
    found = only(holding(door(), OUT, spaces=long), "D110", quarters="North loft")
    assert found.remedy == "make a second way out of Corridor that does not pass that door"
    mended = holding(door(), OUT, door("Corridor", "outside", width_mm=900), spaces=long)
    assert {f.status for f in findings(mended, "D110")} == {"sound"}


@pytest.mark.parametrize(("locks", "status"), [("key", "mind"), ("bolt", "sound")])
def test_d110_a_room_is_a_second_way_unless_it_is_entered_by_key(locks, status):
    """From a corridor of 30 m one goes on, or through the South loft into the hall behind it."""
    of = yard(
        bird=[bird()], quarters=[quarters(), quarters("South loft", at_m=[10, 0])], stay=[stay()],
        space=[corridor(30000), corridor(5000, "Hall")],
        door=[door(), OUT, door("South loft", locks=locks), door("South loft", "Hall"),
              door("Hall", "outside")],
    )  # fmt: skip
    assert only(of, "D110", quarters="North loft").status == status


def test_d110_an_open_front_is_a_way_out_and_a_pitch_is_not_asked():
    of = holding(kind="shelter")
    assert only(of, "D110", quarters="North loft").measured.value == "open face"
    assert findings(holding(kind="pitch"), "D110", quarters="North loft") == []


@pytest.mark.parametrize("doors", [[], [door()]])
def test_d110_without_doors_that_lead_out_it_cannot_tell(doors):
    found = only(holding(*doors), "D110", quarters="North loft")
    assert (found.status, found.remedy) == ("mind", "give the doors that lead outside")


def test_d110_does_not_hang_on_the_order_of_the_doors():
    """Two halls of unlike length lie side by side between the loft and one outer door."""
    halls = [corridor(25000, "East"), corridor(5000, "West"), corridor(2000, "Porch")]
    doors = [
        door(b="East"), door(b="West"), door("East", "Porch"), door("West", "Porch"),
        door("Porch", "outside"),
    ]  # fmt: skip
    one, other = (findings(holding(*d, spaces=halls), "D110") for d in (doors, doors[::-1]))
    assert one == other
