"""Planning anew in mid-year: what can be kept is kept, what moved is told with its cause."""

from datetime import date, timedelta

import pytest

from mewswright.model.problem import Problem
from mewswright.year.plan_file import read_plan
from mewswright.year.planned import planned
from mewswright.year.problem import year_problem
from mewswright.year.replan import Broken, Happened, anew, place_of
from mewswright.year.replan_report import replan_report
from mewswright.year.report import year_report
from mewswright.year.shown import shown_plan
from mewswright.year.verify import breaches
from support.alder_close import YARD

MONDAY = date(2027, 3, 1)
LAST = MONDAY + timedelta(weeks=26) - timedelta(days=1)
SECONDS = 20


@pytest.fixture(scope="module")
def yard():
    """Alder Close without three of its birds: full, it has no room for a shelter less."""
    birds = tuple(b for b in YARD.bird if b.name not in ("Ember", "Sorrel", "Thistle"))
    stays = tuple(s for s in YARD.stay if s.bird not in ("Ember", "Sorrel", "Thistle"))
    return YARD.model_copy(update={"bird": birds, "stay": stays})


@pytest.fixture(scope="module")
def report(yard):
    problem = year_problem(yard, MONDAY, 26)
    found = year_report(problem, planned(problem.instance(), SECONDS, 1), 1.0)
    assert found.conflict is None
    return found


@pytest.fixture(scope="module")
def old(yard, report):
    return shown_plan(report, yard)


def again(yard, old, happened):
    asked = anew(yard, old, happened)
    answer = planned(asked.instance, SECONDS, 1)
    assert answer.rows is not None
    assert breaches(asked.problem.instance(), answer.rows) == ()
    return replan_report(asked, answer, 1.0)


def days_of(report, bird):
    return {
        s.starts_on + timedelta(days=i): (s.quarters, s.mode)
        for s in report.stays
        if s.bird == bird
        for i in range((s.ends_on - s.starts_on).days + 1)
    }


def test_nothing_happened_and_nothing_moves(yard, old, report):
    told = again(yard, old, Happened(date(2027, 5, 12)))
    assert told.changes == ()
    assert told.kept_share == 1
    assert told.stays == report.stays
    assert (told.starts_on, told.ends_on) == (report.starts_on, report.ends_on)


def test_a_broken_shelter_moves_its_bird_on_the_day_and_says_why(yard, old):
    on = date(2027, 5, 12)  # a Wednesday: the week has begun
    room = place_of(old, "Sleet", on).quarters
    told = again(yard, old, Happened(on, broken=(Broken(room, on, LAST),)))
    moved = [c for c in told.changes if c.was and c.was.startswith(room)]
    assert moved
    for change in moved:
        assert change.starts_on >= on
        assert change.why.startswith(f"{room} is closed from 12 May 2027 (broken): ")
    for bird in {c.bird for c in moved}:
        days = days_of(told, bird)
        before = place_of(old, bird, on - timedelta(days=1))
        assert days[on - timedelta(days=1)] == before.where
        assert days[on][0] != room
    assert not any(s.quarters == room and s.ends_on >= on for s in told.stays)
    assert 0 < told.kept_share < 1


def test_what_went_before_the_day_is_told_as_it_was(yard, old, report):
    on = date(2027, 5, 12)
    room = place_of(old, "Sleet", on).quarters
    told = again(yard, old, Happened(on, broken=(Broken(room, on, LAST),)))
    for bird in old.birds:
        was, now = days_of(report, bird), days_of(told, bird)
        assert {d: w for d, w in was.items() if d < on} == {d: w for d, w in now.items() if d < on}


def test_a_bird_that_is_gone_leaves_its_mate_and_the_others_in_peace(yard, old):
    on = date(2027, 4, 5)
    told = again(yard, old, Happened(on, gone=("Rook",)))
    assert max(days_of(told, "Rook")) == on - timedelta(days=1)
    gone = [c for c in told.changes if c.bird == "Rook"]
    assert [c.why for c in gone] == ["Rook is gone from 5 April 2027"]
    assert gone[0].now is None
    assert told.kept_share == 1
    assert {c.bird for c in told.changes} == {"Rook"}


