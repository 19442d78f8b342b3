"""Foods, equations, materials, timber and loads against the texts named beside them."""

import itertools
from math import pi

import pytest

from mewswright import handbook
from mewswright.handbook.tables import rows
from mewswright.handbook.water import gutter_sizes
from mewswright.model.problem import Problem


def test_there_are_30_foods_and_46_equations():
    assert (len(handbook.foods()), len(handbook.allometry())) == (30, 46)


@pytest.mark.parametrize(
    ("name", "gross_kj_g", "share", "how"),
    [  # Stalmaster & Gessaman 1982: mallard 1.96, jackrabbit 1.22, salmon 0.90 kcal/g wet
        ("duck_mallard_whole", 1.96 * 4.184, 0.852, "read"),
        ("jackrabbit_whole", 1.22 * 4.184, 0.754, "read"),
        ("salmon_chum", 0.90 * 4.184, 0.75, "read"),
        # Dierenfeld et al. 2002: chick 5.80 kcal/g dry at 25.6 % dry
        ("doc_with_yolk", 5.80 * 0.256 * 4.184, 0.78, "from memory"),
    ],
)
def test_energy_of_foods(name, gross_kj_g, share, how):
    food = handbook.food(name)
    assert food.gross_energy_kj_g == pytest.approx(gross_kj_g, abs=0.051)  # one is printed as 6.2
    assert food.metabolisable_fraction == share
    assert food.source.how_known == how


@pytest.mark.parametrize("food", handbook.foods(), ids=lambda food: food.id)
def test_a_food_is_made_of_no_more_than_itself(food):
    parts = [food.water_pct, food.protein_pct, food.fat_pct, food.ash_pct]
    if None not in parts:
        # Each part is analysed by itself: published rows of quail meat add up to 102.3.
        assert 90 <= sum(parts) <= 102.5
    assert food.metabolisable_kj_g == pytest.approx(
        food.gross_energy_kj_g * food.metabolisable_fraction, abs=0.08
    )
    assert (food.kept == "live") == (food.frozen_life_months is None)


@pytest.mark.parametrize(
    "equation",
    [one for one in handbook.allometry() if one.formula == "a*M^b" and one.worked_input],
    ids=lambda one: one.name,
)
def test_worked_values_follow_from_the_coefficients(equation):
    worked = float(equation.a) * equation.worked_input ** float(equation.b)
    assert worked == pytest.approx(equation.worked_output, rel=0.002)


@pytest.mark.parametrize(
    ("name", "typed"),
    [  # EN 338:2016, Table 1
        ("C16", (16, 8.5, 17, 2.2, 3.2, 8000, 5400, 500, 310, 370)),
        ("C18", (18, 10, 18, 2.2, 3.4, 9000, 6000, 560, 320, 380)),
        ("C24", (24, 14.5, 21, 2.5, 4.0, 11000, 7400, 690, 350, 420)),
    ],
)
def test_timber_classes_agree_with_en_338(name, typed):
    one = handbook.timber_class(name)
    assert (
        one.fm_k, one.ft0_k, one.fc0_k, one.fc90_k, one.fv_k,
        one.e_mean, one.e05, one.g_mean, one.rho_k, one.rho_mean,
    ) == typed  # fmt: skip


def test_an_unknown_timber_class_lists_those_there_are():
    with pytest.raises(Problem, match=r"^no timber class 'D30'; there are: C16, C18, C24$"):
        handbook.timber_class("D30")


@pytest.mark.parametrize(
    ("material", "service_class", "duration", "kmod"),
    [  # EN 1995-1-1, Table 3.1
        ("solid", 1, "permanent", 0.6), ("solid", 2, "short", 0.9), ("solid", 3, "short", 0.7),
        ("solid", 3, "instantaneous", 0.9), ("osb3", 1, "permanent", 0.4),
        ("osb3", 2, "medium", 0.55),
    ],
)  # fmt: skip
def test_kmod(material, service_class, duration, kmod):
    assert handbook.timber_kmod(material, service_class, duration).value == kmod


