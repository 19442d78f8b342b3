"""Racking and sway: limits, limits of the limits, and the way of the force."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.build.holding.bracing import racking, twist_kn
from mewswright.build.holding.racking import SheathedWall, panel_factor, sheet_buckles
from mewswright.build.holding.standing import WindCase
from mewswright.build.holding.sway import (
    OpenFrame,
    cantilever_sway_m,
    fixed_portal_sway_m,
    knee_sway_m,
    portal_sway_m,
)

stiff = floats(1, 1e4)


def wind(along, head=2.0):
    return WindCase("wind", along, 2 * head, 1.2, 0, 0, head)


def sheets(side, panels=(1.22, 1.22)):
    return SheathedWall(side, 2.4, panels, 397, 150, 9, 555)


def knees(doors=False, **more):
    base = {
        "side": "front", "kind": "knee", "height_m": 2.4, "bay_m": 3.0, "posts": 2,
        "e_n_mm2": 11_000, "post_i_mm4": 95**4 / 12, "beam_i_mm4": 47 * 147**3 / 12,
        "brace_leg_m": 0.6, "brace_area_mm2": 45 * 95, "has_doors": doors,
    }  # fmt: skip
    return OpenFrame(**(base | more))


@pytest.mark.parametrize(
    ("width", "factor"), [(2.0, 1), (1.2, 1), (0.9, 0.75), (0.6, 0.5), (0.59, 0), (0.1, 0)]
)
def test_narrow_sheets_count_less_and_then_not_at_all(width, factor):
    """EN 1995-1-1, 9.2.4.2: whole from h/2, in proportion to h/4, at h 2.4 m."""
    assert panel_factor(width, 2.4) == pytest.approx(factor)


def test_nine_mm_between_studs_at_600_holds_and_at_1000_buckles():
    assert not sheet_buckles(555, 9)
    assert sheet_buckles(955, 9)
    assert SheathedWall("back", 2.4, (1.22,), 397, 150, 9, 955).capacity_kn == 0


@given(stiff, floats(1, 4), floats(1, 6))
def test_a_fixed_portal_lies_between_its_two_limits(eic, h, length):
    """Limp beam: two cantilevers. Rigid beam: two posts held at both ends, a quarter of it."""
    limp = fixed_portal_sway_m(1, h, length, eic, 1e-9)
    rigid = fixed_portal_sway_m(1, h, length, eic, 1e12)
    assert limp == pytest.approx(cantilever_sway_m(1, h, 2, eic), rel=1e-6)
    assert rigid == pytest.approx(limp / 4, rel=1e-6)


@given(stiff, stiff, floats(1.2, 3), floats(1.5, 5), floats(0.01, 0.7))
def test_longer_knee_braces_sway_less(eic, eib, h, length, leg):
    shorter = knee_sway_m(1, h, length, leg, eic, eib)
    longer = knee_sway_m(1, h, length, leg + 0.01, eic, eib)
    assert longer < shorter


@given(stiff, stiff, floats(1, 4), floats(1, 6))
def test_knees_without_a_leg_are_a_rigid_portal(eic, eib, h, length):
    """As the brace shrinks to the corner it becomes a stiff knee there."""
    assert knee_sway_m(1, h, length, 1e-9, eic, eib) == pytest.approx(
        portal_sway_m(1, h, length, eic, eib), rel=1e-6
    )


def test_a_95_mm_knee_braced_front_fails_its_sway_at_one_kn():
    """2.4 m at 21 mm per kN is h/114: over the limit of h/150, which is 16 mm."""
    frame = knees()
    assert frame.limit_mm == pytest.approx(16)
    assert frame.sway_mm(1) == pytest.approx(21.4, abs=0.1)
    assert knees(doors=True).limit_mm == pytest.approx(12)
    assert knees(posts=4).sway_mm(2) == pytest.approx(frame.sway_mm(1))
    assert knees(posts=3).sway_mm(1) == pytest.approx(frame.sway_mm(1))  # one is left over


def test_each_wall_takes_half_where_both_can():
    found = racking(wind("width", 1.0), [knees(), sheets("back")], 3, 2.4, deck_nailed=False)
    assert found.path == "each wall takes half"
    assert found.sway_mm == pytest.approx(knees().sway_mm(0.5))
    assert found.sound


def test_a_nailed_deck_carries_the_open_front():
    """All of it to the back, and W (d/2) / b to each side."""
    walls = [sheets("back"), sheets("left"), sheets("right")]
    found = racking(wind("width"), walls, 3, 2.4, deck_nailed=True)
    assert found.path == "the roof deck carries all to the back wall"
    asked = {check.direction: check.demand for check in found.checks}
    assert asked == pytest.approx({"back": 3.0, "left": 1.2, "right": 1.2})
    assert twist_kn(2, 2.4, 3) == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("walls", "depth", "deck"),
    [
        (["back", "left", "right"], 2.4, False),  # no deck
        (["back", "left", "right"], 3.6, True),  # deeper than wide
        (["back", "left"], 2.4, True),  # one cross wall is missing
        (["left", "right"], 2.4, True),  # nothing for the deck to lean on
    ],
)
def test_without_deck_shape_or_walls_an_open_front_stays_unbraced(walls, depth, deck):
    found = racking(wind("width"), [sheets(w) for w in walls], 3, depth, deck_nailed=deck)
    assert not found.sound
    assert found.utilisation is None
    assert "nothing keeps the front" in found.note


@given(floats(0.1, 20), floats(0.1, 5))
def test_racking_use_grows_with_the_push(head, more):
    walls = [sheets("left"), sheets("right")]
    less = racking(wind("depth", head), walls, 3, 2.4, deck_nailed=False).utilisation
    grown = racking(wind("depth", head + more), walls, 3, 2.4, deck_nailed=False).utilisation
    assert grown > less


def test_end_tie_is_statics():
    """One sheet: F h / b. Two equal sheets: half of it each."""
    assert sheets("left", (1.2,)).end_tie_per_kn == pytest.approx(2.4 / 1.2)
    assert sheets("left", (1.2, 1.2)).end_tie_per_kn == pytest.approx(1.0)


def test_braces_that_do_not_fit_are_refused():
    with pytest.raises(ValueError, match="do not fit a bay of 1 m"):
        knee_sway_m(1, 2.4, 1, 0.6, 1, 1)
    with pytest.raises(ValueError, match="leg of a brace"):
        knee_sway_m(1, 2.4, 9, 2.4, 1, 1)
    with pytest.raises(ValueError, match="no frame 'hinge'"):
        knees(kind="hinge").sway_mm(1)
