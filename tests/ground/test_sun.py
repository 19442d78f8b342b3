"""The sun at any hour, and the shade that it throws then.

Outside: the sun rises due east and sets due west at the equinox, everywhere but at the poles
(any almanac); on the equator it then passes overhead. Kindred figures by the sunrise
equation, cos t = -tan(latitude) tan(declination).
"""

from math import acos, degrees, radians, tan

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground.noon import noon_sun, quarters_shade_m
from mewswright.ground.sun import Sun, declination_deg, sun_at
from mewswright.model.quarters import Quarters
from support.yards import quarters


@pytest.mark.parametrize(
    ("latitude_deg", "hour", "altitude_deg", "bearing_deg"),
    [
        (47, 6, 0, 90), (47, 18, 0, 270), (-34, 6, 0, 90),
        (0, 9, 45, 90), (0, 15, 45, 270),
        (45, 12, 45, 180), (-45, 12, 45, 0),
    ],
)  # fmt: skip
def test_the_sun_at_the_equinox(latitude_deg, hour, altitude_deg, bearing_deg):
    sun = sun_at(latitude_deg, 0, hour)
    assert sun.altitude_deg == pytest.approx(altitude_deg, abs=1e-9)
    assert sun.bearing_deg == pytest.approx(bearing_deg, abs=1e-9)


@given(floats(-60, 60), floats(-23, 23))
def test_it_sets_when_the_sunrise_equation_says(latitude_deg, declination):
    turn = acos(-tan(radians(latitude_deg)) * tan(radians(declination)))
    sun = sun_at(latitude_deg, declination, 12 + degrees(turn) / 15)
    assert sun.altitude_deg == pytest.approx(0, abs=1e-6)


@given(floats(-60, 60), floats(-23, 23))
def test_at_noon_it_is_the_sun_of_noon(latitude_deg, declination):
    noon = noon_sun(latitude_deg, declination)
    sun = sun_at(latitude_deg, declination, 12)
    assert sun.altitude_deg == pytest.approx(noon.altitude_deg, abs=1e-5)
    assert sun.thrown_m(1)[1] == pytest.approx(noon.thrown_m(1)[1], abs=1e-6)


@pytest.mark.parametrize(("day", "deg"), [(172, 23.44), (355, -23.44), (80, 0), (266, 0)])
def test_declination_at_solstice_and_equinox(day, deg):
    """21 June, 21 December, 21 March, 23 September; the almanac's tilt is 23.44 deg."""
    assert declination_deg(day) == pytest.approx(deg, abs=1.2)


def test_shade_falls_away_from_the_sun():
    """By hand: from the south-west at 45 deg, a place 2 m high throws 2 m to the north-east."""
    east, north = Sun(45, 225).thrown_m(2)
    assert (east, north) == pytest.approx((2**0.5, 2**0.5))


def test_a_roof_throws_its_shade_east_in_the_afternoon():
    room = Quarters.model_validate(quarters())
    roof = quarters_shade_m(room, Sun(45, 270))[0]
    assert min(east for east, _ in roof) == pytest.approx(
        min(east for east, _ in room.corners_m) + 3
    )


@pytest.mark.parametrize(
    ("given_wrong", "sentence"),
    [
        (lambda: declination_deg(0), "the day of the year must be 1 to 366, got 0"),
        (lambda: sun_at(91, 0, 12), "latitude must be -90 to 90 deg, got 91"),
        (lambda: sun_at(47, 0, 25), "the hour must be 0 to 24, got 25"),
        (lambda: Sun(0, 90).thrown_m(1), "the sun stands at 0 deg: it throws no shade"),
    ],
)
def test_what_cannot_be_is_refused(given_wrong, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}$"):
        given_wrong()
