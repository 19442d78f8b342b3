"""The checker of a year: each rule is broken in turn in a clean plan, and is named."""

from dataclasses import replace
from typing import get_args

import pytest

from mewswright.year.cost import cost_parts
from mewswright.year.instance import (
    Apart,
    Before,
    Entry,
    Extras,
    Instance,
    Place,
    Sight,
    Unit,
)
from mewswright.year.verify import Rule, breaches, plan_cost

ANY = frozenset({0, 1, 2, 3})
FREE_COST = (0,) * 5
PLACES = (
    Place("loft", 1, cell=1),
    Place("loft, tied", 1, cell=1, tethered=True),
    Place("shelter", 2, tethered=True),
    Place("mews", 1),
    Place("ward", 1),
)
OLD = Unit("Alder", ANY, FREE_COST, min_stay=2, max_stay=8, move_cost=3)
NEW = replace(OLD, name="Briar", arrival=2, entry=Entry(frozenset({4}), 3))
YEAR = Instance(10, PLACES, (OLD, NEW))
PLAN = (
    (0, 0, 0, 1, 1, 2, 2, 2, 3, 3),
    (None, None, 4, 4, 4, 3, 3, 0, 0, 0),
)
N = None


def old(**rules):
    """The year with more said of the first unit."""
    return replace(YEAR, units=(replace(OLD, **rules), NEW))


def place(p, **rules):
    """The year with more said of one place, or of both of its cell."""
    wide = (0, 1) if p < 2 and "closed" not in rules else (p,)
    return replace(
        YEAR, places=tuple(replace(x, **rules) if n in wide else x for n, x in enumerate(PLACES))
    )


def new_row(*row):
    """The plan with another row for the second unit."""
    return (PLAN[0], row)


def old_row(*row):
    """The plan with another row for the first unit."""
    return (row, PLAN[1])


def test_a_clean_plan_breaks_no_rule():
    assert breaches(YEAR, PLAN) == ()
    assert plan_cost(YEAR, PLAN) == 4 * 3  # two moves each: within the loft nothing is moved


BROKEN = [
    ("shape", YEAR, PLAN[:1]),
    ("shape", YEAR, (PLAN[0], PLAN[1][:-1])),
    ("shape", YEAR, old_row(9, *PLAN[0][1:])),
    ("absent", YEAR, new_row(N, N, N, 4, 4, 4, 4, 4, 4, 4)),
    ("absent", YEAR, new_row(4, *PLAN[1][1:])),
    ("departed", old(departure=9), PLAN),
    ("unsuitable", old(suitable=ANY - {2}), PLAN),
    ("entry", YEAR, new_row(N, N, 3, 3, 4, 3, 3, 0, 0, 0)),
    ("entry", YEAR, new_row(N, N, 4, 4, 3, 3, 3, 0, 0, 0)),
    ("unsuitable", YEAR, new_row(N, N, 4, 4, 4, 4, 0, 0, 0, 0)),
    ("closed", place(2, closed=frozenset({6})), PLAN),
    ("barred", old(barred=((7, 9, frozenset({3})),)), PLAN),
    ("shared", YEAR, old_row(0, 0, 0, 1, 1, 2, 2, 2, 1, 1)),
    ("cleaning", YEAR, old_row(0, 0, 0, 1, 1, 2, 2, 3, 3, 3)),
    ("cleaning", old(before=Before(3, 2)), old_row(0, 0, 3, 3, 3, 3, 2, 2, 2, 2)),
    ("short stay", old(min_stay=4), PLAN),
    ("short stay", old(before=Before(2, 1)), PLAN),
    ("long stay", old(max_stay=4), PLAN),
    ("long stay", old(max_stay=6, before=Before(1, 2)), PLAN),
    ("due", place(0, most_weeks=4), PLAN),
    ("due", replace(place(0, most_weeks=6), units=old(before=Before(0, 2)).units), PLAN),
    ("disturbed", old(undisturbed=((4, 6),)), PLAN),
    ("disturbed", old(undisturbed=((1, 4),)), PLAN),  # from loose to tied in the same loft
    ("disturbed", old(undisturbed=((-1, 1),), before=Before(3, 4)), PLAN),
    ("fixed", old(fixed=((3, 0),)), PLAN),
    ("fixed", old(fixed=((10, 3),)), PLAN),
    ("tether clock", old(tether_most=4), PLAN),
    (
        "tether clock",
        old(max_stay=12, tether_most=5, before=Before(2, 4, 5)),
        old_row(*[2] * 5, *PLAN[0][5:]),
    ),
    ("free weeks", old(free_least=6), PLAN),
    ("rest", place(3, rest_weeks=6), PLAN),
    (
        "apart",
        replace(YEAR, adjacent=frozenset({(3, 2)}), apart=(Apart(ANY - {2, 3}, 6, 6),)),
        PLAN,
    ),
    (
        "sight",
        replace(YEAR, sights=(Sight(frozenset({1}), frozenset({0}), frozenset({(3, 2)}), 6, 6),)),
        PLAN,
    ),
]


