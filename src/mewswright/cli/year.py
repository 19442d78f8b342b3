"""`mewswright year`: who lives where, week by week, or why no plan can be made."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from datetime import date


NO_PLAN = 1
WEEK, DAY = 7, 1


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    start: Annotated[
        str | None,
        typer.Option(
            "--from", metavar="DATE", help="First day, as 2027-03-01; blank = Monday to come."
        ),
    ] = None,
    weeks: Annotated[int, typer.Option(metavar="N", help="Length of the plan [weeks].")] = 52,
    until: Annotated[
        str | None,
        typer.Option("--to", metavar="DATE", help="Last day, instead of a number of weeks."),
    ] = None,
    days: Annotated[
        bool, typer.Option("--days", help="Plan by days: moves may be on any day of the week.")
    ] = False,
    lock: Annotated[
        list[str] | None,
        typer.Option(
            metavar="STAY",
            help="A stay to keep: BIRD@QUARTERS, with :loose or :tethered after it and FROM..TO "
            'where wanted, as in "Moth@Barn loft:loose 2027-03-01..2027-04-30". May be repeated.',
        ),
    ] = None,
    forbid: Annotated[
        list[str] | None,
        typer.Option(metavar="STAY", help="A stay that must not be, in the same form; repeatable."),
    ] = None,
    seconds: Annotated[float, typer.Option(help="Time to search, at the most [s].")] = 20,
    seed: Annotated[int, typer.Option(help="Seed of the search's chances.")] = 1,
    replan: Annotated[
        Path | None,
        typer.Option(
            metavar="PLAN.json",
            help="Keep what can be kept of this plan, as --json printed it, and plan anew from "
            "--from on.",
        ),
    ] = None,
    gone: Annotated[
        list[str] | None,
        typer.Option(metavar="BIRD", help="With --replan: a bird that is gone; repeatable."),
    ] = None,
    broken: Annotated[
        list[str] | None,
        typer.Option(
            metavar="QUARTERS",
            help="With --replan: quarters that cannot be used, to the end of the plan or with "
            'FROM..TO after the name, as in "Slate shelter 2027-05-12..2027-06-30"; repeatable.',
        ),
    ] = None,
    arrives: Annotated[
        list[str] | None,
        typer.Option(
            metavar="BIRD",
            help="With --replan: a bird that arrives, as NAME:SPECIES[:SEX[:USE]]; repeatable.",
        ),
    ] = None,
    ics: Annotated[
        Path | None,
        typer.Option("--ics", metavar="FILE", help="Write moves and cleanings as iCalendar."),
    ] = None,
    chart: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the wall chart, as .svg or .pdf (A3)."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan as JSON.")] = False,
) -> None:
    """Share the quarters out over the year: who lives where, loose or tethered, week by week.

    Exit 0: a plan. 1: no plan, and why. 2: bad input.
    """
    from mewswright.cli.year_living import (
        happened,
        old_plan,
        refuse_bad_files,
        refuse_without_replan,
        write_files,
    )
    from mewswright.cli.year_search import Search
    from mewswright.cli.year_told import spoken

    with refusing():
        from time import monotonic

        from mewswright.checks.open import open_yard
        from mewswright.year.problem import year_problem
        from mewswright.year.replan import anew

        begun = monotonic()
        if not 0 < seconds <= 86_400:
            from mewswright.model.problem import Problem

            raise Problem(f"--seconds is {seconds:g}: give more than 0, and a day at the most")
        refuse_bad_files(ics, chart)
        yard = open_yard(yard_file)
        search = Search(seconds, seed, begun)
        if replan is None:
            refuse_without_replan({"--gone": gone, "--broken": broken, "--arrives": arrives})
            first, steps = _length(start, weeks, until, DAY if days else WEEK)
            step = DAY if days else WEEK
            problem = year_problem(yard, first, steps, step, lock or (), forbid or ())
            report = search.report(problem)
        else:
            on = None if start is None else _day("--from", start)
            old = old_plan(replan)
            what = happened(on, old, gone or (), broken or (), arrives or ())
            asked = anew(yard, old, what, lock or (), forbid or ())
            problem = asked.problem
            report = search.report_anew(asked)
        write_files(report, problem.yard, ics, chart)
    say(report, as_json, spoken)
    raise typer.Exit(0 if report.conflict is None else NO_PLAN)


def _length(start: str | None, weeks: int, until: str | None, step: int) -> "tuple[date, int]":
    """First day and number of steps of the plan."""
    from datetime import date, timedelta

    from mewswright.model.problem import Problem

    if start is None:
        today = date.today()
        first = today + timedelta(days=-today.weekday() % WEEK)
    else:
        first = _day("--from", start)
    if until is None:
        return first, weeks * WEEK // step
    last = _day("--to", until)
    if last < first:
        raise Problem(f"--to {last} lies before the first day, {first}: give a later day")
    return first, -(-((last - first).days + 1) // step)


def _day(option: str, text: str) -> "date":
    from datetime import date

    from mewswright.model.problem import Problem

    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Problem(f"{option} {text!r} is no day: write it as 2027-03-01") from None
