"""Combinations that hold for every set of loads."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, lists, sampled_from

from mewswright.build.actions.combine import (
    Action,
    combinations,
    factors,
    service_class,
)

KINDS = ("dead", "snow", "wind", "maintenance", "person", "bird")
LOADS = lists(sampled_from(KINDS), min_size=1, max_size=7)


def drawn(kinds):
    return [Action(f"{kind} {i}", kind, 1.0) for i, kind in enumerate(kinds)]


@given(LOADS)
def test_loads_of_one_kind_never_come_together(kinds):
    actions = drawn(kinds)
    limits = ("STR", "EQU", "characteristic", "quasi-permanent")
    for combination in combinations(actions, limits=limits):
        come = [name.split()[0] for name, _ in combination.factors]
        variable = [kind for kind in come if kind != "dead"]
        assert len(set(variable)) == len(variable)
        assert come.count("dead") == kinds.count("dead")
        if {"maintenance", "person", "bird"} & set(variable):
            assert len(variable) == 1


@given(LOADS)
def test_every_variable_load_leads_once_at_least(kinds):
    actions = drawn(kinds)
    found = combinations(actions)
    for action in actions:
        if action.kind != "dead":
            assert any((action.name, 1.5) in one.factors for one in found)


@given(floats(0.05, 1), floats(0, 3), floats(-3, 0))
def test_the_worst_sums_are_among_them(dead, snow, wind):
    """By hand: 1.35 G + 1.5 S down; 1.0 G + 1.5 W up; EQU 0.9 G + 1.5 W."""
    actions = [Action("g", "dead", dead), Action("s", "snow", snow), Action("w", "wind", wind)]
    sums = [one.total(actions) for one in combinations(actions)]
    assert max(sums) == pytest.approx(1.35 * dead + 1.5 * snow)
    assert min(sums) == pytest.approx(dead + 1.5 * wind if wind else dead)
    lifted = min(one.total(actions) for one in combinations(actions, limits=("EQU",)))
    assert lifted == pytest.approx(0.9 * dead + 1.5 * wind)


def test_snow_and_wind_that_press_bring_each_other_along():
    actions = [Action("g", "dead", 1), Action("s", "snow", 1), Action("w", "wind", 1)]
    found = {one.name: one for one in combinations(actions)}
    assert found["STR: 1.35 g + 1.5 s + 0.9 w"].total(actions) == pytest.approx(3.75)
    assert found["STR: 1.35 g + 1.5 w + 0.75 s"].total(actions) == pytest.approx(3.6)


def test_the_briefest_load_sets_the_duration():
    # EN 1995-1-1, 3.1.3(2) and Table 2.2
    actions = [Action("g", "dead", 1), Action("s", "snow", 1), Action("w", "wind", 1)]
    brief = {
        one.name: one.duration
        for one in combinations(actions, factors(wind_duration="instantaneous"))
    }
    assert brief["STR: 1.35 g"] == "permanent"
    assert brief["STR: 1.35 g + 1.5 s"] == "short"
    assert brief["STR: 1.35 g + 1.5 s + 0.9 w"] == "instantaneous"


def test_high_places_keep_more_snow():
    # EN 1990, Table A1.1: above 1000 m psi0 0.7, psi2 0.2
    low, high = factors(psi0_snow=0.5, altitude_m=1000), factors(psi0_snow=0.5, altitude_m=1001)
    assert (low.psi0["snow"], low.psi2["snow"], low.duration["snow"]) == (0.5, 0, "short")
    assert (high.psi0["snow"], high.psi2["snow"], high.duration["snow"]) == (0.7, 0.2, "medium")
    actions = [Action("g", "dead", 1), Action("s", "snow", 1)]
    lasting = combinations(actions, high, limits=("quasi-permanent",))
    assert max(one.total(actions) for one in lasting) == pytest.approx(1.2)


def test_what_gets_wet_is_class_3():
    assert service_class("rafter", covered=True) == service_class("deck", covered=True) == 2
    assert service_class("rafter", covered=False) == 3
    assert {service_class(kind, covered=True) for kind in ("post", "sole", "stud", "head")} == {3}


def test_two_loads_of_one_name_are_refused():
    actions = [Action("g", "dead", 1), Action("g", "snow", 1)]
    with pytest.raises(ValueError, match=r"^two actions share a name among g, g: rename one$"):
        combinations(actions)


def test_wind_does_not_last():
    with pytest.raises(ValueError, match=r"^wind is short or instantaneous, got 'long'$"):
        factors(wind_duration="long")
