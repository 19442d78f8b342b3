"""`mewswright year`: the search, by the clock that the command lends, and its report."""

from dataclasses import dataclass
from time import monotonic
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mewswright.build.cut.effort import Effort
    from mewswright.year.problem import YearProblem
    from mewswright.year.replan import Anew
    from mewswright.year.replan_report import ReplanReport
    from mewswright.year.report import YearReport

LEAST = 0.05  # share of the seconds that a search gets, however long the reading took
EXPLAINING = 0.5  # share of the seconds for saying why there is no plan, once they are gone
ASKING_S = 2.0  # for each question why a bird was moved


@dataclass(frozen=True)
class Search:
    """How long to search, and from when on the seconds count [s]."""

    seconds: float
    seed: int
    begun: float

    @property
    def left(self) -> float:
        """Seconds that are left."""
        return max(LEAST * self.seconds, self.seconds - (monotonic() - self.begun))

    def report(self, problem: "YearProblem") -> "YearReport":
        """Plan a year, and say what was found."""
        from mewswright.year.conflict import why_not
        from mewswright.year.planned import planned
        from mewswright.year.report import year_report

        answer = planned(problem.instance(), self.left, self.seed)
        conflict = None
        if answer.rows is None:
            conflict = why_not(problem, self.effort_to_explain(), self.seed)
        return year_report(problem, answer, monotonic() - self.begun, conflict)

    def effort_to_explain(self) -> "Effort":
        """What is left for saying why, and a part of all where the search has used it up."""
        from mewswright.build.cut.effort import Effort

        until = monotonic() + max(self.left, EXPLAINING * self.seconds)
        return Effort(None, monotonic, until)

    def report_anew(self, asked: "Anew") -> "ReplanReport":
        """Plan a year anew, and say what changed."""
        from mewswright.year.feasible import feasible
        from mewswright.year.planned import planned
        from mewswright.year.replan_report import replan_report

        answer = planned(asked.instance, self.left, self.seed)
        return replan_report(
            asked,
            answer,
            monotonic() - self.begun,
            feasible=lambda instance: feasible(instance, ASKING_S, self.seed).verdict,
        )
