"""Asking again and again whether there is a plan, with some rules left out.

Whoever can tell (`feasible` of `answer.py`, or the few small instances that can be tried through)
is given as an oracle. A "plan" is believed only with rows that keep every rule.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from mewswright.build.cut.effort import Effort
from mewswright.year.counting import shortage
from mewswright.year.feasible import Verdict
from mewswright.year.instance import Instance, Rows
from mewswright.year.verify import breaches

Keys = frozenset[str]


Oracle = Callable[[Instance, float], Verdict]  # seconds allowed


class RuleLike(Protocol):
    """A wish or a fact of a yard."""

    @property
    def key(self) -> str: ...
    @property
    def says(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def price(self) -> int | None: ...


class Problem(Protocol):
    """A year to plan as a list of rules, each of which can be left out."""

    @property
    def rules(self) -> tuple[RuleLike, ...]: ...
    def instance(self, without: frozenset[str] = frozenset()) -> Instance: ...


class Asker:
    """Asks whether a set of rules can be kept, and remembers."""

    def __init__(self, problem: Problem, oracle: Oracle, effort: Effort) -> None:
        """Begin with nothing known.

        Args:
            problem: Its rules.
            oracle: Tells whether there is a plan.
            effort: Time for all questions together.
        """
        self.problem, self.oracle, self.effort = problem, oracle, effort
        self.all: Keys = frozenset(rule.key for rule in problem.rules)
        self.known: dict[Keys, Verdict] = {}
        self.asked = 0
        # Where counting tells nothing of all rules, it tells nothing of some of them.
        self.counts = shortage(problem.instance()) is not None

    def learn(self, other: Asker, more: Keys) -> None:
        """Take over what another knows of the same problem with fewer rules.

        Args:
            other: Who asked of it.
            more: The rules that it does not know; leaving none of them out changes nothing.
        """
        self.known |= {keys | more: known for keys, known in other.known.items()}

    def told(self, kept: Keys, seconds: float) -> Verdict:
        """Whether there is a plan that keeps some rules.

        Args:
            kept: Keys of the rules.
            seconds: Time for this question, as far as there is any left [s].
        """
        if kept in self.known and self.known[kept].verdict != "unknown":
            return self.known[kept]
        found = self._by_what_is_known(kept) or self._asked(kept, seconds)
        self.known[kept] = found
        return found

    def _by_what_is_known(self, kept: Keys) -> Verdict | None:
        """What follows from an answer: more rules, no plan; fewer rules, the same plan."""
        instance = None
        for keys, known in self.known.items():
            if known.verdict == "none" and keys <= kept:
                return known
            if known.verdict == "plan" and known.rows is not None and kept < keys:
                instance = instance or self.problem.instance(self.all - kept)
                whole = self.problem.instance(self.all - keys)
                rows = _rows_of_some(whole, known.rows, instance)
                if rows is not None and not breaches(instance, rows):
                    return Verdict("plan", rows)
        return None

    def _asked(self, kept: Keys, seconds: float) -> Verdict:
        left = min(seconds, self.effort.seconds_left())
        if left <= 0:
            return Verdict("unknown")
        instance = self.problem.instance(self.all - kept)
        if self.counts and shortage(instance) is not None:
            return Verdict("none")
        self.asked += 1
        found = self.oracle(instance, left)
        if found.verdict == "plan" and (found.rows is None or breaches(instance, found.rows)):
            return Verdict("unknown")
        return found

    def counted(self, kept: Keys) -> bool:
        """Whether mere counting shows that there is no plan that keeps some rules."""
        known = self.known.get(kept)
        if known is not None and known.verdict != "unknown":
            return known.verdict == "none"
        if not self.counts or shortage(self.problem.instance(self.all - kept)) is None:
            return False
        self.known[kept] = Verdict("none")
        return True


def _rows_of_some(whole: Instance, rows: Rows, part: Instance) -> Rows | None:
    """The rows of a plan that belong to the units of a smaller year, by name and arrival."""
    by_name = {(unit.name, unit.arrival): row for unit, row in zip(whole.units, rows, strict=True)}
    wanted = [(unit.name, unit.arrival) for unit in part.units]
    if len(by_name) < len(rows) or any(name not in by_name for name in wanted):
        return None
    return tuple(by_name[name] for name in wanted)
