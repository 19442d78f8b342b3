"""`mewswright mend`: the cheapest changes that clear harm from a unit, then what falls short."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.fit.mend_shape import Mending, Step


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[str, typer.Argument(metavar="QUARTERS", help="Name of the quarters.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan as JSON.")] = False,
    write: Annotated[
        bool, typer.Option("--write", help="Write the changes into the yard file.")
    ] = False,
    standard: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="Judge by this standard instead of the yard's; may be repeated."
        ),
    ] = None,
) -> None:
    """Say what to change in one unit, in order, at what price. Exit 0: done. 2: bad input."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.fit.mend import mend

        found = mend(open_yard(yard_file), quarters, standard)
        if write and found.changes:
            from mewswright.fit.change_text import written
            from mewswright.model.yard_file import save_text

            text = yard_file.read_bytes().decode("utf-8-sig")
            save_text(yard_file, written(text, found.edits, found.yard, yard_file.name))
    if as_json:
        typer.echo(found.mending.model_dump_json(indent=2))
    else:
        typer.echo("\n".join(_spoken(found.mending)))
        if write and found.changes:
            typer.echo(f"Written into {yard_file}.")


def _spoken(mending: "Mending") -> Iterator[str]:
    before, harmless, after = mending.before, mending.after_harm, mending.after
    yield f"{mending.quarters}, {mending.yard}, by {', '.join(mending.standards)}"
    if not before.harm and not before.short:
        yield "Nothing to mend: nothing here does harm or falls short."
    elif not mending.steps:
        yield "Nothing that can be built here mends what is wrong."
    for stage, title in (("harm", "To clear what does harm"), ("short", "To clear what is short")):
        steps = [step for step in mending.steps if step.stage == stage]
        if steps:
            yield ""
            yield title
            for step in steps:
                yield from _step(step)
    yield ""
    if mending.steps:
        yield from _total(mending)
    yield f"As it stands: {before.harm} harm, {before.short} short, {before.mind} to mind"
    if mending.steps:
        yield f"With the first part: {harmless.harm} harm, {harmless.short} short"
        yield f"With all of it: {after.harm} harm, {after.short} short, {after.mind} to mind"
    if mending.beyond:
        yield ""
        yield "What mending this unit does not clear"
        yield from (f"  {one.code} {one.status}: {one.why}" for one in mending.beyond)
    if mending.minds:
        yield ""
        yield "What then remains to be minded"
        yield from (f"  {line}" for line in mending.minds)
    if mending.steps:
        yield ""
        yield "Mind"
        yield from (f"  {line}" for line in mending.cautions)


def _step(step: "Step") -> Iterator[str]:
    yield f"  {step.n}. {step.change}"
    clears = f"clears {', '.join(step.clears)}" if step.clears else "goes before what follows"
    adds = f"; brings {', '.join(step.adds)}" if step.adds else ""
    yield f"     {clears}{adds}; {_price(step)}; {step.hours:g} h"


def _price(step: "Step") -> str:
    if step.price is None:
        return "price missing"
    if step.priced == "nothing to buy":
        return step.priced
    whose = "assumed" if step.priced == "assumption" else "at the keeper's prices"
    return f"{step.currency} {step.price:.2f} {whose}"


def _total(mending: "Mending") -> Iterator[str]:
    total, currency = mending.total, mending.steps[0].currency
    yield (
        f"In all {currency} {total.price:.2f} ({total.from_keeper:.2f} at the keeper's prices, "
        f"{total.from_assumption:.2f} assumed) and {total.hours:g} h"
    )
    if not total.is_whole:
        yield "This is not the whole cost: some prices are missing"
    proven = (
        "No cheaper set of the changes tried does as much"
        if mending.proven
        else "A cheaper set may exist: the search was stopped"
    )
    yield f"{proven}; {mending.nodes} yards were judged"
