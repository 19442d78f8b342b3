"""The free circle against what stands near it, to the millimetre.

The circle by hand: leash 400 + swivel and jesses 200 + half of 1000 + margin 150 = 1250 mm;
the wing tips come to 1100 mm.
"""

import re

import pytest
from hypothesis import given
from hypothesis.strategies import integers

from support.yards import bird, findings, only, perch, quarters, stay, yard

R = 1250
TIP = 1100


def flint(**more):
    sizes = {"wing_span_mm": 1000, "leash_working_mm": 400, "jess_swivel_mm": 200}
    return bird("Flint", "peregrine_falcon", **sizes | more)


def shelter(fittings, standards=("house",), width_mm=4000, depth_mm=4000, birds=None, **more):
    place = quarters(
        "East shelter", "shelter", width_mm=width_mm, depth_mm=depth_mm, fitting=fittings, **more
    )
    tied = stay("Flint", "East shelter", "tethered", perch="perch")
    return yard(standards, bird=birds or [flint()], quarters=[place], stay=[tied])


@pytest.mark.parametrize(
    ("x", "status"),
    [(R + 1, "sound"), (R, "sound"), (R - 1, "short"), (TIP, "short"), (TIP - 1, "harm")],
)
def test_t101_side_wall(x, status):
    found = findings(shelter([perch(x=x, y=2000)]), "T101")
    wall = [f for f in found if "left face" in f.why]
    assert [f.status for f in wall] == [status]
    assert wall[0].limit.value == R
    assert wall[0].measured.value == x
    if status != "sound":
        assert wall[0].remedy == f"move the perch {R - x} mm away from the left face"


def test_t101_does_not_move_a_perch_out_of_an_open_front():
    """1250 mm are wanted to the back, and the shelter is 1100 mm deep."""
    found = findings(shelter([perch(x=2000, y=500)], depth_mm=1100), "T101")
    assert next(f for f in found if "back face" in f.why).remedy == (
        "make it 150 mm deeper and set the perch at the open front face, or tie it shorter"
    )
    deep = findings(shelter([perch(x=2000, y=0)], depth_mm=1250), "T101")
    assert not [f for f in deep if "back face" in f.why and f.status != "sound"]


def test_t101_asks_for_a_wider_room_where_moving_does_not_help():
    found = findings(shelter([perch(x=1000, y=2000)], width_mm=2000), "T101")
    assert found[0].remedy == (
        "make it 500 mm wider and set the perch in the middle, or tie it shorter"
    )


@pytest.mark.parametrize(("y", "status"), [(600, "sound"), (599, "mind")])
def test_t101_an_open_front_may_be_crossed_by_wings_not_by_feet(y, status):
    found = findings(shelter([perch(x=2000, y=y)]), "T101")
    front = [f for f in found if "open front" in f.why]
    assert [f.status for f in front] == [status]


def test_t101_an_upstand_makes_an_open_front_a_wall():
    faces = {"front": {"infill": "open", "upstand_mm": 300}}
    of = shelter([perch(x=2000, y=R - 1)], faces=faces)
    assert "the front face" in only(of, "T101").why
    assert only(of, "T101").status == "short"


@pytest.mark.parametrize(
    ("distance", "status"), [(R, "sound"), (R - 1, "short"), (TIP - 1, "harm")]
)
@pytest.mark.parametrize("kind", ["post", "perch", "high bath", "shelf", "camera"])
def test_t102_things_in_the_circle(kind, distance, status):
    at = [2000, 2000 + distance + 50]  # each of them reaches 50 mm towards the perch, but one
    thing = {
        "post": {"kind": "post", "at_mm": at, "size_mm": 100},
        "perch": perch(y=at[1], x=2000, diameter_mm=100),
        "high bath": {
            "kind": "bath", "at_mm": at, "diameter_mm": 100, "depth_mm": 60, "rim_height_mm": 400,
        },
        "shelf": {
            "kind": "shelf", "at_mm": at, "height_mm": 800, "length_mm": 300, "width_mm": 100,
        },
        "camera": {"kind": "camera", "at_mm": [2000, 2000 + distance], "height_mm": 900},
    }[kind] | {"name": "thing"}  # fmt: skip
    of = shelter([perch(x=2000, y=2000), thing], depth_mm=6000)
    found = findings(of, "T102")
    assert [f.status for f in found] == [status]
    if status != "sound":
        assert found[0].fitting == "thing"
        assert found[0].remedy == f"move it {R - distance} mm away from the perch perch"


