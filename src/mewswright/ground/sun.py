"""Where the sun stands at any hour of a day, for shade that moves.

Solar time: the sun stands highest at noon, and 15 deg farther with each hour.
"""

from dataclasses import dataclass
from math import asin, atan2, cos, degrees, pi, radians, sin, tan

TILT_DEG = 23.45  # as the source of `declination_deg` has it
DEG_PER_HOUR = 15.0


@dataclass(frozen=True)
class Sun:
    """The sun: height over the horizon, and bearing clockwise from north [deg]."""

    altitude_deg: float
    bearing_deg: float

    def thrown_m(self, height_m: float) -> tuple[float, float]:
        """How far a place so high throws its shade [m east, m north].

        Raises:
            ValueError: If the sun is not up.
        """
        if self.altitude_deg <= 0:
            raise ValueError(f"the sun stands at {self.altitude_deg:g} deg: it throws no shade")
        length_m = height_m / tan(radians(self.altitude_deg))
        away = radians(self.bearing_deg)
        return -length_m * sin(away), -length_m * cos(away)


def declination_deg(day_of_year: int) -> float:
    """Declination of the sun [deg] on a day, 1 to 366; holds to about a degree.

    Raises:
        ValueError: For a day that no year has.

    Source:
        Cooper 1969, Solar Energy 12: 23.45 sin(360 (284 + n) / 365) (from memory).
    """
    if not 1 <= day_of_year <= 366:
        raise ValueError(f"the day of the year must be 1 to 366, got {day_of_year}")
    return TILT_DEG * sin(2 * pi * (284 + day_of_year) / 365)


def sun_at(latitude_deg: float, declination_deg: float, solar_hour: float) -> Sun:
    """Where the sun stands at an hour of solar time.

    The air's refraction is left out.

    Args:
        latitude_deg: Latitude [deg], north positive.
        declination_deg: Declination of the sun [deg].
        solar_hour: Hour of solar time, 12 = noon.

    Returns:
        Altitude (less than 0 below the horizon) and bearing [deg].

    Raises:
        ValueError: For a latitude or an hour that cannot be.

    Source:
        sin h = sin(latitude) sin(declination) + cos(latitude) cos(declination) cos(t), and
        the bearing from the same triangle; Meeus, Astronomical Algorithms, ch. 13 (from
        memory).
    """
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude must be -90 to 90 deg, got {latitude_deg:g}")
    if not 0 <= solar_hour <= 24:
        raise ValueError(f"the hour must be 0 to 24, got {solar_hour:g}")
    lat, dec = radians(latitude_deg), radians(declination_deg)
    turn = radians((solar_hour - 12) * DEG_PER_HOUR)
    up = sin(lat) * sin(dec) + cos(lat) * cos(dec) * cos(turn)
    east = -cos(dec) * sin(turn)
    north = cos(lat) * sin(dec) - sin(lat) * cos(dec) * cos(turn)
    altitude = degrees(asin(max(-1.0, min(1.0, up))))
    return Sun(altitude, degrees(atan2(east, north)) % 360)
