"""Wind, rain and cold air at quarters: orders that must hold, and yards that are odd."""

import ast
from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.actions import actions_on
from mewswright.ground.rose import rose_of
from mewswright.ground.wind_report import wind_report
from mewswright.ground.windbreak import Shelter, height_share
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from support.alder_close import YARD
from support.turned_yards import mirrored, shuffled, turned
from support.yards import BOARDED, perch, quarters, yard

SOUTH_WEST = [{"from_deg": 225, "share_pct": 60, "speed_m_s": 4}]
CLIMATE = {
    "source": "made up", "mean_temp_c": [10] * 12, "mean_daily_min_c": [5] * 12,
    "mean_daily_max_c": [15] * 12, "rain_mm": [50] * 12, "humidity_pct": [75] * 12,
    "sun_h": [120] * 12, "wind_m_s": [3] * 12,
}  # fmt: skip


def hedge(**more):
    return {
        "name": "Hedge", "kind": "hedge", "line_m": [[-60, -12], [60, -12]], "height_m": 2,
        "porosity": 0.5,
    } | more  # fmt: skip


def one(of: Yard, name: str = "North loft"):
    return next(q for q in wind_report(of).quarters if q.name == name)


def side(told, name="front"):
    return next(s for s in told.sides if s.side == name)


def front(of: Yard):
    return side(one(of))


# --- The rose ------------------------------------------------------------------------------


def test_a_rose_keeps_its_shares_speeds_and_calm():
    rose = rose_of(YARD)
    assert rose.share.sum() == pytest.approx(0.85)
    wanted = sum(s.share_pct * s.speed_m_s for s in YARD.wind_rose) / 100
    assert rose.mean_m_s == pytest.approx(wanted)
    assert rose.calm == pytest.approx(0.15)


def test_sectors_of_uneven_width_meet_half_way_and_none_blows_wider_than_an_eighth():
    rose = rose_of(yard(wind_rose=[
        {"from_deg": 0, "share_pct": 30, "speed_m_s": 2},
        {"from_deg": 30, "share_pct": 30, "speed_m_s": 2},
        {"from_deg": 180, "share_pct": 40, "speed_m_s": 2},
    ]))  # fmt: skip
    blows = {5 * n for n in np.flatnonzero(rose.share)}
    assert blows == {*range(0, 55, 5), *range(340, 360, 5), *range(160, 205, 5)}
    assert rose.share[[3, 33]].tolist() == pytest.approx([0.30 * 5 / 37.5, 0.40 * 5 / 45])


def test_two_sectors_of_one_bearing_are_one():
    twice = [{"from_deg": 90, "share_pct": 20, "speed_m_s": s} for s in (2, 4)]
    once = [{"from_deg": 90, "share_pct": 40, "speed_m_s": 3}]
    a, b = rose_of(yard(wind_rose=twice)), rose_of(yard(wind_rose=once))
    assert a.share == pytest.approx(b.share)
    assert a.speed_m_s == pytest.approx(b.speed_m_s)


# --- Orders that must hold -----------------------------------------------------------------


def test_an_open_side_under_even_winds_meets_one_part_in_pi():
    of = yard(quarters=[quarters(at_m=[0, 0])], climate=CLIMATE)
    assert front(of).exposure == pytest.approx(100 / pi, abs=0.2)
    assert front(of).wind_left_pct == 100


def test_wind_from_behind_does_not_blow_in():
    north = [{"from_deg": 0, "share_pct": 100, "speed_m_s": 5}]
    told = front(yard(quarters=[quarters()], wind_rose=north, climate=CLIMATE))
    assert (told.mean_into_m_s, told.driving_rain_l_m2, told.worst_from_deg) == (0, 0, None)


@pytest.mark.parametrize(
    ("more", "less"),
    [
        ({"height_m": 1.5}, {"height_m": 3.0}),
        ({"porosity": 0.9}, {"porosity": 0.6}),
        ({"line_m": [[-2, -12], [2, -12]]}, {"line_m": [[-60, -12], [60, -12]]}),
        ({"line_m": [[-60, -40], [60, -40]]}, {"line_m": [[-60, -20], [60, -20]]}),
    ],
    ids=["lower", "thinner", "shorter", "farther"],
)
def test_a_worse_hedge_leaves_more_wind(more, less):
    base = {"quarters": [quarters()], "wind_rose": SOUTH_WEST}
    left = [front(yard(**base, feature=[hedge(**key)])).mean_into_m_s for key in (more, less)]
    bare = front(yard(**base)).mean_into_m_s
    assert bare >= left[0] > left[1] > 0


def test_a_hedge_says_that_it_shelters():
    told = front(yard(quarters=[quarters()], wind_rose=SOUTH_WEST, feature=[hedge()]))
    assert [b.name for b in told.sheltered_by] == ["Hedge"]


