"""Every check has a page, and every page of docs/checks has a check."""

from pathlib import Path

import pytest

from mewswright.checks.registry import catalogue

PAGES = Path(__file__).parents[2] / "docs" / "checks"
HEADINGS = ["## What it asks", "## Why it matters", "## What to change", "## What it cannot see"]


@pytest.mark.parametrize("check", catalogue(), ids=lambda check: check.code)
def test_a_code_has_its_page(check):
    lines = (PAGES / f"{check.code}.md").read_text(encoding="utf-8").splitlines()
    assert lines[0] == f"# {check.code} {check.title}"
    assert [line for line in lines if line.startswith("## ")] == HEADINGS


def test_no_page_outlives_its_check():
    codes = {check.code for check in catalogue()}
    assert {p.stem for p in PAGES.glob("[A-Z]*.md")} <= codes | {"README"}


def test_there_are_forty_checks_or_more():
    assert len(catalogue()) >= 40
