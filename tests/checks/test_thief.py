"""Locks and cameras on both sides of their limits.

Quarters of 5 x 6 m face south, their front from 0 to 5 m east at 0 m north. By hand: from
10 m before the middle of the front, its outer spots lie 2.25 m aside and 0.3 m nearer, so at
atan(2.25 / 9.7) = 13.06 degrees; a wedge of 26.2 degrees shows all ten, one of 26.0 eight.
"""

import pytest

from support.yards import bird, findings, only, quarters, stay, yard

KNOWN = {"view_deg": 90, "range_m": 20}


def camera(name="cam", at=(2.5, -10), looks=0, **more):
    return {
        "name": name, "kind": "camera", "at_m": list(at), "height_m": 3, "looks_deg": looks,
    } | KNOWN | more  # fmt: skip


def gate(at=(2.5, -3), kind="gate"):
    return {"name": "the gate", "kind": kind, "at_m": list(at)}


def holding(*features, doors=(), spaces=(), kind="loft", who=True):
    return yard(
        bird=[bird()], quarters=[quarters(kind=kind)], stay=[stay()] if who else [],
        feature=list(features), door=list(doors), space=list(spaces),
    )  # fmt: skip


def door(a="North loft", b="outside", **more):
    return {"between": [a, b], "width_mm": 800, "height_mm": 1900} | more


LOBBY = {"name": "Lobby", "kind": "lobby", "length_mm": 1500, "width_mm": 1000, "height_mm": 2100}


@pytest.mark.parametrize(
    ("locks", "status"),
    [("none", "short"), ("bolt", "short"), ("key", "sound"), ("code", "sound")],
)
def test_n104_an_outer_door_has_a_key_or_a_code(locks, status):
    found = only(holding(doors=[door(locks=locks)]), "N104")
    assert (found.status, found.quarters) == (status, "North loft")


def test_n104_only_the_outer_door_is_asked():
    of = holding(doors=[door(b="Lobby"), door("Lobby", locks="bolt")], spaces=[LOBBY])
    found = only(of, "N104")
    assert (found.status, found.quarters) == ("short", None)
    assert found.fitting == "door Lobby to outside"


def test_n104_a_lobby_under_the_sky_is_outside():
    of = holding(
        doors=[door(b="Lobby"), door("Lobby")], spaces=[LOBBY | {"closed_in": False}]
    )  # fmt: skip
    assert only(of, "N104").fitting == "door to Lobby"


def test_n104_asks_nothing_of_doors_without_birds_behind_them():
    assert findings(holding(doors=[door(locks="none")], who=False), "N104") == []
    shed = holding(doors=[door("Lobby", locks="none")], spaces=[LOBBY])
    assert findings(shed, "N104") == []


@pytest.mark.parametrize(
    ("more", "pct", "status"),
    [({"view_deg": 26.2}, 100, "sound"), ({"view_deg": 26.0}, 80, "sound"),
     ({"looks": 180}, 0, "mind"), ({"range_m": 9}, 0, "mind"),
     # Spots at 0.25 to 4.75 m east; from the west end a wedge that ends north shows those beyond.
     ({"at": (2.49, -10), "looks": 45}, 50, "sound"),
     ({"at": (2.76, -10), "looks": 45}, 40, "mind")],
)  # fmt: skip
def test_n105_share_of_a_front(more, pct, status):
    found = only(holding(camera(**more)), "N105")
    assert found.measured.value == pytest.approx(pct)
    assert found.status == status


def test_n105_a_wall_hides_the_front():
    wall = {"name": "wall", "kind": "wall", "line_m": [[-5, -5], [10, -5]], "height_m": 4}
    assert only(holding(camera(), wall), "N105").measured.value == 0
    assert only(holding(camera(), wall | {"height_m": 1}), "N105").measured.value == 100


def test_n105_two_cameras_share_a_front():
    left = camera("west", (2.49, -10), 315)
    right = camera("east", (2.51, -10), 45)
    assert only(holding(left), "N105").measured.value == 50
    assert only(holding(left, right), "N105").measured.value == 100


def test_n105_what_is_assumed_is_said():
    found = only(holding(camera(view_deg=None)), "N105")
    assert found.status == "mind"
    assert found.why == "taken to show 90 degrees, 15 m far, where the file says nothing: cam"
    assert found.remedy == "give view_deg of the camera"
    assert only(holding(camera(at=(2.5, -16), range_m=None)), "N105").measured.value == 0


def test_n105_a_camera_without_direction_counts_for_nothing():
    found = only(holding(camera(looks=None)), "N105")
    assert (found.status, found.fitting) == ("mind", "cam")
    assert found.remedy == "give looks_deg of the camera"


def test_n105_without_cameras_says_so_once():
    assert only(holding(), "N105").measured.value == 0
    assert findings(holding(who=False), "N105") == []


@pytest.mark.parametrize(
    ("at", "status"), [((2.5, -3), "sound"), ((2.5, -12), "mind"), ((2.5, 10.1), "mind")]
)
def test_n106_gates(at, status):
    """In front of the camera, behind it, and behind the quarters out of its reach."""
    found = only(holding(camera(range_m=20), gate(at)), "N106")
    assert (found.status, found.fitting) == (status, "the gate")


def test_n106_the_gate_to_the_flying_ground_is_a_gate_and_a_bare_yard_has_none():
    assert only(holding(camera(), gate(kind="flying_ground_gate")), "N106").status == "sound"
    assert findings(holding(camera()), "N106") == []
    assert only(holding(gate()), "N106").status == "mind"


@pytest.mark.parametrize(("wall_m", "pct"), [(-3.1, 100), (-2.95, 100), (-3.6, 0)])
def test_n106_the_wall_that_a_gate_stands_in_does_not_hide_it(wall_m, pct):
    """Half a metre of the line before the gate is its own; a wall beyond that hides it."""
    wall = {"name": "wall", "kind": "wall", "height_m": 4,
            "line_m": [[-5, wall_m], [10, wall_m]]}  # fmt: skip
    assert only(holding(camera(), wall, gate()), "N106").measured.value == pct
