"""The sun at solar noon, and the shade that it throws.

Outside: Eratosthenes (in Cleomedes, Caelestia 1.7) has the sun over Syene, 24.1 N, at the
June solstice and a fiftieth of a circle, 7.2 deg, from overhead at Alexandria, 31.2 N; the
obliquity was 23.7 deg in his day. The Royal Observatory at Greenwich, 51.5 N, gives about 62
deg at the June noon and 15 deg at the December noon.
"""

from math import asin, cos, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground.noon import (
    SOLSTICE_DEG,
    area,
    clipped,
    feature_shade_m,
    midsummer,
    noon_sun,
    quarters_shade_m,
)
from mewswright.model.place import Feature
from mewswright.model.quarters import Quarters
from support.yards import quarters


@pytest.mark.parametrize(
    ("latitude_deg", "declination_deg", "altitude_deg", "bearing_deg", "within_deg"),
    [
        (31.2, SOLSTICE_DEG, 90 - 7.2, 180, 0.7),  # Alexandria
        (24.1, SOLSTICE_DEG, 90, 180, 0.7),  # Syene
        (51.5, SOLSTICE_DEG, 62, 180, 0.5),  # Greenwich, June
        (51.5, -SOLSTICE_DEG, 15, 180, 0.5),  # Greenwich, December
        (0, SOLSTICE_DEG, 66.56, 0, 0.01),  # from the equator the June sun is in the north
        (-33.9, -SOLSTICE_DEG, 79.54, 0, 0.01),  # by hand: 90 - (33.9 - 23.44)
        (-33.9, SOLSTICE_DEG, 32.66, 0, 0.01),  # by hand: 90 - (33.9 + 23.44)
        (70, -SOLSTICE_DEG, -3.44, 180, 0.01),  # the polar night
    ],
)
def test_the_sun_at_noon(latitude_deg, declination_deg, altitude_deg, bearing_deg, within_deg):
    sun = noon_sun(latitude_deg, declination_deg)
    assert sun.altitude_deg == pytest.approx(altitude_deg, abs=within_deg)
    assert sun.bearing_deg == bearing_deg


@given(floats(-90, 90), floats(-SOLSTICE_DEG, SOLSTICE_DEG))
def test_the_short_formula_is_the_long_one_at_noon(latitude_deg, declination_deg):
    """The sine of the altitude of a body, with its hour angle 0."""
    la, de = radians(latitude_deg), radians(declination_deg)
    sine = sin(la) * sin(de) + cos(la) * cos(de)
    # Near overhead the inverse of the sine loses half its digits.
    assert noon_sun(latitude_deg, declination_deg).altitude_deg == pytest.approx(
        degrees(asin(min(1.0, sine))), abs=1e-5
    )


def test_midsummer_comes_in_december_in_the_south():
    assert midsummer(47) == (SOLSTICE_DEG, 6)
    assert midsummer(-34) == (-SOLSTICE_DEG, 12)


def test_places_and_days_that_cannot_be_are_refused():
    with pytest.raises(ValueError, match=r"^latitude must be -90 to 90 deg, got 91$"):
        noon_sun(91, 0)
    with pytest.raises(
        ValueError, match=r"^the sun's declination is -23\.44 to 23\.44 deg, got 24$"
    ):
        noon_sun(47, 24)
    with pytest.raises(ValueError, match=r"^the sun stands at -3\.44 deg: it throws no shade$"):
        noon_sun(70, -SOLSTICE_DEG).shift_m(1)


def test_at_45_deg_shade_is_as_long_as_its_thing_is_high():
    """Latitude 45 at the equinox; a wall of 2 m, and the roof of a shelter facing south."""
    sun = noon_sun(45, 0)
    wall = Feature(name="Wall", kind="wall", line_m=((0, 0), (4, 0)), height_m=2)
    (shade,) = feature_shade_m(wall, sun, 6)
    assert shade == ((0, 0), (4, 0), (4, pytest.approx(2)), (0, pytest.approx(2)))
    shelter = Quarters.model_validate(quarters(kind="shelter"))
    roof, *walls = quarters_shade_m(shelter, sun)
    assert roof == tuple(
        (pytest.approx(x), pytest.approx(y)) for x, y in ((0, 3), (5, 3), (5, 9), (0, 9))
    )
    assert [round(area(one), 6) for one in walls] == [15, 0, 0]  # the back; sides in the sun's line


def test_clear_sheets_and_bare_trees_throw_no_shade():
    sun = noon_sun(45, 0)
    clear = quarters(kind="shelter", roof={"cover": "polycarbonate"})
    assert len(quarters_shade_m(Quarters.model_validate(clear), sun)) == 3
    assert quarters_shade_m(Quarters.model_validate(quarters(kind="pitch")), sun) == ()
    tree = Feature(
        name="Ash", kind="tree", at_m=(0, 0), height_m=6, crown_radius_m=2, leaf_months=(5, 6)
    )
    assert feature_shade_m(tree, sun, 4) == ()
    (crown,) = feature_shade_m(tree, sun, 5)
    assert max(north for _, north in crown) == pytest.approx(4 + 2)
    assert min(north for _, north in crown) == pytest.approx(4 - 2)


def test_a_rectangle_cuts_an_outline():
    box = (0, 0, 2, 2)
    assert set(clipped(((1, 1), (3, 1), (3, 3), (1, 3)), box)) == {(1, 1), (2, 1), (2, 2), (1, 2)}
    assert clipped(((3, 3), (4, 3), (4, 4)), box) == ()
    assert area(clipped(((-1, 1), (1, -1), (3, 1), (1, 3)), box)) == pytest.approx(4)