def test_a_room_is_cleaned_of_a_bird_that_is_gone_before_another_comes(yard, old):
    on = date(2027, 4, 7)
    room = place_of(old, "Moth", on).quarters
    told = again(yard, old, Happened(on, gone=("Moth",)))
    later = [s for s in told.stays if s.quarters == room and s.bird != "Moth"]
    assert all(s.starts_on >= on + timedelta(days=7) for s in later if s.ends_on >= on)


def test_a_bird_that_the_plan_knows_and_the_yard_does_not_is_gone(yard, old):
    birds = tuple(b for b in yard.bird if b.name != "Moth")
    stays = tuple(s for s in yard.stay if s.bird != "Moth")
    told = again(yard.model_copy(update={"bird": birds, "stay": stays}), old,
                 Happened(date(2027, 4, 5)))  # fmt: skip
    assert [c.why for c in told.changes if c.bird == "Moth"] == ["Moth is gone from 5 April 2027"]


def test_a_newcomer_is_isolated_from_its_day_on(yard, old):
    on = date(2027, 6, 14)
    new = YARD.bird_named("Sorrel").model_copy(update={"name": "Fern", "arrives_on": None})
    told = again(yard, old, Happened(on, arrives=(new,)))
    stays = [s for s in told.stays if s.bird == "Fern"]
    assert stays[0].starts_on == on
    assert stays[0].isolated
    (first, *_) = [c for c in told.changes if c.bird == "Fern"]
    assert first.was is None
    assert first.why.startswith("Fern arrives on 14 June 2027")


def test_the_fewest_bird_weeks_change_where_all_can_be_tried(yard, old):
    """One more bird-week kept would be dearer than all else: no plan with fewer is found."""
    on = date(2027, 5, 10)
    room = place_of(old, "Sleet", on).quarters
    happened = Happened(on, broken=(Broken(room, on, LAST),))
    asked = anew(yard, old, happened)
    answer = planned(asked.instance, SECONDS, 1)
    changed = answer.cost // asked.price
    assert answer.bound // asked.price <= changed
    told = replan_report(asked, answer, 1.0)
    days = sum((c.ends_on - c.starts_on).days + 1 for c in told.changes)
    assert days == 7 * changed


def test_the_plan_comes_back_from_its_json(report, old):
    read = read_plan(report.model_dump_json(), "plan.json")
    assert {(s.bird, s.where, s.starts_on, s.ends_on) for s in read.stays} == {
        (s.bird, s.where, s.starts_on, s.ends_on) for s in old.stays
    }
    assert (read.starts_on, read.ends_on, read.step_days) == (old.starts_on, old.ends_on, 7)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "plan.json is no JSON"),
        ("[]", "plan.json holds no plan: give what"),
        ('{"stays": []}', "plan.json is a plan without a stay"),
        ('{"stays": [3]}', r"plan.json: stays\[0\] is 3: a stay has bird, quarters, mode"),
        ('{"stays": [{"bird": "Moth"}]}', r"stays\[0\].quarters is None: give its words"),
        (
            '{"stays": [{"bird": "Moth", "quarters": "Barn loft", "mode": "free", '
            '"from": "2027-03-01", "to": "2027-03-07"}]}',
            r"stays\[0\].mode is 'free': loose or tethered",
        ),
        (
            '{"stays": [{"bird": "Moth", "quarters": "Barn loft", "mode": "loose", '
            '"from": "soon", "to": "2027-03-07"}]}',
            r"stays\[0\].from is 'soon': write the day as 2027-03-01",
        ),
        (
            '{"stays": [{"bird": "Moth", "quarters": "Barn loft", "mode": "loose", '
            '"from": "2027-03-08", "to": "2027-03-07"}]}',
            "ends on 2027-03-07, before it starts on 2027-03-08",
        ),
    ],
)
def test_what_is_no_plan_is_refused_by_its_place(text, said):
    with pytest.raises(Problem, match=said):
        read_plan(text, "plan.json")


def test_a_day_outside_the_plan_is_refused(yard, old):
    with pytest.raises(Problem, match="--from 2028-01-01 is not in the plan, which runs from"):
        anew(yard, old, Happened(date(2028, 1, 1)))


def test_unknown_names_are_refused(yard, old):
    day = date(2027, 5, 12)
    with pytest.raises(Problem, match="no bird 'Nobody'"):
        anew(yard, old, Happened(day, gone=("Nobody",)))
    with pytest.raises(Problem, match="no quarters 'Nowhere'"):
        anew(yard, old, Happened(day, broken=(Broken("Nowhere", day, LAST),)))
