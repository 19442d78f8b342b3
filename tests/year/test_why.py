"""Why a year has no plan: counting, smallest clashes and ways out, held against trying it all."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.cut.effort import Effort
from mewswright.year.ask import Asker
from mewswright.year.bare import Bare
from mewswright.year.changes import Widened, changes_of, sorts_of_rooms
from mewswright.year.counting import shortage
from mewswright.year.feasible import Verdict, feasible
from mewswright.year.instance import Entry, Instance, Place, Unit
from mewswright.year.relax import cheapest_hit, ways_out
from mewswright.year.rooms import weeks_in_words
from mewswright.year.verify import breaches, plan_cost
from mewswright.year.why import clash, smallest
from mewswright.year.why_words import headline, plain_names
from support.rotation import by_chance
from support.trying import by_trying

ENDLESS = Effort(None)


def small(seed):
    """A year that can be tried through: three units, three places, five weeks."""
    return by_chance(seed, 3, 4, 5, suited=0.45, most=3, least=2)


def bird(name, *places, of=2, **more):
    return Unit(name, frozenset(places), (0,) * of, **more)


def two_owls(weeks=40, closed=frozenset(range(23, 32))):
    """Two owls and two lofts, one of which is closed for weeks."""
    lofts = (Place("Owl loft"), Place("Barn loft", closed=closed))
    return Instance(weeks, lofts, (bird("Moth", 0, 1), bird("Ember", 0, 1)))


def said(instance):
    short = shortage(instance)
    assert short is not None
    return headline(
        instance,
        short,
        plain_names(instance, lambda a, b: "in " + weeks_in_words(range(a, b + 1))),
    )


def test_the_worked_sentence_of_two_owls():
    assert said(two_owls()) == (
        "Moth and Ember both need a place in weeks 23 to 31; places that suit: 1 (Owl loft)."
    )


def test_the_smallest_clash_of_two_owls_and_its_ways_out():
    problem = Bare(two_owls())
    found = clash(problem, feasible, ENDLESS)
    assert found.minimal
    assert found.keys == {"bird:Moth", "bird:Ember", "closed:Barn loft"}
    wide = Widened(problem, changes_of(problem, sorts_of_rooms(problem.whole)))
    ways = ways_out(Asker(wide, feasible, ENDLESS), found.keys)
    assert ways.cheapest
    assert [way.says for way in ways.found] == [
        ("give up: Barn loft is closed in weeks 23 to 31",),
        ("build one more room like Owl loft",),
    ]
    for way in ways.found:
        assert breaches(way.instance, way.rows) == ()
        assert plan_cost(way.instance, way.rows) == way.total


def test_a_quiet_time_that_ends_sooner_is_a_way_out():
    """Moth sits in the loft to week 9; Ember has no other, and comes in week 8."""
    lofts = (Place("Owl loft"), Place("Barn loft", 0))
    moth = bird("Moth", 0, 1, undisturbed=((0, 9),), fixed=((2, 0),))
    ember = bird("Ember", 0, arrival=8)
    problem = Bare(Instance(20, lofts, (moth, ember)))
    found = clash(problem, feasible, ENDLESS)
    assert found.keys == {"bird:Moth", "calm:Moth:0", "fixed:Moth:2", "bird:Ember"}
    wide = Widened(problem, changes_of(problem, {}))
    ways = ways_out(Asker(wide, feasible, ENDLESS), found.keys)
    by_price = [way.price for way in ways.found]
    assert by_price == sorted(by_price)
    says = [way.says for way in ways.found]
    # Three weeks sooner would do, and the nearest step on offer is four: one week to clean.
    assert ("end Moth's quiet time 4 weeks sooner",) in says
    assert ("let Ember come 4 weeks later",) in says
    assert ("end Moth's quiet time 2 weeks sooner",) not in says


@pytest.mark.parametrize("seed", range(40))
def test_a_shortage_is_a_proof(seed):
    instance = small(seed)
    short = shortage(instance)
    if short is not None:
        assert by_trying(instance).verdict == "none"
        assert short.needed > short.there


def test_counting_finds_what_moves_and_rests_need():
    """Three birds for three places, each of which moves after two weeks: nothing is ever empty."""
    three = tuple(bird(n, 0, 1, 2, of=3, max_stay=2) for n in "ABC")
    full = Instance(5, (Place("x"), Place("y"), Place("z")), three)
    assert shortage(full).why == "moves"
    assert "must move in that time" in said(full)
    assert by_trying(full).verdict == "none"
    soil = (Place("x", 0, 2), Place("y", 0, 2))
    resting = Instance(5, soil, (bird("A", 0, 1), bird("B", 0, 1)))
    assert shortage(resting).why == "rest"
    assert said(resting) == (
        "A and B both need a place in weeks 0 to 4, 10 weeks in all, and beside the rest that they "
        "need there are 6 weeks; places that suit: 2 (x, y)."
    )
    assert by_trying(resting).verdict == "none"


def test_counting_finds_too_little_free_time():
    """Two birds, each loose for four weeks of six, and one loft for both."""
    places = (Place("loft"), Place("one", tethered=True), Place("two", tethered=True))
    units = tuple(bird(n, 0, 1, 2, of=3, free_least=4) for n in "AB")
    assert shortage(Instance(6, places, units)).why == "loose"
    units = tuple(bird(n, 0, 1, 2, of=3, tether_most=1) for n in "AB")
    assert shortage(Instance(6, places, units)) is None  # three weeks each are just enough


@pytest.mark.parametrize("seed", range(12))
def test_a_clash_is_infeasible_and_minimal_by_trying(seed):
    problem = Bare(small(seed))
    found = clash(problem, feasible, ENDLESS)
    if found is None:
        assert by_trying(problem.instance()).verdict == "plan"
        return
    every = frozenset(rule.key for rule in problem.rules)
    assert found.minimal
    assert by_trying(problem.instance(every - found.keys)).verdict == "none"
    for key in found.keys:
        less = problem.instance(every - found.keys | {key})
        assert by_trying(less).verdict == "plan", key


@st.composite
def years(draw):
    """A year by chance, with closings, arrivals, quiet times and an isolation."""
    weeks = draw(st.integers(3, 5))
    week = st.integers(0, weeks - 1)
    places = tuple(
        Place(
            f"p{p}",
            draw(st.integers(0, 1)),
            draw(st.integers(0, 2)),
            draw(st.frozensets(week, max_size=2)),
            tethered=draw(st.booleans()),
        )
        for p in range(3)
    )
    units = []
    for name in "ABC"[: draw(st.integers(1, 3))]:
        first, last = sorted((draw(week), draw(week)))
        arrival = draw(week)
        units.append(
            Unit(
                name,
                draw(st.frozensets(st.integers(0, 1), min_size=1)),
                (0,) * 3,
                arrival,
                max_stay=draw(st.integers(2, 6)),
                entry=Entry(frozenset({2}), 2) if arrival and draw(st.booleans()) else None,
                undisturbed=((first, last),) if draw(st.booleans()) else (),
                tether_most=draw(st.sampled_from((None, 2))),
            )
        )
    return Instance(weeks, places, tuple(units))


@settings(max_examples=25, deadline=None)
@given(years())
def test_made_years_have_a_plan_or_a_true_and_minimal_clash(instance):
    problem = Bare(instance)
    found = clash(problem, feasible, ENDLESS)
    if found is None:
        assert by_trying(instance).verdict == "plan"
        return
    every = frozenset(rule.key for rule in problem.rules)
    assert by_trying(problem.instance(every - found.keys)).verdict == "none"
    assert found.minimal == all(
        by_trying(problem.instance(every - found.keys | {key})).verdict == "plan"
        for key in found.keys
    )


@pytest.mark.parametrize("seed", [1, 8, 14])
def test_no_cheaper_set_of_rules_makes_a_plan(seed):
    problem = Bare(small(seed))
    found = clash(problem, feasible, ENDLESS)
    assert found is not None
    ways = ways_out(Asker(Widened(problem, ()), feasible, ENDLESS), found.keys, most=1)
    price = {rule.key: rule.price for rule in problem.rules if rule.price is not None}
    best = min(
        (
            sum(price[key] for key in some)
            for n in range(len(price) + 1)
            for some in combinations(price, n)
            if feasible(problem.instance(frozenset(some)), 5).verdict == "plan"
        ),
        default=None,
    )
    assert [way.price for way in ways.found] == ([] if best is None else [best])
    assert ways.cheapest


def test_a_proof_that_fails_to_come_is_no_conflict():
    problem = Bare(replace(two_owls(), places=(Place("x"), Place("y"))))

    def silent(instance, seconds):
        return Verdict("unknown")

    assert clash(problem, silent, ENDLESS) is None


def test_a_plan_that_breaks_a_rule_is_not_believed():
    problem = Bare(two_owls(6, frozenset({2})))

    def liar(instance, seconds):
        return Verdict("plan", tuple((0,) * instance.weeks for _ in instance.units))

    found = smallest(Asker(problem, liar, ENDLESS))
    assert found is not None  # counting needs no oracle
    assert not found.minimal


def test_the_cheapest_set_meets_every_clash_and_passes_what_is_known():
    price = {"a": 3, "b": 1, "c": 1, "d": 5}
    clashes = [frozenset("abd"), frozenset("acd")]
    assert cheapest_hit(clashes, price, []) == (frozenset("bc"), True)
    assert cheapest_hit(clashes, price, [frozenset("bc")]) == (frozenset("a"), True)
    assert cheapest_hit(clashes, price, [frozenset("bc"), frozenset("a")])[0] == frozenset("d")
    assert cheapest_hit([frozenset()], price, []) == (None, True)
