"""The base of every shape in a yard file: frozen, and closed to unknown keys."""

from pydantic import BaseModel, ConfigDict


class Shape(BaseModel):
    """A frozen model that refuses keys that it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)
