"""A plan of a yard's year, held against the yard file by a checker that knows no planner."""

from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from mewswright.checks.open import open_yard
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.year.problem import YearProblem, year_problem
from mewswright.year.report import YearReport, year_report
from mewswright.year.verify import breaches
from mewswright.year.weekly import weekly

from .yard_checker import wrongs

START = date(2026, 11, 30)
DEMO = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))


@pytest.fixture(scope="module")
def demo() -> Yard:
    return open_yard(DEMO)


def planned(problem: YearProblem, seconds: float = 60) -> YearReport:
    """The plan of a problem, found as the command finds it."""
    answer = weekly(problem.instance(), seconds, 1)
    if answer.rows is not None:
        assert breaches(problem.instance(), answer.rows) == ()
    return year_report(problem, answer, answer.seconds)


def changed(yard: Yard, bird: str, **keys: object) -> Yard:
    """The yard with a bird changed."""
    birds = tuple(
        b.model_validate(b.model_dump() | keys) if b.name == bird else b for b in yard.bird
    )
    return yard.model_copy(update={"bird": birds})


def test_the_demo_has_a_year_that_breaks_no_rule(demo):
    report = planned(year_problem(demo, START))
    assert report.conflict is None
    assert wrongs(demo, report) == []
    assert report.proven
    assert report.objective.total == report.objective.bound == sum(report.objective.parts.values())
    assert {s.bird for s in report.stays} == {b.name for b in demo.bird}


def test_the_same_yard_gives_the_same_plan(demo):
    once, again = (planned(year_problem(demo, START, 8)) for _ in range(2))
    assert once.stays == again.stays


@pytest.mark.parametrize(("steps", "days"), [(1, 7), (60, 1), (104, 7)])
def test_a_plan_may_be_short_or_long_or_by_days(demo, steps, days):
    report = planned(year_problem(demo, date(2027, 2, 22), steps, days))
    assert wrongs(demo, report) == []


def test_a_lock_is_kept(demo):
    lock = "Flint@Chalk shelter:tethered 2027-02-01..2027-02-28"
    report = planned(year_problem(demo, START, 20, locks=[lock]))
    assert [
        (s.quarters, s.mode)
        for s in report.stays
        if s.bird == "Flint" and s.starts_on <= date(2027, 2, 28) and s.ends_on >= date(2027, 2, 1)
    ] == [("Chalk shelter", "tethered")]
    assert wrongs(demo, report) == []


def test_a_forbidden_stay_is_not_planned(demo):
    report = planned(year_problem(demo, START, 20, forbids=["Flint@North loft"]))
    assert ("Flint", "North loft") not in {(s.bird, s.quarters) for s in report.stays}


@pytest.mark.parametrize(
    ("lock", "says"),
    [
        ("Flint", "--lock is 'Flint': write BIRD@QUARTERS[:loose|tethered] [FROM..TO], as in "
         '"Moth@Barn loft:loose 2027-03-01..2027-04-30"'),
        ("Flint@First pitch", "--lock 'Flint@First pitch': 'First pitch' is a pitch, where a bird "
         "stands by day alone: name quarters for the night"),
        ("Flint@Barn loft 2027-13-01..2027-13-02",
         "--lock 'Flint@Barn loft 2027-13-01..2027-13-02': no day '2027-13-01': write it as "
         "2027-03-01"),
        ("Flint@Barn loft 2020-01-01..2020-02-01",
         "--lock 'Flint@Barn loft 2020-01-01..2020-02-01': the plan runs from 2026-11-30 to "
         "2027-11-28: change the days"),
    ],
)  # fmt: skip
def test_a_bad_lock_says_what_to_write(demo, lock, says):
    with pytest.raises(Problem) as problem:
        year_problem(demo, START, locks=[lock])
    assert str(problem.value) == says


def test_a_bird_that_leaves_is_housed_to_its_last_day(demo):
    yard = changed(demo, "Moth", leaves_on=date(2027, 1, 13))
    report = planned(year_problem(yard, START, 20))
    assert max(s.ends_on for s in report.stays if s.bird == "Moth") == date(2027, 1, 13)
    assert wrongs(yard, report) == []


def test_a_bird_that_comes_in_the_middle_of_a_week_is_isolated_all_its_days(demo):
    yard = changed(demo, "Sorrel", arrives_on=date(2027, 3, 4))
    report = planned(year_problem(yard, START, 30))
    first = min((s for s in report.stays if s.bird == "Sorrel"), key=lambda s: s.starts_on)
    assert first.starts_on == date(2027, 3, 4)
    assert first.quarters == "Isolation"
    assert (first.ends_on - first.starts_on).days + 1 >= 30
    assert wrongs(yard, report) == []


def test_a_newcomer_without_isolation_in_the_yard_has_no_plan(demo):
    rest = tuple(q for q in demo.quarters if q.kind != "isolation")
    stays = tuple(s for s in demo.stay if s.quarters != "Isolation")
    yard = demo.model_copy(update={"quarters": rest, "stay": stays})
    report = planned(year_problem(yard, START, 20))
    assert report.conflict is not None
    assert report.conflict.proven
    assert [r.key for r in report.conflict.reasons] == ["isolation:Sorrel", "bird:Sorrel"]


@pytest.mark.parametrize("birds", [True, False])
def test_a_yard_without_quarters_or_without_birds_is_answered(demo, birds):
    yard = demo.model_copy(
        update={"quarters": (), "stay": (), "row": ()} if birds else {"bird": (), "stay": ()}
    )
    report = planned(year_problem(yard, START, 4))
    assert (report.conflict is not None) == birds
    assert report.stays == ()


def test_what_is_only_planned_is_not_lived_in(demo):
    places = tuple(
        q.model_copy(update={"built": False}) if q.name == "North loft" else q
        for q in demo.quarters
    )
    report = planned(year_problem(demo.model_copy(update={"quarters": places}), START, 10))
    assert "North loft" not in {s.quarters for s in report.stays}


def test_without_a_rule_the_instance_no_longer_asks_it(demo):
    problem = year_problem(demo, START)
    keys = [rule.key for rule in problem.rules]
    assert len(keys) == len(set(keys))
    assert {"bird:Moth", "quarters:Owl loft", "isolation:Sorrel", "sight:Thistle:Ember"} <= {*keys}
    free = problem.laid(frozenset({"isolation:Sorrel", "bird:Moth"}))
    assert all(unit.entry is None for unit in free.instance.units)
    assert ("Moth",) not in {member.birds for member in free.members}
    roomy = problem.laid(frozenset({"quarters:Owl loft"}))
    assert sum(s.quarters == "Owl loft" for s in roomy.places) == len(problem.units)
