"""`mewswright compare`: variants of one unit in one table, worked out side by side."""

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.fit.compare_shape import Comparison, Variant


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[str, typer.Argument(metavar="QUARTERS", help="Name of the quarters.")],
    vary: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIELD=A,B",
            help="A field of the quarters and its values, such as floor.substrate=sand,pea_gravel; "
            "may be repeated: every combination is worked out.",
        ),
    ] = None,
    years: Annotated[float, typer.Option(help="Years of upkeep.")] = 10,
    jobs: Annotated[
        int | None, typer.Option(min=1, help="Processes at one time; as many as there are cores.")
    ] = None,
    on: On = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the table as JSON.")] = False,
) -> None:
    """Compare variants of one unit: cost, hours, upkeep, mass, findings, frame.

    Each value of a field that is varied, and every combination. Exit 0: done. 2: bad input.
    """
    with refusing():
        found = _compared(yard_file, quarters, vary or [], years, jobs, on)
    if as_json:
        typer.echo(found.model_dump_json(indent=2))
    else:
        typer.echo("\n".join(_spoken(found)))


def _compared(
    yard_file: Path, name: str, vary: Sequence[str], years: float, jobs: int | None, on: str | None
) -> "Comparison":
    import os
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    from mewswright.checks.open import open_yard
    from mewswright.fit.compare import standing, table, variant
    from mewswright.fit.compare_fields import axes_of, combinations

    yard = open_yard(yard_file)
    axes = axes_of(yard.quarters_named(name), vary)
    day = day_of(on)
    work = partial(variant, yard, name, axes, years, day)
    values = combinations(axes)
    workers = min(jobs or os.cpu_count() or 1, len(values) + 1)
    if workers == 1:
        stands = standing(yard, name, axes, years, day)
        return table(yard, name, axes, years, stands, map(work, values))
    # Spawned, not forked: a fork would copy the locks of a solver's threads, but not the threads.
    pool = ProcessPoolExecutor(workers, get_context("spawn"))
    try:
        first = pool.submit(standing, yard, name, axes, years, day)
        outcomes = pool.map(work, values)
        return table(yard, name, axes, years, first.result(), outcomes)
    finally:
        pool.shutdown(cancel_futures=True)  # a unit that cannot be is refused at once


def _spoken(found: "Comparison") -> Iterator[str]:
    currency = found.baseline.currency
    count = len(found.variants)
    yield f"{found.quarters}, {found.yard}: {count} variants over {found.years:g} years"
    yield ""
    from mewswright.fit.compare_fields import shown

    columns = [("as it stands", found.baseline)]
    columns += [(f"({i})", one) for i, one in enumerate(found.variants, 1)]
    for title, one in columns[1:]:
        values = ", ".join(f"{path} = {shown(value)}" for path, value in one.values.items())
        yield f"{title} {values}"
        if one.fault is not None:
            yield f"    cannot be: {one.fault}"
    yield ""
    whole = [(title, one) for title, one in columns if one.fault is None]
    rows = [["", *(title for title, _ in whole)]]
    cells = [dict(_cells(one, currency)) for _, one in whole]
    rows += [[key, *(cell[key] for cell in cells)] for key in cells[0]]
    yield from _lined_up(rows)
    yield "  * a price of it is assumed; + a price is missing, the sum is not whole"
    yield ""
    for title, one in whole:
        if one.findings is not None and (one.findings.gained or one.findings.lost):
            more, less = one.findings.gained, one.findings.lost
            said = [f"more or worse {', '.join(more)}"] if more else []
            said += [f"less {', '.join(less)}"] if less else []
            yield f"{title} against the unit as it stands: {'; '.join(said)}"
        if one.frame is not None and not one.frame.sound:
            yield f"{title} weakest of the frame: {one.frame.weakest}"
    yield ""
    yield f"Upkeep over {found.years:g} years"
    for title, one in whole:
        yield f"  {title}"
        for line in one.upkeep.lines if one.upkeep else ():
            often = (
                f"{line.minutes_week:g} minutes a week"
                if line.minutes_week is not None
                else f"{line.times:.2g} times, {line.cost:.2f} {_mark(line.priced)}".rstrip()
            )
            yield f"    {line.what}: {often}, {line.hours:g} h"
    for heading, lines in (("Assumed", found.assumptions), ("Mind", found.cautions)):
        yield ""
        yield heading
        yield from (f"  {line}" for line in lines)


def _cells(one: "Variant", currency: str) -> Iterator[tuple[str, str]]:
    if one.upkeep is None or one.findings is None or one.hours_to_build is None:
        return
    minutes = sum(line.minutes_week or 0 for line in one.upkeep.lines)
    lines = one.upkeep.lines
    worst = "missing" if any(line.priced == "missing" for line in lines) else "keeper"
    if worst == "keeper" and any(line.priced == "assumption" for line in lines):
        worst = "assumption"
    mark = _mark(max(str(one.priced), worst, key=["keeper", "assumption", "missing"].index))
    yield f"purchase [{currency}]", f"{one.purchase:.2f}{_mark(one.priced)}"
    yield f"upkeep [{currency}]", f"{one.upkeep.cost:.2f}{_mark(worst)}"
    yield f"both [{currency}]", f"{one.life_cost:.2f}{mark}"
    yield "hours to build", f"{one.hours_to_build:.0f}"
    yield "hours of upkeep", f"{one.upkeep.hours:.0f}"
    yield "hours of both", f"{one.life_hours:.0f}"
    yield "cleaning, minutes a week", f"{minutes:.0f}"
    yield "mass [kg]", f"{one.mass_kg:.0f}"
    yield "timber wasted [%]", "-" if one.waste_pct is None else f"{one.waste_pct:.1f}"
    yield "harm, short, mind", f"{one.findings.harm}, {one.findings.short}, {one.findings.mind}"
    frame = one.frame
    yield "frame", "-" if frame is None else "sound" if frame.sound else "not sound"
    share = None if frame is None else frame.utilisation
    used = "nothing resists" if share is None else f"{100 * share:.0f}"
    yield "weakest, used [%]", "-" if frame is None else used


def _mark(priced: str | None) -> str:
    return {"assumption": "*", "missing": "+"}.get(priced or "", "")


def _lined_up(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for first, *rest in rows:
        cells = (cell.rjust(width) for cell, width in zip(rest, widths[1:], strict=True))
        yield "  ".join((first.ljust(widths[0]), *cells)).rstrip()