def test_kdef_and_gamma_m():
    # EN 1995-1-1, Tables 3.2 and 2.3
    assert [handbook.timber_kdef("solid", n).value for n in (1, 2, 3)] == [0.6, 0.8, 2.0]
    assert [handbook.timber_kdef("osb3", n).value for n in (1, 2)] == [1.5, 2.25]
    assert [handbook.gamma_m(m).value for m in ("solid", "osb3", "connection")] == [1.3, 1.2, 1.3]
    assert handbook.timber_factor("kcr").value == 0.67


def test_osb_is_refused_in_the_wet():
    sentence = (
        r"^no kmod for material osb3, service class 3, duration short; "
        r"OSB/3 must not stand in service class 3$"
    )
    with pytest.raises(ValueError, match=sentence):
        handbook.timber_kmod("osb3", 3, "short")


@pytest.mark.parametrize(
    ("thickness_mm", "fm"), [(6, 18.0), (10, 18.0), (11, 16.4), (18, 16.4), (22, 14.8)]
)
def test_osb_bending_strength(thickness_mm, fm):
    # EN 12369-1: 6 to 10, over 10 to 18, over 18 to 25 mm
    assert handbook.osb_class(thickness_mm).fm_along == fm


@pytest.mark.parametrize("thickness_mm", [5.9, 25.1])
def test_osb_of_other_thickness_is_refused(thickness_mm):
    with pytest.raises(ValueError, match=r"^OSB/3 is known from 6 to 25 mm, got "):
        handbook.osb_class(thickness_mm)


def test_snow_bands_join():
    # EN 1991-1-3, 5.3.2, Table 5.2: 0.8 to 30 deg, none from 60
    bands = handbook.snow_shapes()
    assert [(band.pitch_from_deg, band.mu1_from) for band in bands] == [
        (0, 0.8),
        (30, 0.8),
        (60, 0),
    ]
    for before, after in itertools.pairwise(bands):
        assert (before.pitch_to_deg, before.mu1_to) == (after.pitch_from_deg, after.mu1_from)


def test_terrain():
    # EN 1991-1-4, Table 4.1
    typed = {"0": (0.003, 1), "I": (0.01, 1), "II": (0.05, 2), "III": (0.3, 5), "IV": (1.0, 10)}
    assert {name: (one.z0_m, one.zmin_m) for name, one in handbook.terrains().items()} == typed
    with pytest.raises(Problem, match=r"^no terrain category 'V'; nearest: IV$"):
        handbook.terrain("V")


def test_small_areas_are_sucked_harder():
    """On a smaller area the gust is fuller: cpe,1 is never the milder one."""
    for zone in handbook.wind_pressures():
        assert abs(zone.cpe_1) >= abs(zone.cpe_10)


def test_snow_exposure():
    # EN 1991-1-3, Table 5.1
    got = [handbook.snow_exposure(name).value for name in ("windswept", "normal", "sheltered")]
    assert got == [0.8, 1.0, 1.2]


@pytest.mark.parametrize(
    "one", [m for m in handbook.materials("timber") if m.breadth_mm], ids=lambda m: m.id
)
def test_mass_of_timber_follows_from_its_section(one):
    kg_per_m = one.breadth_mm * one.depth_mm * one.density_kg_m3 * 1e-6
    assert one.mass_kg == pytest.approx(kg_per_m, rel=0.007, abs=0.005)  # US sizes are rounded
    assert one.stock_lengths_mm


@pytest.mark.parametrize("one", handbook.materials("mesh"), ids=lambda m: m.id)
def test_mass_and_solidity_of_mesh_follow_from_its_wire(one):
    """Steel at 7850 kg/m3; apertures are from centre to centre."""
    wire, a, b = one.wire_mm, one.aperture_mm, one.aperture_long_mm
    kg_m2 = 7850 * 3.14159 * (wire / 2000) ** 2 * (1000 / a + 1000 / b)
    open_share = (1 - wire / a) * (1 - wire / b)
    assert one.mass_kg == pytest.approx(kg_m2, rel=0.02)
    assert one.solidity == pytest.approx(1 - open_share, abs=0.011)
    assert one.clear_gap_mm == a - wire


