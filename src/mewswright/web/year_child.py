"""The process in which one year is worked out for the Year page.

The yard file's path comes as an argument, the question as a line of JSON; then a line "stop" ends
the search with the best that it has. Each answer is a line of JSON: how the search stands, at the
end the report, or what is wrong with the question.
"""

import json
import os
import sys
import threading
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from time import monotonic
from typing import Any

from mewswright.model.problem import Problem
from mewswright.year.instance import Rows
from mewswright.year.report import Found

SEED = 1
PATIENCE_S = 3.0  # between being told to stop and saying the best so far
EXPLAINING = 0.5  # share of the seconds for saying why nothing fits, once they are gone


def say(**told: object) -> None:
    """Tell the page something."""
    sys.stdout.write(json.dumps(told) + "\n")
    sys.stdout.flush()


def main() -> None:
    """Answer one question."""
    asked: dict[str, Any] = json.loads(sys.stdin.readline())
    stop = threading.Event()
    threading.Thread(target=_listen, args=(stop,), daemon=True).start()
    try:
        _answer(Path(sys.argv[1]), asked, stop)
    except Problem as problem:
        say(problem=str(problem))


def _listen(stop: threading.Event) -> None:
    """Stop when told to; end with the page, should it die without a word."""
    for line in sys.stdin:
        if line.strip() == "stop":
            stop.set()
    stop.set()


@dataclass
class _Best:
    """The cheapest plan so far: what is said of a search that does not end when it is told to."""

    rows: Rows | None = None
    cost: int | None = None
    bound: int | None = None

    def heard(self, rows: Rows | None, cost: int | None, bound: int | None) -> None:
        if rows is not None and cost is not None and (self.cost is None or cost < self.cost):
            self.rows, self.cost = rows, cost
        if bound is not None:
            self.bound = max(bound, self.bound or 0)
        say(best=self.cost, bound=self.bound)


def _answer(path: Path, asked: dict[str, Any], stop: threading.Event) -> None:
    from mewswright.build.cut.effort import Effort
    from mewswright.checks.open import open_yard
    from mewswright.year.conflict import why_not
    from mewswright.year.planned import planned
    from mewswright.year.problem import year_problem
    from mewswright.year.report import year_report

    begun = monotonic()
    problem = year_problem(
        open_yard(path), date.fromisoformat(asked["from"]), asked["weeks"], 7, asked["lock"],
        asked["forbid"],
    )  # fmt: skip
    say(phase="laying out the year")
    instance = problem.instance(frozenset(asked["without"]))
    say(phase="searching")
    best = _Best()
    found: list[Found] = []

    def search() -> None:
        found.append(planned(instance, asked["seconds"], SEED, best.heard, stop.is_set))

    searching = threading.Thread(target=search, daemon=True)
    searching.start()
    while searching.is_alive() and not stop.is_set():
        searching.join(0.1)
    searching.join(PATIENCE_S)
    if not found and not stop.is_set():
        return  # it broke: the page says so
    answer: Found = found[0] if found else best
    conflict = None
    if answer.rows is None and not asked["without"] and not stop.is_set():
        say(phase="asking why nothing fits")
        until = monotonic() + EXPLAINING * float(asked["seconds"])
        conflict = why_not(problem, Effort(None, monotonic, until), SEED)
    report = year_report(problem, answer, monotonic() - begun, conflict)
    say(report=report.model_dump(mode="json"))


if __name__ == "__main__":
    main()
    sys.stdout.flush()
    os._exit(0)  # a search that does not end goes with its process
