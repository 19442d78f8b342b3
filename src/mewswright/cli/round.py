"""`mewswright round`: today's work in walking order."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from datetime import date

    from mewswright.care.round import RoundSheet
    from mewswright.model.yard import Yard


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    book: Annotated[
        str | None, typer.Option(help="The book: what it has is not asked for again.")
    ] = None,
    on: Annotated[str | None, typer.Option(metavar="DATE", help="The day; blank = today.")] = None,
    agent: Annotated[
        str | None, typer.Option(help="Disinfectant (handbook disinfectants).")
    ] = None,
    bucket_l: Annotated[float, typer.Option(help="Size of the bucket [l].")] = 5.0,
    as_json: Annotated[bool, typer.Option("--json", help="Print the round as JSON.")] = False,
) -> None:
    """Say what is to be done today, in the order in which to walk it. Exit 0. 2: bad input."""
    with refusing():
        from mewswright.care.round import AGENT, round_on
        from mewswright.checks.open import open_yard

        yard = open_yard(yard_file)
        day = _day(yard, on)
        done = _done(yard, book, day) if book else {}
        sheet = round_on(yard, day, done, agent=agent or AGENT, bucket_l=bucket_l)
    say(sheet, as_json, _spoken)


def _day(yard: "Yard", on: str | None) -> "date":
    from datetime import UTC, datetime
    from datetime import date as dates
    from zoneinfo import ZoneInfo

    from mewswright.model.problem import Problem

    if on is None:
        return datetime.now(UTC).astimezone(ZoneInfo(yard.yard.time_zone)).date()
    try:
        return dates.fromisoformat(on)
    except ValueError:
        raise Problem(f"--on {on!r}: write the day as 2027-03-01") from None


def _done(yard: "Yard", address: str, day: "date") -> "dict[tuple[str, str], date]":
    from zoneinfo import ZoneInfo

    from mewswright.book.lasts import last_done
    from mewswright.book.open import Book

    with Book(address) as book:
        return last_done(
            book,
            [b.name for b in yard.bird],
            [q.name for q in yard.quarters],
            day,
            ZoneInfo(yard.yard.time_zone),
        )


def _spoken(sheet: "RoundSheet") -> Iterator[str]:
    far = "" if sheet.walk_m is None else f", {sheet.walk_m:.0f} m on foot"
    yield f"{sheet.yard}: the round of {sheet.day:%A} {sheet.day}{far}"
    for move in sheet.moves:
        yield f"Moves today: {move.bird} from {move.was or 'outside'} to {move.now}, {move.mode}"
    for number, stop in enumerate(sheet.stops, start=1):
        walk = "" if stop.walk_m is None else f" ({stop.walk_m:.0f} m)"
        apart = "; through the footbath, in and out" if stop.part == "isolation" else ""
        yield ""
        yield f"{number}. {stop.quarters}{walk}: {', '.join(stop.birds)}{apart}"
        for task in stop.tasks:
            who = f"{task.bird}: " if task.bird else ""
            yield f"   [ ] {who}{task.says} ({task.why})"
    if sheet.bucket:
        one = sheet.bucket
        wet = "" if one.contact_min is None else f", wet for {one.contact_min:g} min"
        yield ""
        yield (
            f"Bucket: {one.product_ml:g} ml (or g of a powder) of {one.agent} to "
            f"{one.water_ml:g} ml of water{wet} ({one.strength}; {one.source})"
        )
    for title, lines in (
        ("Without a place today", sheet.without_place),
        ("Not in the book yet", sheet.never_noted),
        ("Mind", sheet.notes),
    ):
        if lines:
            yield ""
            yield title
            yield from (f"  {line}" for line in lines)
