"""`mewswright drawings`: the sheets of one quarters as files for print, drafting and 3D."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from mewswright.cli.problems import refusing


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str, typer.Argument(metavar="QUARTERS", help="Name of the quarters, or of a row.")
    ],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder to write to; made if need be.")
    ],
    kind: Annotated[
        Literal["svg", "dxf", "glb", "all"],
        typer.Option("--format", help="Sheets as svg or dxf, parts as glb, or all."),
    ] = "all",
    paper: Annotated[
        Literal["A3", "A4", "Letter"], typer.Option("--paper", help="Paper of the sheets.")
    ] = "A3",
) -> None:
    """Draw one quarters: plan, elevations, sections, perches, details, framing, and parts in 3D.

    Exit 0: written. 2: bad input.
    """
    with refusing():
        from mewswright.build.row import unit_or_row
        from mewswright.checks.open import open_yard
        from mewswright.cli.writing import refuse_no_folder, write_whole
        from mewswright.papers.drawing_files import drawing_files

        refuse_no_folder(out)
        yard, unit = unit_or_row(open_yard(yard_file), quarters)
        files = drawing_files(yard, unit, kind, paper)
        write_whole(out, files)
    for name in files:
        typer.echo(out / name)
