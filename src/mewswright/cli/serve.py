"""`mewswright serve`: show a yard in the browser, on this machine only."""

from pathlib import Path
from typing import Annotated

import typer

from mewswright.cli.problems import refusing


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file to show.")],
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port on 127.0.0.1; 0 = any free one.")
    ] = 8650,
    open_browser: Annotated[
        bool, typer.Option("--open/--no-open", help="Open the browser, if there is one.")
    ] = True,
) -> None:
    """Show a yard in the browser, read again whenever its file changes. This machine only."""
    with refusing():
        from mewswright.checks.open import open_yard

        open_yard(yard_file)  # a file that cannot be read is said here, not in a browser
    show(yard_file, port, open_browser)


def show(yard_file: Path, port: int, open_browser: bool) -> None:
    """Serve pages until the keeper stops them."""
    import gc
    import socket
    import threading

    import uvicorn

    from mewswright.web.app import create_app

    listening = socket.socket()
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind(("127.0.0.1", port))
    except OSError:
        if port:
            typer.echo(f"port {port} is taken; using a free one instead", err=True)
        listening.bind(("127.0.0.1", 0))
    listening.listen(128)
    address = f"http://127.0.0.1:{listening.getsockname()[1]}/ground"
    typer.echo(f"{yard_file.name}: {address}")
    typer.echo("Leave this window open; Ctrl-C stops it.")
    server = uvicorn.Server(uvicorn.Config(create_app(yard_file), log_level="warning"))
    if open_browser:
        threading.Timer(0.8, _try_browser, (address,)).start()
    gc.collect()
    gc.freeze()  # the page's own garbage is then quick to collect
    server.run(sockets=[listening])


def _try_browser(address: str) -> None:
    """Open a browser if there is one; without one the printed address serves."""
    import contextlib
    import webbrowser

    with contextlib.suppress(webbrowser.Error, OSError):
        webbrowser.open(address)
