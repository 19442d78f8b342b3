"""Sizes of lofts on both sides of their limits.

Limits by hand from the texts: Swiss ordinance, Annex 2 Table 2 (buzzards 30 m2 and 90 m3 for up
to 2 birds, +10 m2 each; large falcons 20 m2 and 60 m3, +4 m2); Danish aviary guidelines (goshawk
3 x 5 x 3 m); US rehabilitation handbook (owls of great horned size 10 x 50 x 12 ft).
The Swiss table names large hawks as a group; a goshawk is taken for one. That a black
sparrowhawk is one is doubtful, so that nobody is told that its loft is unlawful.
"""

import re

import pytest
from hypothesis import given
from hypothesis.strategies import integers

from support.yards import bird, findings, only, quarters, stay, yard


def loft(standards=("ch-tschv",), birds=None, stays=None, **sizes):
    heights = sizes.pop("height_mm", 3000)
    place = quarters(**{"front_height_mm": heights, "back_height_mm": heights} | sizes)
    birds = birds or [bird()]
    stays = stays or [stay(b["name"]) for b in birds]
    return yard(standards, bird=birds, quarters=[place], stay=stays)


BUZZARD = [bird("Sorrel", "red_tailed_hawk")]


@pytest.mark.parametrize(
    ("width_mm", "depth_mm", "status"),
    [(5000, 6000, "sound"), (4999, 6000, "harm"), (5000, 5999, "harm"), (6000, 5000, "sound")],
)
def test_s101_swiss_floor_to_the_millimetre(width_mm, depth_mm, status):
    found = only(loft(birds=BUZZARD, width_mm=width_mm, depth_mm=depth_mm), "S101")
    assert found.status == status
    assert found.limit.value == 30
    assert found.limit.unit == found.measured.unit == "m2"
    assert found.measured.value == pytest.approx(width_mm * depth_mm / 1e6)


def test_s101_calls_no_loft_unlawful_by_a_class_that_is_doubtful():
    assert only(loft(width_mm=4999), "S101").status == "harm"  # a goshawk is a large hawk
    found = only(loft(birds=[bird(species="black_sparrowhawk")], width_mm=4999), "S101")
    assert found.status == "short"
    assert found.why.endswith(
        "whether the law means this bird is doubtful: ask whoever enforces it"
    )


def test_s101_says_by_how_much():
    found = only(loft(width_mm=5000, depth_mm=5600), "S101")
    assert found.remedy == "make it 400 mm deeper or 358 mm wider"
    assert found.bird == "Bramble"
    assert "SR 455.1" in found.sources[0].name


def cast(count, species="harris_hawk"):
    names = [f"Tansy{i}" for i in range(count)]
    return [bird(n, species, companions=[m for m in names if m != n]) for n in names]


@pytest.mark.parametrize(
    ("count", "area_m2", "volume_m3"), [(2, 30, 90), (3, 40, 120), (4, 50, 150)]
)
def test_s101_and_s102_count_extra_birds(count, area_m2, volume_m3):
    of = loft(birds=cast(count), width_mm=5000, depth_mm=10_000)
    assert only(of, "S101").limit.value == area_m2
    assert only(of, "S102").limit.value == volume_m3
    assert only(of, "S101").bird is None


@pytest.mark.parametrize(
    ("height_mm", "status"), [(3000, "sound"), (2999, "mind"), (2250, "mind"), (2249, "harm")]
)
def test_s102_minds_the_volume_of_extra_birds_that_no_text_states(height_mm, status):
    """Three birds on 40 m2: 90 m3 stands in the law, 120 m3 is our reading of its extra area."""
    birds = cast(3, "red_tailed_hawk")
    found = only(loft(birds=birds, width_mm=5000, depth_mm=8000, height_mm=height_mm), "S102")
    assert (found.status, found.limit.value) == (status, 120)
    assert found.sources[0].how_known == "derived"


