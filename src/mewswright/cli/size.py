"""`mewswright size`: the cheapest frame of a unit that stands, or one section against another."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.build.size import SizeReport
    from mewswright.build.size_compare import Comparison

NOTHING = 1


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[str, typer.Argument(metavar="QUARTERS", help="Name of the quarters.")],
    section: Annotated[
        list[str] | None,
        typer.Argument(metavar="[SECTION]...", help="With --compare: these sections, as 45x95."),
    ] = None,
    compare: Annotated[
        bool, typer.Option("--compare", help="Set all timbers out in one section after another.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the result as JSON.")] = False,
    write: Annotated[
        bool, typer.Option("--write", help="Write the chosen frame into the yard file.")
    ] = False,
) -> None:
    """Choose the cheapest timber, spacings, bracing and anchors that pass every check.

    A first sizing, not an approval. Exit 0: found. 1: nothing passes. 2: bad input.
    """
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.model.problem import Problem

        if section and not compare:
            raise Problem(f"sections are for --compare: {' '.join(section)}")
        if write and compare:
            raise Problem("--compare chooses nothing, so there is nothing to --write")
        yard = open_yard(yard_file)
        unit = yard.quarters_named(quarters)
        if compare:
            from mewswright.build.size_compare import compare as compared

            table = compared(yard, unit, _read(section or []))
            typer.echo(table.model_dump_json(indent=2) if as_json else "\n".join(_table(table)))
            raise typer.Exit(0)
        from mewswright.build.size import size

        sized = size(yard, unit)
        report = sized.report
        if write and report.changes:
            from mewswright.fit.change import Edit, edited
            from mewswright.fit.change_text import written
            from mewswright.model.yard_file import save_text

            edits = [
                Edit(("quarters", unit.name, "frame", k), v) for k, v in report.changes.items()
            ]
            new = edited(yard, edits)
            if new is None:
                raise Problem(f"the frame of {unit.name!r} cannot be so")
            text = yard_file.read_bytes().decode("utf-8-sig")
            save_text(yard_file, written(text, edits, new, yard_file.name))
    if as_json:
        typer.echo(report.model_dump_json(indent=2))
    else:
        typer.echo("\n".join(_spoken(report)))
        if write and report.changes:
            typer.echo(f"The frame is written into {yard_file}.")
    raise typer.Exit(0 if report.found else NOTHING)


def _read(sections: list[str]) -> list[str]:
    from re import fullmatch

    from mewswright.model.problem import Problem

    for one in sections:
        if not fullmatch(r"\d+(\.\d+)?x\d+(\.\d+)?", one):
            raise Problem(f"section {one!r}: give breadth x depth in mm, as 45x95")
    return sections


def _spoken(report: "SizeReport") -> Iterator[str]:
    yield f"{report.quarters}, {report.yard}"
    yield ""
    if report.found:
        yield "The cheapest frame that passes every check"
        for key, value in report.frame.items():
            if value is not None:
                changed = "  (changed)" if key in report.changes else ""
                yield f"  {key} = {_value(value)}{changed}"
        cost = report.cost
        if cost is not None:
            before = f", {report.cost_now.total:.2f} as it is" if report.cost_now else ""
            yield f"The unit costs {cost.total:.2f} {cost.currency}{before}."
            yield (
                f"  timber {cost.timber:.2f}, {cost.timber_kg:.0f} kg, "
                f"waste {cost.timber_waste_pct:.0f} %"
            )
            yield from (f"  without a price: {item}" for item in cost.missing)
        yield f"Weakest: {report.weakest}"
    else:
        yield "Nothing passes every check."
        yield from (f"  {reason}" for reason in report.reasons)
        yield "What would help"
        yield from (f"  {help_}" for help_ in report.helps)
    yield ""
    yield (
        f"{report.combinations} combinations; {report.judged} sets of timber met, "
        f"{report.full_analyses} analysed whole."
        + ("" if report.proven else " The search was given up: a cheaper one may be missed.")
    )
    yield ""
    yield from report.cautions


def _value(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (tuple, list)):
        return f"[{', '.join(f'{one:g}' for one in value)}]"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _table(found: "Comparison") -> Iterator[str]:
    yield f"{found.quarters}, {found.yard}: all timbers of one section"
    yield ""
    yield f"{'section':>9} {'used':>7} {'sway mm':>8} {found.currency:>9} {'waste':>6}  weakest"
    for one in found.families:
        mark = "✓" if one.members_sound else "✕"
        sway = "-" if one.sway_mm is None else f"{one.sway_mm:.1f}"
        cost = "-" if one.cost is None else f"{one.cost:.2f}"
        waste = "-" if one.waste_pct is None else f"{one.waste_pct:.0f} %"
        stands = ", stands" if one.sound else ""
        yield (
            f"{one.section:>9} {100 * one.utilisation:5.0f} % {sway:>8} {cost:>9} {waste:>6}  "
            f"{mark} {one.weakest}{stands}"
        )
    yield from (f"Left out: {one}" for one in found.left_out)
    yield ""
    yield found.answer
    yield from (f"  {words}" for words in found.claim.told())
    yield ""
    yield from found.cautions
