"""`mewswright pack` in a folder: whole or not at all."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.cli.pack import write_whole
from mewswright.model.problem import Problem

BARE = """format = 1
[yard]
name = "Bare"
latitude_deg = 47
longitude_deg = 7
altitude_m = 400
time_zone = "Europe/Zurich"
"""


@pytest.fixture
def yard_file(tmp_path):
    path = tmp_path / "bare.yard.toml"
    path.write_text(BARE, encoding="utf-8")
    return path


def run(*words):
    return CliRunner().invoke(app, ["pack", *map(str, words)])


def test_a_pack_is_written_into_a_new_folder(yard_file, tmp_path):
    out = tmp_path / "deep" / "pack"
    result = run(yard_file, "--out", out)
    assert result.exit_code == 0, result.output
    assert sorted(p.name for p in out.iterdir()) == ["findings.csv", "pack.json", "pack.pdf"]
    assert result.output == f"3 files in {out}; start with {out / 'pack.pdf'}\n"
    assert (out / "pack.pdf").read_bytes().startswith(b"%PDF-1.7")


def test_a_second_pack_takes_the_place_of_the_first(yard_file, tmp_path):
    out = tmp_path / "pack"
    assert run(yard_file, "--out", out).exit_code == 0
    first = {p.name: p.read_bytes() for p in out.iterdir()}
    assert run(yard_file, "--out", out).exit_code == 0
    assert {p.name: p.read_bytes() for p in out.iterdir()} == first


def test_files_of_an_earlier_pack_are_left_and_named(yard_file, tmp_path):
    out = tmp_path / "pack"
    out.mkdir()
    (out / "takeoff-old.csv").write_text("mark\n", encoding="utf-8")
    (out / "mine.txt").write_text("mine", encoding="utf-8")
    listed = ["takeoff-old.csv", "gone.csv", "../bare.yard.toml", 3]
    (out / "pack.json").write_text(json.dumps({"files": listed}), encoding="utf-8")
    result = run(yard_file, "--out", out)
    assert result.exit_code == 0
    assert f"left from an earlier pack, and not of this one: {out / 'takeoff-old.csv'}" in (
        result.output
    )
    assert result.output.count("left from") == 1
    assert (out / "mine.txt").read_text(encoding="utf-8") == "mine"


def test_a_file_in_the_way_is_refused(yard_file, tmp_path):
    out = tmp_path / "taken"
    out.write_text("keep me", encoding="utf-8")
    result = run(yard_file, "--out", out)
    assert result.exit_code == 2
    assert (
        result.output == f"error: --out {out}: {out} is a file, not a folder: name another folder\n"
    )
    assert out.read_text(encoding="utf-8") == "keep me"


def test_a_file_above_the_folder_is_refused(yard_file, tmp_path):
    result = run(yard_file, "--out", yard_file / "pack")
    assert result.exit_code == 2
    assert f"{yard_file} is a file, not a folder" in result.output


def test_unknown_quarters_end_with_2_and_write_nothing(yard_file, tmp_path):
    out = tmp_path / "pack"
    result = run(yard_file, "--out", out, "--quarters", "Loft")
    assert result.exit_code == 2
    assert "error: no quarters 'Loft' in 'Bare'; there are: none at all" in result.output
    assert not out.exists()


def test_a_pack_that_cannot_be_written_leaves_the_old_one_whole(tmp_path):
    write_whole(tmp_path, {"a.csv": b"old", "b.csv": b"old"})
    (tmp_path / "c.csv").mkdir()
    with pytest.raises(Problem, match=r"c\.csv is a folder: move it away$"):
        write_whole(tmp_path, {"a.csv": b"new", "b.csv": b"new", "c.csv": b"new"})
    assert (tmp_path / "a.csv").read_bytes() == b"old"
    assert (tmp_path / "b.csv").read_bytes() == b"old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.csv", "b.csv", "c.csv"]


def test_a_full_disk_is_told_and_leaves_no_crumbs(tmp_path, monkeypatch):
    write_whole(tmp_path, {"a.csv": b"old"})

    def full(file):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(Problem, match=r"cannot be written \(No space left on device\)"):
        write_whole(tmp_path, {"a.csv": b"new"})
    assert [p.name for p in tmp_path.iterdir()] == ["a.csv"]
    assert (tmp_path / "a.csv").read_bytes() == b"old"


def test_pack_json_takes_its_place_last(tmp_path, monkeypatch):
    """Whoever sees the new pack.json sees the new pack."""
    order = []
    replace = Path.replace
    monkeypatch.setattr(
        Path, "replace", lambda self, to: (order.append(to.name), replace(self, to))[1]
    )
    write_whole(tmp_path, {"pack.json": b"{}", "z.csv": b"", "pack.pdf": b""})
    assert order == ["pack.pdf", "z.csv", "pack.json"]
