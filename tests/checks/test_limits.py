"""Who may call whom unlawful: only a law whose text was read, for a bird that it means."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis.strategies import sampled_from

from mewswright import handbook
from mewswright.checks import asked
from mewswright.checks.limits import missed, unproven
from mewswright.handbook.evidence import BASES, HOW_KNOWN
from mewswright.handbook.shelf import SHIPPED

RULE = handbook.rules("ca-qc", "tether_hours_max")[0]  # a law, read
ROWS = [row for key in SHIPPED.keys() for row in SHIPPED.rows(key)]  # noqa: SIM118


def known(how_known, row=RULE):
    return replace(row, source=replace(row.source, how_known=how_known))


@given(sampled_from(BASES), sampled_from(HOW_KNOWN), sampled_from([False, True]))
def test_harm_by_law_is_for_a_law_that_was_read_and_is_in_force(basis, how_known, lapsed):
    row = known(how_known, replace(RULE, basis=basis, lapsed=lapsed))
    lawful = (basis, how_known, lapsed) == ("law", "read", False)
    assert missed(row) == asked.miss(row) == ("harm" if lawful else "short")


def test_a_law_that_may_not_mean_the_bird_is_short():
    assert missed(RULE) == "harm"
    assert missed(RULE, doubtful=True) == "short"


@pytest.mark.parametrize("row", [row for row in ROWS if row.source.how_known != "read"])
def test_no_shipped_row_that_was_not_read_is_harm(row):
    assert missed(row) == "short"


def test_why_a_law_is_no_verdict():
    assert unproven(RULE) == ""
    assert unproven(replace(RULE, basis="guide")) == ""
    assert unproven(known("second hand")) == "a law known by second-hand account: ask for its text"
    assert unproven(known("from memory")) == "a law known from memory: ask for its text"
    assert unproven(replace(RULE, lapsed=True)) == "a law no longer in force: advice"
    assert unproven(RULE, doubtful=True) == (
        "whether the law means this bird is doubtful: ask whoever enforces it"
    )