def test_s101_counts_only_birds_of_one_day():
    birds = cast(3)
    stays = [
        stay(birds[0]["name"]),
        stay(birds[1]["name"], starts_on="2026-01-01", ends_on="2026-06-30"),
        stay(birds[2]["name"], starts_on="2026-07-01"),
    ]
    assert only(loft(birds=birds, stays=stays), "S101").limit.value == 30


@pytest.mark.parametrize(("height_mm", "status"), [(3000, "sound"), (2999, "harm")])
def test_s102_swiss_volume_to_the_millimetre(height_mm, status):
    found = only(loft(birds=BUZZARD, height_mm=height_mm), "S102")
    assert found.status == status
    assert found.limit.value == 90
    assert found.limit.unit == "m3"
    if status == "harm":
        assert found.remedy == "raise the whole roof 1 mm or make it 3 mm deeper"


@pytest.mark.parametrize(
    ("front_mm", "back_mm", "status", "remedy"),
    [
        (3000, 3000, "sound", ""),
        (3200, 2999, "short", "raise the back 1 mm"),
        (2900, 2800, "short", "raise the front 100 mm and raise the back 200 mm"),
    ],
)
def test_s103_danish_height_holds_at_the_lowest_place(front_mm, back_mm, status, remedy):
    found = only(loft(("dk",), front_height_mm=front_mm, back_height_mm=back_mm), "S103")
    assert (found.status, found.remedy) == (status, remedy)
    assert found.measured.value == min(front_mm, back_mm)


def test_s103_swiss_mean_height_is_only_minded():
    # 12 x 3 x 2.5 m = 36 m2 and 90 m3: lawful, though lower than the ratio of the two figures.
    of = loft(width_mm=12_000, depth_mm=3000, height_mm=2500)
    assert only(of, "S102").status == "sound"
    assert only(of, "S103").status == "mind"


@pytest.mark.parametrize(
    ("width_mm", "depth_mm", "shortest", "longest"),
    [
        (3000, 5000, "sound", "sound"),
        (5000, 3000, "sound", "sound"),  # whichever way round
        (2999, 5000, "short", "sound"),
        (3000, 4999, "sound", "short"),
        (3900, 3900, "sound", "short"),
    ],
)
def test_s104_and_s109_danish_sides(width_mm, depth_mm, shortest, longest):
    of = loft(("dk",), width_mm=width_mm, depth_mm=depth_mm)
    assert only(of, "S104").status == shortest
    assert only(of, "S109").status == longest


def test_s104_and_s109_say_which_way():
    of = loft(("dk",), width_mm=2600, depth_mm=4500)
    assert only(of, "S104").remedy == "make it 400 mm wider"
    assert only(of, "S109").remedy == "make it 500 mm deeper"
    square = loft(("dk",), width_mm=2500, depth_mm=2500)
    assert only(square, "S104").remedy == "make it 500 mm wider and 500 mm deeper"


@pytest.mark.parametrize(("width_mm", "status"), [(2200, "sound"), (2199, "short")])
def test_s105_two_spans(width_mm, status):
    of = loft(("house",), birds=[bird(wing_span_mm=1100)], width_mm=width_mm)
    found = only(of, "S105")
    assert found.status == status
    assert found.limit.value == 2200
    assert found.remedy == ("" if status == "sound" else "make it 1 mm wider")


def test_s105_only_minds_where_the_house_does_not_bind():
    of = loft(("ch-tschv",), birds=[bird(wing_span_mm=1100)], width_mm=2000)
    assert only(of, "S105").status == "mind"


@pytest.mark.parametrize(
    ("standards", "width_mm", "status"),
    [(("uk-wca",), 1100, "sound"), (("uk-wca",), 1099, "harm"), (("dk",), 1099, "harm")],
)
def test_s106_one_span_each_way(standards, width_mm, status):
    of = loft(standards, birds=[bird(wing_span_mm=1100)], width_mm=width_mm)
    assert only(of, "S106").status == status


