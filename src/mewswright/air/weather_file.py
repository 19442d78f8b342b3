"""Reading a year of weather from the text of an EPW file or of a CSV.

Strict: what is missing or cannot be is refused with its line, not guessed. What a file may leave
out (rain, bearing of the wind, cloud) is told in the notes.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from mewswright.air.moist import dew_point_of_c, vapour_pa
from mewswright.air.sun_hours import SunHours, clear_sky_w_m2, standard_offset_h, sun_hours
from mewswright.air.weather import DAYS_IN, HOURS, KELVIN, STEFAN, Weather, sky_temp_c
from mewswright.air.weather_rows import (
    LIMITS,
    Columns,
    calendar,
    no_leap_day,
    read_number,
    whole_year,
)
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FAR_DEG = 1.5  # of latitude: a file from farther off is of another sky
NEEDED = ("time", "temp_c", "humidity_pct", "wind_m_s")
OPTIONAL = (
    "wind_from_deg", "rain_mm", "global_w_m2", "beam_w_m2", "diffuse_w_m2", "cloud_pct",
)  # fmt: skip
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


def read_weather(name: str, text: str, yard: Yard) -> Weather:
    """Read a year of weather.

    Args:
        name: The file's name, for sentences; `.epw` says what it is.
        text: All of it.
        yard: The yard, for its clock and its sun.

    Raises:
        Problem: Names the line, what stands there, and what is wanted.
    """
    if "\0" in text:
        raise Problem(f"{name} is no text: give an EPW file, or a CSV as docs/air.md has it")
    if not text.strip():
        raise Problem(f"{name} is empty: give an EPW file, or a CSV as docs/air.md has it")
    if name.lower().endswith(".epw") or text.lstrip("\ufeff").startswith("LOCATION,"):
        return _epw(name, text.lstrip("\ufeff"), yard)
    return _csv(name, text.lstrip("\ufeff"), yard)


# --- EPW -----------------------------------------------------------------------------------


def _epw(name: str, text: str, yard: Yard) -> Weather:
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
    sky = _sky(read, dew, cloud, sun_hours(yard.yard, offset))
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


def _sky(
    read: Mapping[str, "NDArray[np.float64]"],
    dew: "NDArray[np.float64]",
    cloud: "NDArray[np.float64]",
    sun: SunHours,
) -> "NDArray[np.float64]":
    """Temperature of the sky: as measured, else by its cloud, else by how dull the days are."""
    import numpy as np

    infrared = read.get("infrared_w_m2", np.full(len(dew), np.nan))
    told = np.where(np.isnan(cloud), _dullness(read, sun), cloud)
    made = sky_temp_c(read["temp_c"], dew, told)
    measured = ~np.isnan(infrared) & (infrared > 50)
    with np.errstate(invalid="ignore"):
        seen = (np.where(measured, infrared, 300.0) / STEFAN) ** 0.25 - KELVIN
    return np.where(measured, seen, made)


def _dullness(read: Mapping[str, "NDArray[np.float64]"], sun: SunHours) -> "NDArray[np.float64]":
    """Cloud of each day from what is missing of its beam (8760,)."""
    import numpy as np

    clear, _ = clear_sky_w_m2(sun)
    day = [line.reshape(-1, 24).sum(axis=1) for line in (read["beam_w_m2"], clear)]
    share = np.divide(day[0], day[1], out=np.full(len(day[0]), 0.5), where=day[1] > 0)
    told: NDArray[np.float64] = np.repeat(1 - np.clip(share, 0, 1), 24)
    return told


def _is_nan(values: "NDArray[np.float64]") -> "NDArray[np.bool_]":
    import numpy as np

    told: NDArray[np.bool_] = np.isnan(values)
    return told


# --- CSV -----------------------------------------------------------------------------------


def _csv(name: str, text: str, yard: Yard) -> Weather:
    import csv

    try:
        lines = list(csv.reader(text.splitlines()))
    except csv.Error as error:
        raise Problem(f"{name} is no CSV: {error}") from error
    head = [one.strip() for one in lines[0]]
    _heading(name, head)
    columns, dates = Columns(), []
    for at, line in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in line):
            continue
        if len(line) != len(head):
            raise Problem(
                f"{name}, line {at}: {len(line)} cells under {len(head)} headings: give each its "
                "own, and no comma inside a number"
            )
        row = dict(zip(head, (cell.strip() for cell in line), strict=True))
        dates.append((at, *calendar(name, at, row["time"])))
        columns.add({
            key: read_number(name, at, key, row[key], *LIMITS[key]) for key in head if key != "time"
        })  # fmt: skip
    read = columns.arrays(whole_year(name, dates))
    read, notes = no_leap_day(read, [])
    offset = standard_offset_h(yard.yard)
    sun = sun_hours(yard.yard, offset)
    beam, diffuse, cloud = _light(read, sun, yard, notes)
    dew = dew_point_of_c(vapour_pa(read["temp_c"], read["humidity_pct"]))
    unknown = _nothing()
    if "rain_mm" not in read:
        notes.append("the file tells no rain: none is counted")
    if "wind_from_deg" not in read:
        notes.append("the file tells no bearing of the wind: the mean over all bearings is taken")
    return Weather(
        kind="csv", source=name, offset_h=offset, temp_c=read["temp_c"],
        humidity_pct=read["humidity_pct"], wind_m_s=read["wind_m_s"],
        wind_from_deg=read.get("wind_from_deg", unknown) % 360,
        rain_mm=read.get("rain_mm", unknown), beam_w_m2=beam, diffuse_w_m2=diffuse,
        sky_c=sky_temp_c(read["temp_c"], dew, cloud), notes=tuple(notes),
    )  # fmt: skip


def _nothing() -> "NDArray[np.float64]":
    import numpy as np

    return np.full(HOURS, np.nan)


def _heading(name: str, head: Sequence[str]) -> None:
    known = (*NEEDED, *OPTIONAL)
    if not set(head) & set(known):
        raise Problem(
            f"{name}, line 1: no heading that is known: the first line names the columns, parted "
            f"by commas: {', '.join(NEEDED)}, and if you have them {', '.join(OPTIONAL)}"
        )
    missing = [key for key in NEEDED if key not in head]
    if missing:
        raise Problem(
            f"{name}, line 1: no column {', '.join(missing)}; there are {', '.join(head)}"
        )
    strange = [key for key in head if key not in known]
    if strange:
        raise Problem(
            f"{name}, line 1: no such column {strange[0]!r}; there may be {', '.join(known)}"
        )
    if len(set(head)) < len(head):
        twice = next(key for key in head if head.count(key) > 1)
        raise Problem(f"{name}, line 1: two columns are called {twice}: leave one out")
    if ("beam_w_m2" in head) != ("diffuse_w_m2" in head):
        raise Problem(
            f"{name}, line 1: beam_w_m2 and diffuse_w_m2 come together; give both, or global_w_m2"
        )


def _light(
    read: Mapping[str, "NDArray[np.float64]"], sun: SunHours, yard: Yard, notes: list[str]
) -> "tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]":
    """Beam, light of the sky, and cloud: as measured, parted, or by cloud or the climate."""
    import numpy as np

    clear_beam, clear_sky = clear_sky_w_m2(sun)
    cloud = read["cloud_pct"] / 100 if "cloud_pct" in read else None
    if "beam_w_m2" in read:
        beam, diffuse = read["beam_w_m2"], read["diffuse_w_m2"]
    elif "global_w_m2" in read:
        beam, diffuse = _parted(read["global_w_m2"], sun)
    else:
        if cloud is None:
            cloud = _usual_cloud(sun, yard, notes)
        level = clear_beam * sun.mean(sun.sine) + clear_sky
        beam = clear_beam * (1 - cloud)
        diffuse = clear_sky * (1 - cloud) + 0.25 * cloud * level
    if cloud is None:
        cloud = _dullness({"beam_w_m2": beam}, sun)
    return beam, diffuse, np.clip(cloud, 0, 1)


def _usual_cloud(sun: SunHours, yard: Yard, notes: list[str]) -> "NDArray[np.float64]":
    import numpy as np

    if yard.climate is None:
        notes.append(
            "neither the file nor the yard tells of sun or cloud: the sky is taken as half clouded"
        )
        return np.full(HOURS, 0.5)
    notes.append("the file tells no sun: each hour has the usual share of its month")
    possible = sun.up_share.reshape(-1, 24).sum(axis=1)
    day = np.repeat(np.arange(12), DAYS_IN)
    hours = np.bincount(day, possible, 12)
    share = np.divide(np.array(yard.climate.sun_h), hours, out=np.zeros(12), where=hours > 0)
    told: NDArray[np.float64] = np.repeat(1 - np.clip(share, 0, 1)[day], 24)
    return told


def _parted(
    level: "NDArray[np.float64]", sun: SunHours
) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """Beam and light of the sky of what falls on level ground. Source: Erbs 1982, by pvlib."""
    import numpy as np
    from pvlib.irradiance import erbs

    sine = sun.mean(sun.sine)
    zenith = np.degrees(np.arccos(np.clip(sine, 0, 1)))
    day = np.repeat(np.arange(1, HOURS // 24 + 1), 24)
    found = erbs(level, np.where(sine > 0, zenith, 95.0), day)
    diffuse = np.nan_to_num(np.asarray(found["dhi"], float))
    beam = np.nan_to_num(np.asarray(found["dni"], float))
    dark = sine <= 0
    return np.where(dark, 0.0, beam), np.where(dark, 0.0, diffuse)