def test_a_tree_a_thing_without_height_and_one_behind_shelter_nothing():
    base = {"quarters": [quarters()], "wind_rose": SOUTH_WEST}
    idle = [
        {"name": "Oak", "kind": "tree", "at_m": [-5, -5], "height_m": 20, "crown_radius_m": 6},
        hedge(name="Flat", height_m=0),
        hedge(name="Behind", line_m=[[-60, 30], [60, 30]]),
        hedge(name="Air", porosity=1.0),
    ]
    assert front(yard(**base, feature=idle)) == front(yard(**base))


@given(z=floats(0.1, 12))
def test_more_wind_higher_up_and_over_smoother_ground(z):
    rough = [height_share(z, terrain) for terrain in ("0", "I", "II", "III", "IV")]
    assert rough == sorted(rough, reverse=True)
    assert height_share(z + 0.5, "II") >= height_share(z, "II")


def test_the_open_country_is_the_measure():
    assert height_share(10, "II") == pytest.approx(1)


def test_the_order_of_the_file_changes_nothing():
    plain = {q.name: q for q in wind_report(YARD).quarters}
    other = {q.name: q for q in wind_report(shuffled(YARD, 3)).quarters}
    for name, told in plain.items():
        assert told.exposure == pytest.approx(other[name].exposure, abs=0.11)
        for here, there in zip(told.sides, other[name].sides, strict=True):
            assert here.mean_into_m_s == pytest.approx(there.mean_into_m_s, abs=2e-3)


def test_the_mirror_swaps_left_and_right_and_nothing_else():
    plain, other = wind_report(YARD), wind_report(mirrored(YARD))
    swap = {"left": "right", "right": "left"}
    for here, there in zip(plain.quarters, other.quarters, strict=True):
        assert here.exposure == pytest.approx(there.exposure, abs=0.11)
        for one_side in here.sides:
            seen = side(there, swap.get(one_side.side, one_side.side))
            assert one_side.mean_into_m_s == pytest.approx(seen.mean_into_m_s, abs=2e-3)


def test_a_yard_that_is_turned_with_its_wind_is_the_same_yard():
    plain, other = wind_report(YARD), wind_report(turned(YARD, 90, (300, -40)))
    for here, there in zip(plain.quarters, other.quarters, strict=True):
        assert here.exposure == pytest.approx(there.exposure, abs=0.11)
        assert here.exposure_word == there.exposure_word


# --- Rain --------------------------------------------------------------------------------


def test_rain_reaches_the_perch_by_the_front_before_the_one_at_the_back():
    q = quarters(fitting=[perch("near", 2500, 300), perch("far", 2500, 5500)])
    told = one(yard(quarters=[q], wind_rose=[{"from_deg": 180, "share_pct": 80, "speed_m_s": 6}]))
    near, far = told.perches
    assert near.wet_from_m_s < far.wet_from_m_s
    assert near.wet_from_deg == 180
    assert near.rain_hours_pct > far.rain_hours_pct


def test_rain_falls_on_a_perch_without_a_roof_and_never_on_one_in_a_box():
    bare = quarters(roof={"covered_share": 0.5}, fitting=[perch("out", 2500, 500)])
    box = quarters(faces={"front": BOARDED}, fitting=[perch("in", 2500, 500)])
    out = one(yard(quarters=[bare], wind_rose=SOUTH_WEST)).perches[0]
    shut = one(yard(quarters=[box], wind_rose=SOUTH_WEST)).perches[0]
    assert (out.roofed, out.rain_hours_pct, out.wet_from_m_s) == (False, 100, 0)
    assert (shut.roofed, shut.rain_hours_pct, shut.wet_from_m_s) == (True, 0, None)


def test_more_overhang_keeps_more_rain_off():
    def wet(overhang_mm):
        q = quarters(roof={"overhang_front_mm": overhang_mm}, fitting=[perch("p", 2500, 200)])
        return one(yard(quarters=[q], wind_rose=SOUTH_WEST)).perches[0].rain_hours_pct

    assert wet(0) > wet(400) > wet(1200)


# --- Still frost ---------------------------------------------------------------------------

SLOPE = {
    "name": "Slope", "latitude_deg": 47, "longitude_deg": 7, "altitude_m": 600,
    "time_zone": "Europe/Zurich", "ground_fall_pct": 10, "ground_falls_to_deg": 180,
}  # fmt: skip


def on_slope(**tables):
    return Yard.model_validate({"format": 1, "yard": SLOPE} | tables)


def test_a_wall_down_the_slope_dams_cold_air_as_deep_as_it_is_high_less_the_rise():
    wall = {"name": "Wall", "kind": "wall", "line_m": [[-90, -10], [90, -10]], "height_m": 2}
    q = quarters(at_m=[0, 0], fitting=[perch("low"), perch("high", height_mm=1800)])
    frost = one(on_slope(quarters=[q], feature=[wall])).frost
    # The middle lies 3 m behind the front: 13 m up the slope at 10 %.
    assert frost.depth_m == pytest.approx(2 - 1.3, abs=0.01)
    assert (frost.dam, frost.perches_in_it) == ("Wall", ("low",))


