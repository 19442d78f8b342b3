"""`mewswright takeoff` from outside, on the demo yard."""

import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

DEMO = str(files("mewswright.examples") / "alder-close.yard.toml")
PART_KEYS = {
    "mark", "kind", "what", "place", "material", "section", "length_mm", "width_mm",
    "cut_start_deg", "cut_end_deg", "count", "amount", "unit", "packs", "sawn", "note",
}  # fmt: skip


def run(*words):
    return CliRunner().invoke(app, ["takeoff", *words])


@pytest.fixture(scope="module")
def long_loft():
    done = run(DEMO, "Long loft", "--json")
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


def test_the_report_has_its_keys(long_loft):
    assert set(long_loft) == {
        "yard", "quarters", "parts", "panels", "setting_out", "floor_load", "cut_plan",
        "cut_plan_unpriced", "cut_plan_refused", "sheet_plan", "sheet_plan_refused",
        "rack", "order", "cost", "assumptions", "cautions",
    }  # fmt: skip
    assert (long_loft["yard"], long_loft["quarters"]) == ("Alder Close", "Long loft")
    assert all(set(part) == PART_KEYS for part in long_loft["parts"])
    marks = [part["mark"] for part in long_loft["parts"]]
    assert len(marks) == len(set(marks))


def test_the_cut_plan_saws_every_sawn_part(long_loft):
    assert long_loft["cut_plan_refused"] == []
    sawn = {}
    for section in long_loft["cut_plan"]["sections"]:
        for pattern in section["patterns"]:
            for cut in pattern["cuts"]:
                sawn[cut["mark"]] = sawn.get(cut["mark"], 0) + cut["count"] * pattern["count"]
    assert sawn == {part["mark"]: part["count"] for part in long_loft["parts"] if part["sawn"]}


def test_the_text_names_parts_money_and_cautions():
    done = run(DEMO, "Herb shelter")
    assert done.exit_code == 0, done.stderr
    assert "x rafter, roof: 45x195" in done.stdout
    assert "Shopping list [CHF]" in done.stdout
    assert "hold: braced before roofing" in done.stdout
    assert "the local code and a licensed engineer decide" in done.stdout


def test_a_pitch_is_refused():
    done = run(DEMO, "First pitch")
    assert done.exit_code == 2
    assert done.stderr == (
        "error: 'First pitch' is a pitch, and a pitch has no frame: ask for a loft, shelter or "
        "isolation\n"
    )


def test_unknown_quarters_are_refused_and_the_known_are_named():
    done = run(DEMO, "Long lofd")
    assert done.exit_code == 2
    assert done.stderr.startswith(
        "error: no quarters 'Long lofd' in 'Alder Close'; there are: Long loft, "
    )
