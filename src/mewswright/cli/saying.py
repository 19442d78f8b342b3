"""An answer on standard output: as JSON, or in lines for people."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

import typer

if TYPE_CHECKING:
    from pydantic import BaseModel

    Report = TypeVar("Report", bound=BaseModel)


def say(
    report: "Report", as_json: bool, spoken: "Callable[[Report], Iterable[str]]",
    indent: int | None = 2,
) -> None:  # fmt: skip
    """Print a report.

    Args:
        report: The answer.
        as_json: True for JSON.
        spoken: Its lines for people.
        indent: Of the JSON; None for one line.
    """
    typer.echo(report.model_dump_json(indent=indent) if as_json else "\n".join(spoken(report)))
