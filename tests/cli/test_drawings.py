"""`mewswright drawings`: files of one quarters in a folder."""

import io
import json
from importlib.resources import files

import ezdxf
import pytest
from typer.testing import CliRunner

from mewswright.cli import app

DEMO = str(files("mewswright.examples") / "alder-close.yard.toml")
SHEETS = {
    "plan", "front", "back", "left", "right", "section", "cross", "roof", "foundation",
    "perches", "door-1", "hatch-1", "bath-1", "exploded", "framing-front", "framing-back",
    "framing-left", "framing-right", "sheets-osb3-18", "sheets-osb3-9",
}  # fmt: skip


def run(*words):
    return CliRunner().invoke(app, ["drawings", *map(str, words)])


def test_all_sheets_and_the_model_are_written_and_named(tmp_path):
    done = run(DEMO, "Isolation", "--out", tmp_path)
    assert done.exit_code == 0, done.output
    written = {path.name for path in tmp_path.iterdir()}
    assert written == {f"isolation-{s}.{end}" for s in SHEETS for end in ("svg", "dxf")} | {
        "isolation.glb"
    }
    assert done.output.split() == [str(tmp_path / name) for name in sorted(written)]


@pytest.mark.parametrize("kind", ["svg", "dxf", "glb"])
def test_one_format_alone(tmp_path, kind):
    assert run(DEMO, "Isolation", "--out", tmp_path, "--format", kind).exit_code == 0
    assert {path.suffix for path in tmp_path.iterdir()} == {f".{kind}"}


def test_the_files_are_those_of_the_pack(tmp_path):
    """A sheet that went to the joiner alone is the sheet of the pack, byte for byte."""
    assert run(DEMO, "Isolation", "--out", tmp_path / "alone").exit_code == 0
    words = ["pack", DEMO, "--quarters", "Isolation", "--out", str(tmp_path / "pack")]
    assert CliRunner().invoke(app, words).exit_code == 0
    for path in (tmp_path / "alone").iterdir():
        assert path.read_bytes() == (tmp_path / "pack" / path.name).read_bytes(), path.name


def test_a_pitch_has_a_plan_alone(tmp_path):
    assert run(DEMO, "First pitch", "--out", tmp_path).exit_code == 0
    assert {path.name for path in tmp_path.iterdir()} == {
        "first-pitch-plan.svg", "first-pitch-plan.dxf",
    }  # fmt: skip
    drawn = ezdxf.read(io.StringIO((tmp_path / "first-pitch-plan.dxf").read_text("utf-8")))
    assert drawn.audit().errors == []


def test_a_pitch_has_no_parts(tmp_path):
    done = run(DEMO, "First pitch", "--out", tmp_path / "x", "--format", "glb")
    assert done.exit_code == 2
    assert done.output == (
        "error: 'First pitch' is a pitch and has no parts to model: ask for svg or dxf\n"
    )
    assert not (tmp_path / "x").exists()


def test_unknown_quarters_are_refused(tmp_path):
    done = run(DEMO, "Nowhere", "--out", tmp_path)
    assert done.exit_code == 2
    assert done.output.startswith("error: no quarters 'Nowhere' in 'Alder Close'; there are: ")


def test_an_unknown_format_is_refused(tmp_path):
    assert run(DEMO, "Isolation", "--out", tmp_path, "--format", "pdf").exit_code == 2


def test_the_model_names_every_part(tmp_path):
    assert run(DEMO, "Isolation", "--out", tmp_path, "--format", "glb").exit_code == 0
    content = (tmp_path / "isolation.glb").read_bytes()
    size = int.from_bytes(content[12:16], "little")
    names = [node["name"] for node in json.loads(content[20 : 20 + size])["nodes"]]
    assert {"P1", "R1", "DK1", "MB1", "FX1"} <= set(names)
