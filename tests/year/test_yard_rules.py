"""Each rule of a yard's year, on a small yard in which it alone decides."""

from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from mewswright.checks.open import open_yard
from mewswright.model.bird import Bird, Stay
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard
from mewswright.model.year_keys import BirdYear, Breeding, QuartersYear, Span, Together, YearWishes
from mewswright.year.problem import YearProblem, year_problem
from mewswright.year.report import YearReport, year_report
from mewswright.year.weekly import weekly

from .yard_checker import wrongs

START = date(2027, 2, 1)  # a Monday
DEMO = open_yard(Path(str(files("mewswright.examples") / "alder-close.yard.toml")))


def small(birds: list[Bird], quarters: list[str], stays: tuple[Stay, ...] = (), **year) -> Yard:
    """Some quarters of the demo, plain, with birds of one's own."""
    chosen = tuple(
        q.model_copy(update={"year": QuartersYear()}) for q in DEMO.quarters if q.name in quarters
    )
    return DEMO.model_copy(
        update={
            "bird": tuple(birds), "quarters": chosen, "stay": stays, "row": (), "door": (),
            "space": (), "year": YearWishes(**year),
        }
    )  # fmt: skip


def owl(name: str = "Ash", **keys) -> Bird:
    """A barn owl, which goes loose."""
    return Bird(name=name, species="western_barn_owl", sex="f", use="display", **keys)


def hawk(name: str = "Ash", **keys) -> Bird:
    """A red-tailed hawk, which may be kept either way."""
    return Bird(name=name, species="red_tailed_hawk", sex="f", flights_per_week=4, **keys)


def with_year(yard: Yard, quarters: str, **keys) -> Yard:
    """The yard with the year of one of its quarters."""
    return yard.model_copy(
        update={
            "quarters": tuple(
                q.model_copy(update={"year": QuartersYear(**keys)}) if q.name == quarters else q
                for q in yard.quarters
            )
        }
    )


def planned(problem: YearProblem) -> YearReport:
    answer = weekly(problem.instance(), 30, 1)
    return year_report(problem, answer, answer.seconds)


def told(report: YearReport, bird: str) -> list[tuple[str, str, str]]:
    """Quarters of a bird with their first and last days."""
    return [(s.quarters, str(s.starts_on), str(s.ends_on)) for s in report.stays if s.bird == bird]


def test_quarters_stand_empty_while_they_are_closed():
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    yard = small([owl()], ["North loft", "Barn loft"], (home,))
    roof = Span(starts_on=date(2027, 3, 3), ends_on=date(2027, 3, 12))
    report = planned(year_problem(with_year(yard, "North loft", closed=(roof,)), START, 12))
    assert told(report, "Ash") == [
        ("North loft", "2027-02-01", "2027-02-28"), ("Barn loft", "2027-03-01", "2027-04-25"),
    ] or told(report, "Ash")[0][0] == "Barn loft"  # fmt: skip
    assert not any(
        q == "North loft" and a <= "2027-03-12" and b >= "2027-03-03"
        for q, a, b in told(report, "Ash")
    )


def test_quarters_are_emptied_when_a_cleaning_is_due():
    home = Stay(bird="Ash", quarters="North loft", mode="loose", starts_on=date(2027, 1, 4))
    yard = small([owl(year=BirdYear(wished=("North loft",)))], ["North loft", "Barn loft"], (home,))
    yard = with_year(yard, "North loft", clean_every_weeks=6)
    report = planned(year_problem(yard, START, 12))
    north = [s for s in report.stays if s.quarters == "North loft"]
    assert north[0].ends_on <= date(2027, 2, 14)  # six weeks after 4 January
    assert all((s.ends_on - s.starts_on).days + 1 <= 42 for s in north)


def test_soil_rests_once():
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    yard = with_year(small([owl()], ["North loft", "Barn loft"], (home,)), "North loft",
                     rest_weeks=5)  # fmt: skip
    report = planned(year_problem(yard, START, 12))
    assert (
        sum((s.ends_on - s.starts_on).days + 1 for s in report.stays if s.quarters == "Barn loft")
        >= 35
    )


