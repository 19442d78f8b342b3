"""`mewswright demo`: show the invented yard."""

from pathlib import Path
from typing import Annotated

import typer


def command(
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port on 127.0.0.1; 0 = any free one.")
    ] = 8650,
    open_browser: Annotated[
        bool, typer.Option("--open/--no-open", help="Open the browser, if there is one.")
    ] = True,
    copy_to: Annotated[
        Path | None, typer.Option(help="Write the demo yard to this file, and show that one.")
    ] = None,
) -> None:
    """Open the demo yard, Alder Close, in the browser. Everything in it is invented."""
    from importlib.resources import files

    from mewswright.cli.serve import show

    demo = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
    if copy_to is not None:
        if copy_to.exists():
            typer.echo(f"error: {copy_to} exists already; name a new file", err=True)
            raise typer.Exit(2)
        copy_to.write_bytes(demo.read_bytes())
        demo = copy_to
    show(demo, port, open_browser)
