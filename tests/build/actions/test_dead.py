"""Dead load against sums by hand and against weights of layers as tabled."""

import pytest

from mewswright.build.actions.dead import area_mass_kg_m2, dead, part_mass_kg, weight_kn
from mewswright.build.frame import built_frame
from mewswright.build.parts import Part
from support.units import unit_yard


def test_weight_of_a_mass():
    assert weight_kn(100) == pytest.approx(0.980665)


@pytest.mark.parametrize(
    ("sheet", "kn_m2"),
    [("osb3_11", 0.070), ("osb3_18", 0.115)],  # dead_load_osb_* of handbook/materials.csv
)
def test_sheets_weigh_what_the_table_of_dead_loads_says(sheet, kn_m2):
    low, high = (weight_kn(mass) for mass in area_mass_kg_m2(sheet))
    assert low - 0.0005 <= kn_m2 <= high + 0.0005


def test_felt_is_within_two_layers_as_tabled():
    # dead_load_two_layer_mineral_felt: 0.04 to 0.08 kN/m2, so one layer weighs at most half
    assert weight_kn(2 * area_mass_kg_m2("shed_felt")[1]) <= 0.08


def test_a_rafter_by_hand():
    """45 x 145 x 3000 mm of C24: 0.019575 m3, at 420 kg/m3 and wet at 600."""
    rafter = Part(
        mark="R1", kind="rafter", what="rafter", place="roof", material="C24",
        section="45x145", length_mm=3000, count=2, sawn=True,
    )  # fmt: skip
    assert part_mass_kg(rafter) == pytest.approx((2 * 8.2215, 2 * 11.745))


def test_a_unit_weighs_more_with_a_thicker_deck_and_never_less_wet():
    thin, thick = (
        dead(built_frame(yard, yard.quarters[0]).parts, 9.0)
        for yard in (unit_yard(roof={"deck": "osb3_11"}), unit_yard(roof={"deck": "osb3_18"}))
    )
    assert thick.roof_low_kn_m2 > thin.roof_low_kn_m2
    for one in (thin, thick):
        assert all(layer.low_kg <= layer.high_kg for layer in one.layers)
        assert one.roof_up_kn_m2 <= one.roof_low_kn_m2 <= one.roof_high_kn_m2
        assert one.roof_down_kn_m2 >= max(0.3, one.roof_high_kn_m2)
        assert one.roof_up_kn_m2 <= 0.15
        assert 0 < one.walls_low_kn < one.walls_high_kn


def test_base_and_floor_hold_nothing_down():
    yard = unit_yard()
    parts = built_frame(yard, yard.quarters[0]).parts
    bare = [part for part in parts if part.kind not in ("base", "substrate", "membrane")]
    assert dead(parts, 9.0) == dead(bare, 9.0)


def test_a_door_without_a_mass_is_named():
    door = {"between": ["Unit", "Lobby"], "width_mm": 700, "height_mm": 1900}
    yard = unit_yard(door=[door])
    assert "door to Lobby" in dead(built_frame(yard, yard.quarters[0]).parts, 9.0).missing


def test_a_roof_of_less_than_nothing_is_refused():
    with pytest.raises(ValueError, match=r"^a roof has a plan of 0 m2 or more, got -1$"):
        dead([], -1)
