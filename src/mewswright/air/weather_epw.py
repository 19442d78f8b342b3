"""Reading a year of weather from the text of an EPW file."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from mewswright.air.moist import dew_point_of_c, vapour_pa
from mewswright.air.sun_hours import sun_hours
from mewswright.air.weather import Weather
from mewswright.air.weather_rows import (
    LIMITS,
    Columns,
    no_leap_day,
    read_number,
    whole_year,
)
from mewswright.air.weather_sky import sky_of
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FAR_DEG = 1.5  # of latitude: a file from farther off is of another sky
# Field of an EPW row, and the figure from which on it says that nothing was measured.
EPW_FIELDS = {
    "temp_c": (6, 99.9), "dew_c": (7, 99.9), "humidity_pct": (8, 999), "infrared_w_m2": (12, 9999),
    "global_w_m2": (13, 9999), "beam_w_m2": (14, 9999), "diffuse_w_m2": (15, 9999),
    "wind_from_deg": (20, 999), "wind_m_s": (21, 999), "cloud_tenths": (22, 99),
    "rain_mm": (33, 999),
}  # fmt: skip
EPW_NEEDED = ("temp_c", "humidity_pct", "wind_m_s", "beam_w_m2", "diffuse_w_m2")
EPW_HEAD = 8
EPW_LEAST_FIELDS = 28


def read_epw(name: str, text: str, yard: Yard) -> Weather:
    """Read an EPW file.

    Args:
        name: The file's name, for sentences.
        text: All of it, without a mark at its start.
        yard: The yard, for its sun.

    Raises:
        Problem: Names the line, what stands there, and what is wanted.
    """
    lines = text.splitlines()
    place = lines[0].split(",")
    if place[0] != "LOCATION" or len(place) < 10:
        raise Problem(
            f"{name}, line 1: an EPW file begins with LOCATION and nine more fields, and this with "
            f"{lines[0][:40]!r}"
        )
    latitude, longitude, offset, _ = (
        read_number(name, 1, what, place[6 + n], low, high)
        for n, (what, low, high) in enumerate(
            (("latitude", -90, 90), ("longitude", -180, 180), ("time zone", -12, 14),
             ("elevation", -1000, 9999.9))
        )
    )  # fmt: skip
    columns, dates = Columns(), []
    for at, line in enumerate(lines[EPW_HEAD:], start=EPW_HEAD + 1):
        if not line.strip():
            continue
        fields = line.split(",")
        if len(fields) < EPW_LEAST_FIELDS:
            raise Problem(
                f"{name}, line {at}: an EPW hour has 35 fields, and this has {len(fields)}: is it "
                "cut off?"
            )
        month, day, hour = (
            read_number(name, at, what, fields[n], low, high)
            for what, n, low, high in (
                ("month", 1, 1, 12),
                ("day", 2, 1, 31),
                ("hour", 3, 1, 24),
            )
        )
        dates.append((at, int(month), int(day), int(hour) - 1))
        columns.add(_epw_row(name, at, fields))
    keep = whole_year(name, dates)
    read = columns.arrays(keep)
    missing = {key: float(_is_nan(read[key]).mean()) for key in read}
    notes = _epw_notes(missing, latitude, longitude, yard, place[1])
    read, more = no_leap_day(read, notes)
    cloud = read["cloud_tenths"] / 10
    dew = dew_point_of_c(vapour_pa(read["temp_c"], read["humidity_pct"]))
    sky = sky_of(read, dew, cloud, sun_hours(yard.yard, offset))
    return Weather(
        kind="epw", source=f"{name}: {place[1].strip()}, {place[3].strip()}", offset_h=offset,
        temp_c=read["temp_c"], humidity_pct=read["humidity_pct"], wind_m_s=read["wind_m_s"],
        wind_from_deg=read["wind_from_deg"] % 360, rain_mm=read["rain_mm"],
        beam_w_m2=read["beam_w_m2"], diffuse_w_m2=read["diffuse_w_m2"], sky_c=sky,
        notes=tuple(more),
    )  # fmt: skip


def _epw_row(name: str, at: int, fields: Sequence[str]) -> Mapping[str, float]:
    found = {}
    for key, (n, nothing) in EPW_FIELDS.items():
        text = fields[n] if n < len(fields) else ""
        low, high = LIMITS[key]
        value = read_number(name, at, key, text or str(nothing), low, high, unless=nothing)
        if value >= nothing:
            if key in EPW_NEEDED:
                raise Problem(
                    f"{name}, line {at}: {key} is {text or 'blank'}, which says that it was not "
                    "measured: fill the gap, or take another year"
                )
            value = float("nan")
        found[key] = value
    return found


def _epw_notes(
    missing: Mapping[str, float],
    latitude: float,
    longitude: float,
    yard: Yard,
    town: str,
) -> list[str]:
    notes = []
    place = yard.yard
    apart = max(
        abs(latitude - place.latitude_deg),
        abs((longitude - place.longitude_deg + 180) % 360 - 180) / 2,
    )
    if apart > FAR_DEG:
        notes.append(
            f"the file is of {town.strip()} ({latitude:g}, {longitude:g}) and the yard lies at "
            f"{place.latitude_deg:g}, {place.longitude_deg:g}: its weather and its sun are not the "
            "yard's"
        )
    if missing["rain_mm"] > 0:
        notes.append(f"{missing['rain_mm']:.0%} of the hours tell no rain: there none is counted")
    return notes


def _is_nan(values: "NDArray[np.float64]") -> "NDArray[np.bool_]":
    import numpy as np

    told: NDArray[np.bool_] = np.isnan(values)
    return told
