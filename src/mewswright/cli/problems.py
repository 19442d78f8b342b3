"""How a command refuses bad input: one `error:` on stderr and exit 2."""

from collections.abc import Iterator
from contextlib import contextmanager

import typer

BAD_INPUT = 2


@contextmanager
def refusing() -> Iterator[None]:
    """Turn a Problem raised inside the block into `error: ...` on stderr and exit 2.

    The message is the Problem's own, whole: place, what was given, what is allowed, remedy.

    Raises:
        typer.Exit: With code 2, if the block raises a Problem.
    """
    from mewswright.model.problem import Problem

    try:
        yield
    except Problem as problem:
        typer.secho(f"error: {problem}", err=True, fg="red")
        raise typer.Exit(BAD_INPUT) from problem
