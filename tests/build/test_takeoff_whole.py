"""What a take-off must not leave out, by sums by hand on a unit of 3000 x 2400 mm."""

from math import pi, sqrt

import pytest

from mewswright.build.coating import boards_m2
from mewswright.build.cost import cost_of
from mewswright.build.floor_load import floor_load
from mewswright.build.lining import braces, columns_mm
from mewswright.build.report import worked_out
from mewswright.build.roof_sheets import end_lap_mm, sheet_rows
from mewswright.build.sawing import Sawing
from mewswright.build.takeoff import take_off
from mewswright.handbook import material
from mewswright.handbook.coatings import wet_floors
from mewswright.handbook.tables import rows
from mewswright.model.problem import Problem
from support.units import unit_yard

NO_SAW = Sawing(plan=None, unpriced=None, refused=())


def taken(**unit):
    yard = unit_yard(**unit)
    return yard, take_off(yard, yard.quarters[0])


def of(takeoff, material_id):
    return [part for part in takeoff.parts if part.material == material_id]


def test_corrugated_sheets_are_counted_by_what_they_cover():
    """Roof 3000 + 2 x (95 + 100) = 3390 mm: (3390 - 74) / 762 = 4.35, so 5 sheets."""
    _, found = taken(roof={"cover": "corrugated", "deck": "none"})
    (sheets,) = of(found, "corrugated_sheet")
    run = 2400 + 2 * 95 + 200 + 150
    slope = run * sqrt(1 + (300 / 2400) ** 2)
    assert (sheets.count, sheets.width_mm, sheets.length_mm) == (5, 836, round(slope))
    assert sheets.amount == pytest.approx(5 * 0.836 * slope / 1000, abs=1e-3)
    assert "cut from 3000 mm" in sheets.note
    # 2963 mm is cut from 3000: 5 x 0.836 x 3 m2 = 12.54, whole m2 are bought.
    line = next(
        one for one in cost_of(unit_yard(), found, NO_SAW).lines if one.item == "corrugated_sheet"
    )
    assert line.buy == 14  # 12.39 m2 laid and 5 % waste are 13.01
    (screw,) = of(found, "roof_screw_65")
    assert screw.amount == 87  # 7 a square metre on 12.39


def test_a_long_slope_takes_two_rows_with_a_lap():
    """6 m at 5 deg: no sheet is longer than 4 m; (6000 + 300) / 2 = 3150 mm from 3600."""
    found = sheet_rows(material("corrugated_sheet"), 6000, 3390, -5)
    assert (found.beside, found.above, found.count) == (5, 2, 10)
    assert (found.length_mm, found.bought_mm, found.end_lap_mm) == (3150, 3600, 300)
    assert found.bought_m2 == pytest.approx(10 * 3.6 * 0.836)


@pytest.mark.parametrize(("pitch", "lap"), [(3, 300), (10, 300), (12.5, 225), (15, 150), (40, 150)])
def test_the_end_lap_shrinks_as_the_roof_steepens(pitch, lap):
    assert end_lap_mm(pitch) == pytest.approx(lap)


def test_a_plastic_lining_is_sawn_into_sheets_and_weighs_what_it_covers():
    """Sides 2400 deep, 2400 to 2100 high; the back 3190 wide and 2100 - 95 x 0.125 high."""
    _, found = taken(frame={"lining": "hdpe_6"})
    sheets = of(found, "hdpe_6")
    assert {part.what for part in sheets} == {"lining sheet"}
    back = 3.19 * (2.1 - 0.095 * 0.125)
    sides = 2 * 2.4 * 2.25
    assert sum(part.amount for part in sheets) == pytest.approx(back + sides, abs=0.01)
    assert all(part.length_mm <= 2440 and part.width_mm <= 1220 for part in sheets)
    assert [p.what for p in of(found, "screw_4x40")] == ["lining screw", "sheet screw"]
    assert not braces("hdpe_6")
    assert braces("osb3_11")


