"""`mewswright standards`: every standard that can bind, how far it was read, and own files."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.checks.standard_states import StandardState, StandardStates

WIDTH = 100


def command(
    yard_file: Annotated[
        Path | None,
        typer.Argument(metavar="[YARD]", help="Say which bind this yard; own ones too."),
    ] = None,
    file: Annotated[
        Path | None, typer.Option(help="Check the file of a standard of your own instead.")
    ] = None,
    on: On = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print them as JSON.")] = False,
) -> None:
    """List the standards and how far each was read. Exit 0: listed. 2: bad input."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.checks.standard_states import state_of_file, states_of
        from mewswright.handbook.standard_files import own_standard
        from mewswright.model.problem import Problem

        if file is not None and yard_file is not None:
            raise Problem("give a yard or --file, not both")
        if file is not None:
            one = state_of_file(own_standard(file), day_of(on))
            typer.echo(
                one.model_dump_json(indent=2)
                if as_json
                else "\n".join([*_lines(one), f"{file.name} can be used"])
            )
            return
        found = states_of(open_yard(yard_file) if yard_file else None, day_of(on))
    typer.echo(found.model_dump_json(indent=2) if as_json else _spoken(found))


def _spoken(found: "StandardStates") -> str:
    lines = [line for one in found.standards for line in (*_lines(one), "")]
    lines.append(f"{len(found.standards)} standards, as they bind on {found.on}")
    if found.yard:
        names = ", ".join(one.key for one in found.standards if one.binds)
        lines.append(f"{found.yard} is bound by {names}")
    lines.append(
        "A law is a verdict of harm only where its text was read; a standard's own text decides"
    )
    return "\n".join(lines)


def _lines(one: "StandardState") -> Iterator[str]:
    marks = [one.strength, one.jurisdiction]
    marks += ["your own file"] if one.own else []
    marks += ["BINDS HERE"] if one.binds else []
    yield from _folded(f"{one.key}  {one.name} ({'; '.join(marks)})", "")
    yield from _folded(one.summary, "    ")
    rows = one.sizes + one.rules
    if not rows:
        yield "    no row that a check could ask"
    else:
        known = _counts(one.by_how_known)
        what = f"{_so_many(one.sizes, 'size')} and {_so_many(one.rules, 'rule')}"
        yield from _folded(f"{what}: {_counts(one.by_basis)}; {known}", "    ")
        said = f"a miss of {one.unlawful or 'none'} of them is harm by law"
        said += f"; {one.not_yet} will bind later" if one.not_yet else ""
        said += f"; {one.ended} bind no more" if one.ended else ""
        said += f"; {one.lapsed} are law no longer, and advice" if one.lapsed else ""
        yield from _folded(said, "    ")
    if one.own and one.unasked:
        yield from _folded(
            f"no check asks these of a standard yet: {', '.join(one.unasked)}", "    "
        )
    for gap in one.gaps:
        yield from _folded(f"not read: {gap}", "    ")


def _so_many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _counts(of: Mapping[str, int]) -> str:
    return ", ".join(f"{count} {word}" for word, count in of.items())


def _folded(text: str, indent: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent or "    ")
