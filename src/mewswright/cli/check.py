"""`mewswright check`: what in a yard does harm, falls short or must be minded."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperCommand

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.checks.finding import Finding
    from mewswright.checks.report import Report


BY_QUARTERS = ""  # --compare without a name: the unit that --quarters names


class Command(TyperCommand):
    """The check command; its --compare may stand alone beside --quarters."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Give a lone --compare the name that means: the one of --quarters."""
        whole: list[str] = []
        for i, word in enumerate(args):
            whole.append(word)
            alone = i + 1 == len(args) or args[i + 1].startswith("--")
            if word == "--compare" and alone:
                whole.append(BY_QUARTERS)
        return super().parse_args(ctx, whole)


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[str | None, typer.Option(help="Only these quarters.")] = None,
    standard: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME ...",
            help="Judge by these standards instead of the yard's; may be repeated.",
        ),
    ] = None,
    on: On = None,
    compare: Annotated[
        str | None,
        typer.Option(
            metavar="QUARTERS", help="Hold these quarters against every standard there is."
        ),
    ] = None,
    scenario: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="Judge one bad day: heat, storm, flu, frost or fire."),
    ] = None,
    temp_c: Annotated[
        float | None,
        typer.Option(
            metavar="C",
            help="Temperature of the air in the shade to assume in heat or frost, instead of "
            "what the climate of the yard gives.",
        ),
    ] = None,
    more: Annotated[list[str] | None, typer.Argument(hidden=True)] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings as JSON.")] = False,
    sound: Annotated[bool, typer.Option("--all", help="Print what is sound as well.")] = False,
) -> None:
    """Say what in a yard does harm or falls short. Exit 0: no harm. 1: some. 2: bad input."""
    if compare is not None:
        with refusing():
            from mewswright.model.problem import Problem

            if compare == BY_QUARTERS:
                compare, quarters = quarters or "", None
                if not compare:
                    raise Problem("--compare holds one unit against every standard: name it")
            if quarters or standard or more or sound or scenario or temp_c is not None:
                raise Problem(
                    "--compare takes every standard, and one unit: give only --on beside it"
                )
            typer.echo(_compared(yard_file, compare, on, as_json))
        return
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.checks.report import report
        from mewswright.model.problem import Problem

        if more and not standard:
            raise Problem(f"{' '.join(more)!r} is one word too many: give one yard file")
        standards = [*(standard or []), *(more or [])]  # --standard A B, as well as twice
        found = report(
            open_yard(yard_file), standards or None, quarters, day_of(on), scenario, temp_c
        )
    if as_json:
        typer.echo(found.model_dump_json(indent=2))
    else:
        typer.echo(_spoken(found, sound))
    raise typer.Exit(1 if found.counts.harm else 0)


def _compared(yard_file: Path, quarters: str, on: str | None, as_json: bool) -> str:
    from mewswright.checks.compare import compare
    from mewswright.checks.open import open_yard
    from mewswright.cli.compare_table import table

    found = compare(open_yard(yard_file), quarters, day_of(on))
    return found.model_dump_json(indent=2) if as_json else table(found)


def _spoken(found: "Report", with_sound: bool) -> str:
    shown = [f for f in found.findings if with_sound or f.status != "sound"]
    lines = [*_assumed(found), *(_line(finding) for finding in shown)]
    counts = found.counts
    lines.append(
        f"{found.yard} by {', '.join(found.standards)}: {counts.harm} harm, {counts.short} short, "
        f"{counts.mind} to mind, {counts.sound} sound"
    )
    return "\n".join(lines)


def _assumed(found: "Report") -> list[str]:
    """What a scenario takes for granted and leaves out, before what it finds."""
    run = found.scenario
    if run is None:
        return []
    return [
        f"{run.name}: {run.title}",
        *(f"Assumed: {one}." for one in run.assumed),
        f"Not looked at: {'; '.join(run.not_looked_at)}.",
        "",
    ]


def _line(finding: "Finding") -> str:
    from mewswright.checks.finding import MARKS

    return f"{MARKS[finding.status]} {finding.code} {finding}"
