"""Where the water of a unit goes: eaves, what lies before them, and the foul words."""

import json
from importlib.resources import files
from math import hypot

import pytest
import tomlkit
from hypothesis import given
from hypothesis.strategies import floats, integers
from typer.testing import CliRunner

from mewswright.build.row import unit_or_row
from mewswright.build.shell import shell_of
from mewswright.build.water.report import FOUL, drainage
from mewswright.build.water.runoff import eave_of
from mewswright.build.water.soakaway_place import soakaway_place
from mewswright.cli import app
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.corridor_yard import corridor_yard
from support.row_yard import row_yard
from support.units import unit_yard

DEMO = str(files("mewswright.examples") / "alder-close.yard.toml")


def drained(yard=None, **unit):
    yard = yard or unit_yard(**unit)
    return drainage(yard, yard.quarters[0])


def beside(yard, *features, boundary=()):
    data = yard.model_dump(exclude_unset=True)
    data["feature"] = list(features)
    data["yard"]["boundary_m"] = [list(p) for p in boundary]
    return Yard.model_validate(data)


def test_rain_runs_to_the_low_side():
    assert drained().roof.falls_to == "back"
    assert drained(front_height_mm=2100, back_height_mm=2400).roof.falls_to == "front"
    assert drained().roof.runs_off_towards_deg == 0  # the front looks south


def test_the_roof_is_measured_over_its_overhangs():
    """3000 + 2 x (95 + 100) across; 2400 + 2 x 95 + 200 + 150 along; fall of 300 in 2400."""
    roof = drained().roof
    width, run = 3.39, 2.94
    rise = run * 300 / 2400
    assert roof.plan_area_m2 == pytest.approx(width * run, abs=1e-3)
    assert roof.effective_area_m2 == pytest.approx(width * (run + rise / 2), abs=1e-3)
    assert roof.flow_l_s == pytest.approx(0.03 * width * (run + rise / 2), abs=1e-4)


@given(integers(0, 359), floats(-0.2, 0.2))
def test_the_eave_lies_outside_and_water_leaves_square_to_it(facing, rise):
    unit = unit_yard(facing_deg=facing, back_height_mm=2400 + 2400 * rise).quarters[0]
    eave = eave_of(shell_of(unit))
    if unit.back_height_mm == unit.front_height_mm:
        assert eave is None
        return
    along = [b - a for a, b in zip(eave.from_m, eave.to_m, strict=True)]
    assert along[0] * eave.out[0] + along[1] * eave.out[1] == pytest.approx(0, abs=1e-9)
    assert hypot(*eave.out) == pytest.approx(1)
    middle = unit.on_ground_m(unit.width_mm / 2, unit.depth_mm / 2)
    away = [eave.from_m[i] - middle[i] for i in (0, 1)]
    assert away[0] * eave.out[0] + away[1] * eave.out[1] > 0


def test_a_level_roof_is_told_and_not_sized():
    found = drained(back_height_mm=2400)
    assert (found.roof.falls_to, found.gutter, found.soakaway) == ("nowhere", None, None)
    assert any("the roof is level" in line for line in found.cautions)


@pytest.mark.parametrize(("fall_mm", "sound"), [(61, True), (60, True), (59, False), (20, False)])
def test_felt_falls_one_in_forty_by_design(fall_mm, sound):
    """BS 6229 and BS 8217 as quoted; 2400 mm / 40 = 60 mm."""
    assert drained(back_height_mm=2400 - fall_mm).roof.fall_sound is sound


def test_a_door_or_open_face_under_the_eave_asks_for_a_gutter():
    door = {
        "between": ["Unit", "Lobby"], "width_mm": 800, "height_mm": 1900,
        "face": "back", "at_mm": 400,
    }  # fmt: skip
    found = drained(door=[door])
    assert found.roof.gutter_needed
    assert "door between Unit and Lobby" in found.roof.meets[0].name
    assert found.gutter.downpipe_at.startswith("the right end of the back eave")
    assert not drained().roof.gutter_needed
    open_front = drained(front_height_mm=2100, back_height_mm=2400)
    assert [m.name for m in open_front.roof.meets] == ["the open front"]


