"""A fire, on both sides of its limits.

By hand: the room of `support.yards.quarters` spans 0 to 5 m east and 0 to 6 m north, its front
to the south. All distances are judgements of ours: 10 m from hay and straw, 5 m from stacks and
buildings, 30 m of hose, three doors.
"""

from itertools import pairwise

import pytest

from mewswright.checks.registry import run_checks
from support.yards import bird, quarters, stay, yard


def run(of, code, **where):
    found = [f for f in run_checks(of, scenario="fire") if f.code == code]
    return [f for f in found if all(getattr(f, k) == v for k, v in where.items())]


def only(of, code, **where):
    found = run(of, code, **where)
    assert len(found) == 1, [str(f) for f in found]
    return found[0]


def loft(*features, chain=("North loft", "outside"), locks="bolt", **tables):
    rooms = [
        {"name": name, "kind": "corridor", "length_mm": 2000, "width_mm": 1200, "height_mm": 2100}
        for name in chain[1:-1]
    ]
    doors = [
        {"between": [a, b], "width_mm": 750, "height_mm": 1900,
         "locks": locks if b == chain[-1] else "bolt"}
        for a, b in pairwise(chain)
    ]  # fmt: skip
    given = {"bird": [bird()], "quarters": [quarters()], "stay": [stay()], "space": rooms,
             "door": doors, "feature": list(features)}  # fmt: skip
    return yard(**(given | tables))


def thing(kind, south_m, name=None):
    return {"name": name or kind, "kind": kind, "at_m": [2.5, -south_m]}


@pytest.mark.parametrize(("rooms", "status"), [(2, "sound"), (3, "mind")])
def test_e141_three_doors(rooms, status):
    chain = ("North loft", *(f"room {i}" for i in range(rooms)), "outside")
    assert only(loft(chain=chain), "E141").status == status


def test_e141_a_key_on_the_way():
    found = only(loft(locks="key"), "E141")
    assert found.status == "mind"
    assert found.why == "a key is wanted for the door North loft to outside"
    assert "fit a code lock" in found.remedy
    assert only(loft(locks="code"), "E141").status == "sound"


def test_e141_another_way_without_a_key_will_do():
    of = loft(locks="key")
    second = of.door[0].model_copy(update={"locks": "bolt", "width_mm": 800})
    assert only(of.model_copy(update={"door": (*of.door, second)}), "E141").status == "sound"


def test_e141_without_doors_nobody_knows():
    assert only(loft(door=[]), "E141").remedy == "give the doors of the whole way"


def test_e141_an_open_face_is_a_way():
    room = quarters(kind="shelter")
    assert only(loft(door=[], quarters=[room]), "E141").status == "sound"


@pytest.mark.parametrize(
    ("kind", "south_m", "status"),
    [("hay", 10, "sound"), ("hay", 9.99, "short"), ("straw", 9.99, "short"),
     ("log_stack", 5, "sound"), ("log_stack", 4.99, "mind"), ("building", 4.99, "mind"),
     ("rotting_timber", 4.99, "mind"), ("compost", 1, "sound")],
)  # fmt: skip
def test_e142_what_burns(kind, south_m, status):
    assert only(loft(thing(kind, south_m)), "E142").status == status


def test_e142_cleared_by_its_remedy():
    assert only(loft(thing("hay", 7.5)), "E142").remedy == "move it 2.5 m off"
    assert only(loft(thing("hay", 10)), "E142").status == "sound"


@pytest.mark.parametrize(
    ("features", "status"),
    [([thing("tap", 30)], "sound"), ([thing("tap", 30.01)], "mind"), ([], "mind"),
     ([thing("tap", 50, "far"), thing("tap", 20, "near")], "sound")],
)  # fmt: skip
def test_e143_a_tap_within_a_hose(features, status):
    assert only(loft(*features), "E143").status == status


def test_e143_cleared_by_its_remedy():
    assert only(loft(thing("tap", 31.5)), "E143").remedy.startswith("lay a pipe 1.5 m nearer")
    assert only(loft(thing("tap", 30)), "E143").status == "sound"


@pytest.mark.parametrize(("service", "asked"), [({}, True), ({"box_mm": 500}, False)])
def test_e144_boxes_are_always_asked_for(service, asked):
    found = only(loft(service=service), "E144")
    assert (found.status, found.measured.value) == ("mind", 1)
    assert ("give service.box_mm" in found.remedy) is asked


def test_e145_from_what_burns_outwards():
    far = quarters("Far loft", at_m=[0, 30])
    of = loft(
        thing("hay", 5), bird=[bird(), bird("Flint")], quarters=[far, quarters()],
        stay=[stay(), stay("Flint", "Far loft")],
    )  # fmt: skip
    assert only(of, "E145").remedy == (
        "first people out; then the birds near what burns: Bramble (North loft to outside); "
        "then the rest: Flint (Far loft)"
    )


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard(), scenario="fire") == ()
