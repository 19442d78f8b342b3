"""Decks: a foot, snow, boards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mewswright.build.strength.deck import Deck, deck_checks, deck_under_foot, deck_under_load

thick = st.floats(10.1, 18)  # one strength class of OSB/3
apart = st.floats(200, 900)


@given(thick, thick, apart)
def test_a_thicker_sheet_is_never_worse(a, b, spacing):
    thin, stout = (deck_checks(Deck(t, spacing), 0.3, 1.0) for t in (min(a, b), max(a, b)))
    assert all(s.utilisation <= t.utilisation for t, s in zip(thin, stout, strict=True))


@given(thick, apart, apart, st.floats(0.1, 4), st.floats(0.1, 4))
def test_closer_rafters_and_less_snow_are_never_worse(t, a, b, s, u):
    near = deck_checks(Deck(t, min(a, b)), 0.3, min(s, u))
    far = deck_checks(Deck(t, max(a, b)), 0.3, max(s, u))
    assert all(n.utilisation <= f.utilisation for n, f in zip(near, far, strict=True))


def test_strands_across_the_rafters_carry_half():
    # EN 12369-1: 16.4 along, 8.2 across
    along, across = (deck_under_foot(Deck(18, 600, along=way)) for way in (True, False))
    assert across.utilisation == pytest.approx(2 * along.utilisation)


def test_a_board_under_a_foot_by_hand():
    # 22 x 150 of C16, 400 apart, plain: 0.17 x 1500 x 400 / (150 x 22^2 / 6) = 8.43 against
    # 0.9 x 16 / 1.3 = 11.08; two tongued boards share.
    plain = deck_under_foot(Deck(22, 400, width_mm=150))
    assert plain.demand == pytest.approx(8.43, abs=5e-3)
    assert plain.capacity == pytest.approx(11.08, abs=5e-3)
    assert deck_under_foot(Deck(22, 400, width_mm=150, tongued=True)).demand == pytest.approx(
        4.215, abs=5e-3
    )


def test_a_sheet_under_drifted_snow_by_hand():
    # 18 mm over 600: 1.35 x 0.25 + 1.5 x 2.6 = 4.2375; x 0.6^2/8 = 0.19069 kNm/m over
    # 54000 mm3/m = 3.531 N/mm2. Sag: (0.25 x 3.25 + 2.6) = 3.4125 kN/m2;
    # 5 x 0.0034125 x 600^4 / (384 x 4930 x 486) = 2.403 mm.
    bent, sag = deck_under_load(Deck(18, 600), 0.25, 2.6)
    assert bent.demand == pytest.approx(3.531, abs=1e-3)
    assert sag.demand == pytest.approx(2.403, abs=1e-3)
    assert bent.passes
    assert sag.capacity == 4


def test_osb_is_refused_in_the_wet():
    with pytest.raises(ValueError, match=r"OSB/3 must not stand in service class 3$"):
        deck_under_foot(Deck(18, 600, service_class=3))
