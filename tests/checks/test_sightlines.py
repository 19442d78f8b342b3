"""Sight from quarters to quarters, by hand.

Two lofts face each other across 10 m: the one looks north, the other south. Both perches
stand 1000 mm up and 3000 mm behind their fronts, so the line between them is level, 1 m up.
"""

import pytest

from support.yards import BOARDED, bird, findings, only, perch, quarters, stay, yard

BARS = {"infill": "barred", "gap_mm": 25, "bar_mm": 18}
KESTREL = bird("Thistle", "common_kestrel", sex="m")


def facing(*features, front=BARS, other=None, gap_m=10, stays=None, **more):
    at = perch(x=2500, y=3000, height_mm=1000)
    one = quarters("One", at_m=[5, 0], facing_deg=0, fitting=[at], faces={"front": front})
    two = quarters("Two", at_m=[0, gap_m], facing_deg=180, fitting=[at], **more)
    return yard(
        bird=[KESTREL, other or bird()], quarters=[one, two], feature=list(features),
        stay=stays or [stay("Thistle", "One"), stay((other or bird())["name"], "Two")],
    )  # fmt: skip


def test_g103_a_kestrel_that_looks_at_a_goshawk():
    found = only(facing(), "G103", bird="Thistle")
    assert found.status == "short"
    assert found.fitting == "Bramble"
    assert found.measured.value == pytest.approx(16)
    assert found.why == ("it sees Bramble in Two: goshawks kill smaller hawks, falcons and owls")


def test_g103_the_goshawk_does_not_mind_the_kestrel():
    assert only(facing(), "G103", bird="Bramble").status == "sound"


@pytest.mark.parametrize(
    ("front", "status"),
    [(BOARDED, "sound"), (BARS | {"upstand_mm": 1001}, "sound"),
     (BARS | {"upstand_mm": 999}, "short")],
)  # fmt: skip
def test_g103_boards_and_upstands_hide(front, status):
    assert only(facing(front=front), "G103", bird="Thistle").status == status


def screen(kind="hedge", height_m=1.001, **more):
    return {
        "name": "screen",
        "kind": kind,
        "line_m": [[-20, 5], [20, 5]],
        "height_m": height_m,
    } | more


@pytest.mark.parametrize(
    ("feature", "status"),
    [(screen(), "sound"), (screen(height_m=0.999), "short"),
     (screen(porosity=0.3), "short"), (screen(porosity=0.29), "sound"),
     (screen("lane"), "short"), (screen("building"), "sound")],
)  # fmt: skip
def test_g103_a_screen_hides_if_it_is_high_and_thick(feature, status):
    assert only(facing(feature), "G103", bird="Thistle").status == status


def test_g103_a_third_loft_between_hides():
    of = facing(gap_m=20)
    assert only(of, "G103", bird="Thistle").status == "short"
    wall = quarters("Three", at_m=[0, 7], facing_deg=180)
    hidden = of.model_copy(update={"quarters": (*of.quarters, yard(quarters=[wall]).quarters[0])})
    assert only(hidden, "G103", bird="Thistle").status == "sound"


@pytest.mark.parametrize(("gap_m", "status"), [(54, "short"), (54.1, "sound")])
def test_g103_within_sixty_metres_from_middle_to_middle(gap_m, status):
    assert only(facing(gap_m=gap_m), "G103", bird="Thistle").status == status


def test_g103_stays_that_never_meet_do_not_count():
    stays = [
        stay("Thistle", "One", ends_on="2026-05-31"), stay(quarters="Two", starts_on="2026-06-01")
    ]  # fmt: skip
    assert only(facing(stays=stays), "G103", bird="Thistle").status == "sound"


def test_g103_what_the_keeper_knows_goes_first():
    of = facing(other=bird("Rook", "common_kestrel", sex="f"))
    assert only(of, "G103", bird="Thistle").status == "sound"
    afraid = of.bird[0].model_copy(update={"fears": ("Rook",)})
    of = of.model_copy(update={"bird": (afraid, of.bird[1])})
    found = only(of, "G103", bird="Thistle")
    assert found.status == "short"
    assert found.why == "it sees Rook in Two: Thistle fears it, as the yard file says"


def lane(north_m=30, **more):
    return {"name": "Lane", "kind": "lane", "line_m": [[-50, north_m], [50, north_m]]} | more


def looking(*features, **who):
    place = quarters("One", at_m=[5, 0], facing_deg=0, fitting=[perch(x=2500, y=3000)])
    return yard(
        bird=[bird(**who)], quarters=[place], stay=[stay(quarters="One")], feature=list(features)
    )


@pytest.mark.parametrize(
    ("features", "who", "status"),
    [([lane()], {"nervous": True}, "mind"), ([lane()], {"arrives_on": "2026-03-01"}, "mind"),
     ([lane(), screen(height_m=1.5)], {"nervous": True}, "sound"),
     ([lane(58)], {"nervous": True}, "sound"), ([lane(57)], {"nervous": True}, "mind")],
)  # fmt: skip
def test_g104_a_newcomer_looks_out_on_the_lane(features, who, status):
    assert only(looking(*features, **who), "G104").status == status


def test_g104_does_not_ask_for_a_bird_at_ease():
    assert findings(looking(lane()), "G104") == []


@pytest.mark.parametrize("shift", [[0, 0], [-58, -58], [59, 31], [-3, 57]])
def test_g103_does_not_depend_on_where_the_yard_lies(shift):
    of = facing(gap_m=40)
    moved = [
        q.model_copy(update={"at_m": (q.at_m[0] + shift[0], q.at_m[1] + shift[1])})
        for q in of.quarters
    ]
    found = only(of.model_copy(update={"quarters": tuple(moved)}), "G103", bird="Thistle")
    assert found.status == "short"
    assert found.measured.value == pytest.approx(46)
