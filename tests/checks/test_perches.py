"""Perches on both sides of their limits, in a room of 5000 x 6000 mm, 3000 mm high.

Limits by hand. Geometry of the house rules: tail + 50 mm to floor and wall, half the span
+ 100 mm to a side wall, half the span under the roof. Danish aviary guidelines: two
perches, one at 2.0 m, one under cover. North Carolina 15A NCAC 10H .0808: two perches a
raptor. Swiss ordinance Art. 24 d: no sandpaper. Quebec s. 103: foot-friendly cover.
"""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

HAWK = bird(wing_span_mm=1200, tail_mm=250, mass_g=1200, body_length_mm=600)
FALCON = bird("Flint", "peregrine_falcon", sex="m", wing_span_mm=900, tail_mm=160, mass_g=650)


def room(*fittings, standards=("house",), birds=(HAWK,), stays=None, kind="loft", **more):
    place = quarters(kind=kind, fitting=list(fittings), **more)
    stays = stays or [stay(b["name"]) for b in birds]
    return yard(standards, bird=list(birds), quarters=[place], stay=stays)


def rod(name="rod", x=2500, y=3000, **more):
    form = {"form": "round", "length_mm": 600, "diameter_mm": 40, "height_mm": 1500}
    return perch(name, x, y, **(form | more))


@pytest.mark.parametrize(
    ("height_mm", "status"), [(300, "sound"), (299, "short"), (250, "short"), (249, "harm")]
)
def test_p101_tail_over_the_floor(height_mm, status):
    found = only(room(perch(height_mm=height_mm)), "P101")
    assert (found.status, found.limit.value) == (status, 300)
    if status != "sound":
        assert found.remedy == f"raise it {300 - height_mm} mm"


@pytest.mark.parametrize(
    ("x", "status", "wall"),
    [(700, "sound", ""), (699, "short", "left"), (600, "short", "left"), (599, "harm", "left"),
     (4300, "sound", ""), (4301, "short", "right"), (4401, "harm", "right")],
)  # fmt: skip
def test_p102_wings_clear_of_the_side_walls(x, status, wall):
    found = only(room(perch(x=x)), "P102")
    assert found.status == status
    assert found.limit.value == 700
    if status != "sound":
        by = 700 - min(x, 5000 - x)
        assert found.remedy == f"move it {by} mm away from the {wall} wall"


def test_p102_follows_the_turn_of_the_perch():
    """A perch from front to back opens the wings at front and back; the sides do not matter."""
    assert only(room(perch(x=300, turn_deg=90)), "P102").status == "sound"
    assert only(room(perch(y=599, turn_deg=90)), "P102").status == "harm"


def test_p102_a_bird_on_a_free_block_turns_any_way():
    near_back = perch(x=2500, y=5401)
    assert only(room(near_back), "P102").status == "sound"
    assert only(room(near_back | {"free_standing": True}), "P102").status == "harm"


def test_p102_names_the_ends_that_are_too_near():
    found = only(room(rod(x=2500, length_mm=4000)), "P102")
    assert found.status == "sound"
    assert found.why == "at an end of the perch the wall is 500 mm away: a tip touches"


def test_p102_an_open_face_is_no_wall():
    of = room(perch(y=300, turn_deg=90), kind="shelter", stays=[stay(mode="tethered")])
    assert only(of, "P102").status == "sound"


def test_p102_tells_every_wall_to_move_from():
    """A free block in a corner, by hand: half of 1200 + 100 mm to two walls."""
    found = only(room(perch(x=650, y=5600, free_standing=True)), "P102")
    assert (
        found.remedy == "move it 300 mm away from the back wall and 50 mm away from the left wall"
    )
    moved = perch(x=700, y=5300, free_standing=True)
    assert only(room(moved), "P102").status == "sound"


@pytest.mark.parametrize(("turn_deg", "word"), [(0, "wider"), (90, "deeper")])
def test_p102_makes_a_room_larger_that_no_move_can_cure(turn_deg, word):
    """Two times 700 mm do not fit in 1300 mm, wherever the perch is."""
    size = {"width_mm": 1300} if word == "wider" else {"depth_mm": 1300}
    spot = {"x": 620} if word == "wider" else {"y": 620}
    found = only(room(perch(turn_deg=turn_deg, **spot), **size), "P102")
    assert found.remedy == f"make the room 100 mm {word} and set it in the middle"


def test_p103_moves_a_slanted_perch_by_no_more_than_it_takes():
    """At 45 degrees a wall 200 mm off is 283 mm away along the tail, and 300 mm are wanted."""
    found = only(room(perch(x=200, turn_deg=45)), "P103")
    assert found.measured.value == pytest.approx(282.84, abs=0.01)
    assert found.remedy == "move it 13 mm away from the left wall"
    assert only(room(perch(x=213, turn_deg=45)), "P103").status == "sound"


