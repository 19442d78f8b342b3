"""Whether a year can be planned at all: a plan, the proof that there is none, or neither."""

from __future__ import annotations

from dataclasses import dataclass

from mewswright.year.instance import Instance, Rows
from mewswright.year.verify import breaches
from mewswright.year.weekly import Found, weekly


@dataclass(frozen=True)
class Verdict:
    """What is known of whether a year can be planned.

    Args:
        verdict: "plan", "none" (proven), or "unknown".
        rows: A plan that keeps every rule, where there is one.
    """

    verdict: Found
    rows: Rows | None = None


def feasible(
    instance: Instance, seconds: float | None, seed: int = 0, work: float | None = None
) -> Verdict:
    """Say whether a year can be planned.

    Args:
        instance: The year.
        seconds: Time allowed [s], None for no end.
        seed: Of the search.
        work: Work allowed, about a second each and counted, so that the answer is the same each
            time; None for no end.
    """
    found = weekly(instance, seconds, seed, first_only=True, work=work)
    if found.rows is not None and breaches(instance, found.rows):
        raise AssertionError(f"a plan breaks a rule: {breaches(instance, found.rows)[0]}")
    return Verdict(found.verdict, found.rows)
