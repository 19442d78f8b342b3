"""Ways out and lobbies on both sides of their limits.

By hand: two doors (New South Wales, US 9 CFR 3.150); a lobby 1.0 m deep and 2.0 m high
(handbook practice); North Carolina 15A NCAC 10H .0808, self-closing and secured.
"""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard


def door(a="North loft", b="Lobby", **more):
    return {"between": [a, b], "width_mm": 800, "height_mm": 1900, "self_closing": True} | more


def lobby(**more):
    return {
        "name": "Lobby", "kind": "lobby", "length_mm": 1200, "width_mm": 1000, "height_mm": 2100,
    } | more  # fmt: skip


OUT = door("Lobby", "outside")


def holding(*doors, standards=("house",), spaces=None, mode="loose", kind="loft", fitting=()):
    place = quarters(kind=kind, fitting=list(fitting))
    return yard(
        standards, bird=[bird()], quarters=[place], stay=[stay(mode=mode)],
        space=spaces or [lobby()], door=list(doors),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("doors", "spaces", "status", "count"),
    [([door(), OUT], None, "sound", 2),
     ([door(b="outside")], None, "harm", 1),
     ([door(), OUT, door(b="outside")], None, "harm", 1),
     ([door(), OUT], [lobby(closed_in=False)], "harm", 1)],
)  # fmt: skip
def test_d101_two_doors_on_every_way(doors, spaces, status, count):
    found = only(holding(*doors, spaces=spaces), "D101")
    assert (found.status, found.measured.value) == (status, count)


def test_d101_names_the_way():
    found = only(holding(door(b="outside")), "D101")
    assert found.why == ("North loft to outside: a bird that slips past the keeper is gone")
    assert found.remedy == "add a lobby with 1 more door"


def test_d101_without_doors_says_that_it_cannot_tell():
    assert only(holding(), "D101").status == "mind"


def test_d101_a_tether_needs_no_door():
    found = only(holding(kind="pitch", mode="tethered"), "D101")
    assert found.status == "sound"
    assert found.why == "birds are tethered here: doors do not keep them"


def test_d101_through_the_loft_next_door_counts_its_doors():
    two = [quarters("North loft"), quarters("South loft", at_m=[10, 0])]
    doors = [door(b="South loft"), door("South loft", "Lobby"), OUT]
    of = yard(bird=[bird()], quarters=two, stay=[stay()], space=[lobby()], door=doors)
    assert only(of, "D101", quarters="North loft").measured.value == 3
    assert only(of, "D101", quarters="South loft").measured.value == 2


@pytest.mark.parametrize(
    ("sizes", "missed"),
    [({"length_mm": 1000, "height_mm": 2000}, []),
     ({"length_mm": 999, "height_mm": 2000}, ["make it 1 mm longer"]),
     ({"length_mm": 1000, "height_mm": 1999}, ["make it 1 mm higher"])],
)  # fmt: skip
def test_d102_size_of_the_lobby(sizes, missed):
    of = holding(door(), OUT, spaces=[lobby(**sizes)])
    assert [f.remedy for f in findings(of, "D102") if f.status == "short"] == missed
    assert {f.quarters for f in findings(of, "D102")} == {"North loft"}


@pytest.mark.parametrize(
    ("standards", "more", "status"),
    [(("house",), {}, "sound"), (("house",), {"self_closing": False}, "mind"),
     (("house",), {"locks": "none"}, "short"),
     (("us-nc",), {}, "sound"), (("us-nc",), {"self_closing": False}, "harm"),
     (("us-nc",), {"locks": "none"}, "harm"), (("au-nsw",), {"self_closing": False}, "short"),
     (("us-ut",), {"self_closing": False}, "mind")],
)  # fmt: skip
def test_d103_shuts_and_locks(standards, more, status):
    assert only(holding(door(**more), OUT, standards=standards), "D103").status == status


@pytest.mark.parametrize(
    ("standards", "opens", "status"),
    [(("house",), True, "sound"), (("house",), False, "short"), (("us-nc",), False, "harm"),
     (("us-nc",), True, "sound")],
)  # fmt: skip
def test_d104_opens_from_inside(standards, opens, status):
    of = holding(door(opens_from_inside=opens), OUT, standards=standards)
    assert only(of, "D104").status == status


@pytest.mark.parametrize(
    ("x", "y", "height_mm", "status"),
    [(2500, 5201, 1500, "short"), (2500, 5199, 1500, "sound"), (2500, 5900, 1901, "sound"),
     (3300, 5900, 1500, "sound"), (2899, 5900, 1500, "short")],
)  # fmt: skip
def test_d105_the_door_swings_clear(x, y, height_mm, status):
    """A leaf of 800 mm in the middle of the back wall sweeps y from 5200 mm on."""
    inward = door(opens_into="North loft", face="back", at_mm=2500)
    of = holding(inward, OUT, fitting=[perch(x=x, y=y, height_mm=height_mm)])
    assert only(of, "D105").status == status


@pytest.mark.parametrize(("doors", "status"), [([door(), OUT], "sound"), ([door()], "mind")])
def test_d107_the_doors_lead_outside(doors, status):
    assert only(holding(*doors), "D107").status == status