@pytest.mark.parametrize(("rule", "year", "plan"), BROKEN)
def test_a_broken_rule_is_named(rule, year, plan):
    found = {breach.rule for breach in breaches(year, plan)}
    assert rule in found
    if rule not in ("shape", "entry", "absent", "cleaning", "shared"):
        assert found == {rule}


def test_every_rule_is_broken_here():
    assert {rule for rule, _, _ in BROKEN} == set(get_args(Rule))


@pytest.mark.parametrize(
    ("year", "plan"),
    [
        (old(departure=8), old_row(*PLAN[0][:8], N, N)),
        (old(barred=((5, 7, frozenset({3})),)), PLAN),
        (old(before=Before(0, 3), max_stay=8), PLAN),
        (old(before=Before(3, 2, 0)), PLAN),
        (old(tether_most=5), PLAN),
        (old(free_least=5), PLAN),
        (old(undisturbed=((3, 4),)), PLAN),
        (place(0, most_weeks=5), PLAN),
        (place(0, rest_weeks=2), PLAN),
        (place(3, rest_weeks=5), PLAN),
        # What is seen one way only does no harm the other way.
        (
            replace(
                YEAR, sights=(Sight(frozenset({0}), frozenset({1}), frozenset({(3, 2)}), 0, 9),)
            ),
            PLAN,
        ),
    ],
)
def test_a_rule_that_is_kept_is_not_named(year, plan):
    assert breaches(year, plan) == ()


def kin_year(kin):
    """A pair in the loft, of which one stays on there alone."""
    pair = replace(OLD, name="Alder and Briar", departure=4)
    alone = replace(OLD, name="Alder", arrival=4)
    return Instance(8, PLACES, (pair, alone), kin=frozenset({(1, 0)}) if kin else frozenset())


def test_only_kin_may_take_a_cell_over_uncleaned():
    plan = ((0, 0, 0, 0, N, N, N, N), (N, N, N, N, 0, 0, 0, 0))
    assert breaches(kin_year(True), plan) == ()
    assert plan_cost(kin_year(True), plan) == 0
    assert {breach.rule for breach in breaches(kin_year(False), plan)} == {"cleaning"}


def test_what_a_plan_costs_as_a_whole_is_told_part_by_part():
    extras = Extras(unfair=5, crowded=7, strangers=11, sharing=frozenset({0, 1}))
    year = replace(
        old(before=Before(3, 3), move_cost=2), extras=extras, adjacent=frozenset({(2, 3)})
    )
    parts = cost_parts(year, PLAN)
    # Free: 3 + 2 weeks and 3 + 2 + 3 weeks. Moves: three of 2, two of 3. The loft and the ward are
    # cleaned together in week 5. Side by side from week 5 to 6: once.
    assert (parts.weeks, parts.moves) == (0, 3 * 2 + 2 * 3)
    assert (parts.unfair, parts.crowded, parts.strangers) == (3 * 5, 7, 11)
    assert parts.total == plan_cost(year, PLAN)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (
            lambda: replace(YEAR, places=(PLACES[0], replace(PLACES[1], rest_weeks=2))),
            "places 'loft' and 'loft, tied' share a cell: their rest_weeks are 0 and 2; "
            "give both the same",
        ),
        (
            lambda: place(3, most_weeks=0),
            "place 'mews': a stay may last 1 week or more, got 0",
        ),
        (
            lambda: old(departure=0),
            "unit 'Alder' arrives in week 0 and is gone from week 0: "
            "leave it out, or let it go later",
        ),
        (
            lambda: replace(YEAR, units=(replace(NEW, before=Before(0, 2)),)),
            "unit 'Briar' arrives in week 2 and was here before week 0: leave out one of the two",
        ),
        (
            lambda: old(before=Before(0, 0)),
            "unit 'Alder': its stay so far is 1 week or more, got 0",
        ),
        (
            lambda: old(before=Before(0, 1, -1)),
            "unit 'Alder': weeks on the tether are 0 or more, got -1",
        ),
        (lambda: old(before=Before(9, 1)), "unit 'Alder': no place 9; there are 5"),
        (lambda: old(tether_most=-1), "unit 'Alder': weeks on the tether are 0 or more, got -1"),
        (lambda: old(free_least=-1), "unit 'Alder': free weeks are 0 or more, got -1"),
        (
            lambda: old(barred=((5, 4, ANY),)),
            "unit 'Alder' is barred from week 5 to 4: turn the two about",
        ),
        (
            lambda: replace(YEAR, sights=(Sight(ANY, frozenset(), frozenset(), 0, 9),)),
            "units of a sight [0, 1, 2, 3]: there are 2",
        ),
        (
            lambda: replace(YEAR, kin=frozenset({(0, 1)})),
            "units 'Alder' and 'Briar' share a bird and are both there in week 2: "
            "let one go before the other comes",
        ),
        (
            lambda: replace(YEAR, kin=frozenset({(1, 1)})),
            "unit 'Briar' is its own kin: name two units",
        ),
        (
            lambda: replace(YEAR, extras=Extras(unfair=-1)),
            "the costs of the plan as a whole are 0 to 1000000",
        ),
    ],
)
def test_what_cannot_be_judged_is_refused_with_its_name(make, sentence):
    with pytest.raises(ValueError) as refused:  # noqa: PT011
        make()
    assert str(refused.value) == sentence