@pytest.mark.parametrize(("rim_mm", "status"), [(200, "sound"), (201, "harm")])
def test_t102_a_low_bath_may_stand_inside(rim_mm, status):
    bath = {
        "kind": "bath", "name": "bath", "at_mm": [2000, 2800], "diameter_mm": 600,
        "depth_mm": 100, "rim_height_mm": rim_mm,
    }  # fmt: skip
    found = findings(shelter([perch(x=2000, y=2000), bath]), "T102", fitting="bath")
    assert [f.status for f in found] == [status]


def test_t102_a_camera_out_of_reach_is_left_alone():
    camera = {"kind": "camera", "name": "eye", "at_mm": [2000, 2100], "height_mm": 2000}
    of = shelter([perch(x=2000, y=2000), camera], front_height_mm=3000, back_height_mm=3000)
    assert only(of, "T102").status == "sound"


@pytest.mark.parametrize(("count", "status"), [(2, "sound"), (3, "harm")])
def test_t102_a_front_post_in_an_open_front(count, status):
    of = shelter([perch(x=2000, y=900)], frame={"post_count": count})
    assert {f.status for f in findings(of, "T102")} == {status}


def test_t102_minds_front_posts_that_nobody_counted():
    assert "mind" in {f.status for f in findings(shelter([perch(x=2000, y=900)]), "T102")}


@pytest.mark.parametrize(
    ("apart", "status"),
    [(2 * R, "sound"), (2 * R - 1, "short"), (2 * TIP, "short"), (2 * TIP - 1, "harm")],
)
def test_t103_two_birds_in_one_shelter(apart, status):
    place = quarters(
        "East shelter", "shelter", width_mm=8000, depth_mm=4000,
        fitting=[perch("one", 2000, 2000), perch("two", 2000 + apart, 2000)],
    )  # fmt: skip
    birds = [flint(), flint() | {"name": "Rook"}]
    stays = [
        stay("Flint", "East shelter", "tethered", perch="one"),
        stay("Rook", "East shelter", "tethered", perch="two"),
    ]
    found = findings(yard(bird=birds, quarters=[place], stay=stays), "T103")
    assert {f.status for f in found} == {status}
    if status != "sound":
        assert len(found) == 1
        assert found[0].limit.value == 2 * R
        assert found[0].remedy == (
            f"set the perches of Flint and Rook {2 * R - apart} mm further apart"
        )


def pitches(apart_m, kind="pitch", **stays):
    """Two pitches side by side on the ground, both facing south."""
    places = [
        quarters("Pitch 1", kind, width_mm=3000, depth_mm=3000, fitting=[perch()]),
        quarters(
            "Pitch 2", kind, at_m=[apart_m, 0], width_mm=3000, depth_mm=3000, fitting=[perch()]
        ),
    ]
    both = [
        stay("Flint", "Pitch 1", "tethered", daytime_only=True),
        stay("Rook", "Pitch 2", "tethered", daytime_only=True) | stays,
    ]
    return yard(bird=[flint(), flint() | {"name": "Rook"}], quarters=places, stay=both)


@pytest.mark.parametrize(("apart_m", "status"), [(2.5, "sound"), (2.499, "short"), (2.199, "harm")])
def test_t103_across_the_ground(apart_m, status):
    found = findings(pitches(apart_m), "T103")
    assert {f.status for f in found} == {status}
    if status != "sound":
        assert found[0].measured.unit == found[0].limit.unit == "m"
        assert found[0].measured.value == pytest.approx(apart_m)


def test_t103_a_wall_between_keeps_birds_apart():
    assert {f.status for f in findings(pitches(2.2, "shelter"), "T103")} == {"sound"}


def test_t103_birds_of_different_seasons_do_not_meet():
    of = pitches(1.0, starts_on="2026-05-01", ends_on="2026-05-31")
    first = of.model_copy(
        update={"stay": (of.stay[0].model_copy(update={"ends_on": of.stay[1].starts_on.replace(month=4, day=30)}), of.stay[1])}  # noqa: E501
    )  # fmt: skip
    assert {f.status for f in findings(first, "T103")} == {"sound"}
    assert "harm" in {f.status for f in findings(of, "T103")}


def test_t103_looks_at_every_stay_and_not_the_first_alone():
    of = pitches(1.0, starts_on="2026-05-01", ends_on="2026-05-31")
    april, may = of.stay[1].starts_on.replace(month=4), of.stay[1].starts_on
    flint_in_april = of.stay[0].model_copy(update={"starts_on": april, "ends_on": april})
    flint_in_may = of.stay[0].model_copy(update={"starts_on": may})
    twice = of.model_copy(update={"stay": (flint_in_april, flint_in_may, of.stay[1])})
    assert [f.status for f in findings(twice, "T103")] == ["harm"]