def test_a_pair_is_together_undisturbed_while_it_breeds():
    birds = [owl("Ash"), owl("Elm")]
    birds[1] = birds[1].model_copy(update={"sex": "m"})
    pair = Breeding(birds=("Ash", "Elm"), starts_on=date(2027, 3, 1), ends_on=date(2027, 4, 4))
    yard = small(birds, ["North loft", "Barn loft"], breeding=(pair,))
    yard = yard.model_copy(
        update={"bird": (birds[0].model_copy(update={"companions": ("Elm",)}), birds[1])}
    )
    report = planned(year_problem(yard, START, 14))
    assert wrongs(yard, report) == []
    for day in (date(2027, 3, 1), date(2027, 3, 20), date(2027, 4, 4)):
        there = {s.quarters for s in report.stays if s.starts_on <= day <= s.ends_on}
        assert len(there) == 1
    before = {s.bird: s.quarters for s in report.stays if s.starts_on <= START <= s.ends_on}
    assert before["Ash"] != before["Elm"]


def test_two_groups_that_claim_a_bird_at_once_are_refused():
    spans = {"starts_on": date(2027, 3, 1), "ends_on": date(2027, 4, 4)}
    yard = small(
        [owl("Ash"), owl("Elm"), owl("Fir")], ["North loft"],
        together=(Together(birds=("Ash", "Elm"), **spans), Together(birds=("Ash", "Fir"), **spans)),
    )  # fmt: skip
    with pytest.raises(Problem) as problem:
        year_problem(yard, START, 14).laid()
    assert str(problem.value) == (
        "Ash is to live with Elm (together) and with Fir (together) at once: change the days of one"
    )


def test_the_sick_are_alone_in_isolation_and_come_back():
    sick = (Span(starts_on=date(2027, 3, 3), ends_on=date(2027, 3, 16)),)
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    yard = small([owl(year=BirdYear(sick=sick))], ["North loft", "Isolation"], (home,))
    report = planned(year_problem(yard, START, 12))
    assert told(report, "Ash") == [
        ("North loft", "2027-02-01", "2027-02-28"),
        ("Isolation", "2027-03-01", "2027-03-21"),
        ("North loft", "2027-03-22", "2027-04-25"),
    ]


def test_by_days_the_sick_are_alone_for_their_days():
    sick = (Span(starts_on=date(2027, 3, 3), ends_on=date(2027, 3, 16)),)
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    yard = small([owl(year=BirdYear(sick=sick))], ["North loft", "Isolation"], (home,))
    report = planned(year_problem(yard, START, 60, 1))
    assert told(report, "Ash")[1] == ("Isolation", "2027-03-03", "2027-03-16")


def test_a_moult_that_must_be_heeded_is_spent_loose():
    year = BirdYear(moult="must", moult_from="03-01", moult_to="03-28")
    home = Stay(bird="Ash", quarters="Slate shelter", mode="tethered")
    yard = small([hawk(year=year)], ["Slate shelter", "Long loft"], (home,))
    report = planned(year_problem(yard, START, 12))
    assert not any(
        s.mode == "tethered" and s.starts_on <= date(2027, 3, 28) and s.ends_on >= date(2027, 3, 1)
        for s in report.stays
    )


def test_a_tether_has_a_clock():
    home = Stay(bird="Ash", quarters="Slate shelter", mode="tethered", starts_on=date(2027, 1, 4))
    year = BirdYear(tether_most_weeks=6, moult="none", wished=("Slate shelter",))
    yard = small([hawk(year=year)], ["Slate shelter", "Long loft"], (home,))
    report = planned(year_problem(yard, START, 20))
    runs = [s for s in report.stays if s.mode == "tethered"]
    assert runs[0].ends_on <= date(2027, 2, 14)
    assert all((s.ends_on - s.starts_on).days + 1 <= 42 for s in runs)


def test_a_bird_that_may_not_be_moved_stays():
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    year = BirdYear(moves_from=date(2027, 3, 15), wished=("Barn loft",))
    yard = small([owl(year=year)], ["North loft", "Barn loft"], (home,), order=("wished",))
    report = planned(year_problem(yard, START, 12))
    assert told(report, "Ash")[0] == ("North loft", "2027-02-01", "2027-03-14")


def test_as_many_birds_stand_in_a_shelter_as_it_has_stands():
    shelter = next(q for q in DEMO.quarters if q.name == "Slate shelter")
    block = next(f for f in shelter.fitting if f.kind == "perch")
    wide = shelter.model_copy(
        update={
            "width_mm": 9000,
            "fitting": (
                block.model_copy(update={"name": "Left", "at_mm": (1500.0, 1500.0)}),
                block.model_copy(update={"name": "Right", "at_mm": (7000.0, 1500.0)}),
            ),
            "year": QuartersYear(stands=2),
        }
    )
    yard = small([hawk("Ash"), hawk("Elm")], []).model_copy(update={"quarters": (wide,)})
    report = planned(year_problem(yard, START, 8))
    assert report.conflict is None
    assert {s.perch for s in report.stays} == {"Left", "Right"}
    assert wrongs(yard, report) == []


