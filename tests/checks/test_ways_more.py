"""Doors in use on both sides of their limits.

By hand: free circle of a bird with 400 mm of leash, 250 mm of jesses, a span of 1000 mm and
the handbook's margin of 150 mm: 400 + 250 + 500 + 150 = 1300 mm, wing tips at 1150 mm.
A lobby: 600 mm of box (a judgement) + 400 mm of person. The law of North Carolina: 15A NCAC
10H .0808, self-closing, secures from inside and outside.
"""

import pytest

from mewswright.handbook import leash_lengths
from mewswright.model.yard import Yard
from support.corridor_yard import corridor_yard
from support.yards import bird, findings, only, perch, quarters, stay, yard

HAWK = bird(wing_span_mm=1000, leash_working_mm=400, jess_swivel_mm=250)


def door(a="North loft", b="Lobby", **more):
    return {"between": [a, b], "width_mm": 800, "height_mm": 1900, "self_closing": True} | more


def lobby(name="Lobby", **more):
    return {
        "name": name, "kind": "lobby", "length_mm": 1200, "width_mm": 1000, "height_mm": 2100,
    } | more  # fmt: skip


OUT = door("Lobby", "outside")
TIED = {"kind": "shelter", "mode": "tethered"}


def holding(*doors, standards=("house",), spaces=None, mode="loose", kind="loft", **more):
    fitting = more.pop("fitting", [perch()])
    place = quarters(kind=kind, fitting=fitting)
    return yard(
        standards, bird=[more.pop("who", HAWK)], quarters=[place], stay=[stay(mode=mode)],
        space=spaces or [lobby()], door=list(doors), **more,
    )  # fmt: skip


def test_the_circle_of_this_bird_is_as_said_above():
    assert leash_lengths().margin_mm.value == 150


@pytest.mark.parametrize(
    ("y_mm", "into", "status"),
    [(3900, "North loft", "sound"), (3901, "North loft", "short"), (4050, "North loft", "short"),
     (4051, "North loft", "harm"), (4700, "Lobby", "sound"), (4701, "Lobby", "short"),
     (5000, "Lobby", "short")],
)  # fmt: skip
def test_d108_door_in_the_back_wall(y_mm, into, status):
    """The wall is 6000 mm back; a leaf of 800 mm that swings in comes to 5200 mm."""
    at = door(face="back", at_mm=2500, opens_into=into)
    of = holding(at, OUT, fitting=[perch(x=2500, y=y_mm)], **TIED)
    assert only(of, "D108").status == status


@pytest.mark.parametrize(
    ("face", "x", "y"),
    [("front", 2500, 2099), ("left", 2099, 3000), ("right", 5000 - 2099, 3000)],
)
def test_d108_the_other_faces(face, x, y):
    """800 mm of leaf + 1300 mm of circle is 2100 mm from the face."""
    at = door(face=face, at_mm=2500 if face == "front" else 3000, opens_into="North loft")
    found = only(holding(at, OUT, fitting=[perch(x=x, y=y)], **TIED), "D108")
    assert (found.status, found.measured.value) == ("short", 1299)
    assert found.remedy == (
        "hang the door to swing outwards, or move the perch 1 mm straight away from it, or tie "
        "it shorter"
    )


@pytest.mark.parametrize(("x", "y"), [(2500, 5900), (1200, 4600), (2500, 4101)])
def test_d108_doing_what_it_says_is_enough(x, y):
    at = door(face="back", at_mm=2500, opens_into="North loft")

    def judged(px, py):
        return only(holding(at, OUT, fitting=[perch(x=px, y=py)], **TIED), "D108")

    found = judged(x, y)
    by_mm = float(found.remedy.split("move the perch ")[1].split(" mm")[0])
    near_x, near_y = min(max(x, 2100), 2900), 5200
    away = ((x - near_x) ** 2 + (y - near_y) ** 2) ** 0.5
    dx, dy = (0, -1) if y >= near_y else ((x - near_x) / away, (y - near_y) / away)
    assert found.status in ("harm", "short")
    assert judged(x + dx * by_mm, y + dy * by_mm).status == "sound"


def test_d108_a_door_without_its_place_cannot_be_judged():
    found = only(holding(door(), OUT, **TIED), "D108")
    assert (found.status, found.remedy) == ("mind", "give face and at_mm of the door")


def test_d108_is_not_asked_where_birds_go_loose():
    assert findings(holding(door(), OUT), "D108") == []


