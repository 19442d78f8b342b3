"""Rows: units that stand side by side and share the walls between them."""

from typing import Annotated

from pydantic import Field

from mewswright.model.shape import Shape


class Row(Shape):
    """Units side by side; the wall between two of them is built once."""

    name: str = Field(
        min_length=1, description="What the keeper calls it; no quarters or space has this name."
    )
    quarters: Annotated[tuple[str, ...], Field(min_length=2)] = Field(
        description="Names of its units, left to right as seen from in front."
    )
