"""Working a year out by the means at hand, and holding what comes of it against the rules."""

from __future__ import annotations

from collections.abc import Callable

from mewswright.year.instance import Instance, Rows
from mewswright.year.report import Found
from mewswright.year.verify import breaches
from mewswright.year.weekly import weekly

# The cheapest plan so far, what it costs, and what no plan is below; None for what is not known.
Tell = Callable[[Rows | None, int | None, int | None], None]


def planned(
    instance: Instance,
    seconds: float,
    seed: int,
    tell: Tell | None = None,
    stop: Callable[[], bool] | None = None,
) -> Found:
    """Search for the cheapest plan.

    Args:
        instance: What is to be planned.
        seconds: Time to search, at the most [s].
        seed: Of the search.
        tell: Told how the search stands, now and then.
        stop: True once the search must end with the best that it has.

    Raises:
        RuntimeError: If what was found breaks a rule; that is our fault.
    """

    def heard(rows: Rows, cost: int) -> bool:
        if tell is not None:
            tell(rows, cost, None)
        return stop is not None and stop()

    answer = weekly(instance, seconds, seed, tell=heard)
    if answer.rows is not None and (wrong := breaches(instance, answer.rows)):
        raise RuntimeError(f"a plan that breaks a rule: {wrong[0]}")
    return answer
