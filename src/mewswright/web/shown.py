"""The yard that the pages show: read again whenever its file changes.

A keeper edits the file beside the browser. While it cannot be read, the pages go on
showing the last good reading and say what is wrong with the new one.
"""

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from mewswright.checks.brief import BirdBrief, briefs
from mewswright.checks.finding import STATUSES, Finding, Status
from mewswright.checks.open import open_yard, own_standard_paths
from mewswright.checks.registry import run_checks
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

T = TypeVar("T")


@dataclass
class Reading:
    """One good reading of the file, with what has been worked out from it so far."""

    yard: Yard
    mark: str  # changes with the file
    on: date | None = None  # the day on which it was read, and the standards asked
    _kept: dict[str, object] = field(default_factory=dict)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, worst first."""
        return run_checks(self.yard, on=self.on)

    @cached_property
    def briefs(self) -> tuple[BirdBrief, ...]:
        """One brief a bird."""
        return briefs(self.yard, on=self.on)

    @cached_property
    def counts(self) -> dict[str, dict[Status, int]]:
        """Findings by status, for every quarters and under "" for the whole yard."""
        counts = {q.name: dict.fromkeys(STATUSES, 0) for q in self.yard.quarters}
        counts[""] = dict.fromkeys(STATUSES, 0)
        for finding in self.findings:
            counts[""][finding.status] += 1
            if finding.quarters in counts:
                counts[finding.quarters][finding.status] += 1
        return counts

    def keep(self, key: str, work: Callable[[], T]) -> T:
        """Do work once for this reading and give its result from then on."""
        if key not in self._kept:
            self._kept[key] = work()
        return self._kept[key]  # type: ignore[return-value]


class ShownYard:
    """A yard file under watch."""

    def __init__(self, path: Path) -> None:
        """Watch a file; it is first read when a page first asks."""
        self.path = path
        self.problem: str | None = None  # what is wrong with the newest state of the file
        self._mark = ""
        self._good: Reading | None = None
        self._lock = threading.Lock()  # pages are served by several threads

    def mark(self) -> str:
        """Give a mark that changes whenever the file does, a standard beside it, or the day."""
        try:
            seen = [path.stat() for path in (self.path, *own_standard_paths(self.path))]
        except OSError:
            return "missing"
        files = "-".join(f"{one.st_mtime_ns:x}-{one.st_size:x}" for one in seen)
        return f"{files}-{date.today():%j}"

    def reading(self) -> Reading | None:
        """Give the last good reading, having looked whether the file has changed."""
        with self._lock:
            mark = self.mark()
            if mark != self._mark:
                try:
                    self._good = Reading(open_yard(self.path), mark, date.today())
                    self.problem = None
                except Problem as problem:
                    self.problem = str(problem)
                self._mark = mark
            return self._good