def test_neighbours_features_and_boundary_before_the_eave_are_named():
    """The front looks south from y 0, so the back eave drips at y 2.645 and beyond."""
    hay = {"name": "Hay", "kind": "hay", "outline_m": [[-2, 3], [-1, 3], [-1, 4], [-2, 4]]}
    far = {"name": "Far hay", "kind": "hay", "outline_m": [[-2, 4], [-1, 4], [-1, 5], [-2, 5]]}
    edge = [(-9, -9), (9, -9), (9, 3), (-9, 3)]
    yard = beside(unit_yard(at_m=[0, 0]), hay, far, boundary=edge)
    x = [c[0] for c in yard.quarters[0].corners_m]
    assert (min(x), max(x)) == pytest.approx((0, 3))
    moved = beside(unit_yard(at_m=[-3, 0]), hay, far, boundary=edge)
    assert [m.name for m in drained(moved).roof.meets] == ["Hay", "the boundary"]


def test_a_roof_that_covers_the_back_and_falls_to_the_front_drips_on_the_birds():
    found = drained(
        front_height_mm=2100, back_height_mm=2400,
        roof={"covered_share": 0.5, "open_infill": "meshed", "open_gap_mm": 25},
    )  # fmt: skip
    assert found.roof.meets[0].name == "the open part of the unit"


def test_a_taller_house_sheds_half_of_its_wall():
    """A wall of 6 m beside a roof of 2.1 m: half of 3.9 m along the longest side, 3.39 m."""
    house = {
        "name": "House", "kind": "building", "height_m": 6,
        "outline_m": [[-1, 2.7], [4, 2.7], [4, 8], [-1, 8]],
    }  # fmt: skip
    found = drained(beside(unit_yard(), house))
    assert found.roof.walls == ("House",)
    assert found.roof.wall_area_m2 == pytest.approx(3.39 * 3.9 / 2, abs=1e-3)


def test_the_soakaway_keeps_its_distance():
    """5 m from every roof and 2.5 m inside the boundary, measured apart from the code."""
    yard = beside(unit_yard(), boundary=[(-20, -20), (20, -20), (20, 20), (-20, 20)])
    found = drained(yard).soakaway
    x, y = found.place_m
    (x0, y0), (x1, y1) = (0, 0), (3, 2.4)
    away = hypot(max(x0 - x, 0, x - x1), max(y0 - y, 0, y - y1))
    assert away >= 5 - 1e-9
    assert away == pytest.approx(found.from_building_m, abs=0.01)
    assert 20 - max(abs(x), abs(y)) >= 2.5
    assert found.store_m3 == pytest.approx(3.39 * 2.94 * 0.01, abs=1e-3)


def test_a_yard_too_small_for_a_soakaway_is_told():
    yard = beside(unit_yard(), boundary=[(-3, -3), (6, -3), (6, 6), (-3, 6)])
    assert soakaway_place(yard, (3, 2.6)) is None
    assert "no spot within" in drained(yard).soakaway.words


def test_a_large_roof_is_not_sized_by_the_small_rule():
    found = drained(width_mm=7200, depth_mm=4200)
    assert found.soakaway.store_m3 is None
    assert "dig a trial pit" in found.soakaway.words


def test_foul_water_is_never_passed_over():
    """Whatever the unit: it has a floor, and floors are washed."""
    for yard in (unit_yard(), unit_yard(floor={"substrate": "concrete", "fall_pct": 2})):
        assert FOUL in drained(yard).cautions
    assert "no soakaway without consent" in FOUL


def test_a_hard_floor_wants_its_fall():
    level = drained(floor={"substrate": "concrete"})
    assert (level.floor.hard, level.floor.sound) == (True, False)
    assert level.floor.rise_mm == pytest.approx(24)  # 1 % of 2400 mm
    assert drained(floor={"substrate": "concrete", "fall_pct": 1}).floor.sound
    assert not drained(floor={"drained": False}).floor.sound


BATH = {
    "kind": "bath", "name": "Bath", "at_mm": [1500, 1200], "diameter_mm": 600,
    "depth_mm": 100, "rim_height_mm": 120,
}  # fmt: skip


def test_a_bath_is_filled_from_the_nearest_tap():
    taps = [
        {"name": "Far tap", "kind": "tap", "at_m": [30, 0]},
        {"name": "Near tap", "kind": "tap", "at_m": [1.5, 11.2]},
    ]
    bath = drained(beside(unit_yard(fitting=[BATH]), *taps)).baths[0]
    assert bath.volume_l == pytest.approx(28.3, abs=0.05)
    assert bath.automatic.from_tap == "Near tap"
    assert bath.automatic.pipe_m == pytest.approx(13.0)
    assert bath.automatic.fill_min == pytest.approx(
        bath.volume_l / bath.automatic.flow_l_s / 60, abs=0.01
    )


