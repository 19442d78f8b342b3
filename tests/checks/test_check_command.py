"""`mewswright check`: exit codes and the JSON contract."""

import json

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

HEAD = """\
format = 1
[yard]
name = "Alder Close"
latitude_deg = 47.12
longitude_deg = 6.88
altitude_m = 640
time_zone = "Europe/Zurich"
standards = ["ch-tschv"]
[[bird]]
name = "Flint"
species = "peregrine_falcon"
[[stay]]
bird = "Flint"
quarters = "North loft"
mode = "loose"
[[quarters]]
name = "North loft"
kind = "loft"
at_m = [0, 0]
facing_deg = 60
width_mm = {width}
depth_mm = 5000
front_height_mm = 3000
back_height_mm = 3000
roof = {{}}
[quarters.faces.front]
infill = "boarded"
[[quarters.fitting]]
kind = "perch"
name = "shelf"
form = "flat"
at_mm = [2000, 2500]
height_mm = 1500
length_mm = 1000
width_mm = 200
cover = "turf"
"""


@pytest.fixture
def check(tmp_path):
    path = tmp_path / "alder-close.yard.toml"

    def run(*options, width=4000):
        path.write_text(HEAD.format(width=width), encoding="utf-8")
        return CliRunner().invoke(app, ["check", str(path), *options])

    return run


def test_json_keeps_its_contract(check):
    done = check("--json", width=3999)
    given = json.loads(done.output)
    assert list(given) == ["yard", "standards", "findings", "counts", "on", "scenario"]
    assert given["scenario"] is None
    assert list(given["counts"]) == ["harm", "short", "mind", "sound"]
    assert list(given["findings"][0]) == [
        "code", "status", "quarters", "bird", "fitting", "measured", "limit", "why", "remedy",
        "sources",
    ]  # fmt: skip
    area = next(f for f in given["findings"] if f["code"] == "S101")
    assert area["status"] == "harm"
    assert area["measured"] == {"value": pytest.approx(19.995), "unit": "m2"}
    assert area["limit"] == {"value": 20, "unit": "m2"}
    assert set(area["sources"][0]) == {"name", "locator", "how_known"}
    assert done.exit_code == 1
    for status in given["counts"]:
        assert given["counts"][status] == sum(f["status"] == status for f in given["findings"])


def test_exit_0_without_harm(check):
    done = check("--standard", "dk", "--json", width=3000)
    given = json.loads(done.output)
    assert given["standards"] == ["dk"]
    assert [f for f in given["findings"] if f["status"] == "harm"] == []
    assert done.exit_code == 0


def test_text_names_code_place_and_remedy(check):
    done = check(width=3999)
    assert "✕ S101 North loft, Flint: harm, 19.995 m² against 20 m²" in done.output
    assert "make it 2 mm deeper or 1 mm wider" in done.output
    assert "sound, " not in done.output.rpartition("\n")[0].splitlines()[0]
    assert "✓" in check("--all").output


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--quarters", "Attic"], "no quarters 'Attic' in 'Alder Close'; there are: North loft"),
        (["--standard", "ch-tsch"], "no standard 'ch-tsch'"),
    ],
)
def test_exit_2_on_bad_input(check, options, sentence):
    done = check(*options)
    assert done.exit_code == 2
    assert sentence in done.output


def test_only_the_quarters_that_were_asked_for(check):
    given = json.loads(check("--quarters", "North loft", "--json").output)
    assert {f["quarters"] for f in given["findings"]} == {"North loft"}