def lane(y_m):
    return {"name": "lane", "kind": "lane", "line_m": [[-20, y_m], [20, y_m]]}


@pytest.mark.parametrize(("gap_m", "status"), [(2.25, "sound"), (2.249, "short"), (1.249, "harm")])
def test_t111_stand_off_from_a_lane(gap_m, status):
    # The front faces south: the perch lies 1.5 m north of the pitch's corner at 0, 0.
    place = quarters("Pitch 1", "pitch", width_mm=3000, depth_mm=3000, fitting=[perch()])
    tied = stay("Flint", "Pitch 1", "tethered", daytime_only=True)
    of = yard(bird=[flint()], quarters=[place], stay=[tied], feature=[lane(1.5 - gap_m)])
    found = only(of, "T111")
    assert found.status == status
    assert found.limit.value == pytest.approx(2.25)
    assert found.measured.value == pytest.approx(gap_m)


def test_t111_a_wall_between_keeps_people_off():
    place = quarters("Pitch 1", "pitch", width_mm=3000, depth_mm=3000, fitting=[perch()])
    tied = stay("Flint", "Pitch 1", "tethered", daytime_only=True)
    wall = {"name": "wall", "kind": "wall", "line_m": [[-20, 0.2], [20, 0.2]]}
    of = yard(bird=[flint()], quarters=[place], stay=[tied], feature=[lane(0), wall])
    assert only(of, "T111").status == "sound"
    bare = of.model_copy(update={"feature": of.feature[:1]})
    assert only(bare, "T111").status == "short"


def test_t111_a_wall_on_the_boundary_is_a_wall():
    place = quarters("Pitch 1", "pitch", width_mm=3000, depth_mm=3000, fitting=[perch()])
    tied = stay("Flint", "Pitch 1", "tethered", daytime_only=True)
    of = yard(bird=[flint()], quarters=[place], stay=[tied])
    edge = ((-20.0, 0.0), (20.0, 0.0), (20.0, 30.0), (-20.0, 30.0))
    bounded = of.model_copy(update={"yard": of.yard.model_copy(update={"boundary_m": edge})})
    assert only(bounded, "T111").status == "short"
    wall = yard(feature=[{"name": "wall", "kind": "wall", "line_m": [[-20, 0], [20, 0]]}]).feature
    assert only(bounded.model_copy(update={"feature": wall}), "T111").status == "sound"


def test_a_perch_that_is_not_named_is_only_minded():
    place = quarters(
        "East shelter", "shelter", width_mm=4000, depth_mm=4000,
        fitting=[perch("one", 500, 2000), perch("two", 3000, 2000)],
    )  # fmt: skip
    of = yard(bird=[flint()], quarters=[place], stay=[stay("Flint", "East shelter", "tethered")])
    assert {f.status for f in findings(of, "T101", fitting="one")} == {"mind", "sound"}
    assert only(of, "T108").status == "mind"


def test_the_keepers_own_margin_counts():
    of = shelter([perch(x=R - 50, y=2000)]).model_copy(
        update={"house": yard(house={"tether_margin_mm": 100}).house}
    )
    walls = [f for f in findings(of, "T101") if "face" in f.why and "open" not in f.why]
    assert walls[0].status == "sound"
    assert walls[0].limit.value == R - 50


@given(x=integers(0, 6000), y=integers(0, 6000))
def test_t101_moving_the_perch_as_told_cures(x, y):
    """Wherever the perch stands, moving it away from each face as told clears all of them."""
    faces = {"front": {"infill": "barred", "gap_mm": 25}}
    room = {"width_mm": 6000, "depth_mm": 6000, "faces": faces}
    moves = {"left": (1, 0), "right": (-1, 0), "front": (0, 1), "back": (0, -1)}
    told = [f.remedy for f in findings(shelter([perch(x=x, y=y)], **room), "T101") if f.remedy]
    for remedy in told:
        by_mm, side = re.fullmatch(
            r"move the perch (\d+) mm away from the (\w+) face", remedy
        ).groups()
        x += int(by_mm) * moves[side][0]
        y += int(by_mm) * moves[side][1]
    moved = shelter([perch(x=x, y=y)], **room)
    assert {f.status for f in findings(moved, "T101")} == {"sound"}
