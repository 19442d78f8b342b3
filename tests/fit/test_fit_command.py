"""`mewswright fit` from the terminal: its JSON, its words, what it writes and how it ends."""

import json
import shutil
from importlib.resources import as_file, files

import pytest
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.model.yard_file import read_yard

run = CliRunner()


@pytest.fixture
def alder(tmp_path):
    target = tmp_path / "alder.yard.toml"
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        shutil.copy(path, target)
    return target


def test_json_holds_three_layouts_with_their_scores(alder):
    done = run.invoke(app, ["fit", str(alder), "North loft", "--json"])
    assert done.exit_code == 0, done.output
    report = json.loads(done.output)
    assert [layout["rank"] for layout in report["layouts"]] == [1, 2, 3]
    assert report["conflict"] is None
    kinds = [f["kind"] for f in report["layouts"][0]["fittings"]]
    assert kinds.count("bath") == kinds.count("hatch") == 1


@pytest.mark.parametrize("name", ["North loft", "Barn loft"])  # a section begins after the latter
def test_writing_keeps_the_comments_and_the_rest(alder, name):
    before = alder.read_text(encoding="utf-8")
    done = run.invoke(app, ["fit", str(alder), name, "--write"])
    assert done.exit_code == 0, done.output
    assert done.output.endswith(f"The first layout is written into {alder}.\n")
    after = alder.read_text(encoding="utf-8")
    comments = [line for line in before.splitlines() if line.startswith("#")]
    assert [line for line in after.splitlines() if line.startswith("#")] == comments
    yard = read_yard(alder)
    check = run.invoke(app, ["check", str(alder), "--quarters", name, "--json"])
    codes = {f["code"] for f in json.loads(check.output)["findings"] if f["status"] == "harm"}
    assert not {code for code in codes if code[0] in "PLWS"}
    assert len(yard.quarters_named(name).perches) in (2, 3)
    heads = {c: after[after.index(c) :].splitlines()[1] for c in comments if after.count(c) == 1}
    was = {c: before[before.index(c) :].splitlines()[1] for c in heads}
    assert heads == was  # each comment stands before what it stood before


def test_no_layout_ends_with_1_and_says_why(alder):
    text = alder.read_text(encoding="utf-8")
    alder.write_text(
        text.replace("front_height_mm = 2500\nback_height_mm = 2250",
                     "front_height_mm = 1750\nback_height_mm = 1710"),
        encoding="utf-8",
    )  # fmt: skip
    small = run.invoke(
        app, ["fit", str(alder), "Herb shelter", "--standard", "dk", "--seconds", "4"]
    )
    assert small.exit_code == 1, small.output
    assert "No layout: " in small.output
    assert "S103" in small.output


def test_bad_input_ends_with_2(alder):
    done = run.invoke(app, ["fit", str(alder), "Nowhere"])
    assert done.exit_code == 2
    assert done.stderr.startswith("error: no quarters 'Nowhere' in 'Alder Close'; there are: ")


def test_a_seed_below_nothing_ends_with_2(alder):
    done = run.invoke(app, ["fit", str(alder), "North loft", "--seed", "-3"])
    assert done.exit_code == 2
    assert done.stderr == "error: the seed of the search is -3: give 0 or more\n"


@pytest.mark.parametrize("command", ["fit", "mend"])
def test_fittings_in_braces_can_be_written_too(tmp_path, command):
    """TOML 1.0: an array may hold its tables in braces; what is added must stand so as well."""
    of = tmp_path / "braces.yard.toml"
    of.write_text(
        """format = 1 # first
[yard]
name = "Braces"
latitude_deg = 47
longitude_deg = 7
altitude_m = 600
time_zone = "Europe/Zurich"
standards = ["house"]
[[bird]]
name = "Bramble"
species = "harris_hawk"
[[stay]]
bird = "Bramble"
quarters = "Loft"
mode = "loose"
[[quarters]]
name = "Loft"
kind = "loft"
at_m = [0, 0]
facing_deg = 180
width_mm = 4000
depth_mm = 3500
front_height_mm = 2700
back_height_mm = 2500
roof = {}
faces = { front = { infill = "barred", gap_mm = 25, bar_mm = 18 } } # of ash
fitting = [
  { kind = "bath", name = "Tub", at_mm = [900, 900], diameter_mm = 700,\
 depth_mm = 90, rim_height_mm = 120 },
]
""",
        encoding="utf-8",
    )
    done = run.invoke(app, [command, str(of), "Loft", "--write"])
    assert done.exit_code == 0, done.output
    text = of.read_text(encoding="utf-8")
    assert "# first" in text
    assert "# of ash" in text
    assert len(read_yard(of).quarters_named("Loft").perches) >= 2
