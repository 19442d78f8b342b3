"""`mewswright place` from the terminal: its JSON, its words and how it ends."""

import json
from importlib.resources import as_file, files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app

run = CliRunner()


@pytest.fixture
def alder():
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        yield str(path)


def test_json_holds_plans_with_pieces_parts_and_a_bound(alder):
    done = run.invoke(app, ["place", alder, "--new", "shelter:1:2500x2500x2500x2300", "--move",
                            "Isolation", "--seconds", "10", "--json"])  # fmt: skip
    assert done.exit_code == 0, done.output
    report = json.loads(done.output)
    assert {p["name"] for p in report["plans"][0]["pieces"]} == {"New shelter 1", "Isolation"}
    assert report["bound"] <= report["score"] == report["plans"][0]["score"]
    assert all(plan["harm"] == 0 for plan in report["plans"])


def test_why_alone_needs_no_search(alder):
    done = run.invoke(app, ["place", alder, "--why", "4,10"])
    assert done.exit_code == 0, done.output
    assert "New loft 1 cannot stand there" in done.output
    assert "m from Barn, 0.82 m asked" in done.output


def test_no_room_ends_with_1_and_tells_what_would_help(alder):
    done = run.invoke(app, ["place", alder, "--new", "loft:9", "--seconds", "3"])
    assert done.exit_code == 1, done.output
    assert "No plan: no place was found for" in done.output


@pytest.mark.parametrize(("options", "said"), [
    (["--new", "loft:1", "--why", "here"], "error: --why is 'here': give metres east and north"),
    (["--move", "Slate"], "error: no quarters 'Slate' in 'Alder Close'"),
    ([], "error: nothing to place"),
])  # fmt: skip
def test_bad_input_ends_with_2(alder, options, said):
    done = run.invoke(app, ["place", alder, *options])
    assert done.exit_code == 2
    assert said in done.stderr
