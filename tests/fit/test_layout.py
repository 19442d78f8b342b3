"""Layouts that the checks pass, and reasons where there is none.

The checks are the judge: whatever is proposed here is put before all of them again.
Planted and impossible units come from benchmarks/fit_units.py, whose construction says
what must be found.
"""

import importlib.util
import sys
from functools import cache
from importlib.resources import as_file, files
from itertools import combinations
from pathlib import Path

import pytest
from shapely import LineString, Point, box

from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks
from mewswright.fit.conflict import LET_GO, STARTS, STEPS
from mewswright.fit.judged import is_ours
from mewswright.fit.layout import DIFFERENT_SPANS, apart_mm, room_for
from mewswright.fit.report import fit
from mewswright.fit.score import WEIGHTS
from mewswright.fit.screen import Layout
from mewswright.fit.search import Budget
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.problem import Problem
from mewswright.model.quarters import perch_ends_mm
from support.yards import bird, perch, quarters, stay, yard

BENCH = Path(__file__).parents[2] / "benchmarks" / "fit_units.py"
HAWK = bird(wing_span_mm=1200, tail_mm=250, mass_g=1000, body_length_mm=500, body_width_mm=100)


def bench():
    """The generator of the benchmark, read from its file."""
    if "fit_units" not in sys.modules:
        spec = importlib.util.spec_from_file_location("fit_units", BENCH)
        module = importlib.util.module_from_spec(spec)
        sys.modules["fit_units"] = module
        spec.loader.exec_module(module)
    return sys.modules["fit_units"]


@cache
def refused(seed):
    """The report on an impossible unit; two tests read the same one."""
    return fit(bench().impossible(seed).yard, "Loft").report


def demo():
    with as_file(files("mewswright.examples") / "alder-close.yard.toml") as path:
        return open_yard(path)


def loft(*fittings, **more):
    return yard(bird=[HAWK], quarters=[quarters(fitting=list(fittings), **more)], stay=[stay()])


def laid(proposal):
    """A proposal as a layout."""
    perches = tuple(f for f in proposal.fittings if isinstance(f, Perch))
    bath = next((f for f in proposal.fittings if isinstance(f, Bath)), None)
    hatch = next((f for f in proposal.fittings if isinstance(f, Hatch)), None)
    return Layout(perches, bath, hatch)


def faults(of, name, proposal, keep=()):
    """Harm and short in what size and fittings decide, with a proposal in the unit."""
    unit = of.quarters_named(name)
    stays = tuple(
        f for f in unit.fitting if f.name in keep or not isinstance(f, Perch | Bath | Hatch)
    )
    new = unit.model_copy(update={"fitting": (*stays, *proposal.fittings)})
    type(unit).model_validate(new.model_dump())  # it can exist
    changed = of.model_copy(
        update={"quarters": tuple(new if q.name == name else q for q in of.quarters)}
    )
    found = run_checks(changed, quarters=name)
    return [str(f) for f in found if f.status in ("harm", "short") and is_ours(f.code)]


@pytest.mark.parametrize(
    "name", ["Long loft", "North loft", "Owl loft", "Barn loft", "Herb shelter",
             "Orchard shelter", "Slate shelter", "Isolation"],
)  # fmt: skip
def test_the_checks_pass_every_layout_of_the_demo(name):
    of = demo()
    report = fit(of, name).report
    assert report.layouts, report.conflict
    for proposal in report.layouts:
        assert faults(of, name, proposal) == []
        assert proposal.score == pytest.approx(sum(p.points for p in proposal.parts), abs=0.5)
        assert {part.wish for part in proposal.parts} == set(WEIGHTS)
        assert all(0 <= part.share <= 1 for part in proposal.parts)


def test_the_layouts_differ():
    report = fit(loft(), "North loft").report
    assert len(report.layouts) == 3
    for one, other in combinations(report.layouts, 2):
        apart = apart_mm(laid(one), laid(other))
        assert apart >= DIFFERENT_SPANS * 1200
    assert [p.score for p in report.layouts] == sorted(p.score for p in report.layouts)[::-1]


@pytest.mark.parametrize("seed", range(6))
def test_a_planted_unit_gets_a_clean_layout(seed):
    unit = bench().planted(seed)
    report = fit(unit.yard, "Loft").report
    assert report.clean
    assert (report.layouts[0].harm, report.layouts[0].short) == (0, 0)


