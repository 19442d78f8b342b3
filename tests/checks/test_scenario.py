"""What a scenario run assumes, and which checks run in it; and the command for it.

By hand: the climate below has its hottest mean maximum in July, 24 °C, and its coldest mean
minimum in January, -4 °C; ten more and ten less are our judgement.
"""

import json

import pytest
import tomlkit
from typer.testing import CliRunner

from mewswright.checks.registry import catalogue, run_checks
from mewswright.checks.report import report
from mewswright.checks.scenario import SCENARIOS, assume
from mewswright.cli import app
from mewswright.model.problem import Problem
from support.yards import bird, perch, quarters, stay, yard

RISE = (0, 2, 6, 10, 15, 20, 24, 23, 18, 12, 6, 2)
CLIMATE = {
    "source": "made up for tests",
    "mean_temp_c": [value - 2 for value in RISE],
    "mean_daily_min_c": [value - 4 for value in RISE],
    "mean_daily_max_c": list(RISE),
    "rain_mm": [80] * 12, "humidity_pct": [75] * 12, "sun_h": [120] * 12, "wind_m_s": [2] * 12,
}  # fmt: skip


def wind(from_deg, speed_m_s, share_pct=10):
    return {"from_deg": from_deg, "share_pct": share_pct, "speed_m_s": speed_m_s}


def keep(**tables):
    return yard(bird=[bird()], quarters=[quarters(fitting=[perch()])], stay=[stay()], **tables)


@pytest.mark.parametrize(("name", "temp_c", "month"), [("heat", 34, 7), ("frost", -14, 1)])
def test_the_temperature_comes_from_the_climate(name, temp_c, month):
    found = assume(yard(climate=CLIMATE), name)
    assert (found.temp_c, found.month) == (temp_c, month)
    assert "made up for tests" in found.said[0]


@pytest.mark.parametrize(("latitude_deg", "month"), [(47, 7), (-34, 1)])
def test_without_a_climate_the_month_follows_the_hemisphere(latitude_deg, month):
    there = yard()
    holding = there.yard.model_copy(update={"latitude_deg": latitude_deg})
    found = assume(there.model_copy(update={"yard": holding}), "heat")
    assert (found.temp_c, found.month) == (None, month)
    assert "give it, or --temp-c" in found.said[0]


def test_a_given_temperature_goes_before_the_climate():
    assert assume(yard(climate=CLIMATE), "heat", 30).temp_c == 30


def test_the_storm_comes_from_where_the_mean_wind_is_strongest():
    rose = [wind(45, 2, 40), wind(225, 3.6), wind(270, 2.9)]
    assert assume(yard(wind_rose=rose), "storm").storm_from_deg == 225
    assert assume(yard(), "storm").storm_from_deg is None


@pytest.mark.parametrize(
    ("name", "temp_c", "sentence"),
    [
        ("flood", None, "no scenario 'flood'; there are: fire, flu, frost, heat, storm"),
        ("storm", 30, "--temp-c goes with the scenarios heat and frost, not with 'storm'"),
        ("heat", 61, "--temp-c 61 is no temperature of the air: give -60 to 60 °C"),
        (None, 30, "a temperature is assumed for heat or frost alone: give --scenario beside "
         "--temp-c"),
    ],
)  # fmt: skip
def test_what_has_no_place_is_refused(name, temp_c, sentence):
    with pytest.raises(Problem) as refused:
        run_checks(yard(), scenario=name, temp_c=temp_c)
    assert str(refused.value) == sentence


def test_checks_of_a_scenario_run_in_it_alone():
    own = {check.code for check in catalogue() if check.scenario}
    assert own == {check.code for check in catalogue() if check.code[0] == "E"}
    assert {f.code for f in run_checks(keep())} & own == set()
    for name, scenario in SCENARIOS.items():
        told = {code for code, _ in scenario.also}
        mine = {check.code for check in catalogue() if check.scenario == name}
        assert told <= {check.code for check in catalogue()} - own
        assert {f.code for f in run_checks(keep(), scenario=name)} <= told | mine


def test_the_report_says_what_it_assumes():
    found = report(keep(climate=CLIMATE), scenario="frost").scenario
    assert (found.name, found.temp_c) == ("frost", -14)
    assert found.assumed
    assert found.not_looked_at
    assert report(keep()).scenario is None


@pytest.fixture
def check(tmp_path):
    path = tmp_path / "alder-close.yard.toml"
    given = keep(climate=CLIMATE).model_dump(mode="json", exclude_unset=True)
    path.write_text(tomlkit.dumps(given), encoding="utf-8")
    return lambda *options: CliRunner().invoke(app, ["check", str(path), *options])


def test_the_text_opens_with_what_is_assumed(check):
    lines = check("--scenario", "heat").output.splitlines()
    assert lines[0] == "heat: the hottest day"
    assert lines[1].startswith("Assumed: air at 34 °C in the shade")
    assert lines[3].startswith("Not looked at: ")
    assert check().output.startswith(("✕", "▼", "?"))


def test_json_says_the_scenario(check):
    given = json.loads(check("--scenario", "heat", "--temp-c", "26.5", "--json").output)
    assert list(given["scenario"]) == [
        "name", "title", "temp_c", "assumed", "not_looked_at", "also",
    ]  # fmt: skip
    assert given["scenario"]["temp_c"] == 26.5
    assert list(given["scenario"]["also"][0]) == ["code", "reason"]


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--scenario", "flood"], "there are: fire, flu, frost, heat, storm"),
        (["--scenario", "flu", "--temp-c", "30"], "not with 'flu'"),
        (["--temp-c", "30"], "give --scenario beside --temp-c"),
        (["--scenario", "heat", "--compare", "North loft"], "--compare takes every standard"),
    ],
)
def test_exit_2_on_what_has_no_place(check, options, sentence):
    done = check(*options)
    assert done.exit_code == 2
    assert sentence in " ".join(done.output.split())
