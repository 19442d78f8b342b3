"""`mewswright place`: where new or movable quarters should stand, or why there is no place."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing
from mewswright.cli.saying import say

if TYPE_CHECKING:
    from mewswright.fit.place_report import PlaceReport, PlanTold

NO_PLAN = 1


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    new: Annotated[
        list[str] | None,
        typer.Option(
            metavar="KIND:COUNT",
            help="New quarters: loft, shelter, pitch or isolation, and how many; clear sizes in "
            "millimetres after another colon, as in loft:2:4200x3000x2600x2400. May be repeated.",
        ),
    ] = None,
    move: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="Quarters or a row that may be set down elsewhere; repeatable."
        ),
    ] = None,
    corridor: Annotated[
        list[str] | None,
        typer.Option(
            metavar="KIND", help="New quarters of this kind stand in one row and share a corridor."
        ),
    ] = None,
    set_back: Annotated[
        float | None,
        typer.Option(help="Free strip along the boundary [m]; blank = the passage."),
    ] = None,
    passage: Annotated[
        float | None,
        typer.Option(help="Free way between things [m]; blank = 0.8, or the barrow and 0.2."),
    ] = None,
    seed: Annotated[int, typer.Option(help="Seed of the search's chances.")] = 1,
    seconds: Annotated[float, typer.Option(help="Time to search, at the most [s].")] = 20,
    why: Annotated[
        str | None,
        typer.Option(metavar="X,Y", help="Say what refuses this place [m east, m north]."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the plans as JSON.")] = False,
) -> None:
    """Find places for new or movable quarters: several plans and what each costs the others.

    Exit 0: a plan, or an answer to --why alone. 1: no plan, and why. 2: bad input.
    """
    with refusing():
        from time import monotonic

        from mewswright.checks.open import open_yard
        from mewswright.fit.place import Asked, place
        from mewswright.fit.place_ready import compile_place

        compile_place()  # some 25 s the very first time, and then no more
        begun = monotonic()  # what is read counts too: somebody waits for it
        spot = None if why is None else _spot(why)
        yard = open_yard(yard_file)
        asked = Asked(seed, seconds, set_back, passage, spot).checked()
        left = max(0.05 * seconds, seconds - (monotonic() - begun))
        asked = Asked(seed, left, set_back, passage, spot)
        report = place(yard, new or (), move or (), asked, corridor or (), monotonic)
    say(report, as_json, _spoken)
    only_why = why is not None and not new and not move
    raise typer.Exit(0 if report.plans or only_why else NO_PLAN)


def _spot(text: str) -> tuple[float, float]:
    from mewswright.model.problem import Problem

    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise Problem(
            f"--why is {text!r}: give metres east and north of the yard's origin, as in 12.5,8"
        ) from None
    return x, y


def _spoken(report: "PlaceReport") -> Iterator[str]:
    yield f"{report.yard}: places for {', '.join(report.asked)}"
    for plan in report.plans:
        yield ""
        yield from _plan(plan)
    if report.plans:
        yield ""
        step = report.grid.step_m
        covers = f"middles on squares of {step:g} m and {len(report.grid.headings_deg)} headings"
        first = report.plans[0]
        yield (
            f"Plan 1 is proven: no plan with {covers} misses fewer points."
            if report.proven
            else f"Plan 1 is not proven the best: no plan with {covers} misses fewer than "
            f"{first.bound:.2f} points."
        )
    elif report.unplaced:
        yield f"No plan: no place was found for {', '.join(report.unplaced)}."
        yield from (f"  {reason.words}" for reason in report.reasons)
        yield from (f"  To make room: {relax.words}" for relax in report.relax)
    if report.why is not None:
        yield ""
        yield f"At {report.why.x_m:g}, {report.why.y_m:g}:"
        yield from (f"  {piece.words}" for piece in report.why.pieces)
    yield ""
    yield from report.cautions


def _plan(plan: "PlanTold") -> Iterator[str]:
    yield f"Plan {plan.rank}, {plan.aim}: {plan.score:.2f} of 100 points missed"
    for piece in plan.pieces:
        yield (
            f"  {piece.name}: front left corner at {piece.x_m:.2f}, {piece.y_m:.2f} m, facing "
            f"{piece.heading_deg:.0f} deg; misses {piece.score:.1f}"
        )
    wishes = (f"{part.wish.replace('_', ' ')} {part.points:.1f}/{part.of:.1f}"
              for part in plan.parts)  # fmt: skip
    yield f"  missed: {', '.join(wishes)}"
    if plan.new_findings:
        yield "  The checks will say of it:"
        yield from (f"    {one}" for one in plan.new_findings)
