"""Marks drawn together name the same parts as the whole list."""

import re

import pytest

from mewswright.build.mark_runs import mark_runs


@pytest.mark.parametrize(
    ("marks", "written"),
    [
        ([], ""),
        (["S1"], "S1"),
        (["S1", "S2"], "S1, S2"),
        (["S1", "S2", "S3"], "S1–S3"),
        (["N1", "N2", "N3", "N5", "T1", "T6", "S2"], "N1–N3, N5, T1, T6, S2"),
        (["S1", "S1", "S2", "S3"], "S1–S3"),
        (["A9", "B10", "rope"], "A9, B10, rope"),
    ],
)
def test_runs_of_three_or_more_are_drawn_together(marks, written):
    assert mark_runs(marks) == written


def test_no_mark_is_lost():
    marks = [f"{letters}{n}" for letters in ("BD", "W") for n in (*range(1, 12), 14, 15, 20)]
    unfolded = []
    for run in mark_runs(marks).split(", "):
        first, _, last = run.partition("–")
        letters, start = re.fullmatch(r"([A-Z]+)(\d+)", first).groups()
        stop = int(last.removeprefix(letters)) if last else int(start)
        unfolded += [f"{letters}{n}" for n in range(int(start), stop + 1)]
    assert unfolded == marks
