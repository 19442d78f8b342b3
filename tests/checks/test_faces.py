"""Faces and floors on both sides of their limits.

By hand: New Mexico NMAC 19.35.8.12, gap below the body's width; Wisconsin NR 18.07, below
the head's; half-inch mesh (13 mm) against weasels; 5 in (127 mm) between two skins;
0.45 m against digging; 0.10 m of gravel; 1 % fall of a hard floor; bar gap 25 mm for
kestrels (handbook practice).
"""

import pytest

from support.yards import BOARDED, bird, findings, only, quarters, stay, yard

HAWK = bird(body_width_mm=40, head_width_mm=30)
BARS = {"infill": "barred", "gap_mm": 25, "bar_mm": 18}


def mesh(kind="welded", gap_mm=25, **more):
    return {"infill": "meshed", "gap_mm": gap_mm, "mesh_kind": kind} | more


def room(
    front=BARS, standards=("house",), who=HAWK, kind="loft", mode="loose", stays=None, faces=None,
    **more,
):  # fmt: skip
    walls = {"front": front} | (faces or {})
    place = quarters(kind=kind, **({"faces": walls} if kind != "pitch" else {}), **more)
    stays = stays or [stay(who["name"], mode=mode)]
    return yard(standards, bird=[who], quarters=[place], stay=stays)


@pytest.mark.parametrize(
    ("gap_mm", "status", "remedy"),
    [
        (38, "sound", ""),  # bar gap of a medium hawk (handbook practice)
        (40, "short", "close the gaps by 2 mm, to 38 mm"),  # its body, but more than is usual
        (41, "harm", "close the gaps by 3 mm, to 38 mm"),
    ],
)
def test_f101_gap_against_a_measured_body(gap_mm, status, remedy):
    found = only(room(BARS | {"gap_mm": gap_mm}, who=bird(body_width_mm=40)), "F101")
    assert (found.status, found.remedy) == (status, remedy)


def test_f101_a_broad_body_does_not_widen_the_gap_for_its_head():
    """A goshawk 105 mm broad behind a gap of 100 mm: it would hang by its head."""
    found = only(room(BARS | {"gap_mm": 100}, who=bird(body_width_mm=105)), "F101")
    assert (found.status, found.limit.value) == ("short", 38)
    found = only(room(BARS | {"gap_mm": 36}, who=bird(body_width_mm=105, head_width_mm=35)), "F101")
    assert (found.status, found.limit.value) == ("short", 35)


@pytest.mark.parametrize(("gap_mm", "status"), [(25, "sound"), (26, "harm")])
def test_f101_gap_against_a_kestrel_that_nobody_measured(gap_mm, status):
    kestrel = bird("Thistle", "common_kestrel", sex="m")
    found = only(room(BARS | {"gap_mm": gap_mm}, who=kestrel), "F101")
    assert found.status == status
    assert found.sources[-1].how_known == "judgement"


def test_f101_cites_the_law_where_it_binds():
    found = only(room(BARS | {"gap_mm": 41}, standards=("us-50cfr21",)), "F101")
    assert found.status == "harm"
    assert "New Mexico" in found.sources[0].name


@pytest.mark.parametrize(("gap_mm", "status"), [(30, "sound"), (31, "harm")])
def test_f102_wisconsin_goes_by_the_head(gap_mm, status):
    of = room(BARS | {"gap_mm": gap_mm}, standards=("us-wi",))
    assert only(of, "F102").status == status


def test_f102_asks_for_a_head_that_nobody_measured():
    assert only(room(standards=("us-wi",), who=bird()), "F102").status == "mind"


@pytest.mark.parametrize(("gap_mm", "status"), [(13, "sound"), (14, "short")])
def test_f103_the_finest_skin_stops_a_weasel(gap_mm, status):
    outer = {"infill": "meshed", "gap_mm": gap_mm, "mesh_kind": "welded", "stand_off_mm": 130}
    assert only(room(BARS | {"outer": outer}), "F103").status == status


@pytest.mark.parametrize(("by_day", "status"), [(True, "sound"), (False, "short")])
def test_f103_an_open_shelter_is_for_the_day(by_day, status):
    of = room(
        {"infill": "open"}, kind="shelter", stays=[stay(mode="tethered", daytime_only=by_day)]
    )
    assert only(of, "F103").status == status