@pytest.mark.parametrize("seed", range(6))
def test_an_impossible_unit_gets_a_reason_and_no_layout(seed):
    """By construction: roof, both sides, Danish perch under a low roof, posts, shelves, side."""
    report = refused(seed)
    assert report.layouts == ()
    codes = {one.code for one in report.conflict.requirements}
    expected = [{"S106"}, {"S105", "S106"}, {"S103"}, {"P108", "P109"}, {"P101", "P107"}, {"S105"}]
    assert expected[seed] <= codes
    assert report.conflict.smallest
    assert all(one.said for one in report.conflict.requirements)


def test_a_clash_is_smallest_each_of_its_requirements_let_go_frees_a_layout():
    of, report = bench().impossible(3).yard, refused(3)
    codes = {one.code for one in report.conflict.requirements}
    room = room_for(of, "Loft", (), 1, None, None)
    for code in codes:
        ignored = frozenset(c for c in LET_GO if c not in codes or c == code)
        count = 1 if "P109" in ignored else room.counts()[0]
        pool = room.search(count, ignored).run(Budget(STEPS, STARTS), enough=True)
        assert pool[0].fault == 0, code


@pytest.mark.parametrize(
    ("size", "key"),
    [({"width_mm": 1100}, "width_mm"), ({"depth_mm": 1300}, "depth_mm"),
     ({"front_height_mm": 800, "back_height_mm": 800}, "front_height_mm")],
)  # fmt: skip
def test_at_the_least_size_a_layout_is_found_and_not_a_step_below(size, key):
    """A hawk of 1200 mm: sides of two spans, a roof of one, by hand from S105, S106 and P104."""
    least = getattr(fit(loft(**size), "North loft").report.conflict.least, key)
    by_hand = {"width_mm": 2400, "depth_mm": 2400, "front_height_mm": 1200}[key]
    assert by_hand <= least <= by_hand + 10

    def at(value):
        update = dict.fromkeys(size, value)
        return fit(loft(**update), "North loft").report

    assert at(least).layouts
    assert not at(by_hand - 11).layouts


def test_what_is_kept_stays_and_the_rest_is_laid_out_round_it():
    mine = perch("Mine", 2500, 5000, form="flat", width_mm=200, length_mm=600, height_mm=2000,
                 diameter_mm=None, cover="turf", cover_age_months=1)  # fmt: skip
    of = loft(mine, perch("Other", 1000, 1000))
    report = fit(of, "North loft", keep=["Mine"]).report
    assert report.layouts
    for proposal in report.layouts:
        assert "Mine" not in {f.name for f in proposal.fittings}
        assert faults(of, "North loft", proposal, keep=["Mine"]) == []


def test_the_same_seed_gives_the_same_layouts():
    first = fit(loft(), "North loft", seed=7).report
    assert first == fit(loft(), "North loft", seed=7).report
    assert fit(loft(), "North loft", seed=8).report.layouts != first.layouts


def test_a_perch_that_a_stay_names_keeps_its_name():
    of = yard(
        bird=[HAWK | {"leash_working_mm": 400, "jess_swivel_mm": 190}],
        quarters=[quarters(kind="shelter", fitting=[perch("My bow", 300, 300)])],
        stay=[stay(mode="tethered", perch="My bow")],
    )
    found = fit(of, "North loft")
    assert found.report.layouts
    assert "My bow" in {f.name for f in found.report.layouts[0].fittings}
    assert found.yard.stay[0].perch == "My bow"


BACK_DOOR = {"between": ["North loft", "outside"], "width_mm": 900, "height_mm": 1900,
             "face": "back", "at_mm": 1300, "opens_into": "North loft"}  # fmt: skip


def test_nothing_new_stands_in_a_doorway():
    """By hand: the leaf of 900 mm sweeps x 850 to 1750 and y 1700 to 2600, 1900 mm high."""
    swept = box(850, 1700, 1750, 2600)
    of = yard(bird=[HAWK], stay=[stay()], door=[BACK_DOOR],
              quarters=[quarters(width_mm=4000, depth_mm=2600)])  # fmt: skip
    found = fit(of, "North loft").report
    assert len(found.layouts) == 3
    for proposal in found.layouts:
        for f in proposal.fittings:
            if f.kind == "hatch":
                assert f.face != "back" or abs(f.at_mm - 1300) >= (900 + f.width_mm) / 2
            elif f.kind == "bath":
                assert not Point(f.at_mm).buffer(f.diameter_mm / 2).intersects(swept)
            elif f.height_mm < 1900:
                assert not LineString(perch_ends_mm(f)).buffer(10).intersects(swept)
    assert not any("doorway" in caution for caution in found.cautions)