def test_the_order_of_the_aims_decides():
    """Where the wished quarters matter most the bird moves for them; where moves do, it stays."""
    home = Stay(bird="Ash", quarters="North loft", mode="loose")
    bird = owl(year=BirdYear(wished=("Barn loft",)))
    for order, last in ((("wished", "moves"), "Barn loft"), (("moves",), "North loft")):
        yard = small([bird], ["North loft", "Barn loft"], (home,), order=order)
        report = planned(year_problem(yard, START, 20))
        assert told(report, "Ash")[-1][0] == last


def test_a_locked_stay_of_the_file_is_kept_and_another_may_be_replaced():
    later = {"starts_on": date(2027, 3, 1), "ends_on": date(2027, 3, 28)}
    for locked in (True, False):
        stays = (
            Stay(bird="Ash", quarters="North loft", mode="loose", ends_on=date(2027, 2, 28)),
            Stay(bird="Ash", quarters="Barn loft", mode="loose", locked=locked, **later),
        )
        yard = small([owl()], ["North loft", "Barn loft"], stays)
        report = planned(year_problem(yard, START, 12))
        there = [s for s in report.stays if s.quarters == "Barn loft"]
        kept = any(s.starts_on <= later["starts_on"] and s.ends_on >= later["ends_on"]
                   for s in there)  # fmt: skip
        assert kept == locked


def test_a_week_in_which_the_clocks_change_has_seven_days():
    yard = small([owl()], ["North loft"])
    for start in (date(2027, 3, 22), date(2027, 10, 25), date(2027, 12, 27)):
        report = planned(year_problem(yard, start, 2))
        assert told(report, "Ash") == [
            ("North loft", str(start), str(date.fromordinal(start.toordinal() + 13)))
        ]


def test_an_unknown_species_is_refused_as_elsewhere():
    yard = small([owl().model_copy(update={"species": "dodo"})], ["North loft"])
    with pytest.raises(Problem, match="dodo"):
        year_problem(yard, START).laid()


@pytest.mark.parametrize(
    ("locks", "says"),
    [
        (["Ash@North loft 2027-02-01..2027-02-07"],
         "Ash in North loft from 2027-02-01 to 2027-02-07 is locked, and Ash is in the yard from "
         "2027-03-01: change the days"),
        (["Ash@North loft 2027-03-08..2027-03-17", "Ash@Barn loft 2027-03-18..2027-03-28"],
         "Ash in North loft from 2027-03-08 to 2027-03-17 and Ash in Barn loft from 2027-03-18 to "
         "2027-03-28 are locked, and both touch the week from 2027-03-15: plan by days, or let "
         "them meet on the first day of a week of the plan"),
    ],
)  # fmt: skip
def test_a_lock_that_no_plan_can_keep_is_refused(locks, says):
    yard = small([owl(arrives_on=date(2027, 3, 1))], ["North loft", "Barn loft"])
    with pytest.raises(Problem) as problem:
        year_problem(yard, START, 12, locks=locks)
    assert str(problem.value) == says


def test_a_lock_on_quarters_that_do_not_serve_so_says_what_would():
    yard = small([hawk()], ["Long loft", "Slate shelter"])
    with pytest.raises(Problem) as problem:
        year_problem(yard, START, 12, locks=["Ash@Long loft:tethered"]).laid()
    assert str(problem.value) == (
        "Ash in Long loft, tethered, from 2027-02-01 to 2027-04-25: Long loft serves birds that "
        "are loose: change the way, or say double_use = true"
    )


def test_isolation_is_as_long_as_the_house_asks_where_that_is_longer():
    yard = small([owl(arrives_on=date(2027, 2, 3))], ["North loft", "Isolation"])
    yard = yard.model_copy(
        update={
            "yard": yard.yard.model_copy(update={"standards": ("us-guide",)}),
            "house": yard.house.model_copy(update={"quarantine_days": 42}),
        }
    )
    report = planned(year_problem(yard, START, 60, 1))
    assert told(report, "Ash")[0] == ("Isolation", "2027-02-03", "2027-03-16")


