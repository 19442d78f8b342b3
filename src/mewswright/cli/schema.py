"""`mewswright schema`: the shape of a yard file, for editors, and its page for readers."""

from pathlib import Path
from typing import Annotated

import typer

from mewswright.cli.problems import refusing


def command(
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the schema to this file.")
    ] = None,
    page: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the page that explains every key to this file."),
    ] = None,
) -> None:
    """Print the JSON Schema of a yard file. Exit 0: printed or written. 2: cannot be written."""
    with refusing():
        from mewswright.model.yard_file import save_text
        from mewswright.model.yard_page import schema_text, yard_page

        if out is not None:
            save_text(out, schema_text())
        if page is not None:
            save_text(page, yard_page())
        if out is None and page is None:
            typer.echo(schema_text(), nl=False)
