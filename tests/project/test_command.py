"""The `mewswright` command as a whole: light to start, plain when it refuses."""

import subprocess
import sys

import pytest
import typer

import mewswright
from mewswright.cli import app
from mewswright.cli.problems import refusing
from mewswright.model.problem import Problem

# Each costs a tenth of a second or more to import, and the help page needs none of them.
HEAVY = {
    "fastapi",
    "highspy",
    "numpy",
    "pydantic_core",
    "ortools",
    "rich",
    "shapely",
    "sqlalchemy",
    "typst",
}


def run(*words):
    return subprocess.run(
        [sys.executable, *words], check=False, capture_output=True, encoding="utf-8"
    )


def test_help_imports_nothing_heavy():
    done = run("-X", "importtime", "-m", "mewswright", "--help")
    assert done.returncode == 0, done.stderr
    assert "Housing for trained birds of prey" in done.stdout
    loaded = {line.rsplit("|", 1)[-1].strip() for line in done.stderr.splitlines()}
    assert "mewswright.cli" in loaded  # the list is a list of imports
    assert loaded & HEAVY == set()


def test_version_is_the_package_version():
    done = run("-m", "mewswright", "--version")
    assert (done.returncode, done.stdout) == (0, f"mewswright {mewswright.__version__}\n")


def test_every_command_says_what_it_is_for():
    unexplained = [
        c.name for c in app.registered_commands if not (c.callback.__doc__ or "").strip()
    ]
    assert unexplained == []


def test_a_problem_is_one_error_line_and_exit_2(capsys):
    sentence = "duty 'bath water': no interval 'fortnight'; use day, week or month"
    with pytest.raises(typer.Exit) as stop, refusing():
        raise Problem(sentence)
    assert stop.value.exit_code == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", f"error: {sentence}\n")


def test_any_other_error_is_left_alone():
    """A fault of ours must not look like a fault of the keeper's file."""
    with pytest.raises(ZeroDivisionError), refusing():
        raise ZeroDivisionError
