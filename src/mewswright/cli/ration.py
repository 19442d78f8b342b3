"""`mewswright ration`: what to feed a bird so that it is at its weight at a named hour."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.reading import old_text
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.care.told import RationReport
    from mewswright.model.bird import Bird


def command(
    target_g: Annotated[
        str,
        typer.Option(
            "--target-g", metavar="A[:B]", help="A weight, 1.5 % to either side; or a window."
        ),
    ],
    at: Annotated[str, typer.Option("--at", metavar="ISO_TIME", help="When it should be there.")],
    food: Annotated[
        str, typer.Option("--food", help="What it will be fed; 'quail; chick' in equal parts.")
    ],
    log: Annotated[
        Path | None,
        typer.Option(
            "--log",
            metavar="CSV",
            help="time,weight_g,crop(0-4),food,food_g,temp_c,flown_min,note; see docs/ration.md.",
        ),
    ] = None,
    book: Annotated[
        str | None, typer.Option("--book", help="A book instead of a log; --bird says whose.")
    ] = None,
    bird: Annotated[str | None, typer.Option("--bird", help="Its name in the book.")] = None,
    species: Annotated[
        str | None, typer.Option("--species", help="As in the handbook; a book knows its own.")
    ] = None,
    sex: Annotated[str | None, typer.Option("--sex", metavar="m|f")] = None,
    temp_c: Annotated[
        float | None,
        typer.Option("--temp-c", help="Mean air until then; else the log's last days."),
    ] = None,
    wind_m_s: Annotated[float, typer.Option("--wind-m-s", help="Wind at its perch.")] = 0.0,
    by: Annotated[
        str | None,
        typer.Option(
            "--by", metavar="DATE", help="Bring it to the target by this day, at a safe rate."
        ),
    ] = None,
    floor_g: Annotated[
        float | None, typer.Option("--floor-g", help="A floor of your own, if higher.")
    ] = None,
    fed_up_g: Annotated[
        float | None, typer.Option("--fed-up-g", help="Its fed-up weight; else its highest.")
    ] = None,
    ill: Annotated[
        bool, typer.Option("--ill", help="It is ill or hurt: no ration is given.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
) -> None:
    """Give the ration that brings a bird to its weight at a named hour; refuse what is unsafe."""
    with refusing():
        from mewswright.care.ration import Asked, ration
        from mewswright.model.problem import Problem

        if (log is None) == (book is None):
            raise Problem("give the weights by --log CSV, or by --book BOOK --bird NAME")
        if log is not None:
            text, known = old_text(log), None
        else:
            text, known = _from_book(str(book), bird)
        if known is not None:
            species, fed_up_g = species or known.species, fed_up_g or known.mass_g
            sex = sex or (known.sex if known.sex != "unknown" else None)
        if species is None or sex is None:
            raise Problem("give --species and --sex m or f: the weights do not say what bird it is")
        report = ration(
            Asked(
                text, species, sex.strip().lower(), target_g, at, food, temp_c, wind_m_s, by,
                floor_g, fed_up_g, ill,
            )
        )  # fmt: skip
    say(report, as_json, _spoken)


def _from_book(where: str, bird: str | None) -> "tuple[str, Bird | None]":
    from mewswright.book.bird_log import bird_log
    from mewswright.book.open import Book
    from mewswright.model.problem import Problem

    if bird is None:
        raise Problem("--book holds many birds: say whose with --bird NAME")
    with Book(where) as opened:
        told = bird_log(opened, bird)
    return told.text, told.bird


def _spoken(report: "RationReport") -> Iterator[str]:
    basis = report.basis
    each = " at each meal" if len(report.plan) > 1 else ""
    yield f"Ration: {report.ration_g} g{each}"
    yield from (f"  {item}" for item in report.items)
    low, high = report.interval_90_g
    yield (
        f"At {report.at:%Y-%m-%d %H:%M} the scale should say {report.expected_g:.0f} g, 9 times "
        f"in 10 {low:.0f} to "
        f"{high:.0f} g"
    )
    ends = f"{basis.window_g[0]:.0f} to {basis.window_g[1]:.0f} g"
    yield f"Chance to be within {ends}: {report.p_in_window:.0%}"
    if len(report.plan) > 1:
        yield "fed              grams  weighed          expected  within"
        for day in report.plan:
            yield (
                f"{day.fed_at:%Y-%m-%d %H:%M} {day.ration_g:5d}  {day.at:%Y-%m-%d %H:%M} "
                f"{day.expected_g:8.0f}g "
                f"{day.p_in_window:7.0%}"
            )
    yield (
        f"It stands at {basis.mass_now_g:.0f} g without {basis.content_now_g:.0f} g in crop and "
        "gut, and holds its "
        f"weight on about {basis.holds_weight_g} g a day at {basis.temp_c:.0f} C "
        f"({basis.temp_from})"
    )
    yield (
        f"From {basis.weighings} weighings in {basis.record_days:.0f} days; leans on "
        f"{basis.leans_on}; it needs "
        f"{basis.need_factor:.2f} times what the equations say"
    )
    yield (
        f"Floor: {basis.floor_g:.0f} g, {basis.floor_why}; safe loss {basis.safe_loss_pct_day:g} "
        "% a day"
    )
    yield "Mind"
    yield from (f"  {line}" for line in report.cautions)
    yield "Assumed"
    yield from (f"  {line}" for line in (*basis.assumed, *basis.sources))
