"""`mewswright pack` in a folder: whole or not at all."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mewswright.cli import app
from mewswright.cli.writing import write_whole
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


def test_a_file_that_no_pack_made_is_kept_under_another_name(yard_file, tmp_path):
    out = tmp_path / "pack"
    out.mkdir()
    (out / "findings.csv").write_text("my own notes", encoding="utf-8")
    result = run(yard_file, "--out", out)
    assert result.exit_code == 0
    kept = f"not made by a pack, and kept: {out / 'findings.csv'} is now findings.csv.before\n"
    assert kept in result.output
    assert (out / "findings.csv.before").read_text(encoding="utf-8") == "my own notes"
    assert (out / "findings.csv").read_bytes() != b"my own notes"
    again = run(yard_file, "--out", out)
    assert "kept" not in again.output  # now it is the pack's own


SLOW = """
import os, sys, time
from pathlib import Path
from mewswright.cli.writing import write_whole
sync = os.fsync
def slow(file):
    sync(file)
    time.sleep(30)
os.fsync = slow
write_whole(Path(sys.argv[1]), {"a.csv": b"new", "b.csv": b"new", "pack.json": b"{}"})
"""


def test_a_pack_killed_while_writing_loses_nothing_and_is_cleared_by_the_next(tmp_path):
    """Killed with a file half on the disk, as by a power cut: the old pack stands whole."""
    old = {"a.csv": b"old", "b.csv": b"old", "pack.json": b'{"files": ["a.csv", "b.csv"]}'}
    write_whole(tmp_path, old)
    going = subprocess.Popen([sys.executable, "-c", SLOW, str(tmp_path)], env={**os.environ})
    until = time.monotonic() + 60
    while not list(tmp_path.glob(".a.csv.*.part")) and time.monotonic() < until:
        time.sleep(0.05)
    going.send_signal(signal.SIGKILL)
    going.wait()
    assert list(tmp_path.glob(".*.part"))
    assert {p.name: p.read_bytes() for p in tmp_path.glob("[!.]*")} == old
    assert write_whole(tmp_path, {**old, "a.csv": b"new"}, keep=True).cleared == ("a.csv",)
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(old)
    assert (tmp_path / "a.csv").read_bytes() == b"new"


def test_a_file_that_a_running_process_writes_is_left(tmp_path):
    part = tmp_path / f".a.csv.{os.getpid()}.part"
    part.write_bytes(b"half")
    assert write_whole(tmp_path, {"b.csv": b"new"}).cleared == ()
    assert part.exists()


def test_a_folder_that_may_not_be_written_is_refused_before_the_work(
    yard_file, tmp_path, monkeypatch
):
    """Root may write anywhere, so that the answer of the system stands in."""
    out = tmp_path / "locked"
    out.mkdir()
    monkeypatch.setattr("os.access", lambda place, mode: mode == os.R_OK or Path(place) != out)
    result = run(yard_file, "--out", out)
    assert result.exit_code == 2
    assert result.output == (
        f"error: --out {out}: {out} may not be written to: name another folder, or give yourself "
        "leave to write there\n"
    )
    assert list(out.iterdir()) == []
