"""Rooms under two slopes: heads, wings and sight by hand.

The room is 5000 mm wide and 6000 mm deep, its eaves 2400 mm and its ridge 3000 mm up in the
middle: 200 mm to a metre. The beam's top is level with the tops of the rafters at its faces,
22.5 mm before and behind the ridge: 3000 - 4.5 + 145 sqrt(1.04) = 3143.4 mm.
"""

from math import sqrt

import pytest

from mewswright.build.clear_height import beam_mm, clear_height_mm
from mewswright.build.overhead import lowest_over_mm
from mewswright.build.takeoff import take_off
from mewswright.fit.change import edited
from mewswright.fit.remedies_roof import change_the_fall, raised
from mewswright.fit.remedy import Standing
from mewswright.ground.noon import noon_sun, quarters_shade_m
from mewswright.ground.sight import Body, sees
from support.units import unit_yard
from support.yards import bird, only, perch, quarters, stay, yard

HAWK = bird(wing_span_mm=1200, tail_mm=250, mass_g=1200, body_length_mm=600)
BEAM_TOP = 3000 - 0.2 * 22.5 + 145 * sqrt(1.04)


def ridged(*fittings, depth=220, roof=None, **more):
    place = quarters(
        fitting=list(fittings), front_height_mm=2400, back_height_mm=2400,
        roof={"form": "duopitch", "ridge_height_mm": 3000, **(roof or {})},
        frame={"ridge": f"45x{depth}"}, **more,
    )  # fmt: skip
    return yard(("house",), bird=[HAWK], quarters=[place], stay=[stay()])


def rod(y, turn=0, height=1500):
    return perch("rod", 2500, y, form="round", length_mm=600, diameter_mm=40, height_mm=height,
                 turn_deg=turn)  # fmt: skip


@pytest.mark.parametrize(
    ("y", "turn", "over"),
    [(3000, 0, BEAM_TOP - 220), (3100, 0, 3000 - 20), (3100, 90, BEAM_TOP - 220),
     (3400, 90, 3000 - 80), (4500, 0, 2700)],
)  # fmt: skip
def test_a_perch_under_a_deep_beam_has_the_beam_over_it(y, turn, over):
    found = only(ridged(rod(y, turn)), "P104")
    assert found.measured.value == pytest.approx(over - 1500)


def test_a_beam_that_ends_at_the_rafters_hides_nothing():
    """145 mm of beam reach down to 2998.4 mm, and the rafters at its faces to 2995.5 mm."""
    shallow = ridged(depth=145).quarters[0]
    assert beam_mm(shallow) is None
    assert clear_height_mm(shallow, 3000) == 3000


def test_a_leash_under_the_beam_has_its_headroom():
    unit = ridged().quarters[0]
    assert lowest_over_mm(unit, (2500, 2500), 400) == 2400 + 0.2 * 2100
    assert lowest_over_mm(unit, (2500, 2500), 600) == pytest.approx(2400 + 0.2 * 1900)
    assert lowest_over_mm(unit, (2500, 3000), 100) == pytest.approx(BEAM_TOP - 220)


def test_a_keeper_stoops_under_the_beam_and_the_ridge_is_raised():
    """Eaves at 2010 mm clear the 2000 mm; a beam of 300 mm under a ridge of 2060 does not."""
    place = quarters(
        front_height_mm=2010, back_height_mm=2010, frame={"ridge": "45x300"},
        roof={"form": "duopitch", "ridge_height_mm": 2060},
    )  # fmt: skip
    of = yard(("house",), bird=[HAWK], quarters=[place], stay=[stay()])
    found = only(of, "R105")
    rise = 50 / 3000
    under = 2060 - rise * 22.5 + 145 * sqrt(1 + rise**2) - 300
    assert found.measured.value == pytest.approx(under)
    assert found.remedy == "raise the ridge 96 mm"


def test_a_roof_is_raised_with_its_ridge():
    of = ridged()
    standing = Standing(of, of.quarters[0].name, None)
    (change,) = raised(standing, 100, 40)
    new = edited(of, change.edits).quarters[0]
    assert (new.front_height_mm, new.back_height_mm, new.ridge_mm[1]) == (2500, 2440, 3100)
    assert "the ridge 100 mm, to 3100 mm" in change.words


def test_a_flat_felt_roof_of_two_slopes_gets_a_higher_ridge():
    of = ridged(roof={"ridge_height_mm": 2450})
    found = only(of, "R102")
    (change,) = change_the_fall(Standing(of, of.quarters[0].name, None), found)
    assert only(edited(of, change.edits), "R102").status == "sound"


def test_sight_passes_beside_a_ridge_and_not_through_it():
    """A line 2700 mm up goes in and out through both slopes; over the eaves' plane it is free."""
    loft = Body(ridged(at_m=[0, 0], facing_deg=180).quarters[0])
    assert not sees((2.5, -3, 2.7), (2.5, 9, 2.7), [loft], [])
    assert not sees((-3, 3, 2.7), (8, 3, 2.7), [loft], [])
    assert sees((2.5, -3, 3.1), (2.5, 9, 3.1), [loft], [])
    assert sees((-3, 0.4, 2.7), (8, 0.4, 2.7), [loft], [])


def test_a_gable_throws_the_shade_of_its_ridge():
    """The sun at 45 degrees in the south throws 3000 mm of ridge 3 m to the north."""
    unit = ridged(at_m=[0, 0], facing_deg=180).quarters[0]
    shade = quarters_shade_m(unit, noon_sun(45, 0))
    (tip,) = {p for outline in shade for p in outline if p[1] == max(q[1] for q in outline)} & {
        p for outline in shade for p in outline if abs(p[0]) < 1e-9 and abs(p[1] - 6) < 1e-9
    }
    assert tip == pytest.approx((0, 6))


def test_the_lining_fills_the_gable():
    """A gable of 4000 mm: 2300 mm at its eaves, 3000 mm under the ridge: 10.6 m2 each."""
    of = unit_yard(
        width_mm=3000, depth_mm=4000, front_height_mm=2300, back_height_mm=2300,
        roof={"form": "duopitch", "ridge_height_mm": 3000}, frame={"lining": "osb3_11"},
    )  # fmt: skip
    lined = sum(
        part.amount
        for part in take_off(of, of.quarters[0]).parts
        if part.what == "lining sheet" and part.place == "left and right"
    )
    assert lined == pytest.approx(2 * 4.0 * (2.3 + 3.0) / 2, abs=1e-3)