def test_the_longest_isolation_of_the_standards_counts():
    """WSAVA asks 42 days, the house 30."""
    yard = small([owl(arrives_on=date(2027, 2, 1))], ["North loft", "Isolation"])
    yard = yard.model_copy(
        update={"yard": yard.yard.model_copy(update={"standards": ("house", "wsava")})}
    )
    report = planned(year_problem(yard, START, 12))
    assert told(report, "Ash")[0] == ("Isolation", "2027-02-01", "2027-03-14")


def test_newcomers_do_not_share_isolation_and_it_is_cleaned_between():
    birds = [owl("Ash", arrives_on=date(2027, 2, 1)), owl("Elm", arrives_on=date(2027, 3, 15))]
    yard = small(birds, ["North loft", "Barn loft", "Isolation"])
    report = planned(year_problem(yard, START, 16))
    assert wrongs(yard, report) == []
    soon = small(
        [birds[0], owl("Elm", arrives_on=date(2027, 2, 15))],
        ["North loft", "Barn loft", "Isolation"],
    )
    assert planned(year_problem(soon, START, 16)).conflict is not None


def test_an_open_shelter_in_which_one_bird_goes_loose_is_no_loft_for_another():
    home = Stay(bird="Elm", quarters="Slate shelter", mode="loose")
    yard = small([owl("Ash"), owl("Elm")], ["Slate shelter", "North loft"], (home,))
    report = planned(year_problem(yard, START, 8))
    assert {s.quarters for s in report.stays if s.bird == "Ash"} == {"North loft"}


def test_a_bird_is_not_put_in_sight_of_one_that_it_fears():
    """From the Herb shelter the demo's kestrel sees into the Owl loft (G103 says so)."""
    small_bird, large = owl("Ash"), Bird(name="Elm", species="eurasian_eagle_owl", sex="m")
    home = Stay(bird="Elm", quarters="Owl loft", mode="loose")
    yard = small([small_bird, large], ["Herb shelter", "Owl loft", "North loft"], (home,))
    report = planned(year_problem(yard, START, 8))
    assert {s.quarters for s in report.stays if s.bird == "Ash"} == {"North loft"}
    forbids = ["Ash@North loft"]
    assert planned(year_problem(yard, START, 8, forbids=forbids)).conflict is not None
    at_ease = small_bird.model_copy(update={"year": BirdYear(may_see=("Elm",))})
    yard = yard.model_copy(update={"bird": (at_ease, large)})
    waived = planned(year_problem(yard, START, 8, forbids=forbids))
    assert {s.quarters for s in waived.stays if s.bird == "Ash"} == {"Herb shelter"}


def test_what_the_file_has_in_sight_today_is_mended_where_it_can_be():
    stays = (
        Stay(bird="Ash", quarters="Herb shelter", mode="loose"),
        Stay(bird="Elm", quarters="Owl loft", mode="loose"),
    )
    large = Bird(name="Elm", species="eurasian_eagle_owl", sex="m")
    yard = small([owl("Ash"), large], ["Herb shelter", "Owl loft", "North loft"], stays)
    report = planned(year_problem(yard, START, 8))
    assert report.stays[0].quarters == "North loft"
    full = small([owl("Ash"), large], ["Herb shelter", "Owl loft"], stays)
    report = planned(year_problem(full, START, 8))
    assert report.conflict is None
    assert any(c.startswith("Ash in Herb shelter sees Elm in Owl loft") for c in report.cautions)


@pytest.mark.parametrize("flights", [0, 4])
def test_a_day_on_the_tether_at_the_most_lets_no_bird_live_on_one(flights):
    """ca-qc: 24 h, longer only for a bird flown each week."""
    bird = hawk(year=BirdYear(moult="none")).model_copy(update={"flights_per_week": flights})
    yard = small([bird], ["Slate shelter"])
    yard = yard.model_copy(update={"yard": yard.yard.model_copy(update={"standards": ("ca-qc",)})})
    assert (planned(year_problem(yard, START, 8)).conflict is None) == bool(flights)


def test_the_end_of_routine_tethering_is_told_where_the_plan_runs_past_it():
    yard = small([hawk(year=BirdYear(moult="none"))], ["Slate shelter"])
    yard = yard.model_copy(update={"yard": yard.yard.model_copy(update={"standards": ("uk-zoo",)})})
    ends = "ends routine tethering on 2027-12-31"
    for start, told_so in ((START, False), (date(2027, 12, 6), True)):
        report = planned(year_problem(yard, start, 8))
        assert any(ends in caution for caution in report.cautions) == told_so
