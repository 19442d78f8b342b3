"""Loose or tethered, where, and whether at all.

Texts: Austrian 2. Tierhaltungsverordnung, Annex 2 sec. 11.2 (lasting tethering forbidden); German
opinion of 2024 (owls not tethered); Flemish decision (tether only exceptionally); federal US rule
(tether allowed).
"""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard

SHELTER = "East shelter"


def kept(species, mode, standards=("house",), place="shelter", birds=None, **stays):
    name = {"shelter": SHELTER, "loft": "North loft"}[place]
    places = [quarters(name, place, fitting=[perch()])]
    return yard(
        standards,
        bird=birds or [bird("Moth", species)],
        quarters=places,
        stay=[stay("Moth", name, mode) | stays],
    )


@pytest.mark.parametrize(
    ("species", "mode", "status"),
    [
        ("western_barn_owl", "loose", "sound"),
        ("western_barn_owl", "tethered", "harm"),
        ("eurasian_eagle_owl", "tethered", "harm"),
        ("peregrine_falcon", "tethered", "sound"),
        ("harris_hawk", "tethered", "sound"),
        ("harris_hawk", "loose", "sound"),
        ("red_tailed_hawk", "tethered", "sound"),
        ("red_kite", "tethered", "mind"),
    ],
)
def test_k101_nature(species, mode, status):
    assert only(kept(species, mode), "K101").status == status


@pytest.mark.parametrize(("width_mm", "status"), [(2000, "sound"), (1999, "mind")])
def test_k101_a_loose_falcon_in_a_small_room(width_mm, status):
    place = quarters(width_mm=width_mm)
    of = yard(
        bird=[bird("Flint", "peregrine_falcon", wing_span_mm=1000)],
        quarters=[place],
        stay=[stay("Flint")],
    )
    assert only(of, "K101").status == status


def test_k101_a_nervous_bird_on_a_tether_is_minded():
    of = kept("eurasian_goshawk", "tethered", birds=[bird("Moth", nervous=True)])
    assert only(of, "K101").status == "mind"


@pytest.mark.parametrize(
    ("standard", "species", "by_day", "status"),
    [
        ("at-thv", "peregrine_falcon", False, "short"),
        ("at-thv", "peregrine_falcon", True, "mind"),
        ("be-vlg", "peregrine_falcon", False, "short"),
        ("de-2024", "western_barn_owl", False, "short"),
        ("us-50cfr21", "peregrine_falcon", False, "sound"),
        ("ca-qc", "peregrine_falcon", False, "sound"),
        ("ch-tschv", "peregrine_falcon", False, "mind"),
    ],
)
def test_k102_each_standard(standard, species, by_day, status):
    of = kept(species, "tethered", (standard,), daytime_only=by_day)
    assert only(of, "K102").status == status
    assert findings(kept(species, "loose", (standard,)), "K102") == []


def test_k102_minds_an_end_that_is_announced():
    found = only(kept("peregrine_falcon", "tethered", ("uk-zoo",)), "K102")
    assert found.status == "mind"
    assert found.limit.value == "until 2027-12-31"


def on_pitch(mode="tethered", by_day=True, night=None):
    places = [quarters("Pitch 1", "pitch", fitting=[perch()]), quarters(at_m=[20, 0])]
    stays = [stay("Bramble", "Pitch 1", mode, daytime_only=by_day)]
    return yard(bird=[bird()], quarters=places, stay=stays + ([night] if night else []))


@pytest.mark.parametrize(
    ("mode", "by_day", "night", "status"),
    [
        ("tethered", True, stay(), "sound"),
        ("tethered", True, None, "harm"),
        ("tethered", True, stay(daytime_only=True), "harm"),
        ("tethered", False, stay(), "harm"),
        ("loose", True, stay(), "harm"),
    ],
)
def test_k103_a_pitch_is_for_the_day(mode, by_day, night, status):
    assert only(on_pitch(mode, by_day, night), "K103").status == status


def test_k103_minds_a_housing_order():
    of = on_pitch(night=stay())
    of = of.model_copy(update={"yard": of.yard.model_copy(update={"standards": ("uk-ai",)})})
    assert [f.status for f in findings(of, "K103")] == ["mind", "sound"]


@pytest.mark.parametrize(("starts_on", "status"), [(None, "short"), ("2027-03-01", "mind")])
def test_k108_planned_quarters(starts_on, status):
    of = yard(bird=[bird()], quarters=[quarters(built=False)], stay=[stay(starts_on=starts_on)])
    assert only(of, "K108").status == status
    built = yard(bird=[bird()], quarters=[quarters()], stay=[stay()])
    assert findings(built, "K108") == []


def test_k112_a_bird_without_a_home():
    of = yard(bird=[bird(), bird("Moth", "western_barn_owl")], quarters=[quarters()], stay=[stay()])
    assert only(of, "K112", bird="Moth").status == "short"
    assert only(of, "K112", bird="Bramble").status == "sound"


@pytest.mark.parametrize(
    ("second", "status"),
    [
        ({"starts_on": "2026-07-01"}, "sound"),
        ({"starts_on": "2026-06-30"}, "short"),
        ({"daytime_only": True}, "sound"),
    ],
)
def test_k113_one_home_at_a_time(second, status):
    places = [quarters(), quarters("South loft", at_m=[20, 0])]
    stays = [stay(ends_on="2026-06-30"), stay(quarters="South loft") | second]
    assert only(yard(bird=[bird()], quarters=places, stay=stays), "K113").status == status
