"""Flight and places in a loft, on both sides of each limit, worked by hand.

A hawk of 1000 mm span and 500 mm length in a room of 5000 x 6000 mm, 3000 mm high, with
bars at the front over no solid foot. All limits are judgements of ours, told as such on
their pages; the geometry behind them is held against outside libraries in
tests/build/test_flight.py.
"""

import math

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

HAWK = bird(wing_span_mm=1000, tail_mm=250, mass_g=1000, body_length_mm=500, body_width_mm=100)


def room(*fittings, hawk=HAWK, standards=("house",), **more):
    place = quarters(fitting=list(fittings), **more)
    return yard(standards, bird=[hawk], quarters=[place], stay=[stay()])


def at(name, x, y, z=1500, **more):
    flat = {"form": "flat", "width_mm": 100, "length_mm": 200, "diameter_mm": None}
    return perch(name, x, y, height_mm=z) | flat | more


@pytest.mark.parametrize(
    ("apart", "status"), [(2000, "sound"), (1999, "mind"), (1000, "mind"), (999, "short")]
)
def test_l101_longest_flight_in_spans(apart, status):
    found = only(room(at("a", 1500, 1000), at("b", 1500, 1000 + apart)), "L101")
    assert (found.status, found.measured.value) == (status, pytest.approx(apart))
    if status != "sound":
        limit = 1000 if status == "short" else 2000
        assert f"{limit - apart} mm farther apart" in found.remedy


def test_l101_a_blocked_flight_does_not_count():
    post = {"kind": "post", "name": "post", "at_mm": [1500, 3000], "size_mm": 100}
    found = only(room(at("a", 1500, 1000), at("b", 1500, 5000), post), "L101")
    assert (found.status, found.why) == ("short", "no flight between two perches is clear")


@pytest.mark.parametrize(("aside", "status"), [(600, "sound"), (599.4, "short")])
def test_l102_a_perch_in_the_way(aside, status):
    """Half a span of 500 + half a length of 100, for a bar along the front; a tape reads 0.5."""
    of = room(at("a", 1500, 1000), at("b", 1500, 5000), at("c", 1500 + aside, 3000, width_mm=1e-6))
    assert only(of, "L102").status == status


def test_l102_a_stump_is_in_the_way_down_to_the_floor():
    stump = perch("s", 1500, 3000, form="stump", height_mm=2900, diameter_mm=100)
    low = perch("s", 1500, 3000, form="stump", height_mm=900, diameter_mm=100)
    a, b = at("a", 1500, 1000), at("b", 1500, 5000)
    assert only(room(a, b, stump), "L102", status="short").fitting == "s"
    assert only(room(a, b, low), "L102").status == "sound"


def test_l102_moving_it_by_the_remedy_clears_it():
    """What the finding says: 500 - 100 = 400 mm out of the way."""
    a, b = at("a", 1500, 1000), at("b", 1500, 5000)
    found = only(room(a, b, at("c", 1700, 3000, width_mm=1e-6)), "L102")
    assert found.remedy == "move it 400 mm towards the right"
    assert only(room(a, b, at("c", 2100, 3000, width_mm=1e-6)), "L102").status == "sound"
    assert only(room(a, b, at("c", 1700, 3000, z=2000, width_mm=1e-6)), "L102").status == "sound"


RUN = math.hypot(2500, 3000)  # from a corner of 5000 x 6000 to its middle


@pytest.mark.parametrize(
    ("flies", "angle"), [("weakly", 30), (None, 60)],
)  # fmt: skip
def test_l103_climb_from_the_floor(flies, angle):
    """Steepest: rise / run; the run from the corner to the middle is 3905 mm."""
    high = RUN * math.tan(math.radians(angle))
    hawk = HAWK | ({"flies": flies} if flies else {})
    for z, status in ((high - 1, "sound"), (high + 1, "short")):
        of = room(at("a", 2500, 3000, z), hawk=hawk, front_height_mm=9000, back_height_mm=9000)
        assert only(of, "L103").status == status


def test_l103_a_heavy_bird_climbs_at_45_degrees():
    heavy = HAWK | {"mass_g": 2000}
    tall = {"front_height_mm": 9000, "back_height_mm": 9000}
    assert only(room(at("a", 2500, 3000, RUN - 1), hawk=heavy, **tall), "L103").status == "sound"
    assert only(room(at("a", 2500, 3000, RUN + 1), hawk=heavy, **tall), "L103").status == "short"
    light = HAWK | {"mass_g": 1999}
    assert only(room(at("a", 2500, 3000, RUN + 1), hawk=light, **tall), "L103").status == "sound"


