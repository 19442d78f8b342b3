"""`mewswright wind`: wind, driving rain and still frost at each quarters."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.ground.wind_told import QuartersWind, WindReport


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        list[str] | None, typer.Option("--quarters", help="Only these; may be given again.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Tell the wind and the driving rain at every side, and where still frost lies."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.ground.wind_report import wind_report

        report = wind_report(open_yard(yard_file), tuple(quarters or ()))
    say(report, as_json, _spoken)


def _spoken(report: "WindReport") -> Iterator[str]:
    yield f"Wind at {report.yard}"
    yield "  " + "   ".join(
        f"{name} {share:.0f} %" + ("" if speed is None else f" {speed:.1f} m/s")
        for name, share, speed in report.wind.sectors
    )
    for one in report.quarters:
        yield ""
        yield from _quarters(one)
    yield ""
    yield f"How: {report.method}"
    yield "Assumed"
    yield from (f"  {line}" for line in report.assumptions)


def _quarters(one: "QuartersWind") -> Iterator[str]:
    yield one.name
    for side in one.sides:
        if side.joined is not None:
            yield f"  {side.side:<6} stands against {side.joined}"
            continue
        rain = "" if side.driving_rain_l_m2 is None else f", rain {side.driving_rain_l_m2:.0f} l/m2"
        speed = "" if side.mean_into_m_s is None else f", {side.mean_into_m_s:.2f} m/s into it"
        yield (
            f"  {side.side:<6} {side.open_m2:5.2f} m2 open, wind into it {side.hours_into_pct:.0f} "
            f"% of hours, {side.wind_left_pct:.0f} % of it left{speed}{rain}"
        )
    yield from (f"  {line}" for line in one.words)