@pytest.mark.parametrize(
    ("y", "status"), [(5700, "sound"), (5701, "short"), (5750, "short"), (5751, "harm")]
)
def test_p103_tail_clear_of_the_wall_behind(y, status):
    found = only(room(perch(y=y)), "P103")
    assert (found.status, found.limit.value) == (status, 300)


def test_p103_says_when_no_tail_is_known(monkeypatch):
    from mewswright.handbook import Species

    monkeypatch.setattr(Species, "tail", lambda *_: None)
    found = only(room(perch(), birds=(bird(wing_span_mm=1200),)), "P103")
    assert found.status == "mind"
    assert found.remedy == "measure its longest tail feather and give tail_mm"


@pytest.mark.parametrize(
    ("y", "height_mm", "status"),
    [(3000, 1900, "sound"), (3000, 1901, "harm"), (1500, 1901, "sound"), (4500, 1650, "sound"),
     (4500, 1651, "harm")],
)  # fmt: skip
def test_p104_room_under_the_slope_at_the_perch_itself(y, height_mm, status):
    """The roof comes down from 3000 to 2000 mm over 6000 mm: 2500 mm at the middle."""
    of = room(perch(y=y, height_mm=height_mm), back_height_mm=2000)
    found = only(of, "P104")
    assert (found.status, found.limit.value) == (status, 600)


@pytest.mark.parametrize(
    ("height_mm", "remedy"), [(700, "lower it 400 mm"), (600, "raise the whole roof 300 mm")]
)
def test_p104_lowers_no_perch_until_the_tail_is_on_the_floor(height_mm, remedy):
    """Under 900 mm of roof a span of 1200 mm leaves 300 mm, and the tail has 250 mm."""
    low = {"front_height_mm": 900, "back_height_mm": 900}
    birds = (HAWK,) if height_mm == 700 else (HAWK | {"tail_mm": 301},)
    found = only(room(perch(height_mm=height_mm), birds=birds, **low), "P104")
    assert found.remedy == remedy


def test_p104_is_free_under_an_open_top():
    open_top = {"covered_share": 0.5, "open_infill": "open"}
    of = room(perch(y=1000, height_mm=2900), roof=open_top)
    assert only(of, "P104").status == "sound"


@pytest.mark.parametrize(("apart_mm", "status"), [(250, "sound"), (249, "short"), (0, "short")])
def test_p105_droppings_on_the_perch_below(apart_mm, status):
    """Two blocks of 100 mm: 150 mm between their edges is the judgement."""
    of = room(perch("low", 2000), perch("high", 2000 + apart_mm, height_mm=1300))
    missed = [f for f in findings(of, "P105") if f.status != "sound"]
    assert [f.status for f in missed] == [status][: status != "sound"]
    for found in missed:
        assert found.fitting == "high"
        assert found.why == "droppings fall on low, 1000 mm below"


def test_p105_perches_of_one_height_do_not_soil_each_other():
    of = room(perch("one", 2000), perch("two", 2000))
    assert {f.status for f in findings(of, "P105")} == {"sound"}


BATH = {"kind": "bath", "name": "tub", "at_mm": [2500, 3000], "diameter_mm": 700,
        "depth_mm": 100, "rim_height_mm": 150}  # fmt: skip


@pytest.mark.parametrize(
    ("x", "y", "status"),
    [(3050, 3000, "sound"), (3049, 3000, "short"), (2500, 3000, "short"),
     (1950, 3000, "sound"), (1951, 3000, "short"),
     (2500, 2450, "sound"), (2500, 2451, "short"), (2500, 3550, "sound"), (2500, 3549, "short")],
)  # fmt: skip
def test_p106_perch_beside_and_over_the_bath(x, y, status):
    assert only(room(BATH, perch(x=x, y=y, height_mm=1500)), "P106").status == status


def test_p105_and_p106_say_how_far_aside_clears_what_lies_below():
    """By hand: rods of 40 mm, one over the other, need 40 + 150 mm; a bath of 700 mm takes
    350 + 20 + 150 mm. Applied, both are sound."""
    below = room(rod("low", height_mm=900), rod("high", height_mm=1600))
    told = "move it 190 mm towards the front, or move low"
    assert only(below, "P105", status="short").remedy == told
    clear = room(rod("low", height_mm=900), rod("high", y=2810, height_mm=1600))
    assert {f.status for f in findings(clear, "P105")} == {"sound"}
    over = room(BATH, rod())
    told = "move it 520 mm towards the front, or move tub"
    assert only(over, "P106", status="short").remedy == told
    assert only(room(BATH, rod(y=2480)), "P106").status == "sound"


