"""The `mewswright` command.

Every command has a module of its own here with one function, `command`. Such a module
imports nothing heavy at its top: `mewswright --help` reads them all.
"""

from importlib import import_module
from importlib.util import find_spec
from typing import Annotated

import typer

from mewswright import __version__

# Command: module. In the order of the help page, which is the order of the work.
COMMANDS = {
    "new": "new",
    "brief": "brief",
    "check": "check",
    "fit": "fit",
    "mend": "mend",
    "compare": "compare",
    "frame": "frame",
    "size": "size",
    "takeoff": "takeoff",
    "cut": "cut",
    "drawings": "drawings",
    "nest": "nest",
    "drain": "drain",
    "sun": "sun",
    "wind": "wind",
    "air": "air",
    "sight": "sight",
    "outlook": "outlook",
    "place": "place",
    "year": "year",
    "ration": "ration",
    "pack": "pack",
    "round": "round",
    "book": "book",
    "serve": "serve",
    "demo": "demo",
    "handbook": "handbook",
    "standards": "standards",
    "schema": "schema",
}

app = typer.Typer(
    name="mewswright",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # rich would double the time to --help
)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"mewswright {__version__}")
        raise typer.Exit


@app.callback()
def mewswright(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_show_version, is_eager=True, help="Say which version this is."
        ),
    ] = False,
) -> None:
    """Housing for trained birds of prey, worked out from one yard file."""


for _name, _module in COMMANDS.items():
    if find_spec(f"mewswright.cli.{_module}"):
        _found = import_module(f"mewswright.cli.{_module}")
        if hasattr(_found, "app"):  # a command with commands of its own
            app.add_typer(_found.app, name=_name)
        else:
            app.command(_name, cls=getattr(_found, "Command", None))(_found.command)


def main() -> None:
    """Run the command line."""
    app(prog_name="mewswright")
