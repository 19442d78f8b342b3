"""The process in which one year is worked out for the Year page.

The yard file's path comes as an argument, the question as a line of JSON; then a line "stop" ends
the search with the best that it has. Each answer is a line of JSON: how the search stands, at the
end the report, or what is wrong with the question.
"""

import json
import sys
import threading
from datetime import date
from pathlib import Path
from time import monotonic
from typing import Any

from mewswright.model.problem import Problem

SEED = 1


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


def _answer(path: Path, asked: dict[str, Any], stop: threading.Event) -> None:
    from mewswright.checks.open import open_yard
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
    answer = planned(
        instance, asked["seconds"], SEED, lambda best, bound: say(best=best, bound=bound),
        stop.is_set,
    )  # fmt: skip
    report = year_report(problem, answer, monotonic() - begun)
    say(report=report.model_dump(mode="json"))


if __name__ == "__main__":
    main()
