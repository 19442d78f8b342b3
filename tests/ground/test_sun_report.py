"""Sun and shade of quarters over a year: all kinds of yards, places and questions.

Outside: hours of sun that are possible (the sun is up half the year everywhere, and the air adds
some; any almanac); clear hours at a perch by another count, its times of sun.
"""

import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.ground.sun_report import sun_report
from mewswright.model.problem import Problem
from support.yards import perch, quarters, yard

SIDES = ("front", "right", "back", "left")
ALDER_CLOSE = str(files("mewswright") / "examples" / "alder-close.yard.toml")
PLACE = {
    "name": "Yard", "latitude_deg": 47, "longitude_deg": 7, "altitude_m": 500,
    "time_zone": "Europe/Zurich",
}  # fmt: skip


def at(**more):
    return {"yard": PLACE | more}


def room(**more):
    return quarters(fitting=[perch()], **more)


def seconds(clock):
    hour, minute, second = map(int, clock.split(":"))
    return hour * 3600 + minute * 60 + second


def test_the_json_of_the_demo_tells_every_spot_hour_and_time():
    done = CliRunner().invoke(app, ["sun", ALDER_CLOSE, "--quarters", "Long loft", "--json"])
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    (loft,) = told["quarters"]
    assert {spot["kind"] for spot in loft["spots"]} >= {"perch", "floor", "back_wall"}
    for spot in loft["spots"]:
        hours = spot["hours_by_month_and_hour"]
        assert [len(line) for line in hours] == [24] * 12
        assert [sum(line) for line in hours] == pytest.approx(spot["hours_by_month"], abs=0.15)
        days = 365 if spot["kind"] in ("perch", "bath") else 12
        assert len(spot["sun_times"]) == days
        for day in spot["sun_times"].values():
            flat = [seconds(clock) for one in day for clock in one]
            assert flat == sorted(flat)
    assert told["error"]["rays_differing"] == 0
    assert told["error"]["rays_asked"] > 1000
    assert "NREL/TP-560-34302" in told["method"]
    assert {choice["month"] for choice in loft["choices"]} == set(range(1, 13))


@pytest.mark.parametrize(
    "where",
    [
        {}, {"latitude_deg": 0, "longitude_deg": -78, "time_zone": "America/Guayaquil"},
        {"latitude_deg": -34, "longitude_deg": 151, "time_zone": "Australia/Sydney"},
        {"latitude_deg": 69.6, "longitude_deg": 19, "time_zone": "Europe/Oslo"},
        {"latitude_deg": -17, "longitude_deg": 179.9, "time_zone": "Pacific/Fiji"},
        {"latitude_deg": 90, "longitude_deg": 0, "time_zone": "UTC"},
        {"latitude_deg": -90, "longitude_deg": -180, "time_zone": "UTC"},
    ],
)  # fmt: skip
def test_a_free_perch_has_all_the_sun_there_is_anywhere_on_earth(where):
    """A perch on a pitch; half the year and the air's share of it, at the poles too."""
    told = sun_report(yard(quarters=[room(kind="pitch")], **at(**where)), step_min=30)
    (one,) = told.quarters
    spot = next(s for s in one.spots if s.kind == "perch")
    assert spot.hours_year == pytest.approx(sum(told.possible_h_by_month), abs=1)
    assert 4330 < spot.hours_year < 4700  # 179 days of sun in the far south, 186 in the north
    timed = sum(
        seconds(gone) - seconds(come) for day in spot.sun_times.values() for come, gone in day
    )
    assert timed / 3600 == pytest.approx(spot.hours_year, rel=0.005, abs=2)
    assert told.error.rays_differing == 0


