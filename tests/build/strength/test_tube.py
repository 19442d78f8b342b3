"""Steel tubes against the tables of EN 10219-2 and the curves of EN 1993-1-1, both recalled."""

from math import pi, sqrt

import pytest

from mewswright.build.strength.member import Forces
from mewswright.build.strength.tube import reduction, slenderness, tube_checks
from mewswright.build.tube import Tube, tube_of
from mewswright.handbook import materials
from mewswright.handbook.steel import steel_grade

# EN 10219-2, table of square sections: A [cm2], I [cm4], W elastic [cm3], i [cm], mass [kg/m].
TABLE = [
    ("40x40x3", 4.21, 9.32, 4.66, 1.49, 3.30),
    ("60x60x3", 6.61, 35.1, 11.7, 2.31, 5.19),
    ("100x100x4", 14.9, 226, 45.3, 3.89, 11.7),
]


@pytest.mark.parametrize(("section", "a", "i", "w", "r", "kg"), TABLE)
def test_sections_agree_with_the_table_of_en_10219(section, a, i, w, r, kg):
    """Half a unit of the last digit that the table prints, and a hair for its own rounding."""
    tube = tube_of(section)
    assert tube.area_mm2 / 100 == pytest.approx(a, rel=0.004)
    assert tube.inertia_mm4() / 1e4 == pytest.approx(i, rel=0.004)
    assert tube.modulus_mm3() / 1e3 == pytest.approx(w, rel=0.004)
    assert tube.radius_mm() / 10 == pytest.approx(r, rel=0.004)
    assert tube.area_mm2 * 7850e-6 == pytest.approx(kg, rel=0.004)


def test_an_oblong_tube_is_stiffer_across_its_depth():
    tube = Tube(40, 60, 3)
    assert tube.inertia_mm4() > tube.inertia_mm4(across=False)
    assert tube.inertia_mm4(across=False) == pytest.approx(Tube(60, 40, 3).inertia_mm4())


def test_timber_is_no_tube():
    assert tube_of("45x95") is None


# EN 1993-1-1, figure 6.4, curve c, as tables of it print chi.
@pytest.mark.parametrize(("bar", "chi"), [(0.2, 1.0), (0.5, 0.843), (1.0, 0.540), (2.0, 0.196)])
def test_curve_c_agrees_with_the_printed_values(bar, chi):
    assert reduction(bar, 0.49) == pytest.approx(chi, abs=0.0006)


def test_a_column_at_its_euler_slenderness_of_one():
    """lambda-bar is 1 where Euler's load is the squash load: L = pi i sqrt(E / fy)."""
    grade = steel_grade("S235")
    length = pi * 23.1 * sqrt(210000 / 235)
    assert slenderness(length, 23.1, grade) == pytest.approx(1.0)


def test_a_post_in_compression_and_bending_by_hand():
    """60x60x3, 2.4 m: lambda-bar 2400 / 23.1 / 93.9 = 1.106, chi 0.485 on curve c.

    A fy = 661 x 235 = 155.3 kN, so 10 kN are n = 0.1328; W fy = 11.7 x 0.235 = 2.75 kNm, so
    1 kNm is 0.3637, times 1 + 0.6 n = 1.0797: 0.3926. Together 0.525.
    """
    checks = {
        one.name: one
        for one in tube_checks(
            tube_of("60x60x3"), 2400, Forces(moment_y_kn_m=1.0, shear_kn=2.0, axial_kn=-10)
        )
    }
    assert checks["buckling"].utilisation == pytest.approx(0.525, abs=0.004)
    assert checks["section"].utilisation == pytest.approx(10 / 155.3 + 0.3637, abs=0.002)
    assert checks["shear"].capacity == pytest.approx(661 / 2 * 235 / sqrt(3) / 1000, rel=0.005)
    assert checks["wall of the tube"].demand == pytest.approx((60 - 9) / 3)


def test_a_post_that_is_lifted_does_not_buckle():
    names = [one.name for one in tube_checks(tube_of("60x60x3"), 2400, Forces(axial_kn=5))]
    assert "buckling" not in names


def test_tubes_of_the_handbook_weigh_what_their_section_says():
    for row in materials("tube"):
        tube = Tube(row.breadth_mm, row.depth_mm, row.thickness_mm)
        assert row.mass_kg == pytest.approx(tube.area_mm2 * 7850e-6, abs=0.005), row.id