def test_osb_sheet_weighs_what_its_density_says():
    # maker's brochure: 600 kg/m3 or more; 2440 x 1220
    for one in handbook.materials("sheet"):
        volume_m3 = one.sheet_length_mm * one.sheet_width_mm * one.thickness_mm * 1e-9
        assert 540 <= one.mass_kg / volume_m3 <= 660


def test_a_board_covers_less_than_its_face():
    typed = [one for one in handbook.materials("board") if one.cover_width_mm]
    assert len(typed) == 2
    for one in typed:
        assert 15 <= one.breadth_mm - one.cover_width_mm <= 25


def test_all_105_collected_materials_are_here():
    added = {
        "featheredge_22x150", "shiplap_12x125", "roof_screw_65", "self_drilling_screw_55x25",
        "door_bolt", "door_closer", "door_lock_code", "door_lock_key", "door_release",
        "hatch_catch", "hdpe_6", "hdpe_10", "pvc_wall_2.5", "corrugated_sheet",
        "polycarbonate_sheet",
        "tube_40x40x3", "tube_50x50x3", "tube_60x60x3", "tube_80x80x3", "tube_100x100x4",
        "tube_end_plate", "ridge_capping",
        "half_round_75", "half_round_100", "half_round_115", "half_round_125", "half_round_150",
        "downpipe_50", "downpipe_63", "downpipe_75", "downpipe_89", "rain_drain_110",
        "gutter_bracket", "gutter_joint", "gutter_stop_end", "gutter_outlet", "leaf_guard",
        "downpipe_bend", "downpipe_joint", "downpipe_clip", "downpipe_shoe", "downpipe_trap",
        "rain_diverter", "butt_stand", "butt_100", "butt_200", "butt_300", "butt_500",
        "geotextile", "clean_rubble",
        "m12_coach_bolt", "m6_coach_bolt", "m8_coach_bolt", "washer_m10", "washer_m12",
        "timber_c18",
    }  # fmt: skip
    assert len({row["id"] for row in rows("materials")} - added) == 105


@pytest.mark.parametrize("size", gutter_sizes(), ids=lambda s: f"{s.diameter_mm:g}")
def test_every_gutter_and_outlet_can_be_bought(size):
    """Mass of a metre: half of the round, or all of it, by thickness and 1400 kg/m3 of PVC."""
    gutter = handbook.material(f"half_round_{size.diameter_mm:g}")
    pipe = handbook.material(f"downpipe_{size.outlet_mm:g}")
    for row, arc in ((gutter, pi / 2 * size.diameter_mm), (pipe, pi * size.outlet_mm)):
        assert row.mass_kg == pytest.approx(arc * row.thickness_mm * 1400e-6, abs=6e-4)


def test_a_gutter_of_112_weighs_what_is_recalled():
    """Recalled: 0.6 to 0.9 kg/m empty (materials.csv, gutter_112)."""
    row = handbook.material("half_round_115")
    assert 0.6 <= row.mass_kg * 112 / 115 <= 0.9


def test_every_butt_can_be_bought_and_holds_its_litres():
    for size in handbook.water.butt_sizes():
        assert handbook.material(size.material).name == f"water butt {size.litres} l"
        full_l = pi / 4 * size.diameter_mm**2 * size.height_mm / 1e6
        assert size.litres <= full_l <= 1.6 * size.litres  # its sides are thick, and draw in


def test_fixing_spacings():
    # building practice: board edges 150, field 300; staples every 50 to 75
    assert handbook.fixing_rule("sheet_edge_spacing").figure.value == 150
    staples = handbook.fixing_rule("mesh_staple_spacing")
    assert staples.high is not None
    assert (staples.figure.value, staples.high.value) == (50, 75)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (handbook.food, r"^no food 'mouse_adlt'; nearest: mouse_adult"),
        (handbook.material, r"^no material 'mouse_adlt' and no name near it among 161; "),
        (handbook.mesh_kind, r"^no mesh kind 'mouse_adlt'; there are: chain_link, "),
        (handbook.equation, r"^no equation 'mouse_adlt' and no name near it among 46; "),
        (handbook.source, r"^no source 'mouse_adlt' and no name near it among "),
    ],
)
def test_unknown_names_are_said(ask, sentence):
    with pytest.raises(Problem, match=sentence):
        ask("mouse_adlt")
