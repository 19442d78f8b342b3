"""Bath and hatch on both sides of their limits.

By hand: Danish aviary guidelines, bath half the span across; US rule before 2008, 2 to
6 in deep (50.8 to 152.4 mm) and wider than the bird is long; the house keeps 50 to 150 mm.
"""

import pytest

from support.yards import bird, findings, only, quarters, stay, yard

HAWK = bird(wing_span_mm=1200, body_length_mm=600, body_width_mm=100)


def tub(**more):
    return {"kind": "bath", "name": "tub", "at_mm": [2500, 3000], "diameter_mm": 700,
            "depth_mm": 100, "rim_height_mm": 150} | more  # fmt: skip


def hatch(**more):
    return {"kind": "hatch", "name": "hatch", "face": "back", "at_mm": 2500, "sill_mm": 1200,
            "width_mm": 300, "height_mm": 250} | more  # fmt: skip


def room(*fittings, standards=("house",), kind="loft", mode="loose"):
    place = quarters(kind=kind, fitting=list(fittings))
    return yard(standards, bird=[HAWK], quarters=[place], stay=[stay(mode=mode)])


@pytest.mark.parametrize(
    ("standards", "fittings", "status"),
    [(("house",), [tub()], "sound"), (("house",), [], "short"), (("dk",), [], "short"),
     (("us-50cfr21",), [], "harm"), (("us-50cfr21",), [tub()], "sound")],
)  # fmt: skip
def test_w101_a_bath_is_there(standards, fittings, status):
    assert only(room(*fittings, standards=standards), "W101").status == status


def test_w101_a_pitch_is_given_a_bath_by_day():
    assert only(room(kind="pitch", mode="tethered"), "W101").status == "mind"


@pytest.mark.parametrize(("across_mm", "status"), [(600, "sound"), (599, "short")])
def test_w102_half_the_span(across_mm, status):
    found = only(room(tub(diameter_mm=across_mm), standards=("dk",)), "W102")
    assert (found.status, found.limit.value) == (status, 600)


def test_w102_a_square_bath_goes_by_its_shorter_side():
    square = {"diameter_mm": None, "width_mm": 900, "length_mm": 599}
    assert only(room(tub(**square)), "W102").remedy == "take a bath 1 mm wider"


@pytest.mark.parametrize(
    ("standards", "depth_mm", "status"),
    [(("house",), 50, "sound"), (("house",), 49, "short"), (("house",), 150, "sound"),
     (("house",), 151, "short"), (("us-pre2008",), 152, "sound"), (("us-pre2008",), 153, "short"),
     (("us-pre2008",), 51, "sound"), (("us-pre2008",), 50, "short")],
)  # fmt: skip
def test_w103_depth(standards, depth_mm, status):
    assert only(room(tub(depth_mm=depth_mm), standards=standards), "W103").status == status


@pytest.mark.parametrize(("rim_mm", "status"), [(0, "mind"), (1, "sound")])
def test_w104_rim_over_the_floor(rim_mm, status):
    assert only(room(tub(rim_height_mm=rim_mm)), "W104").status == status


@pytest.mark.parametrize(
    ("standards", "across_mm", "status"),
    [(("house",), 600, "sound"), (("house",), 599, "mind"), (("us-pre2008",), 599, "short"),
     (("us-pre2008",), 600, "sound")],
)  # fmt: skip
def test_w105_wider_than_the_bird_is_long(standards, across_mm, status):
    of = room(tub(diameter_mm=across_mm), standards=standards)
    assert only(of, "W105").status == status


@pytest.mark.parametrize(
    ("fittings", "status"),
    [([hatch()], "sound"), ([hatch(face="front")], "mind"), ([], "mind")],
)
def test_w106_the_hatch_is_in_a_boarded_face(fittings, status):
    assert only(room(*fittings), "W106").status == status


@pytest.mark.parametrize(
    ("closes", "height_mm", "status"),
    [(True, 250, "sound"), (False, 100, "sound"), (False, 101, "harm")],
)
def test_w107_a_hatch_that_stands_open(closes, height_mm, status):
    of = room(hatch(closes=closes, height_mm=height_mm))
    assert only(of, "W107").status == status


@pytest.mark.parametrize(
    ("filled_from", "drains", "status"),
    [("corridor", True, "sound"), ("corridor", False, "mind"), ("inside", True, "mind")],
)
def test_w108_water_is_changed_without_a_visit(filled_from, drains, status):
    of = room(tub(filled_from=filled_from, drains=drains))
    assert only(of, "W108").status == status


def test_empty_quarters_are_not_asked_for_a_bath():
    assert findings(yard(quarters=[quarters()]), "W101") == []
