"""Reading a year of weather from the text of a CSV, as docs/air.md has it."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from mewswright.air.moist import dew_point_of_c, vapour_pa
from mewswright.air.sun_hours import SunHours, clear_sky_w_m2, standard_offset_h, sun_hours
from mewswright.air.weather import DAYS_IN, HOURS, Weather, sky_temp_c
from mewswright.air.weather_rows import (
    LIMITS,
    Columns,
    calendar,
    no_leap_day,
    read_number,
    whole_year,
)
from mewswright.air.weather_sky import dullness
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NEEDED = ("time", "temp_c", "humidity_pct", "wind_m_s")
OPTIONAL = (
    "wind_from_deg", "rain_mm", "global_w_m2", "beam_w_m2", "diffuse_w_m2", "cloud_pct",
)  # fmt: skip


def read_csv(name: str, text: str, yard: Yard) -> Weather:
    """Read a CSV.

    Args:
        name: The file's name, for sentences.
        text: All of it, without a mark at its start.
        yard: The yard, for its clock, its sun and its usual sunshine.

    Raises:
        Problem: Names the line, what stands there, and what is wanted.
    """
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
        cloud = dullness({"beam_w_m2": beam}, sun)
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