def test_without_a_tap_no_supply_is_invented():
    found = drained(fitting=[BATH])
    assert found.baths[0].automatic is None
    assert any("no tap is on the plan" in line for line in found.assumptions)


def test_a_pitch_is_refused():
    yard = Yard.model_validate(
        unit_yard().model_dump(exclude_unset=True)
        | {
            "quarters": [
                {
                    "name": "Lawn", "kind": "pitch", "at_m": [0, 0], "facing_deg": 0,
                    "width_mm": 3000, "depth_mm": 3000,
                }
            ]
        }
    )  # fmt: skip
    with pytest.raises(Problem, match="'Lawn' is a pitch"):
        drained(yard)


def test_the_command_says_the_same_in_json_and_in_words():
    spoken = CliRunner().invoke(app, ["drain", DEMO, "Long loft"])
    assert spoken.exit_code == 0, spoken.stderr
    assert "no soakaway without consent" in spoken.stdout
    printed = json.loads(CliRunner().invoke(app, ["drain", DEMO, "Long loft", "--json"]).stdout)
    assert printed["roof"]["falls_to"] == "back"
    assert f"half-round {printed['gutter']['diameter_mm']:g} mm" in spoken.stdout
    assert all(line in spoken.stdout for line in printed["cautions"])


def test_the_command_refuses_what_is_not_there():
    done = CliRunner().invoke(app, ["drain", DEMO, "Nowhere"])
    assert done.exit_code == 2
    assert done.stderr.startswith("error: no quarters 'Nowhere'")


def test_a_slope_brings_water_from_above_and_is_not_called_level():
    from support.loaded_units import loaded

    plain = loaded()
    level = drainage(plain, plain.quarters[0])
    assert any(said.startswith("the ground is level") for said in level.assumptions)
    place = plain.yard.model_copy(update={"ground_fall_pct": 8, "ground_falls_to_deg": 180})
    sloping = plain.model_copy(update={"yard": place})
    told = drainage(sloping, sloping.quarters[0])
    assert not any(said.startswith("the ground is level") for said in told.assumptions)
    assert any("comes down the slope to the back" in said for said in told.cautions)


def test_a_row_drains_over_one_eave_as_its_roofs_together():
    """Three units of 3000, two walls of 95 + 22 between, and 195 mm past each end: 9624 mm."""
    row = drainage(*unit_or_row(row_yard(), "Row"))
    units = [drainage(*unit_or_row(row_yard(), name)) for name in "ABC"]
    assert row.gutter.length_m == pytest.approx(9.624)
    assert row.roof.plan_area_m2 == pytest.approx(sum(u.roof.plan_area_m2 for u in units), abs=2e-3)
    assert row.roof.flow_l_s == pytest.approx(sum(u.roof.flow_l_s for u in units), abs=1e-3)
    assert row.roof.walls == ()


def test_a_row_is_not_its_own_taller_neighbour():
    """Its roof rises 900 mm: its own units would count as walls over it."""
    yard = row_yard(front_height_mm=3000)
    assert drainage(*unit_or_row(yard, "Row")).roof.walls == ()
    assert drainage(*unit_or_row(yard, "A")).roof.walls == ()


def test_the_corridor_of_a_row_has_an_eave_of_its_own():
    found = drainage(*unit_or_row(corridor_yard(), "Row"))
    assert (found.roof.falls_to, found.corridor.roof.falls_to) == ("front", "back")
    assert found.corridor.gutter.length_m == pytest.approx(9.624)
    # The units' back wall, 2700 mm high, sheds onto it where it stands over the corridor's 2050.
    assert set(found.corridor.roof.walls) == {"A", "B", "C"}
    high, long = 2.7 - 2.05, 3.0
    assert found.corridor.roof.wall_area_m2 == pytest.approx(3 * high * long / 2, abs=1e-3)


def test_the_command_drains_a_row(tmp_path):
    path = tmp_path / "row.yard.toml"
    data = corridor_yard().model_dump(mode="json", exclude_none=True)
    path.write_text(tomlkit.dumps(data), encoding="utf-8")
    told = CliRunner().invoke(app, ["drain", str(path), "Row", "--json"])
    assert told.exit_code == 0, told.output
    assert json.loads(told.stdout)["corridor"]["roof"]["falls_to"] == "back"
    spoken = CliRunner().invoke(app, ["drain", str(path), "Row"])
    assert "\nCorridor\n" in spoken.stdout
    one = CliRunner().invoke(app, ["drain", str(path), "Nobody"])
    assert one.exit_code == 2
    assert "no quarters or row 'Nobody'" in one.output