def test_a_lining_that_is_no_sheet_is_refused():
    with pytest.raises(Problem, match=r"^lining of 'Unit' is 'shed_felt', which is no sheet"):
        taken(frame={"lining": "shed_felt"})


def test_columns_meet_on_studs_where_they_can():
    assert columns_mm(0, 3000, 1220, [600, 1200, 1800, 2400]) == [
        (0, 1200), (1200, 2400), (2400, 3000),
    ]  # fmt: skip
    # No stud within reach: equal columns, none wider than a sheet.
    assert columns_mm(0, 3000, 1220, []) == [(0, 1000), (1000, 2000), (2000, 3000)]


def test_paint_by_coats_is_area_times_coats_by_what_a_litre_covers():
    """5 m2 a litre, the middle of 4 to 6 (coatings.csv); tins of 2.5 l, a tenth more."""
    _, found = taken()
    (paint,) = of(found, "wood_stain_preservative_sawn")
    posts = sum(2 * (0.095 + 0.095) * p.length_mm / 1000 * p.count
                for p in found.parts if p.kind == "post")  # fmt: skip
    rails = sum(2 * (0.045 + 0.095) * p.length_mm / 1000 * p.count
                for p in found.parts if p.what in ("face rail", "upstand rail"))  # fmt: skip
    area = boards_m2(found.parts) + posts + rails
    assert paint.amount == pytest.approx(area * 2 / 5, abs=1e-3)
    line = next(
        one
        for one in cost_of(unit_yard(), found, NO_SAW).lines
        if one.item == "wood_stain_preservative_sawn"
    )
    assert (line.buy - 1) * 2.5 < paint.amount * 1.1 <= line.buy * 2.5
    assert line.pack == "tin of 2.5 l"
    # Boarded: back and two sides, each course as wide as it covers.
    assert boards_m2(found.parts) == pytest.approx(3.19 * 2.1 + 2 * (2.4 + 0.19) * 2.25, rel=0.06)


def test_three_coats_take_half_as_much_again_and_none_takes_nothing():
    two, three = (of(taken(frame={"coats": n})[1], "wood_stain_preservative_sawn")[0].amount
                  for n in (2, 3))  # fmt: skip
    assert three == pytest.approx(1.5 * two, abs=1e-3)
    assert of(taken(frame={"coating": "none"})[1], "wood_stain_preservative_sawn") == []


def test_a_coating_that_the_handbook_does_not_know_is_refused():
    with pytest.raises(Problem, match=r"^coating of 'Unit': no coating 'shed_felt'"):
        taken(frame={"coating": "shed_felt"})


def test_every_door_has_its_bolt_lock_release_and_closer():
    door = {"between": ["Unit", "Lobby"], "width_mm": 700, "height_mm": 1800, "face": "back",
            "at_mm": 1000, "locks": "key", "self_closing": True}  # fmt: skip
    hatch = {"kind": "hatch", "name": "Food", "face": "back", "at_mm": 2400, "sill_mm": 1200,
             "width_mm": 300, "height_mm": 220}  # fmt: skip
    _, found = taken(door=[door], fitting=[hatch])
    kinds = ("door_", "hinge", "hatch_")
    hung = {
        p.material: (p.amount, p.place)
        for p in found.parts
        if p.kind == "fixing" and p.material.startswith(kinds)
    }
    assert hung == {
        "hinge_bolt_set": (1, "door to Lobby"), "door_lock_key": (1, "door to Lobby"),
        "door_release": (1, "door to Lobby"), "door_closer": (1, "door to Lobby"),
        "hatch_catch": (1, "Food"),
    }  # fmt: skip


