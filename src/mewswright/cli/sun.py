"""`mewswright sun`: sun and shade over a year, or where the sun stands at one moment."""

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.ground.sun_path import SunNow
    from mewswright.ground.sun_shapes import QuartersSun, SunReport


def command(
    yard_file: Annotated[
        Path | None, typer.Argument(metavar="[YARD]", help="The yard file.", show_default=False)
    ] = None,
    quarters: Annotated[
        list[str] | None, typer.Option("--quarters", help="Only these; may be given again.")
    ] = None,
    step_min: Annotated[
        int, typer.Option("--step-min", help="Minutes from one look at the sun to the next.")
    ] = 10,
    at: Annotated[
        str | None, typer.Option("--at", help="One moment, ISO 8601 with its offset.")
    ] = None,
    lat: Annotated[float | None, typer.Option("--lat", help="Latitude [deg].")] = None,
    lon: Annotated[float | None, typer.Option("--lon", help="Longitude, east positive.")] = None,
    alt: Annotated[float | None, typer.Option("--alt", help="Height above the sea [m].")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Tell sun and shade in each quarters by month and hour, or the sun at one moment."""
    with refusing():
        if at is not None:
            _say_now(_now(yard_file, at, lat, lon, alt), as_json)
            return
        report = _year(yard_file, tuple(quarters or ()), step_min, (lat, lon, alt))
    say(report, as_json, _spoken, indent=None)


def _now(
    yard_file: Path | None, at: str, lat: float | None, lon: float | None, alt: float | None
) -> "SunNow":
    from zoneinfo import ZoneInfo

    from mewswright.checks.open import open_yard
    from mewswright.ground.sun_path import sun_now
    from mewswright.model.problem import Problem

    try:
        moment = datetime.fromisoformat(at)
    except ValueError as error:
        raise Problem(
            f"--at {at!r} is no ISO 8601 moment: write it as in 2026-06-21T14:30:00+02:00"
        ) from error
    if yard_file is not None:
        place = open_yard(yard_file).yard
        lat = place.latitude_deg if lat is None else lat
        lon = place.longitude_deg if lon is None else lon
        alt = place.altitude_m if alt is None else alt
        if moment.tzinfo is None:
            moment = moment.replace(tzinfo=ZoneInfo(place.time_zone))
    if lat is None or lon is None:
        missing = " and ".join(
            name for name, given in (("--lat", lat), ("--lon", lon)) if given is None
        )
        raise Problem(f"{missing} is missing: give both, or a yard file, which says where it lies")
    try:
        return sun_now(moment, lat, lon, 0.0 if alt is None else alt)
    except ValueError as error:
        raise Problem(f"sun --at: {error}") from error


def _say_now(now: "SunNow", as_json: bool) -> None:
    rise, down = (
        None if moment is None else moment.isoformat(timespec="seconds")
        for moment in (now.sunrise, now.sunset)
    )
    if as_json:
        told = {
            "zenith_deg": round(now.zenith_deg, 6),
            "azimuth_deg": round(now.azimuth_deg, 6),
            "sunrise": rise,
            "sunset": down,
        }
        typer.echo(json.dumps(told, indent=2))
        return
    typer.echo(
        f"The sun stands {now.height_deg:.3f} deg high (zenith {now.zenith_deg:.3f}), bearing "
        f"{now.azimuth_deg:.3f} deg; refraction is in it"
    )
    typer.echo(f"Sunrise {rise or 'none that day'}, sunset {down or 'none that day'}")


def _year(
    yard_file: Path | None,
    names: tuple[str, ...],
    step_min: int,
    place: tuple[float | None, float | None, float | None],
) -> "SunReport":
    from mewswright.checks.open import open_yard
    from mewswright.ground.sun_report import sun_report
    from mewswright.model.problem import Problem

    if yard_file is None:
        raise Problem("no yard file is given: name one, or one moment by --at, --lat and --lon")
    if any(given is not None for given in place):
        raise Problem("--lat, --lon and --alt belong to --at: the yard file says where it lies")
    yard = open_yard(yard_file)
    try:
        return sun_report(yard, names, step_min)
    except ValueError as error:
        raise Problem(f"sun: {error}") from error


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def _spoken(report: "SunReport") -> Iterator[str]:
    yield f"Sun and shade in {report.yard}, hours a month under a clear sky"
    for one in report.quarters:
        yield ""
        yield from _quarters(one)
    yield ""
    yield f"How: {report.method}; steps of {report.step_min:g} min"
    error = report.error
    yield (
        f"Error: {error.rays_differing} of {error.rays_asked} rays differ from asking every solid"
        + (
            ""
            if error.step_h_year_most is None
            else f"; steps of time cost {error.step_h_year_most:g} h a year at most"
        )
    )
    yield "Assumed"
    yield from (f"  {line}" for line in report.assumptions)


def _quarters(one: "QuartersSun") -> Iterator[str]:
    named = [spot for spot in one.spots if spot.kind in ("perch", "bath")]
    wide = max([len(spot.name) for spot in named] + [len("back wall")])
    yield one.name
    yield (
        "  " + " " * wide + "".join(f"{month:>5}" for month in MONTHS) + "   year  hot hours in sun"
    )
    for spot in named:
        line = "".join(f"{value:5.0f}" for value in spot.hours_by_month)
        yield f"  {spot.name:<{wide}}{line}  {spot.hours_year:5.0f}  {spot.hot_sun_share:.0%}"
    for name, values in (("floor", one.floor_h_by_month), ("back wall", one.back_wall_h_by_month)):
        line = "".join(f"{value:5.0f}" for value in values)
        yield f"  {name:<{wide}}{line}  {sum(values):5.0f}"
    yield from (f"  {line}" for line in one.words)
