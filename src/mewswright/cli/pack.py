"""`mewswright pack`: the papers and files of a yard, written into a folder."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder to write to; made if need be.")
    ],
    quarters: Annotated[
        list[str] | None,
        typer.Option(help="Draw and take off these quarters or rows alone; may be repeated."),
    ] = None,
    paper: Annotated[
        Literal["A3", "A4", "Letter"], typer.Option("--paper", help="Paper of the drawings.")
    ] = "A3",
    on: On = None,
) -> None:
    """Write the build pack: PDF, drawings, tables and JSON. Exit 0: written. 2: bad input."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.cli.writing import refuse_no_folder, write_whole
        from mewswright.papers.pack import build_pack

        refuse_no_folder(out)
        pack = build_pack(open_yard(yard_file), quarters, on=day_of(on), paper=paper)
        before = write_whole(out, pack.files, keep=True)
    typer.echo(f"{len(pack.files)} files in {out}; start with {out / 'pack.pdf'}")
    if before.cleared:
        typer.echo(f"cleared of a pack that was cut short: {', '.join(before.cleared)}")
    for name, kept in before.kept:
        typer.echo(f"not made by a pack, and kept: {out / name} is now {kept}")
    for name in before.stale:
        typer.echo(f"left from an earlier pack, and not of this one: {out / name}")
