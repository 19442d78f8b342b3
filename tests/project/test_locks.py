"""The locks: hashed, complete, and free of the address that they were resolved from."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LOCKS = sorted(ROOT.glob("requirements/*.lock"))


def wanted(lines):
    """Requirement lines of a .in file, without comments and options."""
    return sorted(line for line in lines if line and not line.startswith(("#", "-")))


def test_run_in_asks_for_what_the_package_asks_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = (ROOT / "requirements/run.in").read_text(encoding="utf-8").splitlines()
    assert wanted(lines) == sorted(project["dependencies"])


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_every_locked_package_has_its_hashes(lock):
    text = re.sub(r" \\\n\s+", " ", lock.read_text(encoding="utf-8"))  # join what is continued
    pins = [line for line in text.splitlines() if re.match(r"[a-z0-9]", line)]
    assert pins
    assert [pin for pin in pins if "==" not in pin or "--hash=sha256:" not in pin] == []


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_every_line_asked_for_is_locked(lock):
    names = re.findall(r"^([a-z0-9._-]+)==", lock.read_text(encoding="utf-8"), re.MULTILINE)
    lines = lock.with_suffix(".in").read_text(encoding="utf-8").splitlines()
    assert {re.split(r"[<>=]", line)[0] for line in wanted(lines)} <= set(names)


def test_the_dev_lock_holds_the_run_lock():
    """`demo` after `test` runs on the larger environment: it must be the same versions."""

    def pins(name):
        text = (ROOT / f"requirements/{name}.lock").read_text(encoding="utf-8")
        return set(re.findall(r"^[a-z0-9._-]+==[^ ;]+", text, re.MULTILINE))

    assert pins("run") <= pins("dev")


@pytest.mark.parametrize(
    "file", [*LOCKS, ROOT / "package-lock.json", ROOT / "package.json"], ids=lambda file: file.name
)
def test_no_lock_holds_an_address(file):
    assert "://" not in file.read_text(encoding="utf-8")