@pytest.mark.parametrize(
    ("kind", "status"),
    [("knotted_net", "sound"), ("welded", "mind"), ("chain_link", "mind"), ("woven", "mind"),
     ("hexagonal", "short")],
)  # fmt: skip
def test_f104_kind_of_mesh(kind, status):
    assert only(room(mesh(kind)), "F104").status == status


@pytest.mark.parametrize(
    ("front", "nervous", "status"),
    [(BARS, False, "sound"), (BARS | {"direction": "horizontal"}, False, "short"),
     (mesh(), False, "mind"), (mesh(), True, "short")],
)  # fmt: skip
def test_f105_upright_bars(front, nervous, status):
    assert only(room(front, who=HAWK | {"nervous": nervous}), "F105").status == status


@pytest.mark.parametrize(
    ("standards", "right", "status"),
    [(("dk",), BOARDED, "sound"), (("dk",), BARS, "short"), (("house",), BARS, "mind")],
)
def test_f106_one_solid_corner(standards, right, status):
    of = room(standards=standards, faces={"left": BARS, "right": right})
    assert only(of, "F106").status == status


def test_f106_a_corner_without_a_roof_does_not_count():
    of = room(BOARDED, standards=("dk",), roof={"covered_share": 0.5}, faces={"back": BARS})
    assert only(of, "F106").status == "short"


@pytest.mark.parametrize(("apart_mm", "status"), [(127, "sound"), (126, "short"), (0, "harm")])
def test_f107_two_skins(apart_mm, status):
    outer = {"infill": "meshed", "gap_mm": 13, "mesh_kind": "welded", "stand_off_mm": apart_mm}
    assert only(room(BARS | {"outer": outer}), "F107").status == status


def test_f108_an_open_loft_lets_the_bird_go():
    assert only(room({"infill": "open"}), "F108", fitting="front face").status == "harm"
    assert only(room(), "F108", fitting="front face").status == "sound"


def test_f108_an_open_shelter_is_right_for_a_tethered_bird_alone():
    tied = room({"infill": "open"}, kind="shelter", mode="tethered")
    found = only(tied, "F108")
    assert (found.status, found.why) == (
        "sound", "birds are tethered here, so the face may stand open"
    )  # fmt: skip
    loose = room({"infill": "open"}, kind="shelter")
    assert only(loose, "F108", fitting="front face").status == "harm"


def test_f108_nobody_goes_loose_on_a_pitch():
    assert only(room(kind="pitch"), "F108").status == "harm"
    assert findings(room(kind="pitch", mode="tethered"), "F108") == []


@pytest.mark.parametrize(
    ("standards", "left", "status"),
    [(("uk-hawk-board",), BOARDED, "sound"), (("uk-hawk-board",), BARS, "short"),
     (("house",), BARS, "mind")],
)  # fmt: skip
def test_f109_three_solid_sides(standards, left, status):
    of = room(
        {"infill": "open"}, standards=standards, kind="shelter", mode="tethered",
        faces={"left": left},
    )  # fmt: skip
    assert only(of, "F109").status == status


@pytest.mark.parametrize(
    ("floor", "status"),
    [({"dig_barrier": "buried", "dig_barrier_mm": 450}, "sound"),
     ({"dig_barrier": "buried", "dig_barrier_mm": 449}, "short"),
     ({"dig_barrier": "apron", "dig_barrier_mm": 449}, "short"),
     ({"dig_barrier": "slab"}, "sound"), ({}, "short")],
)  # fmt: skip
def test_f110_barrier_against_digging(floor, status):
    assert only(room(floor=floor), "F110").status == status


@pytest.mark.parametrize(
    ("name", "status"),
    [("pea_gravel", "sound"), ("shavings", "mind"), ("sawdust", "short"), ("straw", "short"),
     ("lava", "mind")],
)  # fmt: skip
def test_f111_what_lies_on_the_floor(name, status):
    assert only(room(floor={"substrate": name}), "F111").status == status


