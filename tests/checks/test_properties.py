"""What holds of every finding, whatever the yard and however its file is written.

The file may name its birds, quarters and fittings in any order; a mirror swaps left and
right; a yard may lie anywhere and be turned any way. Only the sun does not turn along.
"""

import re
from functools import cache
from importlib import resources
from math import isfinite
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import floats, integers, one_of, sampled_from, tuples

from mewswright import examples
from mewswright.checks.finding import STATUSES
from mewswright.checks.open import open_yard
from mewswright.checks.registry import catalogue, run_checks
from mewswright.checks.scenario import SCENARIOS
from mewswright.model.yard import Yard
from support.drawn_yards import yards
from support.turned_yards import mirrored, shuffled, told, turned
from support.yards import bird, quarters, stay, yard

PAGES = Path(__file__).parents[2] / "docs" / "checks"
DRAWN = settings(
    max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
# The sun stands in the south at noon, wherever the yard was turned to; and the hot half of the
# day is the afternoon, which the mirror turns into the morning.
SUN = {"T116": "shade at noon", "E102": "shade hour by hour of a hot day"}
AFTERNOON = ("E102",)


@cache
def alder_close() -> Yard:
    with resources.as_file(resources.files(examples) / "alder-close.yard.toml") as path:
        return open_yard(path)


def apart(one, other):
    """What one says and the other does not, both ways."""
    return sorted(one - other), sorted(other - one)


@pytest.mark.parametrize("seed", range(4))
def test_the_order_of_alder_close_changes_nothing(seed):
    plain = told(run_checks(alder_close()))
    assert apart(plain, told(run_checks(shuffled(alder_close(), seed)))) == ([], [])


@DRAWN
@given(of=yards(), seed=integers(0, 1000))
def test_the_order_of_a_file_changes_nothing(of, seed):
    assert apart(told(run_checks(of)), told(run_checks(shuffled(of, seed)))) == ([], [])


def test_the_mirror_of_alder_close_changes_nothing():
    plain, there = (run_checks(of) for of in (alder_close(), mirrored(alder_close())))
    assert apart(told(plain), told(there, swap_sides=True)) == ([], [])


@DRAWN
@given(of=yards())
def test_the_mirror_changes_nothing(of):
    """At noon the sun is its own mirror image, so here not even shade is left out."""
    plain, there = run_checks(of), run_checks(mirrored(of))
    assert apart(told(plain), told(there, swap_sides=True)) == ([], [])


@pytest.mark.parametrize("by_deg", [45, 90, 225])
def test_alder_close_may_lie_anywhere_and_any_way(by_deg):
    """Turned by whole sectors of its wind rose."""
    there = turned(alder_close(), by_deg, (130, -70))
    plain = told(run_checks(alder_close()), without=SUN)
    assert apart(plain, told(run_checks(there), without=SUN)) == ([], [])


@DRAWN
@given(
    of=yards(),
    by_deg=one_of(sampled_from([45, 90, 135, 180, 270]), floats(0.5, 359)),
    shift_m=tuples(integers(-500, 500), integers(-500, 500)),
)
def test_a_yard_may_lie_anywhere_and_any_way(of, by_deg, shift_m):
    if of.wind_rose:
        by_deg = 45 * round(by_deg / 45)
    plain = told(run_checks(of), without=SUN)
    assert apart(plain, told(run_checks(turned(of, by_deg, shift_m)), without=SUN)) == ([], [])


def test_the_sun_is_left_out_only_where_a_check_asks_for_it():
    """A code that is left out by name turns with the yard; else it has no place in the list."""
    there = turned(alder_close(), 90)
    for code, scenario in (("T116", None), ("E102", "heat")):
        assert code in SUN
        plain, other = (
            told(f for f in run_checks(of, scenario=scenario) if f.code == code)
            for of in (alder_close(), there)
        )
        assert plain != other


@pytest.mark.parametrize("scenario", sorted(SCENARIOS))
def test_a_bad_day_is_as_bad_in_any_order_in_the_mirror_and_turned(scenario):
    of = alder_close()
    plain = run_checks(of, scenario=scenario)
    again = run_checks(shuffled(of, 3), scenario=scenario)
    assert apart(told(plain), told(again)) == ([], [])
    there = run_checks(mirrored(of), scenario=scenario)
    assert apart(told(plain, AFTERNOON), told(there, AFTERNOON, swap_sides=True)) == ([], [])
    elsewhere = run_checks(turned(of, 90, (40, 25)), scenario=scenario)
    assert apart(told(plain, SUN), told(elsewhere, SUN)) == ([], [])


@settings(DRAWN, max_examples=15)
@given(of=yards(), scenario=sampled_from(sorted(SCENARIOS)))
def test_every_finding_of_a_bad_day_can_be_shown(of, scenario):
    assert_whole(of, scenario)


def is_whole(finding):
    """A finding that a page can show and a keeper can look up."""
    figures = [q.value for q in (finding.measured, finding.limit) if q is not None]
    return (
        finding.status in STATUSES
        and (PAGES / f"{finding.code}.md").is_file()
        and finding.code in {check.code for check in catalogue()}
        and all(isinstance(value, str) or isfinite(value) for value in figures)
        and not re.search(r"\b(inf|nan|None|True|False)\b", str(finding))
    )


def names_in(of):
    return {q.name for q in of.quarters}, {b.name for b in of.bird}


def assert_whole(of, scenario=None):
    found = run_checks(of, scenario=scenario)
    assert [str(f) for f in found if not is_whole(f)] == []
    places, kept = names_in(of)
    assert {f.quarters for f in found if f.quarters} <= places
    assert {f.bird for f in found if f.bird} <= kept
    bad = [f for f in found if f.status in ("harm", "short")]
    assert [f"{f.code} {f}" for f in bad if not (f.why and f.remedy and f.sources)] == []


@DRAWN
@given(of=yards(most_quarters=3, most_birds=5))
def test_every_finding_can_be_shown_and_looked_up(of):
    assert_whole(of)


@settings(DRAWN, max_examples=20)
@given(of=yards(most_quarters=2, sizes=sampled_from([1.0, 60.0, 400.0, 60_000.0, 1_000_000.0])))
def test_tiny_and_huge_quarters_are_judged_too(of):
    assert_whole(of)


@pytest.mark.parametrize("count", [0, 1, 100])
@pytest.mark.parametrize("kind", ["loft", "shelter", "pitch", "isolation"])
def test_quarters_without_fittings(count, kind):
    birds = [bird(f"B{i}", sex="unknown") for i in range(count)]
    stays = [stay(b["name"], mode="loose" if i % 2 else "tethered") for i, b in enumerate(birds)]
    assert_whole(yard(bird=birds, quarters=[quarters(kind=kind)], stay=stays))
