"""Marks as a list for people: runs of numbers are drawn together."""

import re
from collections.abc import Iterable

_MARK = re.compile(r"([A-Z]+)(\d+)")


def mark_runs(marks: Iterable[str]) -> str:
    """Write marks in their order, three or more that follow each other as first–last.

    Args:
        marks: marks of parts such as `BD1`; what is no letters and a number stays as it is.

    Returns:
        For example `S1, N1–N6, T1, T2`; empty for no marks.
    """
    runs: list[list[str]] = []
    for mark in dict.fromkeys(marks):
        if runs and _follows(runs[-1][-1], mark):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return ", ".join(f"{r[0]}–{r[-1]}" if len(r) > 2 else ", ".join(r) for r in runs)


def _follows(before: str, mark: str) -> bool:
    one, two = _MARK.fullmatch(before), _MARK.fullmatch(mark)
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)
