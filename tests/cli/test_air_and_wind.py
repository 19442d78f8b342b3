"""`mewswright air` and `mewswright wind` as a keeper types them."""

import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

DEMO = str(files("mewswright") / "examples" / "alder-close.yard.toml")
BARE = """format = 1
[yard]
name = "Bare"
latitude_deg = -34
longitude_deg = 18.5
altitude_m = 20
time_zone = "Africa/Johannesburg"
"""


def ask(*words):
    return CliRunner().invoke(app, [str(word) for word in words])


def bare(tmp_path):
    path = tmp_path / "bare.yard.toml"
    path.write_text(BARE, encoding="utf-8")
    return path


@pytest.mark.parametrize("command", ["air", "wind"])
def test_the_answer_comes_as_words_and_as_json(command):
    told = ask(command, DEMO, "--quarters", "Owl loft")
    assert told.exit_code == 0, told.output
    assert "Owl loft" in told.stdout
    assert "Assumed" in told.stdout
    answer = json.loads(ask(command, DEMO, "--quarters", "Owl loft", "--json").stdout)
    assert [q["name"] for q in answer["quarters"]] == ["Owl loft"]
    assert answer["yard"] == "Alder Close"


@pytest.mark.parametrize("command", ["air", "wind"])
def test_quarters_that_are_not_there_are_refused(command):
    done = ask(command, DEMO, "--quarters", "Loft 9")
    assert done.exit_code == 2
    assert done.stderr.startswith("error: no quarters 'Loft 9' in 'Alder Close'; there are: ")


def test_an_empty_yard_has_wind_and_no_air(tmp_path):
    path = bare(tmp_path)
    wind = json.loads(ask("wind", path, "--json").stdout)
    assert (wind["quarters"], wind["wind"]["known"]) == ([], "unknown")
    air = ask("air", path)
    assert air.exit_code == 2
    assert air.stderr.startswith("error: 'Bare' has no [climate], and no weather is given")


def test_a_weather_file_is_read_and_a_bad_one_refused(tmp_path):
    rows = ["time,temp_c,humidity_pct,wind_m_s,rain_mm"]
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    rows += [
        f"2025-{m:02}-{d:02}T{h:02}:00,{10 + h / 2},70,3,0"
        for m, count in enumerate(days, start=1)
        for d in range(1, count + 1)
        for h in range(24)
    ]
    path = tmp_path / "year.csv"
    path.write_text("\n".join(rows), encoding="utf-8")
    done = ask("air", DEMO, "--quarters", "First pitch", "--weather", path, "--json")
    assert done.exit_code == 0, done.output
    weather = json.loads(done.stdout)["weather"]
    assert (weather["kind"], weather["source"], weather["seed"]) == ("csv", "year.csv", None)
    assert (weather["min_c"], weather["max_c"]) == (10, 21.5)
    path.write_text("\n".join(rows[:100]), encoding="utf-8")
    done = ask("air", DEMO, "--weather", path)
    assert done.exit_code == 2
    assert done.stderr == (
        "error: year.csv has 99 hours: a year has 8760, or 8784 with a 29 February\n"
    )


def test_a_weather_file_that_is_not_there_is_refused(tmp_path):
    done = ask("air", DEMO, "--weather", tmp_path / "none.epw")
    assert done.exit_code == 2
    assert done.stderr.startswith("error: cannot read ")
    assert ask("air", DEMO, "--weather", tmp_path).exit_code == 2


def test_a_binary_file_is_refused(tmp_path):
    path = tmp_path / "year.epw"
    path.write_bytes(bytes(range(256)))
    assert "is no text" in ask("air", DEMO, "--weather", path).stderr


def test_a_seed_below_nought_is_refused():
    assert ask("air", DEMO, "--seed", "-1").exit_code == 2
