"""Shared quarters and breeding, counted by hand on both sides. The limits are judgements of ours.

Widest span 1200 mm: a perch of 2400 mm has two places, and a hatch of 1200 mm two of 600 mm.
"""

import pytest

from support.yards import BOARDED, bird, findings, only, perch, quarters, stay, yard

PAIR = [bird("Tansy", "harris_hawk", wing_span_mm=1200),
        bird("Rook", "harris_hawk", wing_span_mm=1000)]  # fmt: skip
BARS = {"infill": "barred", "gap_mm": 25, "bar_mm": 18}


def hatch(name="hatch", at_mm=2500, **more):
    return {"kind": "hatch", "name": name, "face": "back", "at_mm": at_mm, "sill_mm": 1200,
            "width_mm": 300, "height_mm": 250, "ledge_mm": 250} | more  # fmt: skip


def box(name="box", kind="nest_box", **more):
    return {"kind": kind, "name": name, "at_mm": [600, 5500], "height_mm": 1500,
            "length_mm": 600, "width_mm": 500} | more  # fmt: skip


def branch(name, height_mm, length_mm=1200, x=1500):
    return perch(name, x, form="branch", height_mm=height_mm, length_mm=length_mm)


def cast(*fittings, birds=PAIR, stays=None, **room):
    return yard(
        bird=birds, quarters=[quarters(fitting=list(fittings), **room)],
        stay=stays or [stay(b["name"]) for b in birds],
    )  # fmt: skip


def of_unit(of, code, unit):
    found = [f for f in findings(of, code) if f.limit and f.limit.unit == unit]
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize(
    ("perches", "have"),
    [([branch("a", 2000), branch("b", 1900)], 2), ([branch("a", 2000), branch("b", 1899)], 1),
     ([branch("a", 2000, 2400)], 2), ([branch("a", 2000, 2399)], 1),
     ([perch("block", height_mm=2000), branch("b", 2000)], 2)],
)  # fmt: skip
def test_k114_as_many_top_places_as_birds(perches, have):
    found = of_unit(cast(*perches), "K114", "top places")
    assert (found.measured.value, found.limit.value) == (have, 2)
    assert found.status == ("sound" if have >= 2 else "mind")


def test_k114_raising_the_next_perch_clears_it():
    found = of_unit(cast(branch("a", 2000), branch("b", 1400), branch("c", 900)), "K114",
                    "top places")  # fmt: skip
    assert found.remedy == "raise b 500 mm"
    cured = cast(branch("a", 2000), branch("b", 1900), branch("c", 900))
    assert of_unit(cured, "K114", "top places").status == "sound"
    lone = of_unit(cast(branch("a", 2000)), "K114", "top places")
    assert lone.remedy == "hang 1 more 2000 mm up"


@pytest.mark.parametrize(
    ("hatches", "have"),
    [([], 0), ([hatch()], 1), ([hatch(width_mm=1199)], 1), ([hatch(width_mm=1200)], 2),
     ([hatch(), hatch("other", 600)], 2)],
)  # fmt: skip
def test_k114_as_many_feeding_places(hatches, have):
    found = of_unit(cast(*hatches), "K114", "feeding places")
    assert (found.measured.value, found.status) == (have, "sound" if have >= 2 else "mind")


def test_k114_a_wider_hatch_clears_it():
    found = of_unit(cast(hatch()), "K114", "feeding places")
    assert found.remedy == (
        "add 1 hatch apart from each other, or make hatch and its ledge 1200 mm wide"
    )


@pytest.mark.parametrize(
    ("fittings", "status"),
    [([box(box_height_mm=500)], "sound"), ([box()], "mind"), ([box(kind="shelf")], "mind"),
     ([], "mind")],
)  # fmt: skip
def test_k114_one_can_get_out_of_sight(fittings, status):
    assert of_unit(cast(*fittings), "K114", "hidden places").status == status


def test_k114_three_need_two_places_out_of_sight():
    three = [*PAIR, bird("Wren", "harris_hawk")]
    found = of_unit(cast(box(box_height_mm=500), birds=three), "K114", "hidden places")
    assert (found.status, found.limit.value) == ("mind", 2)


def test_k114_does_not_ask_of_one_bird_or_of_birds_that_never_meet():
    assert findings(cast(branch("a", 2000), birds=PAIR[:1]), "K114") == []
    apart = [stay("Tansy", ends_on="2026-05-31"), stay("Rook", starts_on="2026-06-01")]
    assert findings(cast(branch("a", 2000), stays=apart), "K114") == []
    tied = [stay("Tansy", mode="tethered"), stay("Rook", mode="tethered")]
    assert findings(cast(branch("a", 2000), stays=tied), "K114") == []


def pair(*fittings, days=35, **room):
    birds = [b | {"use": "breeding"} for b in PAIR]
    stays = [stay(b["name"], undisturbed_days=days) for b in birds]
    return cast(*fittings, birds=birds, stays=stays, **room)


@pytest.mark.parametrize(
    ("fittings", "status"),
    [([], "short"), ([box()], "sound"), ([box(kind="shelf")], "sound")],
)
def test_k115_a_place_to_nest(fittings, status):
    assert of_unit(pair(*fittings), "K115", "nesting places").status == status


@pytest.mark.parametrize(("days", "status"), [(None, "mind"), (0, "mind"), (1, "sound")])
def test_k115_days_on_which_nobody_enters(days, status):
    found = [f for f in findings(pair(days=days), "K115") if f.limit is None]
    assert [f.status for f in found] == [status]


@pytest.mark.parametrize(
    ("faces", "status"),
    [({"front": BARS}, "sound"), ({"front": BARS, "left": BARS}, "mind"),
     ({"front": BOARDED}, "sound")],
)  # fmt: skip
def test_k115_three_solid_sides(faces, status):
    found = of_unit(pair(faces=faces), "K115", "solid sides")
    assert found.status == status
    if status == "mind":
        assert found.remedy == "board 1 more"


def test_k115_asks_only_of_birds_that_breed():
    assert findings(cast(), "K115") == []
    assert only(pair(), "K115", status="short").bird == "Rook"