def test_a_ridge_takes_the_morning_away():
    free = sun_report(yard(quarters=[room(kind="pitch")], **at()), step_min=30)
    ridge = [[0, 25], [179, 25], [180, 0], [359, 0]]
    hidden = sun_report(yard(quarters=[room(kind="pitch")], **at(horizon_deg=ridge)), step_min=30)
    assert hidden.horizon_deg[0] == (0, 25)
    assert sum(hidden.possible_h_by_month) < 0.8 * sum(free.possible_h_by_month)
    days = [one.quarters[0].spots[0].sun_times["06-21"] for one in (free, hidden)]
    assert seconds(days[1][0][0]) > seconds(days[0][0][0]) + 3600
    assert abs(seconds(days[1][-1][1]) - seconds(days[0][-1][1])) <= 1


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([[10, 5], [10, 6]], "horizon_deg gives bearing 10 more than once"),
        ([[10, 95]], "less than 90"),
        ([[400, 5]], "less than 360"),
    ],
)
def test_a_horizon_that_cannot_be_is_refused(pairs, said):
    with pytest.raises(ValueError, match=said):
        yard(**at(horizon_deg=pairs))


def test_a_yard_without_quarters_tells_what_sun_there_is():
    told = sun_report(yard(**at()))
    assert told.quarters == ()
    assert told.error.step_h_year_most is None
    assert sum(told.possible_h_by_month) > 4300


def test_a_shelter_open_all_round_and_one_without_fittings():
    bare = quarters(kind="shelter", faces={side: {"infill": "open"} for side in SIDES})
    (one,) = sun_report(yard(quarters=[bare], **at()), step_min=60).quarters
    assert one.words == ("no perch, so no bird's sun was asked for",)
    assert one.choices == ()
    assert sum(one.floor_h_by_month) > 0


def test_a_hundred_units():
    sizes = {"width_mm": 2000, "depth_mm": 2500}
    many = [room(name=f"Unit {n}", at_m=[n % 10 * 4, n // 10 * 5], **sizes) for n in range(100)]
    told = sun_report(yard(quarters=many, **at()), step_min=60)
    assert len(told.quarters) == 100
    assert told.error.rays_differing == 0
    south, north = (told.quarters[n].floor_h_by_month[11] for n in (5, 95))
    assert south >= north  # a row in front takes winter sun away


def test_quarters_asked_for_twice_are_told_once():
    told = sun_report(yard(quarters=[room()], **at()), ("North loft", "North loft"), 60)
    assert len(told.quarters) == 1


def test_quarters_that_are_not_there_are_named():
    with pytest.raises(Problem, match="North lift"):
        sun_report(yard(quarters=[room()], **at()), ("North lift",))
    done = CliRunner().invoke(app, ["sun", ALDER_CLOSE, "--quarters", "Long lift", "--json"])
    assert done.exit_code == 2
    assert "Long lift" in done.output


@pytest.mark.parametrize("step", [7, 0, -5, 61])
def test_a_step_that_does_not_divide_the_hour_is_refused(step):
    done = CliRunner().invoke(app, ["sun", ALDER_CLOSE, f"--step-min={step}", "--json"])
    assert done.exit_code == 2
    assert f"the step must divide an hour: 1 to 60 min, got {step}" in " ".join(done.output.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--lat=91", "--lon=0"], "latitude must be -90 to 90 deg, got 91"),
        (["--lat=nan", "--lon=0"], "latitude must be -90 to 90 deg, got nan"),
        (["--lat=0", "--lon=-181"], "longitude must be -180 to 180 deg, got -181"),
        (["--lat=0", "--lon=0", "--alt=90000"], "altitude must be -500 to 9000 m, got 90000"),
        (["--lat=0", "--lon=0", "--alt=inf"], "altitude must be -500 to 9000 m, got inf"),
    ],
)
def test_a_place_that_is_not_on_earth_is_refused(words, said):
    done = CliRunner().invoke(app, ["sun", "--at", "2024-06-21T12:00:00Z", *words, "--json"])
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())


def test_a_yard_too_high_for_air_is_refused_by_its_height():
    with pytest.raises(ValueError, match="altitude must be -500 to 9000 m, got 12000"):
        sun_report(yard(quarters=[room()], **at(altitude_m=12000)))
