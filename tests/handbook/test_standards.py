"""Sizes and rules against the texts that were read, typed by hand from the collected rows."""

import re

import pytest
from hypothesis import given
from hypothesis.strategies import integers, sampled_from

from mewswright import handbook
from mewswright.handbook.tables import rows
from mewswright.model.problem import Problem

FOOT_MM = 304.8  # by definition, international foot

# standard, species, purpose, what is asked. Swiss ordinance Annex 2 Table 2; Danish
# guideline (metres); Flemish press summary; Utah, Ontario, California (feet); Hand-Rearing
# Birds 2020 after Miller 2012 (feet).
ASKED = [
    ("ch-tschv", "peregrine_falcon", "loft", {"floor_area_m2": 20, "volume_m3": 60,
     "extra_bird_area_m2": 4, "indoor_area_m2_per_bird": 2, "mean_height_mm": 3000}),
    ("ch-tschv", "harris_hawk", "loft", {"floor_area_m2": 30, "volume_m3": 90,
     "extra_bird_area_m2": 10, "indoor_area_m2_per_bird": 2, "mean_height_mm": 3000}),
    ("ch-tschv", "golden_eagle", "loft", {"floor_area_m2": 60, "volume_m3": 240,
     "extra_bird_area_m2": 15, "indoor_area_m2_per_bird": 4, "mean_height_mm": 4000}),
    ("dk", "little_owl", "loft", {"width_mm": 2000, "length_mm": 3000, "height_mm": 2500}),
    ("dk", "eurasian_eagle_owl", "loft",
     {"width_mm": 3000, "length_mm": 5000, "height_mm": 3000}),
    ("dk", "griffon_vulture", "loft", {"width_mm": 5000, "length_mm": 8000, "height_mm": 3000}),
    ("be-vlg", "merlin", "loft", {"floor_area_m2": 6}),
    ("be-vlg", "common_buzzard", "loft", {"floor_area_m2": 12}),
    ("be-vlg", "bald_eagle", "loft", {"floor_area_m2": 40}),
    ("us-ut", "american_goshawk", "loft",
     {"width_mm": 6 * FOOT_MM, "length_mm": 8 * FOOT_MM, "height_mm": 7 * FOOT_MM}),
    ("ca-on", "red_tailed_hawk", "loft",
     {"width_mm": 8 * FOOT_MM, "length_mm": 8 * FOOT_MM, "height_mm": 7 * FOOT_MM}),
    ("us-ca", "red_tailed_hawk", "loft",
     {"width_mm": 8 * FOOT_MM, "length_mm": 8 * FOOT_MM, "height_mm": 8 * FOOT_MM}),
    ("rehab-us", "merlin", "flight_cage",
     {"width_mm": 8 * FOOT_MM, "length_mm": 16 * FOOT_MM, "height_mm": 8 * FOOT_MM}),
    ("rehab-us", "great_horned_owl", "flight_cage",
     {"width_mm": 10 * FOOT_MM, "length_mm": 50 * FOOT_MM, "height_mm": 12 * FOOT_MM}),
    ("rehab-us", "american_barn_owl", "loft",
     {"width_mm": 10 * FOOT_MM, "length_mm": 30 * FOOT_MM, "height_mm": 12 * FOOT_MM}),
    ("de-1995", "common_kestrel", "loft", {"floor_area_m2": 5, "extra_bird_area_m2": 1}),
    ("uk-wca", "merlin", "loft", {"each_side_spans": 1}),
    ("house", "merlin", "loft", {"shortest_side_spans": 2}),
]  # fmt: skip


@pytest.mark.parametrize(("standard", "name", "purpose", "asked"), ASKED)
def test_sizes_agree_with_the_text(standard, name, purpose, asked):
    limits = handbook.size_limits(standard, handbook.species(name), purpose)
    assert isinstance(limits, handbook.ClassLimits)
    got = {quantity: limits.limits[quantity].value for quantity in asked}
    assert got == pytest.approx(asked, abs=1e-9)


@pytest.mark.parametrize(
    ("standard", "name", "birds", "area_m2", "volume_m3"),
    [  # Annex 2 Table 2: area for a pair, so much for each further bird; no volume for it
        ("ch-tschv", "peregrine_falcon", 1, 20, 60),
        ("ch-tschv", "peregrine_falcon", 2, 20, 60),
        ("ch-tschv", "peregrine_falcon", 3, 24, 72),
        ("ch-tschv", "harris_hawk", 4, 50, 150),
        ("ch-tschv", "andean_condor", 3, 75, 300),
        ("be-vlg", "merlin", 3, 6, None),
    ],
)
def test_room_for_more_birds(standard, name, birds, area_m2, volume_m3):
    limits = handbook.size_limits(standard, handbook.species(name))
    assert isinstance(limits, handbook.ClassLimits)
    assert limits.required_floor_area_m2(birds).value == area_m2
    volume = limits.required_volume_m3(birds)
    assert (None if volume is None else volume.value) == volume_m3


@given(sampled_from(handbook.standards()), sampled_from(handbook.all_species()), integers(1, 8))
def test_more_birds_never_need_less_room(standard, bird, birds):
    limits = handbook.size_limits(standard.key, bird)
    if isinstance(limits, handbook.Unknown):
        assert limits.reason
        assert not limits
        return
    few, more = (limits.required_floor_area_m2(n) for n in (birds, birds + 1))
    assert (few is None) == (more is None)
    if few and more:
        assert few.value <= more.value


@pytest.mark.parametrize("name", ["western_barn_owl", "common_kestrel", "eurasian_sparrowhawk"])
def test_a_class_that_was_not_read_is_unknown_and_says_why(name):
    answer = handbook.size_limits("ch-tschv", handbook.species(name))
    assert isinstance(answer, handbook.Unknown)
    assert "stops after the large falcons" in answer.reason


