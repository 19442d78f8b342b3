"""`mewswright fit`: lay out perches, bath and hatch in a unit, or say why that cannot be."""

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.fit.report import Conflict, FitReport, Proposal

NO_LAYOUT = 1


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[str, typer.Argument(metavar="QUARTERS", help="Name of the quarters.")],
    keep: Annotated[
        list[str] | None,
        typer.Option(metavar="FITTING", help="Leave this fitting as it is; may be repeated."),
    ] = None,
    seed: Annotated[int, typer.Option(help="Seed of the search: same seed, same layouts.")] = 1,
    seconds: Annotated[float, typer.Option(help="Time to search, at the most [s].")] = 6,
    standard: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="Judge by this standard instead of the yard's; may be repeated."
        ),
    ] = None,
    on: Annotated[
        datetime | None,
        typer.Option(formats=["%Y-%m-%d"], help="Day on which standards must be in force."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the layouts as JSON.")] = False,
    write: Annotated[
        bool, typer.Option("--write", help="Write the best layout into the yard file.")
    ] = False,
) -> None:
    """Lay out perches, bath and hatch for the birds of a unit.

    Exit 0: a layout. 1: none exists, and why. 2: bad input.
    """
    with refusing():
        from time import monotonic

        from mewswright.checks.open import open_yard
        from mewswright.fit.report import fit

        day = on.date() if on else date.today()
        yard = open_yard(yard_file)
        found = fit(yard, quarters, keep or (), seed, seconds, monotonic, standard, day)
        if write and found.edits:
            from mewswright.fit.change_text import written
            from mewswright.model.yard_file import save_text

            text = yard_file.read_bytes().decode("utf-8-sig")
            save_text(yard_file, written(text, found.edits, found.yard, yard_file.name))
    if as_json:
        typer.echo(found.report.model_dump_json(indent=2))
    else:
        typer.echo("\n".join(_spoken(found.report)))
        if write and found.edits:
            typer.echo(f"The first layout is written into {yard_file}.")
    raise typer.Exit(0 if found.report.layouts else NO_LAYOUT)


def _spoken(report: "FitReport") -> Iterator[str]:
    yield (
        f"{report.quarters}, {report.yard}, for {', '.join(report.birds)}, "
        f"by {', '.join(report.standards)}"
    )
    for proposal in report.layouts:
        yield ""
        yield from _layout(proposal)
    if report.layouts:
        yield from _left(report.layouts[0])
    if report.conflict is not None:
        yield ""
        yield from _conflict(report.conflict)
    yield ""
    yield from report.cautions


def _layout(proposal: "Proposal") -> Iterator[str]:
    yield f"Layout {proposal.rank}: {proposal.score:g} of 100"
    for fitting in proposal.fittings:
        yield f"  {_place(fitting)}"
    wishes = (f"{part.wish.replace('_', ' ')} {part.points:g}/{part.weight:g}"
              for part in proposal.parts)  # fmt: skip
    yield f"  {', '.join(wishes)}"


def _place(fitting: object) -> str:
    from mewswright.model.fitting import Bath, Hatch, Perch

    if isinstance(fitting, Perch):
        turn = {0: "along the front", 90: "front to back"}.get(int(fitting.turn_deg), "")
        sizes = [
            f"{fitting.length_mm:g} long" if fitting.length_mm else "",
            f"{fitting.diameter_mm:g} thick" if fitting.diameter_mm else "",
            f"{fitting.width_mm:g} wide" if fitting.width_mm else "",
            turn if fitting.length_mm else "",
        ]
        told = ", ".join(size for size in sizes if size)
        x, y = fitting.at_mm
        return (
            f"{fitting.name}: {fitting.form} with {fitting.cover}, {told}; its middle {x:g} mm "
            f"from the left and {y:g} mm from the front, its top {fitting.height_mm:g} mm up"
        )
    if isinstance(fitting, Bath):
        x, y = fitting.at_mm
        across = " x ".join(f"{size:g}" for size in dict.fromkeys(fitting.size_mm))
        return (
            f"{fitting.name}: bath {across} mm across; its middle {x:g} mm from the left and "
            f"{y:g} mm from the front"
        )
    if isinstance(fitting, Hatch):
        edge = "left" if fitting.face in ("front", "back") else "front"
        return (
            f"{fitting.name}: hatch in the {fitting.face} face; its middle {fitting.at_mm:g} mm "
            f"from the {edge}, sill {fitting.sill_mm:g} mm up, {fitting.width_mm:g} x "
            f"{fitting.height_mm:g} mm, ledge {fitting.ledge_mm:g} mm"
        )
    return ""


def _left(proposal: "Proposal") -> Iterator[str]:
    if proposal.left:
        yield ""
        yield "Harm and short that no fitting cures (mewswright mend looks further)"
        yield from (f"  {finding.code} {finding}" for finding in proposal.left)


def _conflict(conflict: "Conflict") -> Iterator[str]:
    yield f"No layout: {conflict.words}"
    for requirement in conflict.requirements:
        yield f"  {requirement.code} {requirement.title}"
        yield from (f"    {said}" for said in requirement.said)
    if not conflict.smallest:
        yield "The time ran out before the list was cut to the fewest: give more --seconds."
