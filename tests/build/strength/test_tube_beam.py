"""Steel tubes as beams: the checks against closed forms and the table of EN 10219-2, recalled."""

import pytest

from mewswright.build.analysis import BeamLoads, LineLoad, beam
from mewswright.build.frame_members import stiffness_of
from mewswright.build.strength.deflection import Deflections
from mewswright.build.strength.member import Forces, Member, Use, member_checks
from mewswright.build.strength.section import Rect
from mewswright.build.strength.tube_beam import bending_kn_m, shear_kn
from mewswright.build.tube import Tube, tube_of

BOX = tube_of("60x60x3")


def checks_of(tube, forces, **more):
    member = Member(Rect(tube.b_mm, tube.h_mm), "S235", 3000, 2, tube=tube, **more)
    return {one.name: one for one in member_checks(member, forces, Use("short"))}


def test_stiffness_is_210000_times_the_tables_second_moment():
    """I of 60x60x3 is 35.1 cm4: 73.7 kNm2; oblong and lying it is that of the other way."""
    assert stiffness_of("60x60x3", "S235") == pytest.approx(210e6 * 35.1e-8, rel=0.004)
    upright, lying = (
        stiffness_of("40x60x3", "S235"),
        stiffness_of("40x60x3", "S235", lies_flat=True),
    )
    assert lying == pytest.approx(stiffness_of("60x40x3", "S235"))
    assert lying < upright


def test_a_tube_under_a_spread_load_bends_as_the_closed_form_says():
    """5 q L4 / 384 EI and q L2 / 8, by hand: 1 kN/m over 3 m of 60x60x3."""
    ei = 210e6 * BOX.inertia_mm4() * 1e-12
    found = beam(
        3.0, (0.0, 3.0), stiffness_of("60x60x3", "S235"),
        {"q": BeamLoads((LineLoad(1.0, 0.0, 3.0),))},
    )["q"]  # fmt: skip
    assert max(found.sag_m) == pytest.approx(5 * 3**4 / 384 / ei, rel=1e-6)
    assert max(found.moment_kn_m) == pytest.approx(9 / 8, rel=1e-6)


def test_bending_and_shear_capacities_by_hand():
    """11.7 cm3 x 235 N/mm2 = 2.75 kNm; half of 6.61 cm2 x 235 / sqrt 3 = 44.8 kN."""
    assert bending_kn_m(BOX) == pytest.approx(2.75, rel=0.004)
    assert shear_kn(BOX) == pytest.approx(44.8, rel=0.004)
    found = checks_of(BOX, Forces(moment_y_kn_m=-1.375, shear_kn=11.2))
    assert found["bending"].utilisation == pytest.approx(0.5, rel=0.004)
    assert found["shear"].utilisation == pytest.approx(0.25, rel=0.004)
    assert found["wall of the tube"].utilisation == pytest.approx(17 / 42)  # (60 - 9) / 3
    assert found["slimness against twisting"].utilisation == 0.5


def test_great_shear_takes_from_the_bending():
    """EN 1993-1-1, 6.2.8: at 0.75 of the shear, (2 x 0.75 - 1)^2 = a quarter is lost."""
    most = shear_kn(BOX)
    alone = checks_of(BOX, Forces(moment_y_kn_m=1, shear_kn=most / 2))["bending"]
    beside = checks_of(BOX, Forces(moment_y_kn_m=1, shear_kn=0.75 * most))["bending"]
    assert beside.capacity == pytest.approx(0.75 * alone.capacity)


def test_a_thin_wide_wall_fails():
    thin = Tube(150, 150, 3)
    assert checks_of(thin, Forces(moment_y_kn_m=0.1))["wall of the tube"].utilisation > 1


def test_a_slim_tube_is_not_called_safe_from_twisting():
    slim = Tube(40, 120, 3)
    assert checks_of(slim, Forces(moment_y_kn_m=0.1))["slimness against twisting"].utilisation > 1


def test_the_timber_under_a_seat_governs_before_the_walls():
    """By hand: C16, 2.2 x 0.9 / 1.3 = 1.52 N/mm2 over 60 x 95 mm: 8.68 kN."""
    found = checks_of(BOX, Forces(bearing_kn=8.68), bearing_mm=95)
    assert found["timber under the seat"].utilisation == pytest.approx(1, rel=0.002)
    # 54 mm of wall, 3 mm thick: lambda 62.4 / 93.9 = 0.66, chi 0.74; 2 x 3 x 95 x 0.74 x 235.
    assert found["walls over the seat"].capacity == pytest.approx(99.6, rel=0.02)


def test_steel_does_not_creep():
    """10 mm at once on a span of 3000 mm; a roof that falls 39 mm holds 10 mm of sag as a pool."""
    found = checks_of(BOX, Forces(deflections=Deflections(10.0, 0.0)), fall_mm=39.0)
    assert found["deflection"].utilisation == pytest.approx(1.0)
    assert found["ponding"].utilisation == pytest.approx(10 / (39 / 4))