@pytest.mark.parametrize(
    "feature",
    [
        [],
        [{"name": "W", "kind": "wall", "line_m": [[-90, -30], [90, -30]], "height_m": 2}],
        [{"name": "W", "kind": "wall", "line_m": [[-2, -10], [2, -10]], "height_m": 2}],
        [{"name": "W", "kind": "wall", "line_m": [[-90, 20], [90, 20]], "height_m": 2}],
        [hedge(line_m=[[-90, -10], [90, -10]], porosity=0.6)],
    ],
    ids=["none", "far below", "short", "above", "open"],
)
def test_nothing_dams_cold_air_that_can_run_off(feature):
    assert one(on_slope(quarters=[quarters(at_m=[0, 0])], feature=feature)).frost is None


def test_level_ground_tells_no_frost_hollow():
    assert all(q.frost is None for q in wind_report(YARD).quarters)


# --- Odd yards -----------------------------------------------------------------------------


def test_a_yard_without_wind_or_climate_tells_shares_and_no_speeds():
    told = wind_report(yard(quarters=[quarters(fitting=[perch()])], feature=[hedge()]))
    (q,) = told.quarters
    assert (told.wind.known, told.wind.mean_m_s, told.rain_mm_year) == ("unknown", None, None)
    assert q.exposure > 0
    assert {(s.mean_into_m_s, s.driving_rain_l_m2, s.strong_h_year) for s in q.sides} == {
        (None, None, None)
    }
    assert "neither [[wind_rose]] nor [climate]" in told.assumptions[0]


def test_a_rose_of_calm_and_a_rose_of_stillness_blow_nowhere():
    for rose in (
        [{"from_deg": 0, "share_pct": 0, "speed_m_s": 3}],
        [{"from_deg": 180, "share_pct": 50, "speed_m_s": 0}],
    ):
        told = one(yard(quarters=[quarters()], wind_rose=rose))
        assert np.isfinite(told.exposure)


def test_an_empty_yard_and_a_closed_box():
    assert wind_report(yard()).quarters == ()
    told = one(yard(quarters=[quarters(faces={"front": BOARDED})], climate=CLIMATE))
    assert (told.exposure, told.exposure_word, told.worst_side) == (0, "closed to the wind", None)


def test_units_of_a_row_stand_against_each_other():
    units = [quarters("A", at_m=[0, 0]), quarters("B", at_m=[5.1, 0])]
    of = yard(quarters=units, row=[{"name": "Row", "quarters": ["A", "B"]}], climate=CLIMATE)
    right = side(one(of, "A"), "right")
    assert (right.joined, right.mean_into_m_s, right.exposure) == ("B", 0, 0)
    assert side(one(of, "B"), "left").joined == "A"


def test_a_unit_built_against_the_barn_meets_no_wind_there():
    barn = {
        "name": "Barn", "kind": "building", "outline_m": [[-1, 6.05], [6, 6.05], [6, 15], [-1, 15]],
        "height_m": 6,
    }  # fmt: skip
    told = one(yard(quarters=[quarters(at_m=[0, 0])], feature=[barn], climate=CLIMATE))
    assert side(told, "back").joined == "Barn"


def test_a_hundred_units_are_told():
    many = [quarters(f"Q{n}", at_m=[n % 10 * 12, n // 10 * 12]) for n in range(100)]
    told = wind_report(yard(quarters=many, wind_rose=SOUTH_WEST, climate=CLIMATE))
    assert len(told.quarters) == 100
    windward = next(q for q in told.quarters if q.name == "Q0")
    within = next(q for q in told.quarters if q.name == "Q55")
    assert within.exposure < windward.exposure


def test_quarters_that_are_not_there_are_named():
    with pytest.raises(Problem, match="no quarters 'Loft 9' in 'Alder Close'; there are: "):
        wind_report(YARD, ["Loft 9"])


# --- Structures ----------------------------------------------------------------------------


def test_shelter_lowers_no_load():
    """A frame stands in the wind of [loads], whatever grows beside it."""
    bare = YARD.model_copy(update={"wind_rose": (), "climate": None})
    q = YARD.quarters[0]
    grown = Yard.model_validate(
        YARD.model_dump()
        | {"feature": [*YARD.model_dump()["feature"], hedge(height_m=9, porosity=0.4)]}
    )
    assert actions_on(YARD, q) == actions_on(bare, q) == actions_on(grown, q)


def test_nothing_that_builds_reads_shelter_or_air():
    """The wind of comfort stays out of `build`, by name."""
    src = Path(__file__).parents[2] / "src" / "mewswright" / "build"
    comfort = ("ground.wind", "ground.rose", "ground.driving_rain", "ground.cold_air")
    for path in src.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                assert not any(f"mewswright.{one}" in node.module for one in comfort), path


def test_shelter_of_a_spot_in_the_open_is_none():
    lee = Shelter(yard(quarters=[quarters()])).lee([(500.0, 500.0, 1.0)])
    assert lee.left.min() > 0.99
