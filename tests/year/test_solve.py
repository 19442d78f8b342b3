"""The year's solver against brute force, planted years and the checker that knows nothing of it."""

from dataclasses import replace
from itertools import product

import pytest

from mewswright.build.cut.effort import Effort
from mewswright.year.instance import Entry, Instance, Place, Unit
from mewswright.year.solve import solve
from mewswright.year.verify import breaches, plan_cost
from support.rotation import by_chance, planted

SMALL = 300_000  # units of work


def cheapest_by_trying(instance):
    """The least cost of all plans there are, None where there is none; asks only the checker."""
    ways = []
    for unit in instance.units:
        alone = replace(instance, units=(unit,), apart=())
        held = [*range(len(instance.places)), None]
        rows = [
            (None,) * unit.arrival + rest
            for rest in product(held[:-1], repeat=instance.weeks - unit.arrival)
        ]
        ways.append([(plan_cost(alone, (r,)), r) for r in rows if not breaches(alone, (r,))])
    plans = sorted(product(*ways), key=lambda plan: sum(cost for cost, _ in plan))
    for plan in plans:
        if not breaches(instance, tuple(row for _, row in plan)):
            return sum(cost for cost, _ in plan)
    return None


@pytest.mark.parametrize("seed", range(14))
def test_no_plan_of_a_small_year_is_cheaper(seed):
    instance = by_chance(seed, 2, 4, 6, suited=0.8, most=4, least=2)
    best = cheapest_by_trying(instance)
    answer = solve(instance, Effort(3_000_000), seed)
    if best is None:
        assert answer.rows is None
        return
    assert answer.rows is not None
    assert breaches(instance, answer.rows) == ()
    assert plan_cost(instance, answer.rows) == answer.cost
    assert answer.bound <= best == answer.cost


@pytest.mark.parametrize(("units", "places", "seeds"), [(4, 8, 4), (7, 12, 4), (20, 34, 1)])
def test_planted_years_are_solved_and_proven(units, places, seeds):
    for seed in range(seeds):
        instance, optimum = planted(seed, units, places)
        answer = solve(instance, Effort(8_000_000), seed)
        assert breaches(instance, answer.rows) == ()
        assert plan_cost(instance, answer.rows) == answer.cost == optimum, seed
        assert answer.proven


@pytest.mark.parametrize("seed", range(3))
def test_a_year_of_which_nothing_is_known_is_bracketed(seed):
    instance = by_chance(seed, 7, 12, 52)
    answer = solve(instance, Effort(1_500_000), seed)
    assert answer.rows is not None
    assert breaches(instance, answer.rows) == ()
    assert 0 < answer.bound <= answer.cost == plan_cost(instance, answer.rows)


def test_the_same_seed_and_work_give_the_same_year():
    instance = by_chance(5, 7, 12, 52)
    one, other = (solve(instance, Effort(500_000), 3) for _ in range(2))
    assert one == other


def two_places(**unit):
    """One unit, two places, six weeks."""
    own = Unit("A", frozenset({0, 1}), (0, 5), min_stay=2, max_stay=3, move_cost=10)
    return Instance(6, (Place("loft"), Place("shelter")), (replace(own, **unit),))


@pytest.mark.parametrize(
    ("unit", "cost"),
    [
        ({}, 10 + 3 * 5),  # three weeks in each
        ({"max_stay": 6}, 0),
        ({"dearer": ((0, 0, 90),), "max_stay": 5}, 10 + 5),  # begins a week in the dear one
        ({"fixed": ((5, 0),)}, 10 + 3 * 5),
        ({"fixed": ((5, 0), (0, 0))}, 20 + 2 * 5),
        ({"arrival": 3}, 0),
        ({"suitable": frozenset({0}), "entry": Entry(frozenset({1}), 4)}, 10 + 4 * 5),
        ({"undisturbed": ((0, 3),)}, None),
    ],
)
def test_years_worked_out_by_hand(unit, cost):
    instance = two_places(**unit)
    answer = solve(instance, Effort(SMALL))
    assert answer.cost == cost
    if cost is None:
        assert answer.stuck == (0,)
    else:
        assert answer.proven
        assert breaches(instance, answer.rows) == ()


def test_a_bird_without_any_place_is_named():
    answer = solve(two_places(suitable=frozenset()), Effort(SMALL))
    assert (answer.rows, answer.bound, answer.stuck) == (None, None, (0,))


def test_more_birds_than_places_give_no_plan_and_no_promise():
    instance = two_places(max_stay=6)
    answer = solve(replace(instance, units=instance.units * 3), Effort(SMALL))
    assert answer.rows is None
    assert answer.stuck == ()
    assert not answer.proven


def test_nobody_to_house_costs_nothing():
    answer = solve(Instance(6, (Place("loft"),), ()), Effort(SMALL))
    assert (answer.rows, answer.cost, answer.proven) == ((), 0, True)
