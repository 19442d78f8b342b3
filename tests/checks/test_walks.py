"""Carrying and walking on both sides of their limits.

Quarters of 5 x 6 m, their front left corner at the origin, facing south: they cover 0 to 5 m
east and 0 to 6 m north. 50 m, 1000 m, 150 m and the barrow's 100 mm are judgements.
"""

import pytest

from support.yards import bird, findings, only, quarters, stay, yard


def room(at):
    return {"name": "Weighing room", "kind": "weighing_room", "at_m": list(at)}


def gate(at):
    return {"name": "Gate", "kind": "flying_ground_gate", "at_m": list(at)}


def door(a="North loft", b="Corridor", width_mm=800):
    return {"between": [a, b], "width_mm": width_mm, "height_mm": 1900}


def corridor(width_mm=1200):
    return {"name": "Corridor", "kind": "corridor", "length_mm": 9000, "width_mm": width_mm,
            "height_mm": 2200}  # fmt: skip


def holding(*features, who=None, homes=("North loft",), **more):
    birds = [who or bird(), *(bird(f"Bird {i}") for i in range(1, len(homes)))]
    return yard(
        bird=birds, quarters=[quarters(name, at_m=[0, 20 * i]) for i, name in enumerate(homes)],
        stay=[stay(b["name"], name) for b, name in zip(birds, homes, strict=True)],
        feature=list(features), **more,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("barrow_mm", "loft_mm", "corridor_mm", "status", "named"),
    [(700, 800, 1200, "sound", "door North loft to Corridor"),
     (701, 800, 1200, "short", "door North loft to Corridor"),
     (700, 900, 799, "short", "Corridor"),
     (None, 800, 1200, "mind", "door North loft to Corridor")],
)  # fmt: skip
def test_v109_the_narrowest_place(barrow_mm, loft_mm, corridor_mm, status, named):
    of = holding(
        door=[door(width_mm=loft_mm), door("Corridor", "outside", 900)],
        space=[corridor(corridor_mm)], service={"barrow_mm": barrow_mm},
    )  # fmt: skip
    found = only(of, "V109")
    assert (found.status, found.fitting, found.quarters) == (status, named, None)


def test_v109_names_all_that_is_too_narrow_and_both_remedies_are_enough():
    def judged(first, second, barrow_mm):
        return only(
            holding(
                door=[door(width_mm=first), door("Corridor", "outside", second)],
                space=[corridor()], service={"barrow_mm": barrow_mm},
            ), "V109",
        )  # fmt: skip

    found = judged(750, 700, 700)
    assert found.why == "too narrow: door Corridor to outside, door North loft to Corridor"
    assert found.remedy == "make them 800 mm wide, or take a barrow that is 100 mm narrower"
    assert judged(800, 800, 700).status == "sound"
    assert judged(750, 700, 600).status == "sound"


def test_v109_is_not_asked_without_doors():
    assert findings(holding(), "V109") == []


@pytest.mark.parametrize(("east_m", "status"), [(55, "sound"), (55.01, "mind")])
def test_v110_fifty_metres(east_m, status):
    found = only(holding(room((east_m, 3))), "V110", quarters="North loft")
    assert found.status == status
    assert found.measured.value == pytest.approx(east_m - 5)


def test_v110_the_remedy_is_enough():
    found = only(holding(room((60, 3))), "V110", quarters="North loft")
    assert found.remedy == "bring them 5 m nearer, or set up a second scale there"
    assert only(holding(room((55, 3))), "V110", quarters="North loft").status == "sound"


def test_v110_the_whole_round():
    """The room lies 3 m east and 7 m north of one loft, and 3 m east and 7 m south of another."""
    of = holding(room((8, 13)), homes=("North loft", "South loft"))
    assert only(of, "V110", fitting="all quarters").measured.value == pytest.approx(4 * 58**0.5)


@pytest.mark.parametrize(("count", "status"), [(10, "sound"), (11, "mind")])
def test_v110_a_round_of_a_thousand_metres(count, status):
    """Each of some birds in quarters of its own, all at one place, 50 m off: 100 m each."""
    birds = [bird(f"Bird {i}") for i in range(count)]
    of = yard(
        bird=birds, quarters=[quarters(b["name"]) for b in birds],
        stay=[stay(b["name"], b["name"]) for b in birds], feature=[room((55, 3))],
    )  # fmt: skip
    assert only(of, "V110", fitting="all quarters").status == status


def test_v110_the_nearest_weighing_room_counts():
    far, near = room((500, 3)), room((15, 3)) | {"name": "Second scale"}
    assert only(holding(far, near), "V110", quarters="North loft").measured.value == 10


def test_v110_without_a_weighing_room_says_so_once():
    found = only(holding(), "V110")
    assert (found.status, found.remedy) == ("mind", "give the weighing room as a feature")
    assert findings(yard(quarters=[quarters()]), "V110") == []


@pytest.mark.parametrize(("east_m", "status"), [(150, "sound"), (150.01, "mind")])
def test_v111_to_the_flying_ground(east_m, status):
    assert only(holding(room((0, -9)), gate((east_m, -9))), "V111").status == status


def test_v111_measures_from_the_walls_of_a_room():
    house = {"name": "Weighing room", "kind": "weighing_room",
             "outline_m": [[-9, -9], [-4, -9], [-4, -4], [-9, -4]]}  # fmt: skip
    assert only(holding(house, gate((0, -6))), "V111").measured.value == 4
    assert only(holding(house, gate((-6, -6))), "V111").measured.value == 0


def test_v111_names_what_is_missing():
    found = only(holding(), "V111")
    assert found.remedy == (
        "give a feature of kind weighing_room and one of kind flying_ground_gate"
    )


def test_v111_is_asked_of_flown_birds_only():
    owl = bird(use="display")
    assert findings(holding(room((0, -9)), gate((900, 0)), who=owl), "V111") == []