@pytest.mark.parametrize(
    ("length_mm", "service", "status"),
    [(1000, {}, "sound"), (999, {}, "mind"), (1100, {"box_mm": 700}, "sound"),
     (1099, {"box_mm": 700}, "short")],
)  # fmt: skip
def test_d109_person_and_box(length_mm, service, status):
    of = holding(door(), OUT, spaces=[lobby(length_mm=length_mm)], service=service)
    found = only(of, "D109")
    assert found.status == status
    assert found.quarters == "North loft"
    assert ("taken as 600 mm" in found.why) == (not service)


def test_d109_a_leaf_that_swings_in_takes_its_width():
    inward = door(opens_into="Lobby")
    for length_mm, status in ((1800, "sound"), (1799, "mind")):
        of = holding(inward, OUT, spaces=[lobby(length_mm=length_mm)])
        assert only(of, "D109").status == status
    assert only(of, "D109").remedy.startswith("make it 1 mm longer")


ROOM = lobby("Scales", kind="weighing_room", length_mm=3000)


@pytest.mark.parametrize(
    ("doors", "status"),
    [([door(b="Scales"), door("Scales", "outside")], "sound"),
     ([door(), OUT, door("Scales", "outside")], "mind"),
     ([door(), door("Lobby", "Scales"), OUT], "sound")],
)  # fmt: skip
def test_d111_the_weighing_room_comes_before_the_open_air(doors, status):
    assert only(holding(*doors, spaces=[lobby(), ROOM]), "D111").status == status


def test_d111_names_the_way():
    of = holding(door(), door("Lobby", "Scales"), OUT, spaces=[lobby(), ROOM])
    assert only(of, "D111").measured.value == "North loft to Lobby to Scales"


def test_d111_is_asked_only_of_flown_birds_and_where_there_is_such_a_room():
    assert findings(holding(door(), OUT), "D111") == []
    owl = bird(use="display")
    assert findings(holding(door(b="Scales"), spaces=[ROOM], who=owl), "D111") == []


@pytest.mark.parametrize(
    ("standards", "inner", "outer", "status"),
    [(("house",), {}, {"self_closing": False}, "sound"),
     (("house",), {"self_closing": False}, {}, "sound"),
     (("house",), {"self_closing": False}, {"self_closing": False}, "short"),
     (("us-nc",), {"self_closing": False}, {"self_closing": False}, "harm"),
     (("us-ut",), {"self_closing": False}, {"self_closing": False}, "short"),
     (("house",), {"locks": "none"}, {}, "sound"),
     (("house",), {"locks": "none"}, {"locks": "none"}, "short"),
     (("us-nc",), {"locks": "none"}, {"locks": "none"}, "harm")],
)  # fmt: skip
def test_d112_one_door_of_each_on_every_way(standards, inner, outer, status):
    of = holding(door(**inner), door("Lobby", "outside", **outer), standards=standards)
    assert only(of, "D112").status == status


def test_d112_names_the_fewest_doors_that_mend_all_ways():
    """Two ajar ways through two lobbies, both by way of one hall: the hall door mends both."""
    ajar = {"self_closing": False}
    doors = [
        door(b="Hall", **ajar), door("Hall", "Lobby", **ajar), door("Hall", "Porch", **ajar),
        door("Lobby", "outside", **ajar), door("Porch", "outside", **ajar),
    ]  # fmt: skip
    spaces = [lobby(), lobby("Porch"), lobby("Hall", kind="corridor")]
    found = only(holding(*doors, spaces=spaces), "D112")
    assert (found.measured.value, found.remedy) == (1, "hang on a spring: door North loft to Hall")
    doors[0]["self_closing"] = True
    assert only(holding(*doors, spaces=spaces), "D112").status == "sound"


def test_d112_leaves_doors_that_lead_nowhere_and_tethered_birds_alone():
    assert findings(holding(door()), "D112") == []
    assert findings(holding(door(), OUT, **TIED), "D112") == []


def test_d101_counts_the_doors_by_way_of_a_corridor_behind_a_row():
    """A unit to the corridor, to the lobby, to the sky: three; without the lobby two."""
    for lobby_too, count in ((True, 3), (False, 2)):
        held = corridor_yard(lobby=lobby_too)
        data = held.model_dump(mode="json", exclude_none=True)
        data |= {"bird": [bird()], "stay": [stay(mode="loose") | {"quarters": "A"}]}
        data["stay"][0].pop("perch", None)
        found = only(Yard.model_validate(data), "D101", quarters="A")
        assert (found.status, found.measured.value) == ("sound", count)