def test_p106_says_when_no_place_is_left():
    tight = {"width_mm": 900, "depth_mm": 900}
    of = room({**BATH, "at_mm": [450, 450]}, perch(x=450, y=450, height_mm=1500), **tight)
    told = "take away it or tub: the room has no place for both"
    assert only(of, "P106", status="short").remedy == told


def test_p106_a_square_bath_has_two_sizes():
    """900 by 500 mm: a block of 100 mm is clear 650 or 450 mm from the middle."""
    square = {**BATH, "diameter_mm": None, "width_mm": 900, "length_mm": 500}
    assert only(room(square, perch(x=3150, y=3000, height_mm=1500)), "P106").status == "sound"
    assert only(room(square, perch(x=3149, y=3000, height_mm=1500)), "P106").status == "short"
    assert only(room(square, perch(x=2500, y=3450, height_mm=1500)), "P106").status == "sound"
    assert only(room(square, perch(x=2500, y=3449, height_mm=1500)), "P106").status == "short"


def test_p106_a_perch_below_the_rim_is_not_over_it():
    of = room(BATH | {"rim_height_mm": 300}, perch(x=2500, y=3000, height_mm=300))
    assert only(of, "P106").status == "sound"


@pytest.mark.parametrize(
    ("y", "height_mm", "status"),
    [(5550, 1500, "sound"), (5551, 1500, "short"), (5551, 1200, "sound")],
)  # fmt: skip
def test_p107_perch_over_the_ledge_of_the_hatch(y, height_mm, status):
    hatch = {"kind": "hatch", "name": "hatch", "face": "back", "at_mm": 2500, "sill_mm": 1200,
             "width_mm": 300, "height_mm": 250, "ledge_mm": 250}  # fmt: skip
    assert only(room(hatch, perch(x=2500, y=y, height_mm=height_mm)), "P107").status == status


def post(y, **more):
    return {"kind": "post", "name": "post", "at_mm": [2500, y], "size_mm": 100} | more


@pytest.mark.parametrize(("y", "status"), [(3650, "sound"), (3649, "harm"), (3000, "harm")])
def test_p108_a_post_beside_the_way(y, status):
    """Half of a 1200 mm span to the face of a 100 mm post."""
    of = room(perch("a", 1000, 3000), perch("b", 4000, 3000), post(y))
    found = only(of, "P108")
    assert found.status == status
    assert found.fitting == "post"


def test_p108_a_post_that_ends_under_the_wings_is_flown_over():
    ways = [perch("a", 1000, 3000, height_mm=2000), perch("b", 4000, 3000, height_mm=2000)]
    assert only(room(*ways, post(3000, top_mm=1400)), "P108").status == "sound"
    assert only(room(*ways, post(3000, top_mm=1401)), "P108").status == "harm"


@pytest.mark.parametrize(("count", "status"), [(1, "short"), (2, "sound")])
def test_p109_two_perches_for_a_loose_bird(count, status):
    of = room(*(perch(f"p{i}", 1000 + 1000 * i) for i in range(count)), standards=("dk",))
    assert (only(of, "P109").status, only(of, "P109").limit.value) == (status, 2)


@pytest.mark.parametrize(("count", "status"), [(1, "harm"), (2, "sound")])
def test_p109_north_carolina_asks_two_in_a_shelter(count, status):
    of = room(
        *(perch(f"p{i}", 1000 + 1000 * i) for i in range(count)),
        standards=("us-nc",), kind="shelter", stays=[stay(mode="tethered")],
    )  # fmt: skip
    assert only(of, "P109").status == status


def test_p109_three_loose_birds_need_three():
    birds = tuple(HAWK | {"name": f"B{i}"} for i in range(3))
    of = room(perch("a", 1000), perch("b", 2000), birds=birds)
    assert (only(of, "P109").status, only(of, "P109").remedy) == ("short", "add 1")


def test_p109_asks_who_lives_there():
    assert only(yard(quarters=[quarters()]), "P109").status == "mind"


@pytest.mark.parametrize(
    ("standards", "height_mm", "status"),
    [(("house",), 300, "mind"), (("house",), 1500, "sound"), (("rehab-us",), 300, "short"),
     (("rehab-us",), 1500, "sound")],
)  # fmt: skip
def test_p110_perches_at_two_heights(standards, height_mm, status):
    of = room(perch("a", 1000), perch("b", 4000, height_mm=height_mm), standards=standards)
    assert only(of, "P110").status == status


@pytest.mark.parametrize(("height_mm", "status"), [(2000, "sound"), (1999, "short")])
def test_p111_one_perch_at_two_metres(height_mm, status):
    of = room(perch("a", 1000), perch("b", 4000, height_mm=height_mm), standards=("dk",))
    assert only(of, "P111").status == status


