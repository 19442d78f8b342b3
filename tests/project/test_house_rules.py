"""Lint, format, types and layering, held by the same command as the other tests."""

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

# The shells, and a folder of yard files; every other package is core.
NOT_CORE = {"book", "cli", "web", "examples"}

RULES = {
    "lint": ["-m", "ruff", "check", "--no-fix", "--output-format=concise", "."],
    "format": ["-m", "ruff", "format", "--check", "."],
    "types": ["-m", "mypy"],
    "layers": [
        "-c",
        "from importlinter.cli import lint_imports_command as check; check()",
        "--no-cache",
        "--no-logo",
    ],
}


@pytest.mark.parametrize("rule", RULES)
def test_rule_holds(rule):
    done = subprocess.run(
        [sys.executable, *RULES[rule]],
        cwd=ROOT,
        check=False,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stdout


def test_the_contract_for_a_pure_core_names_every_core_package():
    """A package left out of the contract would be free to open a database."""
    packages = {file.parent.name for file in ROOT.glob("src/mewswright/*/__init__.py")}
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    contracts = tomllib.loads(text)["tool"]["importlinter"]["contracts"]
    pure = next(contract for contract in contracts if contract["id"] == "pure-core")
    assert {f"mewswright.{name}" for name in packages - NOT_CORE} == set(pure["source_modules"])


def test_no_test_file_is_passed_over():
    """pytest leaves some folder names out in silence; `build` was one of them."""
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "--collect-only", "-q", "-p", "no:cacheprovider"],
        cwd=ROOT,
        check=False,
        capture_output=True,
        encoding="utf-8",
    )
    collected = {line.split("::")[0] for line in done.stdout.splitlines() if "::" in line}
    written = {file.relative_to(ROOT).as_posix() for file in ROOT.glob("tests/**/test_*.py")}
    assert collected == written