def test_a_kept_fitting_in_a_doorway_is_the_keepers_own_business():
    mine = perch("Mine", 2000, 4700, height_mm=1000, diameter_mm=170)
    of = yard(bird=[HAWK], stay=[stay()], door=[BACK_DOOR | {"at_mm": 2000}],
              quarters=[quarters(fitting=[mine])])  # fmt: skip
    assert fit(of, "North loft", keep=["Mine"]).report.layouts


def test_two_tethered_birds_get_a_bath_each_within_the_leash():
    """Two free circles that do not meet leave no spot from which one bath serves both."""
    gear = {"leash_working_mm": 400, "jess_swivel_mm": 190}
    of = yard(
        bird=[HAWK | gear, HAWK | gear | {"name": "Isla"}],
        quarters=[quarters(kind="shelter", width_mm=6500)],
        stay=[stay(mode="tethered"), stay(bird="Isla", mode="tethered")],
    )
    report = fit(of, "North loft").report
    assert report.layouts, report.conflict
    for proposal in report.layouts:
        assert [f.kind for f in proposal.fittings].count("bath") == 2
        assert faults(of, "North loft", proposal) == []


@pytest.mark.parametrize("flies", ["weakly", "not"])
def test_a_bird_that_flies_badly_gets_its_hatch_within_a_hop(flies):
    """W114: one body length up, half of it without flight; the hawk here is 500 mm long."""
    of = yard(bird=[HAWK | {"flies": flies}], quarters=[quarters()], stay=[stay()])
    report = fit(of, "North loft").report
    assert report.layouts, report.conflict
    for proposal in report.layouts:
        hatch = next(f for f in proposal.fittings if f.kind == "hatch")
        assert hatch.sill_mm <= {"weakly": 500, "not": 250}[flies]
        assert faults(of, "North loft", proposal) == []


def test_a_block_for_a_tethered_bird_suits_the_larger_loose_one_that_may_use_it():
    """P114: where no stay names the perch, whoever lives there may stand on it."""
    of = yard(
        bird=[bird(species="peregrine_falcon"), bird("Kit", species="common_kestrel")],
        quarters=[quarters(width_mm=6500)],
        stay=[
            stay(ends_on="2026-12-31"), stay(bird="Kit", mode="tethered", starts_on="2027-01-01"),
        ],
    )  # fmt: skip
    report = fit(of, "North loft").report
    assert report.layouts, report.conflict
    assert faults(of, "North loft", report.layouts[0]) == []


LAWN = yard(bird=[HAWK], quarters=[quarters("Lawn", "pitch")], stay=[stay(quarters="Lawn")])
EMPTY = yard(quarters=[quarters(fitting=[perch()])])
LOW = perch("Low", 300, 3000, height_mm=100)


@pytest.mark.parametrize(
    ("of", "name", "keep", "sentence"),
    [
        (LAWN, "Lawn", [], "'Lawn' is a pitch and has no face: fittings are laid out in a loft, "
         "a shelter or an isolation; on a pitch set the perch where its free circle is clear"),
        (EMPTY, "North loft", [], "no bird lives in 'North loft', so there is nobody to lay it "
         "out for: give a stay"),
        (EMPTY, "South loft", [], "no quarters 'South loft' in 'Alder Close'; there are: "
         "North loft"),
        (loft(perch("bow")), "North loft", ["bough"], "no fitting 'bough' in 'North loft' to "
         "keep; there are: bow"),
    ],
)  # fmt: skip
def test_bad_input_is_refused_by_name(of, name, keep, sentence):
    with pytest.raises(Problem) as refused:
        fit(of, name, keep=keep)
    assert str(refused.value) == sentence


def test_a_kept_fitting_that_does_harm_already_is_refused():
    with pytest.raises(Problem, match=r"^'Low' cannot be kept, P10[12] is against it already: "):
        fit(loft(LOW), "North loft", keep=["Low"])


def test_time_must_be_more_than_nothing():
    with pytest.raises(Problem, match=r"^the time to search is 0 s: give more than 0$"):
        fit(loft(), "North loft", seconds=0)


def test_the_clock_stops_the_search():
    ticks = iter(range(100_000))
    report = fit(loft(), "North loft", seconds=40, clock=lambda: float(next(ticks))).report
    assert report.tried < 1500
