"""The published JSON Schema of a yard file: the one that the models give, and it holds files."""

import json
import tomllib
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.model.yard_file import yard_schema

ROOT = Path(__file__).parents[2]
PUBLISHED = ROOT / "schema" / "mewswright-yard.schema.json"
DEMO = (files("mewswright.examples") / "alder-close.yard.toml").read_text(encoding="utf-8")


def demo():
    """The demo yard as JSON has it: a date is text there."""
    return json.loads(json.dumps(tomllib.loads(DEMO), default=date.isoformat))


def faults(data):
    found = Draft202012Validator(yard_schema()).iter_errors(data)
    return [("/".join(map(str, fault.absolute_path)), fault.validator) for fault in found]


def test_the_command_prints_the_published_schema():
    done = CliRunner().invoke(app, ["schema"])
    assert done.exit_code == 0, done.output
    again = "run `mewswright schema --out schema/mewswright-yard.schema.json`"
    assert done.stdout == PUBLISHED.read_text(encoding="utf-8"), again


def test_the_command_writes_the_same_file(tmp_path):
    out = tmp_path / "yard.schema.json"
    done = CliRunner().invoke(app, ["schema", "--out", str(out)])
    assert (done.exit_code, done.stdout) == (0, "")
    assert out.read_bytes() == PUBLISHED.read_bytes()


def test_a_place_that_is_not_there_is_refused(tmp_path):
    done = CliRunner().invoke(app, ["schema", "--out", str(tmp_path / "no" / "yard.json")])
    assert done.exit_code == 2
    assert "cannot be written" in done.stderr


def test_the_published_schema_is_one():
    Draft202012Validator.check_schema(json.loads(PUBLISHED.read_text(encoding="utf-8")))


def test_the_demo_yard_holds():
    assert faults(demo()) == []


def test_every_facility_of_the_published_guidance_holds():
    yards = sorted((ROOT / "tests" / "published" / "yards").glob("*.yard.toml"))
    assert yards
    for file in yards:
        data = tomllib.loads(file.read_text(encoding="utf-8"))
        assert faults(json.loads(json.dumps(data, default=date.isoformat))) == [], file.name


def test_there_is_no_null_for_toml_has_none():
    assert '"null"' not in PUBLISHED.read_text(encoding="utf-8")


def test_a_price_is_a_number_of_either_kind():
    data = demo()
    data["stock"][0]["price"], data["stock"][1]["price"] = 9, 9.5
    assert faults(data) == []


@pytest.mark.parametrize(
    ("change", "place", "rule"),
    [
        (lambda d: d["bird"][1].update(mas_g=610), "bird/1", "additionalProperties"),
        (lambda d: d["bird"][1].update(sex="male"), "bird/1/sex", "enum"),
        (lambda d: d["bird"][1].update(mass_g="heavy"), "bird/1/mass_g", "type"),
        (lambda d: d["bird"][1].pop("species"), "bird/1", "required"),
        (lambda d: d["quarters"][0].update(width_mm=0), "quarters/0/width_mm", "exclusiveMinimum"),
        (lambda d: d["quarters"][0]["fitting"][0].update(kind="roost"), "quarters/0/fitting/0",
         "oneOf"),
        (lambda d: d["climate"]["rain_mm"].pop(), "climate/rain_mm", "minItems"),
        (lambda d: d.update(format=2), "format", "const"),
    ],
)  # fmt: skip
def test_a_slip_of_the_pen_is_marked_at_its_place(change, place, rule):
    data = demo()
    change(data)
    assert faults(data) == [(place, rule)]