def test_the_us_rule_gives_no_metres():
    answer = handbook.size_limits("us-50cfr21", handbook.species("harris_hawk"))
    assert isinstance(answer, handbook.Unknown)
    assert answer.reason.startswith("US federal falconry rule gives no sizes")
    loose = [rule for rule in handbook.rules("us-50cfr21", "clear_space") if rule.number is None]
    assert {rule.value for rule in loose} == {
        "room to fly",
        "wings fully spread, able to bate, no contact",
    }


def test_a_flight_cage_is_not_taken_for_a_loft():
    answer = handbook.size_limits("rehab-us", handbook.species("peregrine_falcon"))
    sentence = "US rehabilitation minimum standards sizes only a flight cage for Peregrine falcon"
    assert answer == handbook.Unknown(sentence)


def test_a_bird_that_the_text_does_not_name_is_a_judgement():
    named = handbook.size_limits("ch-tschv", handbook.species("gyrfalcon"))
    cross = handbook.size_limits("ch-tschv", handbook.species("gyr_x_saker"))
    assert isinstance(named, handbook.ClassLimits)
    assert isinstance(cross, handbook.ClassLimits)
    assert (named.membership.how_known, cross.membership.how_known) == ("read", "judgement")
    assert named.bird_class == cross.bird_class


def test_every_class_has_a_size_and_every_size_a_bird():
    sized = {(row["standard"], row["bird_class"]) for row in rows("size_limits")}
    peopled = {(row["standard"], row["bird_class"]) for row in rows("bird_classes")}
    assert peopled - sized == set()
    assert {key for key in sized if key[1] != "any"} - peopled == set()


def test_every_species_stands_once_in_a_standard():
    keys = [(row["standard"], row["species"]) for row in rows("bird_classes")]
    assert len(keys) == len(set(keys))
    known = {bird.id for bird in handbook.all_species()}
    assert {row["species"] for row in rows("bird_classes")} <= known


@pytest.mark.parametrize("table", ["standards", "size_limits", "standard_rules", "bird_classes"])
def test_every_standard_is_introduced(table):
    introduced = {standard.key for standard in handbook.standards()}
    assert {row["standard"] for row in rows(table)} <= introduced


def test_all_303_collected_rows_are_here():
    assert len(handbook.published_rows()) == 303
    assert len(handbook.published_rows("enclosure_size")) == 85


def test_size_limits_keep_the_value_as_published():
    factors = {"ft": FOOT_MM, "m": 1000.0}
    for row in rows("size_limits"):
        factor = factors.get(row["original_unit"], 1.0) if row["unit"] == "mm" else 1.0
        assert float(row["value"]) == pytest.approx(float(row["original_value"]) * factor), row


# standard, topic, species, number or words. WAC 220-420-300; C-61.1 r. 5.1 s. 102;
# 2. Tierhaltungsverordnung; Danish guideline; 15A NCAC 10H .0808; WSAVA 2005; LafeberVet.
RULES = [
    ("us-50cfr21", "tether", "harris_hawk", "allowed"),
    ("ca-qc", "tether_hours_max", "harris_hawk", 24),
    ("at-thv", "tether", "peregrine_falcon", "forbidden"),
    ("be-vlg", "tether", "peregrine_falcon", "exceptional"),
    ("de-2024", "tether", "western_barn_owl", "not_accepted"),
    ("dk", "perch_height_mm", "eurasian_eagle_owl", 2000),
    ("dk", "bath_diameter_spans", "eurasian_eagle_owl", 0.5),
    ("us-nc", "weathering_roof_height_mm", "merlin", 7 * FOOT_MM),
    ("us-vt", "gap_max_mm", "merlin", 0.75 * 25.4),
    ("wsava", "quarantine_days", "merlin", 42),
    ("house", "tether_margin_mm", "merlin", 150),
    ("house", "dig_depth_mm", "merlin", 450),
    ("uk-guide", "night_min_c", "harris_hawk", 0),
]


@pytest.mark.parametrize(("standard", "topic", "name", "value"), RULES)
def test_rules_agree_with_the_text(standard, topic, name, value):
    rule = handbook.rules(standard, topic, handbook.species(name))[0]
    if isinstance(value, str):
        assert rule.value == value
    else:
        assert rule.number == pytest.approx(value, abs=1e-9)


def test_a_rule_for_owls_is_not_one_for_falcons():
    assert handbook.rules("de-2024", "tether", handbook.species("peregrine_falcon")) == ()


def test_place_narrows_rules():
    topics = {rule.topic for rule in handbook.rules("house", place="isolation")}
    assert "quarantine_days" in topics
    assert "lobby_depth_mm" not in topics


def test_a_rule_in_words_has_no_figure():
    rule = handbook.rules("at-thv", "tether")[0]
    with pytest.raises(ValueError, match=r"^rule 'tether' of 'at-thv' is words: forbidden$"):
        rule.as_figure()


def test_an_unknown_standard_is_named_with_its_nearest():
    with pytest.raises(Problem, match=r"^no standard 'ch_tschg'; nearest: ch-tschv$"):
        handbook.standard("ch_tschg")


def test_no_bird_is_refused():
    limits = handbook.size_limits("dk", handbook.species("merlin"))
    swiss = handbook.size_limits("ch-tschv", handbook.species("gyrfalcon"))
    assert isinstance(limits, handbook.ClassLimits)
    assert isinstance(swiss, handbook.ClassLimits)
    assert limits.required_floor_area_m2(1) is None
    with pytest.raises(ValueError, match=re.escape("a room is for 1 bird or more, got 0")):
        swiss.required_floor_area_m2(0)
