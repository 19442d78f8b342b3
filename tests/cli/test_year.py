"""`mewswright year`, as a keeper and as a script call it."""

import json
from importlib.resources import files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

DEMO = str(files("mewswright.examples") / "alder-close.yard.toml")


def run(*words):
    return CliRunner().invoke(app, ["year", DEMO, *map(str, words)])


def test_the_json_has_the_keys_that_scripts_read():
    done = run("--from", "2026-11-30", "--weeks", 6, "--json")
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert {
        "stays", "objective", "proven", "seconds", "moves", "cleanings", "conflict",
    } <= set(told)  # fmt: skip
    assert {"bird", "quarters", "mode", "from", "to"} <= set(told["stays"][0])
    assert set(told["objective"]) == {"total", "bound", "parts"}
    assert sum(told["objective"]["parts"].values()) == told["objective"]["total"]
    assert told["conflict"] is None
    assert told["from"] == "2026-11-30"
    assert told["to"] == "2027-01-10"


def test_people_read_the_plan_by_bird_and_by_quarters():
    done = run("--from", "2027-02-22", "--to", "2027-03-07")
    assert done.exit_code == 0, done.output
    assert "By bird\n" in done.stdout
    assert "    2027-03-01 to 2027-03-07  Isolation, loose, kept apart" in done.stdout
    assert "Pitches are for the day and are not planned" in done.stdout


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--from", "tomorrow"), "--from 'tomorrow' is no day: write it as 2027-03-01"),
        (("--from", "2027-03-01", "--to", "2027-02-01"),
         "--to 2027-02-01 lies before the first day, 2027-03-01: give a later day"),
        (("--from", "2027-03-01", "--weeks", 0), "a plan of 0 weeks: give 1 to 1100"),
        (("--from", "1066-10-14"), "a plan from 1066-10-14: begin between 1900 and 2200, as birds "
         "are hatched"),
        (("--seconds", 0), "--seconds is 0: give more than 0, and a day at the most"),
        (("--from", "2027-03-01", "--lock", "Moth@Attic"),
         "no quarters 'Attic' in 'Alder Close'; there are: Long loft, North loft, Owl loft, Barn "
         "loft, Herb shelter, Orchard shelter, Chalk shelter, Slate shelter, Isolation, First "
         "pitch, Second pitch, Third pitch, Fourth pitch"),
    ],
)  # fmt: skip
def test_bad_words_are_refused_with_what_to_write(words, says):
    done = run(*words)
    assert done.exit_code == 2
    assert done.stderr.strip() == f"error: {says}"