@pytest.mark.parametrize("flightless", [{"one_winged": True}, {"flies": "not"}])
def test_l103_a_bird_that_cannot_fly_hops(flightless):
    """Three quarters of 500 mm: 375 up from the floor, then 375 more over a gap of 375."""
    hawk = HAWK | flightless
    assert only(room(at("a", 2500, 3000, 375), hawk=hawk), "L103").status == "sound"
    assert only(room(at("a", 2500, 3000, 376), hawk=hawk), "L103").status == "short"
    near = at("b", 2500, 3000 + 100 + 375, 750)
    far = at("b", 2500, 3000 + 100 + 377, 750)
    low = at("a", 2500, 3000, 375)
    assert {f.status for f in findings(room(low, near, hawk=hawk), "L103")} == {"sound"}
    unreached = only(room(low, far, hawk=hawk), "L103", status="short")
    assert (unreached.fitting, unreached.remedy) == (
        "b", "lower it 375 mm, or set a lower perch on the way",
    )  # fmt: skip


def test_l103_lowering_by_the_remedy_clears_it():
    hawk = HAWK | {"flies": "weakly"}
    found = only(room(at("a", 2500, 3000, 2400), hawk=hawk), "L103")
    by = int(found.remedy.split()[2])
    assert only(room(at("a", 2500, 3000, 2400 - by), hawk=hawk), "L103").status == "sound"


def test_l103_a_retired_bird_flies_weakly_until_told_otherwise():
    old = HAWK | {"use": "retired"}
    assert only(room(at("a", 2500, 3000, 2400), hawk=old), "L103").status == "short"
    told = old | {"flies": "strongly"}
    assert only(room(at("a", 2500, 3000, 2400), hawk=told), "L103").status == "sound"


@pytest.mark.parametrize(("width", "status"), [(1000, "sound"), (999, "short")])
def test_l104_room_to_land(width, status):
    """The perch lies along the side walls: a bird comes in across the width."""
    of = room(at("a", width / 2, 3000, turn_deg=90), width_mm=width)
    assert only(of, "L104").measured.value == pytest.approx(width / 2)
    one_side = room(at("a", 200, 3000, turn_deg=90), width_mm=200 + width)
    assert only(one_side, "L104").status == status


def test_l105_three_heights():
    """Thirds of 3000 - 500 = 2500: 833 and 1667."""
    low, mid, high = at("l", 1000, 1000, 833), at("m", 2500, 3000, 834), at("h", 4000, 5000, 1667)
    assert only(room(low, mid, high), "L105").status == "sound"
    found = only(room(low, mid), "L105")
    assert (found.status, found.remedy) == ("mind", "add a perch above 1667 mm")


@pytest.mark.parametrize(("upstand", "status"), [(549, "sound"), (550, "mind")])
def test_l106_sight_out_over_the_foot_of_the_face(upstand, status):
    """Perch 300 + half of 500 = 550."""
    front = {"infill": "barred", "gap_mm": 25, "bar_mm": 18, "upstand_mm": upstand}
    assert only(room(perch(height_mm=300), faces={"front": front}), "L106").status == status


def test_l107_a_box_or_a_high_foot_hides_a_bird():
    """Line from 1600 mm, 2000 out, to 550 mm, 500 in, passes the face at 760 mm."""
    seen = only(room(perch(y=500)), "L107")
    assert (seen.status, seen.measured.value) == ("mind", 100)
    for upstand, status in ((759, "mind"), (761, "sound")):
        front = {"infill": "barred", "gap_mm": 25, "upstand_mm": upstand}
        assert only(room(perch(y=500), faces={"front": front}), "L107").status == status
    box = {"kind": "nest_box", "name": "box", "at_mm": [4000, 5500], "height_mm": 1500,
           "length_mm": 500, "width_mm": 400, "box_height_mm": 400}  # fmt: skip
    assert only(room(perch(y=500), box), "L107").status == "sound"


@pytest.mark.parametrize(("y", "status"), [(1050, "sound"), (1051, "mind")])
def test_l108_near_a_face(y, status):
    """A block of 100 mm: its edge lies 50 mm nearer than its middle."""
    assert only(room(perch(y=y)), "L108").status == status
    assert only(room(perch(y=y), standards=("us-ut",)), "L108").status == (
        "sound" if status == "sound" else "short"
    )


MESHED = {"front": {"infill": "meshed", "gap_mm": 25, "mesh_kind": "welded"}}


