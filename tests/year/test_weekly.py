"""The weekly model against trying all plans, with every rule of a year."""

import pytest

from mewswright.year.feasible import Verdict, feasible
from mewswright.year.instance import Before, Instance, Place, Unit
from mewswright.year.verify import breaches, plan_cost
from mewswright.year.weekly import weekly
from support.ruled_year import cheapest_by_trying, ruled


@pytest.mark.parametrize("seed", range(16))
def test_the_weekly_model_finds_the_cheapest_of_all_plans(seed):
    instance = ruled(seed)
    best = cheapest_by_trying(instance)
    found = weekly(instance, None, seed)
    assert found.cost == best
    assert found.verdict == ("none" if best is None else "plan")
    assert found.proven
    if best is not None:
        assert breaches(instance, found.rows) == ()
        assert plan_cost(instance, found.rows) == best


def test_the_same_seed_and_work_give_the_same_plan():
    instance = ruled(1, units=3, weeks=12, cells=5)
    one, other = (weekly(instance, None, 3, work=0.2) for _ in range(2))
    assert (one.rows, one.cost, one.bound) == (other.rows, other.cost, other.bound)


def test_two_who_lived_together_may_part_in_the_first_week():
    loft, room = Place("loft", 1), Place("room", 1)
    before = Before(0, 4)
    units = [
        Unit(name, frozenset({0, 1}), (0, 0), before=before, min_stay=3) for name in ("A", "B")
    ]
    verdict = feasible(Instance(6, (loft, room), tuple(units)), None)
    assert verdict.verdict == "plan"
    assert {row[0] for row in verdict.rows} == {0, 1}


def test_more_units_than_cells_are_proven_impossible():
    units = tuple(Unit(f"unit {u}", frozenset({0, 1, 2}), (0, 0, 0)) for u in range(3))
    places = (Place("loft", cell=4), Place("loft, tied", cell=4, tethered=True), Place("room"))
    assert feasible(Instance(20, places, units), None) == Verdict("none")
