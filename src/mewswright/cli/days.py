"""The day on which a command asks the standards: the core knows no clock."""

from datetime import date
from typing import Annotated

import typer

On = Annotated[
    str | None,
    typer.Option(
        "--on",
        metavar="DAY",
        help="Judge by what the standards ask on this day, such as 2027-03-01; today, if left out.",
    ),
]


def day_of(text: str | None) -> date:
    """Read the day that an option gives; today where it gives none.

    Raises:
        Problem: If it is no day.
    """
    from mewswright.model.problem import Problem

    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise Problem(f"--on {text!r} is no day: write it as 2027-03-01") from error