@pytest.mark.parametrize(("y", "status"), [(3000, "sound"), (2999, "short")])
def test_p112_a_perch_under_the_back_half_of_the_roof(y, status):
    of = room(perch(y=y), roof={"covered_share": 0.5}, standards=("dk",))
    assert only(of, "P112").status == status


@pytest.mark.parametrize(
    ("diameter_mm", "status", "remedy"),
    [(35, "sound", ""), (55, "sound", ""),
     (34, "short", "take one 1 mm thicker, measured over its cover"),
     (56, "short", "take one 1 mm thinner, measured over its cover")],
)  # fmt: skip
def test_p113_round_perch_of_a_hawk_of_1200_g(diameter_mm, status, remedy):
    """Handbook practice for 900 to 1800 g: 35 to 55 mm."""
    found = only(room(rod(diameter_mm=diameter_mm)), "P113")
    assert (found.status, found.remedy) == (status, remedy)


@pytest.mark.parametrize(("diameter_mm", "status"), [(165, "sound"), (164, "short")])
def test_p114_block_of_a_peregrine(diameter_mm, status):
    of = room(perch(diameter_mm=diameter_mm), birds=(FALCON,))
    assert only(of, "P114").status == status


@pytest.mark.parametrize(("width_mm", "status"), [(104, "short"), (105, "sound"), (160, "sound")])
def test_p114_a_measured_foot_on_a_flat_perch(width_mm, status):
    """Unmeasured, a peregrine is given the 165 mm of its block; its foot of 105 mm needs that."""
    plank = perch(form="flat", width_mm=width_mm, length_mm=900)
    found = only(room(plank, birds=[FALCON | {"foot_span_mm": 105}]), "P114")
    assert (found.status, found.limit.value) == (status, 105)
    if status == "short":
        assert found.remedy == "widen it 1 mm"
    untold = only(room(plank, birds=[FALCON]), "P114")
    assert untold.status == "short"
    assert (
        untold.remedy == f"widen it {165 - width_mm} mm; or measure its foot and give foot_span_mm"
    )


def test_p114_a_block_takes_both_feet_whatever_one_measures():
    found = only(room(perch(diameter_mm=150), birds=[FALCON | {"foot_span_mm": 105}]), "P114")
    assert (found.status, found.limit.value, found.remedy) == ("short", 165, "widen it 15 mm")


@pytest.mark.parametrize(
    ("standards", "cover", "status"),
    [(("house",), "turf", "sound"), (("house",), "bare", "short"),
     (("house",), "sandpaper", "short"), (("ch-tschv",), "sandpaper", "harm"),
     (("ch-tschv",), "turf", "sound"), (("rehab-us",), "bare", "short")],
)  # fmt: skip
def test_p115_cover(standards, cover, status):
    assert only(room(rod(cover=cover), standards=standards), "P115").status == status


def test_p115_a_bare_branch_is_as_good_as_a_cover():
    assert only(room(rod(form="branch", cover="bare")), "P115").status == "sound"


@pytest.mark.parametrize(("mode", "status"), [("tethered", "harm"), ("loose", "short")])
def test_p115_quebec_asks_a_cover_for_the_tethered(mode, status):
    of = room(rod(cover="bare"), standards=("ca-qc",), stays=[stay(mode=mode)])
    assert only(of, "P115").status == status


@pytest.mark.parametrize(("form", "status"), [("block", "sound"), ("round", "short")])
def test_p116_a_falcon_wants_something_flat(form, status):
    of = room(rod(form=form), birds=(FALCON,))
    assert only(of, "P116").status == status


@pytest.mark.parametrize(("mode", "remedy"), [("loose", "round"), ("tethered", "bow")])
def test_p116_a_loose_hawk_is_given_no_bow(mode, remedy):
    """A bow is made to tie to: a leash runs round it on a ring, and in a loft nothing does."""
    of = room(rod(form="block"), stays=[stay(mode=mode)])
    assert only(of, "P116").remedy == f"add a {remedy} perch"


@pytest.mark.parametrize(
    ("birds", "apart_mm", "status"),
    [(1, 600, "sound"), (1, 599, "mind"), (2, 1200, "sound"), (2, 1199, "short")],
)
def test_p117_between_perches_of_one_height(birds, apart_mm, status):
    kept = tuple(HAWK | {"name": f"B{i}"} for i in range(birds))
    of = room(rod("a", y=2000), rod("b", y=2000 + apart_mm), birds=kept)
    assert only(of, "P117").status == status


def test_every_perch_of_an_empty_loft_stays_unjudged_but_said():
    of = yard(quarters=[quarters(fitting=[perch()])])
    assert findings(of, "P101") == []
    assert only(of, "P109").why == "no bird lives here, so what it needs cannot be judged"
