"""Yards that are empty, half filled or crowded: no check falls over, none is silent for all."""

from importlib import resources

import pytest

from mewswright import examples
from mewswright.checks.open import open_yard
from mewswright.checks.registry import run_checks
from mewswright.handbook import standards
from support.yards import bird, perch, quarters, stay, yard

KINDS = ("loft", "shelter", "pitch", "isolation")


def test_an_empty_yard_has_nothing_to_say():
    assert run_checks(yard()) == ()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("mode", [None, "loose", "tethered"])
def test_bare_quarters_of_each_kind(kind, mode):
    stays = [stay(mode=mode)] if mode else []
    found = run_checks(yard(bird=[bird()], quarters=[quarters(kind=kind)], stay=stays))
    assert {f.quarters for f in found if f.quarters} == {"North loft"}


@pytest.mark.parametrize("standard", [s.key for s in standards()])
@pytest.mark.parametrize("kind", KINDS)
def test_every_standard_can_be_asked_of_every_kind(standard, kind):
    of = yard(
        (standard,), bird=[bird()], quarters=[quarters(kind=kind, fitting=[perch()])],
        stay=[stay(mode="tethered", perch="perch")],
    )  # fmt: skip
    assert run_checks(of)


def test_a_hundred_birds_in_one_loft():
    birds = [bird(f"B{i}", "harris_hawk") for i in range(100)]
    of = yard(
        bird=birds, quarters=[quarters(fitting=[perch("a", 1000), perch("b", 3000)])],
        stay=[stay(b["name"]) for b in birds],
    )  # fmt: skip
    missing = [f for f in run_checks(of) if f.code == "P109"]
    assert [f.remedy for f in missing] == ["add 98"]


def test_what_is_not_sound_says_why():
    of = yard(
        bird=[bird()], quarters=[quarters(k, kind=k, at_m=[9 * i, 0]) for i, k in enumerate(KINDS)],
        stay=[stay(quarters=k) for k in KINDS],
    )  # fmt: skip
    mute = [f for f in run_checks(of) if f.status != "sound" and not (f.why and f.remedy)]
    assert [str(f) for f in mute if f.code[0] in "PWFRDG"] == []


def test_what_is_measured_and_what_is_wanted_are_counted_in_one_unit():
    """Words have no unit; two numbers that are held against each other have the same."""
    with resources.as_file(resources.files(examples) / "alder-close.yard.toml") as path:
        every = run_checks(open_yard(path), ["dk", "us-nc", "ch-tschv", "house"])
    unlike = [
        str(f)
        for f in every
        if f.measured and f.limit and f.measured.unit != f.limit.unit
        if not isinstance(f.measured.value, str) and not isinstance(f.limit.value, str)
    ]
    assert unlike == []