@pytest.mark.parametrize(("y", "status"), [(550, "sound"), (549, "mind")])
def test_l109_a_post_by_mesh(y, status):
    post = {"kind": "post", "name": "post", "at_mm": [2500, y], "size_mm": 100}
    assert only(room(perch(), post, faces=MESHED), "L109").status == status
    assert only(room(perch(), post), "L109").status == "sound"  # upright bars are not climbed


@pytest.mark.parametrize(("y", "status"), [(450, "sound"), (449, "short")])
def test_l110_a_shelf_by_mesh(y, status):
    """A tail of 250 and half a shelf of 400."""
    shelf = {"kind": "shelf", "name": "shelf", "at_mm": [2500, y], "height_mm": 1500,
             "length_mm": 600, "width_mm": 400}  # fmt: skip
    assert only(room(perch(), shelf, faces=MESHED), "L110", fitting="shelf").status == status
    if status == "short":
        assert only(room(perch(), shelf, faces=MESHED), "L110", fitting="shelf").remedy == (
            "move it 1 mm away, or board the mesh behind it"
        )


def test_l110_the_foot_of_a_meshed_face_is_a_ledge():
    foot = {"front": MESHED["front"] | {"upstand_mm": 600}}
    assert only(room(perch(), faces=foot), "L110").status == "mind"
    assert only(room(perch(), faces=MESHED), "L110").status == "sound"


@pytest.mark.parametrize(
    ("gap", "status"), [(0, "sound"), (75, "sound"), (76, "mind"), (199, "mind"), (200, "sound")]
)
def test_l111_a_gap_that_traps(gap, status):
    """0.75 and 2 times a body of 100 mm."""
    bath = {"kind": "bath", "name": "bath", "at_mm": [400 + gap, 3000], "diameter_mm": 800,
            "depth_mm": 100, "rim_height_mm": 140}  # fmt: skip
    assert only(room(perch(), bath), "L111", fitting="bath").status == status


SHELF = {"kind": "shelf", "name": "shelf", "at_mm": [2500, 5000], "height_mm": 1500,
         "length_mm": 900, "width_mm": 600}  # fmt: skip
BOX = SHELF | {"kind": "nest_box", "name": "box", "box_height_mm": 500}


@pytest.mark.parametrize(
    ("species", "fitting", "status"),
    [("common_kestrel", BOX, "sound"), ("common_kestrel", SHELF, "short"),
     ("peregrine_falcon", SHELF, "sound"), ("eurasian_goshawk", SHELF, "sound"),
     ("eurasian_goshawk", BOX, "short"), ("hen_harrier", None, "sound")],
)  # fmt: skip
def test_l112_breeding_birds_find_their_kind_of_nest(species, fitting, status):
    """Kestrels in boxes, peregrines on ledges, goshawks on platforms, harriers on the
    ground: as bird handbooks have it (from memory)."""
    hawk = HAWK | {"species": species, "use": "breeding"}
    of = room(perch(), *([fitting] if fitting else []), hawk=hawk)
    assert only(of, "L112").status == status


def test_l112_asks_of_a_barn_owl_always_and_of_others_only_when_they_breed():
    owl = HAWK | {"species": "western_barn_owl", "use": "display"}
    assert only(room(perch(), hawk=owl), "L112").status == "mind"
    assert findings(room(perch()), "L112") == []


def test_nothing_is_said_of_a_pitch_or_of_tethered_birds():
    lawn = yard(
        bird=[HAWK], quarters=[quarters(kind="pitch", fitting=[perch()])],
        stay=[stay(mode="tethered")],
    )  # fmt: skip
    for n in range(101, 113):
        assert findings(lawn, f"L{n}") == []


@pytest.mark.parametrize(
    "change",
    [{"fitting": [perch("low", 2500, 1200, height_mm=600),
                  {"kind": "nest_box", "name": "box", "at_mm": [400, 400], "height_mm": 1500,
                   "length_mm": 600, "width_mm": 450, "box_height_mm": 400}]},
     {"faces": {"front": {"infill": "barred", "gap_mm": 25, "upstand_mm": 1500}}}],
)  # fmt: skip
def test_l107_a_box_or_a_high_solid_foot_before_a_low_perch_hides_it(change):
    """Who stands 2 m before the front looks from 1.6 m over a foot of 1.5 m: far over it."""
    made = {"fitting": [perch("low", 2500, 1200, height_mm=600)]}
    seen = yard(bird=[bird()], quarters=[quarters(**made)], stay=[stay()])
    hidden = yard(bird=[bird()], quarters=[quarters(**made | change)], stay=[stay()])
    assert only(seen, "L107").status == "mind"
    assert only(hidden, "L107").status == "sound"