@pytest.mark.parametrize(
    ("floor", "status"),
    [({"substrate": "concrete", "fall_pct": 1}, "sound"),
     ({"substrate": "concrete", "fall_pct": 0.9}, "short"),
     ({"substrate": "concrete", "fall_pct": 1, "drained": False}, "short"),
     ({}, "sound"), ({"drained": False}, "mind")],
)  # fmt: skip
def test_f112_water_leaves_the_floor(floor, status):
    assert only(room(floor=floor), "F112").status == status


@pytest.mark.parametrize(
    ("standards", "front", "status"),
    [(("house",), BARS, "sound"), (("house",), BOARDED, "short"),
     (("us-50cfr21",), BOARDED, "harm"), (("us-50cfr21",), BARS, "sound")],
)  # fmt: skip
def test_f113_an_opening_for_sunlight(standards, front, status):
    assert only(room(front, standards=standards), "F113").status == status


@pytest.mark.parametrize(
    ("wall", "friends", "status"),
    [(BOARDED, False, "sound"), (BARS, False, "short"), (BARS, True, "sound")],
)
def test_f114_wall_to_the_neighbour(wall, friends, status):
    """The second loft stands 100 mm to the right of the first, seen from in front."""
    one = quarters("One", faces={"front": BARS, "right": wall})
    two = quarters("Two", at_m=[5.1, 0])
    names = {"companions": ["Flint"]} if friends else {}
    of = yard(
        bird=[bird(**names), bird("Flint", "peregrine_falcon")], quarters=[one, two],
        stay=[stay(quarters="One"), stay("Flint", "Two")],
    )  # fmt: skip
    assert only(of, "F114", quarters="One").status == status


@pytest.mark.parametrize(("depth_mm", "status"), [(100, "sound"), (99, "short")])
def test_f115_depth_of_gravel(depth_mm, status):
    assert only(room(floor={"depth_mm": depth_mm}), "F115").status == status


@pytest.mark.parametrize(("gap_mm", "status"), [(25, "sound"), (26, "short")])
def test_f116_mesh_under_avian_influenza_advice(gap_mm, status):
    of = room(BARS | {"gap_mm": gap_mm}, standards=("uk-ai",))
    assert only(of, "F116").status == status


def test_f116_an_open_front_lets_wild_birds_in():
    of = room({"infill": "open"}, standards=("uk-ai",), kind="shelter", mode="tethered")
    assert only(of, "F116").status == "short"


@pytest.mark.parametrize(
    ("standards", "guarded", "status"),
    [(("us-nc",), True, "sound"), (("us-nc",), False, "harm"), (("house",), False, "short")],
)
def test_f117_lamps_are_shielded(standards, guarded, status):
    lamp = {"kind": "light", "name": "lamp", "at_mm": [100, 100], "height_mm": 2000,
            "shielded": guarded}  # fmt: skip
    assert only(room(standards=standards, fitting=[lamp]), "F117").status == status


@pytest.mark.parametrize(("lamp", "status"), [(True, "short"), (False, "harm")])
def test_f113_switzerland_forbids_a_room_that_is_always_dark(lamp, status):
    """Wild-animal ordinance Arts 3-4: never only dark."""
    light = {"kind": "light", "name": "lamp", "at_mm": [100, 100], "height_mm": 2000}
    of = room(BOARDED, standards=("ch-tschv",), fitting=[light] if lamp else [])
    assert only(of, "F113").status == status


def test_f103_an_open_night_is_harm_where_the_law_keeps_predators_out():
    """Montana ARM 12.6.1122: the facility must protect from predators and domestic animals."""
    of = room({"infill": "open"}, standards=("us-50cfr21",), kind="shelter", mode="tethered")
    assert only(of, "F103").status == "harm"


@pytest.mark.parametrize(
    ("standards", "name", "witnesses"),
    [(("uk-guide",), "straw", 2), (("us-ut",), "sawdust", 2), (("us-ut",), "straw", 1),
     (("house",), "straw", 1)],
)  # fmt: skip
def test_f111_cites_a_standard_only_if_it_speaks_of_this_floor(standards, name, witnesses):
    found = only(room(standards=standards, floor={"substrate": name}), "F111")
    assert len(found.sources) == witnesses
