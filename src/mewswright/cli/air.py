"""`mewswright air`: a year of warmth, damp and draught in the unheated quarters of a yard."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.reading import old_text
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.air.told import AirReport, QuartersAir
    from mewswright.air.weather import Weather
    from mewswright.model.yard import Yard


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        list[str] | None, typer.Option("--quarters", help="Only these; may be given again.")
    ] = None,
    weather: Annotated[
        Path | None,
        typer.Option(
            "--weather", help="A year's hours, EPW or CSV (docs/air.md); else one is made."
        ),
    ] = None,
    seed: Annotated[
        int, typer.Option("--seed", min=0, help="For the year that is made from [climate].")
    ] = 0,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Tell a year of air at each perch: heat, frost, damp, draught, and what would help."""
    with refusing():
        from mewswright.air.report import air_report
        from mewswright.checks.open import open_yard

        yard = open_yard(yard_file)
        year = None if weather is None else _read(weather, yard)
        report = air_report(yard, tuple(quarters or ()), year, seed)
    say(report, as_json, _spoken)


def _read(path: Path, yard: "Yard") -> "Weather":
    from mewswright.air.weather_file import read_weather

    return read_weather(path.name, old_text(path), yard)


def _spoken(report: "AirReport") -> Iterator[str]:
    weather = report.weather
    yield f"A year of air in {report.yard}"
    yield f"Weather: {weather.source}" + ("" if weather.seed is None else f", seed {weather.seed}")
    yield (
        f"  {weather.min_c:.0f} to {weather.max_c:.0f} C, wind {weather.mean_wind_m_s:.1f} m/s"
        + ("" if weather.rain_mm is None else f", rain {weather.rain_mm:.0f} mm")
    )
    yield from (f"  {line}" for line in weather.notes)
    for one in report.quarters:
        yield ""
        yield from _quarters(one)
    yield ""
    yield f"How: {report.method}"
    yield "Assumed"
    yield from (f"  {line}" for line in report.assumptions)


def _quarters(one: "QuartersAir") -> Iterator[str]:
    yield one.name
    yield from (f"  {line}" for line in one.words)
    if one.perches:
        wide = max(len(perch.name) for perch in one.perches)
        yield f"  {'perch':<{wide}}  mean  least  most C  frost nights  wind m/s  sun h  wet h"
        for perch in one.perches:
            wet = "    -" if perch.wet_hours is None else f"{perch.wet_hours:5d}"
            yield (
                f"  {perch.name:<{wide}} {perch.mean_c:5.1f} {perch.min_c:6.1f} {perch.max_c:7.1f}"
                f" {perch.frost_nights:13d} {perch.mean_wind_m_s:9.2f} {perch.sun_hours:6.0f}"
                f"  {wet}"
            )
    for tried in one.helps:
        yield f"  {tried.help}: {tried.words}"
    yield from (f"  holds: {line}" for line in one.validity)
