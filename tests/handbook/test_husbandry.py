"""Housing, perches, warmth and fears, against the practice that the rows are taken from."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from mewswright import handbook
from mewswright.handbook.tables import rows

ALL = handbook.all_species()


# Owls, with skin rather than scales above the foot, go loose; long-winged falcons are
# calmer tethered; buteos and Harris's hawks take both (common practice).
@pytest.mark.parametrize(
    ("name", "mode"),
    [
        ("western_barn_owl", "loose"),
        ("eurasian_eagle_owl", "loose"),
        ("buffy_fish_owl", "loose"),  # scaled leg: an owl all the same
        ("peregrine_falcon", "either_tether_calmer"),
        ("gyr_x_saker", "either_tether_calmer"),
        ("red_tailed_hawk", "either"),
        ("harris_hawk", "either"),
        ("rough_legged_buzzard", "either"),  # feathered to the toes, and no owl
        ("eurasian_goshawk", "either"),
        ("golden_eagle", "either"),
        ("griffon_vulture", "either_loose_better"),
    ],
)
def test_housing_mode(name, mode):
    found = handbook.housing_mode(handbook.species(name))
    assert found.mode == mode
    assert found.reason


def test_every_species_has_a_mode_and_perches():
    for bird in ALL:
        assert handbook.housing_mode(bird).source.how_known in ("from memory", "judgement")
        ranks = [kind.rank for kind in handbook.perch_kinds(bird)]
        assert ranks == list(range(1, len(ranks) + 1))
        assert ranks


def test_falcons_stand_flat_and_hawks_grip_round():
    # Handbooks in general; Utah alone prefers a covered round perch for falcons.
    falcon = handbook.perch_kinds(handbook.species("lanner_falcon"))
    hawk = handbook.perch_kinds(handbook.species("eurasian_goshawk"))
    assert [kind.kind for kind in falcon] == ["block", "shelf", "flat"]
    assert [kind.kind for kind in hawk] == ["bow", "round", "branch"]
    assert handbook.rules("us-ut", "perch_surface", handbook.species("lanner_falcon"))


@pytest.mark.parametrize(
    ("mass_g", "low_mm", "high_mm"),
    [  # both ends of every mass class: handbooks in general
        (149.9, 15, 25), (150, 20, 35), (399.9, 20, 35), (400, 30, 45), (899.9, 30, 45),
        (900, 35, 55), (1799.9, 35, 55), (1800, 50, 75), (3499.9, 50, 75), (3500, 70, 120),
    ],
)  # fmt: skip
def test_perch_diameter_by_mass(mass_g, low_mm, high_mm):
    low, high = handbook.perch_diameter(mass_g)
    assert (low.value, high.value) == (low_mm, high_mm)
    assert low.confidence == "low"


@given(floats(40, 12_000), floats(40, 12_000))
def test_a_heavier_bird_never_gets_a_thinner_perch(one_g, other_g):
    light, heavy = sorted((one_g, other_g))
    thin, thick = handbook.perch_diameter(light), handbook.perch_diameter(heavy)
    assert all(a.value <= b.value for a, b in zip(thin, thick, strict=True))


@pytest.mark.parametrize("mass_g", [0, -1, float("nan")])
def test_a_mass_that_cannot_be_is_refused(mass_g):
    with pytest.raises(ValueError, match=r"^mass must be above 0 g, got "):
        handbook.perch_diameter(mass_g)


@pytest.mark.parametrize(
    ("name", "top_mm", "gap_mm"),
    [  # handbooks in general: 100 kestrel, 165 peregrine, 190 gyrfalcon; gaps 25, 38, 64
        ("common_kestrel", 100, 25),
        ("merlin", 100, 25),
        ("peregrine_falcon", 165, 38),
        ("gyrfalcon", 190, 38),
        ("golden_eagle", 250, 64),
    ],
)
def test_block_tops_and_bar_gaps(name, top_mm, gap_mm):
    bird = handbook.species(name)
    assert handbook.block_top_diameter(bird).value == top_mm
    assert handbook.bar_gap_max(bird).value == gap_mm


def test_a_measured_mass_moves_the_bar_gap():
    kestrel = handbook.species("common_kestrel")
    assert handbook.bar_gap_max(kestrel, mass_g=310).value == 38


def test_body_width_is_a_judgement():
    width = handbook.body_width_estimate(handbook.species("common_kestrel"))
    assert (width.value, width.source.how_known, width.basis) == (25, "judgement", "judgement")


@pytest.mark.parametrize(
    ("name", "cold_c", "heat_c"),
    [  # the warmth classes A to E; a cross takes the stricter end of both parents
        ("gyrfalcon", None, 20), ("eurasian_goshawk", None, 25), ("peregrine_falcon", -5, 28),
        ("harris_hawk", 0, 32), ("hooded_vulture", 5, 33), ("gyr_x_saker", -5, 20),
        ("gyr_x_lanner", 0, 20),
    ],
)  # fmt: skip
def test_warmth(name, cold_c, heat_c):
    found = handbook.warmth(handbook.species(name))
    assert (found.cold_limit_c.value if found.cold_limit_c else None) == cold_c
    assert found.heat_caution_c.value == heat_c
    assert found.source.how_known == "judgement"


@pytest.mark.parametrize(
    ("afraid", "feared", "rule"),
    [
        ("common_kestrel", "eurasian_goshawk", "goshawk"),
        ("western_barn_owl", "eurasian_goshawk", "goshawk"),
        ("peregrine_falcon", "eurasian_eagle_owl", "eagle-owl"),
        ("harris_hawk", "golden_eagle", "eagle"),
        ("common_kestrel", "gyrfalcon", "large-falcon"),
        ("common_kestrel", "red_tailed_hawk", "four-times"),
        ("eurasian_goshawk", "common_kestrel", None),
        ("gyr_x_saker", "eurasian_goshawk", None),
        ("western_barn_owl", "harris_hawk", None),
        ("peregrine_falcon", "griffon_vulture", None),  # eats no birds
        ("golden_eagle", "golden_eagle", None),
    ],
)
def test_fears(afraid, feared, rule):
    found = handbook.fears(handbook.species(afraid), handbook.species(feared))
    assert (found.rule_id if found else None) == rule


@given(sampled_from(ALL), sampled_from(ALL))
def test_no_two_birds_fear_each_other(one, other):
    """Every rule asks for a feared bird at least as heavy, so fear runs one way."""
    both = handbook.fears(one, other) and handbook.fears(other, one)
    assert not both or one.mass().value == other.mass().value


def test_prone_and_tender_and_social():
    # UK veterinary page: gyrfalcon, goshawk, snowy owl. UAE series of 2024: gyr x saker.
    for name in ("gyrfalcon", "eurasian_goshawk", "snowy_owl", "gyr_x_saker"):
        trait = handbook.aspergillosis_prone(handbook.species(name))
        assert trait is not None
        assert trait.source.how_known == "read"
    assert handbook.aspergillosis_prone(handbook.species("tawny_owl")) is None
    assert handbook.frost_tender(handbook.species("harris_hawk"))
    assert handbook.frost_tender(handbook.species("merlin")) is None
    assert handbook.is_social(handbook.species("harris_hawk"))
    assert handbook.is_social(handbook.species("eurasian_goshawk")) is None


def test_leash_lengths():
    # Handbooks in general: 1.0 m in all, 0.4 m at work; geometry: 0.15 m of margin.
    leash = handbook.leash_lengths()
    assert (leash.total_mm.value, leash.working_mm.value, leash.margin_mm.value) == (1000, 400, 150)
    assert leash.swivel_jess_mm.source.how_known == "judgement"


def test_every_subject_is_a_bird():
    groups = {f"group:{bird.group}" for bird in ALL}
    genera = {f"genus:{bird.scientific_name.split()[0]}" for bird in ALL}
    known = {bird.id for bird in ALL} | groups | genera | {"skin_above_foot:owl"}
    assert {row["subject"] for row in rows("husbandry")} <= known


def test_hexagonal_netting_is_bad_where_a_bird_reaches():
    # Utah guideline: unacceptable at windows.
    mesh = handbook.mesh_kind("hexagonal")
    assert (mesh.reach, mesh.source.how_known) == ("bad", "read")


def test_spore_distances_are_judgements():
    """No published distance was found; none may pass for one."""
    for thing in handbook.spore_sources():
        assert thing.distance_m.source.how_known == "judgement"
        assert thing.distance_m.note == ("no published distance was found: this one is a judgement")


def test_straw_and_sawdust_are_bad_floors():
    # UK veterinary page (straw, hay); Utah guideline (sawdust).
    assert {handbook.substrate(name).use for name in ("straw", "hay", "sawdust")} == {"bad"}
    assert handbook.substrate("pea_gravel").use == "good"


def test_bleach_against_spores():
    # Avian medicine textbooks in general: 1:10 for 10 minutes or more.
    bleach = next(one for one in handbook.disinfectants() if one.id == "bleach_10")
    assert (bleach.strength.value, bleach.contact_min, bleach.works_on_fungal_spores) == (
        10, 10, True,
    )  # fmt: skip
