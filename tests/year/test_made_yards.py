"""Any yard gets a plan that a checker passes, or is one that no plan fits."""

from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mewswright.checks.open import open_yard
from mewswright.year.feasible import feasible
from mewswright.year.problem import year_problem
from mewswright.year.report import year_report
from mewswright.year.verify import breaches

from .made_yards import START, yards
from .yard_checker import wrongs

DEMO = open_yard(Path(str(files("mewswright.examples") / "alder-close.yard.toml")))


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(yards(DEMO), st.sampled_from(((12, 7), (12, 7), (60, 1))))
def test_a_yard_gets_a_plan_that_breaks_no_rule_or_none_fits(yard, length):
    steps, days = length
    problem = year_problem(yard, START, steps, days)
    verdict = feasible(problem.instance(), 30, 1)
    if verdict.verdict == "plan":
        assert verdict.rows is not None
        assert breaches(problem.instance(), verdict.rows) == ()
        answer = _Found(verdict.rows)
        assert wrongs(yard, year_report(problem, answer, 0.0)) == []
    else:
        assert verdict.verdict == "none"


class _Found:
    """A plan whose cost nobody asked."""

    def __init__(self, rows):
        self.rows, self.cost, self.bound = rows, 0, 0


@pytest.mark.parametrize("key", ["units", "places"])
def test_a_report_names_what_the_yard_names(key):
    problem = year_problem(DEMO, START, 4)
    names = {b.name for b in DEMO.bird} if key == "units" else {q.name for q in DEMO.quarters}
    found = getattr(problem, key)
    told = {n for u in found for n in u} if key == "units" else {s.quarters for s in found}
    assert told <= names