def test_s106_sees_the_height():
    of = loft(("uk-wca",), birds=[bird(wing_span_mm=1100)], height_mm=1000)
    assert only(of, "S106").remedy == "make it 100 mm higher"
    assert only(of, "S106").status == "short"  # the law was recalled, not read
    of = loft(("dk",), birds=[bird(wing_span_mm=1100)], height_mm=1000)
    assert only(of, "S106").status == "short"  # no wall for the wing tips to strike


def test_s106_knows_that_a_hospital_cage_is_close():
    place = quarters("Hospital", "isolation", width_mm=1000, depth_mm=2000)
    of = yard(("dk",), bird=[bird(wing_span_mm=1100)], quarters=[place],
              stay=[stay(quarters="Hospital")])  # fmt: skip
    assert only(of, "S106").status == "short"


def test_s107_minds_the_indoor_share():
    assert only(loft(), "S107").limit.value == 2
    assert only(loft(birds=cast(3), depth_mm=9000), "S107").limit.value == 6
    assert findings(loft(("dk",)), "S107") == []  # the Danish text asks none


def test_s108_names_what_was_not_read():
    owl = loft(birds=[bird("Moth", "western_barn_owl")])
    found = only(owl, "S108")
    assert found.status == "mind"
    assert "is not known" in found.why
    assert findings(loft(), "S108") == []  # a goshawk's class is known


def test_s108_minds_an_empty_loft():
    assert only(yard(quarters=[quarters()]), "S108").why.startswith("no bird is named")


@pytest.mark.parametrize(
    ("width_mm", "status"), [(2200, "sound"), (2199, "mind"), (1100, "mind"), (1099, "harm")]
)
def test_s110_room_to_fly_by_the_birds_own_span(width_mm, status):
    of = loft(("us-50cfr21",), birds=[bird(wing_span_mm=1100)], width_mm=width_mm)
    assert only(of, "S110").status == status


def test_s109_flight_cage_is_shown_and_not_asked_of_a_home():
    of = loft(("rehab-us",), birds=[bird("Ember", "great_horned_owl")], width_mm=3048)
    found = only(of, "S109")
    assert found.status == "mind"
    assert found.limit.value == pytest.approx(15_240)  # 50 ft
    assert "before release" in found.why


def test_isolation_goes_by_the_convalescent_cage():
    place = quarters("Hospital", "isolation", width_mm=2438.4, depth_mm=2438.4)
    of = yard(("rehab-us",), bird=[bird()], quarters=[place], stay=[stay(quarters="Hospital")])
    assert only(of, "S104").limit.value == pytest.approx(2438.4)  # 8 ft
    assert only(of, "S104").status == "sound"


def test_a_tethered_bird_needs_no_flying_room():
    of = loft(stays=[stay(mode="tethered")])
    assert [f for code in ("S101", "S105", "S106") for f in findings(of, code)] == []


SIDES = integers(1500, 9000)


@given(width_mm=SIDES, depth_mm=SIDES, height_mm=integers(1500, 4500))
def test_a_remedy_that_is_followed_cures(width_mm, depth_mm, height_mm):
    """Whatever the room, doing what a finding says makes it sound."""
    room = {"width_mm": width_mm, "depth_mm": depth_mm, "height_mm": height_mm}
    for code, standard in (("S101", "ch-tschv"), ("S102", "ch-tschv"), ("S104", "dk"),
                           ("S109", "dk"), ("S103", "dk")):  # fmt: skip
        found = only(loft((standard,), **room), code)
        better = dict(room)
        first = found.remedy.split(" or ")[0]
        for text, way in re.findall(r"(?:roof |back )?(\d+) mm(?: (deeper|wider))?", first):
            key = {"deeper": "depth_mm", "wider": "width_mm", "": "height_mm"}[way]
            better[key] = room[key] + int(text)
        assert only(loft((standard,), **better), code).status == "sound", (code, found.remedy)
        assert (found.status == "sound") == (found.remedy == "")