def test_covers_are_counted_perch_by_perch():
    """A round perch of 40 mm is wrapped by pi x 40 mm; bark on a branch is no cover."""
    perch = {"kind": "perch", "at_mm": [1500, 1200], "height_mm": 1000, "length_mm": 900}
    _, found = taken(
        fitting=[
            {**perch, "name": "A", "form": "round", "diameter_mm": 40, "cover": "turf"},
            {**perch, "name": "B", "form": "flat", "width_mm": 150, "cover": "turf"},
            {**perch, "name": "C", "form": "branch", "diameter_mm": 50, "cover": "bark"},
        ]
    )
    covers = of(found, "cover_turf")
    assert [(p.what, p.width_mm, p.amount) for p in covers] == [
        ("cover of turf for 'A'", round(pi * 40), 1), ("cover of turf for 'B'", 200, 1),
    ]  # fmt: skip
    assert of(found, "cover_bark") == []


def test_the_floor_is_weighed_wet_for_barrow_and_ground():
    """0.864 m3 of gravel: 1700 kg/m3 drained by 80 kg are 18.36, so 19 loads; 0.12 m deep and
    soaked, 2080 x 9.80665 x 0.12 = 2.45 kN/m2."""
    yard = unit_yard(floor={"substrate": "pea_gravel", "depth_mm": 120})
    found = take_off(yard, yard.quarters[0]).floor_load
    assert found.volume_m3 == pytest.approx(3.0 * 2.4 * 0.12)
    assert (found.barrow_loads, found.barrow_limit) == (19, "its load")
    assert found.floor_kn_m2 == pytest.approx(2.448, abs=1e-3)
    assert found.soaked_kg == pytest.approx(0.864 * 2080, abs=0.1)
    assert (found.ground_bears, found.bearing_kn_m2, found.bearing_assumed) == (True, 50, True)
    assert "19 barrow loads" in found.answer


def test_a_barrow_of_ones_own_and_soft_ground_are_heeded():
    yard = unit_yard(floor={"substrate": "shavings", "depth_mm": 150})
    yard = yard.model_copy(
        update={"service": yard.service.model_copy(update={"barrow_l": 100, "barrow_kg": 300})}
    )
    parts = take_off(yard, yard.quarters[0]).parts
    found = floor_load(yard, yard.quarters[0], parts)
    # 1.08 m3 by 0.1 m3 are 10.8; by mass 1.08 x 250 / 300 would be one.
    assert (found.barrow_loads, found.barrow_limit) == (11, "its room")
    deep = unit_yard(floor={"substrate": "sand", "depth_mm": 3000})
    found = floor_load(deep, deep.quarters[0], take_off(deep, deep.quarters[0]).parts)
    assert found.ground_bears is False
    assert "does not bear it: 61.2 against 50" in found.answer  # 2080 x 9.80665 x 3


def test_every_wet_floor_is_a_substrate_and_heavier_soaked():
    known = {row["id"] for row in rows("substrates")}
    assert set(wet_floors()) <= known
    assert all(one.soaked_kg_m3 >= one.drained_kg_m3 for one in wet_floors().values())


def test_what_is_laid_is_priced_or_said_to_be_missing():
    yard = unit_yard(frame={"lining": "hdpe_6"}, roof={"cover": "polycarbonate", "deck": "none"})
    found, _, costing = worked_out(yard, yard.quarters[0])
    listed = {line.item for line in costing.lines}
    assert {part.material for part in found.parts if part.amount and not part.sawn} <= listed


@pytest.mark.parametrize(
    ("back", "told"),
    [(2310, "below 5 deg water stands"), (2100, "under 10 deg seal the laps"), (1900, "")],
)
def test_ribbed_sheets_that_lie_too_flat_are_told(back, told):
    """90 mm on 2400 are 2.1 deg, 300 are 7.1, 500 are 11.8."""
    _, found = taken(roof={"cover": "corrugated", "deck": "none"}, back_height_mm=back)
    said = [line for line in found.cautions if line.startswith("ribbed sheets")]
    assert [told in line for line in said] == ([True] if told else [])
