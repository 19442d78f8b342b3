"""Bolts in timber by hand from the formulas of EN 1995-1-1, 8.5 and 8.1.4."""

from math import sqrt

import pytest

from mewswright.build.hung import bolt_for
from mewswright.build.strength.bolts import (
    bolt_embedment,
    bolt_lateral,
    bolt_spacing,
    splitting_n,
)
from mewswright.handbook.bolts import bolt


def test_embedment_of_a_12_mm_bolt_in_c24():
    """0.082 x 0.88 x 350 = 25.26 N/mm2 along the grain; k90 = 1.35 + 0.18 across it."""
    assert bolt_embedment(12, 350) == pytest.approx(25.256)
    assert bolt_embedment(12, 350, 90) == pytest.approx(25.256 / 1.53)


def test_a_slender_bolt_bends_in_both_pieces():
    """Mode f of a 6 mm bolt, 18.7 and 27.0 N/mm2: 1.15 sqrt(2b / (1 + b)) sqrt(2 My fh d)."""
    side, other = bolt_embedment(6, 350, 90), bolt_embedment(6, 350)
    beta = other / side
    yields = 0.3 * 400 * 6**2.6
    by_hand = 1.15 * sqrt(2 * beta / (1 + beta)) * sqrt(2 * yields * side * 6)
    found = bolt_lateral(bolt("m6_coach_bolt"), 45, 90, 95, 0, 350)
    assert (found.mode, found.capacity_n) == ("f", pytest.approx(by_hand))
    assert by_hand == pytest.approx(2100, rel=0.02)


def test_a_thick_bolt_crushes_thin_timber():
    """Mode a: 25.8 N/mm2 x 10 mm x 10 mm."""
    found = bolt_lateral(bolt("m10_coach_bolt"), 10, 0, 200, 0, 350)
    assert found.modes["a"] == pytest.approx(0.082 * 0.9 * 350 * 100)


def test_an_edge_takes_three_diameters_and_a_narrow_stud_a_thin_bolt():
    assert bolt_spacing(10).edge_free_mm == 30
    assert bolt_spacing(10, 90).edge_loaded_mm == 40
    assert bolt_spacing(10).along_mm == 50
    found = [bolt_for(b) for b in (72, 60, 59, 48, 45, 36, 35)]
    m12, m10, m8, m6 = (f"m{d}_coach_bolt" for d in (12, 10, 8, 6))
    assert found == [m12, m10, m8, m8, m6, m6, None]


def test_a_ledger_splits_from_its_bolts():
    """45 x 145 mm, the far bolt 115 mm from the loaded edge; no more than 145."""
    assert splitting_n(45, 145, 115) == pytest.approx(14853, rel=1e-3)
    assert splitting_n(45, 145, 145) == float("inf")


@pytest.mark.parametrize("diameter", [5, 31, float("nan")])
def test_what_is_no_bolt_is_refused(diameter):
    with pytest.raises(ValueError, match="a bolt is 6 to 30 mm thick"):
        bolt_embedment(diameter, 350)
