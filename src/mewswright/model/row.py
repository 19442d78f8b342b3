"""Rows: units that stand side by side and share the walls between them."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.quantity import Length
from mewswright.model.shape import Shape


class Row(Shape):
    """Units side by side; the wall between two of them is built once.

    A corridor may lean on their back wall, under a roof of its own that falls away from them.
    """

    name: str = Field(
        min_length=1, description="What the keeper calls it; no quarters or space has this name."
    )
    quarters: Annotated[tuple[str, ...], Field(min_length=1)] = Field(
        description="Names of its units, left to right as seen from in front; one is enough for a "
        "corridor."
    )
    corridor_mm: Length | None = Field(
        None, description="Clear width of a corridor behind the back wall; absent: none."
    )
    corridor_height_mm: Length | None = Field(
        None, description="Clear height of the corridor at its outer wall."
    )
    corridor_pitch_deg: Annotated[float, Field(gt=0, le=30, allow_inf_nan=False)] = Field(
        5, description="Pitch of its roof, which falls away from the units."
    )
    corridor_space: str | None = Field(
        None, description="Name of the space that it is: that space's doors are its doors."
    )
    lobby_mm: Length | None = Field(
        None, description="Clear length of a lobby at one end of the corridor; absent: none."
    )
    lobby_end: Literal["left", "right"] = Field(
        "left", description="End that the lobby is at, seen from in front."
    )
    lobby_space: str | None = Field(
        None, description="Name of the space that the lobby is: that space's doors are its doors."
    )

    @model_validator(mode="after")
    def corridor_is_whole(self) -> Self:
        """Keys of a corridor and of a lobby come together."""
        where = f"row {self.name!r}"
        if self.corridor_mm is None:
            if len(self.quarters) < 2:
                raise ValueError(
                    f"{where} has one unit and no corridor: name two units in quarters, or give "
                    "corridor_mm"
                )
            for key in ("corridor_height_mm", "corridor_space", "lobby_mm", "lobby_space"):
                if getattr(self, key) is not None:
                    raise ValueError(
                        f"{where} has {key} and no corridor: give corridor_mm, its clear width, "
                        f"or leave out {key}"
                    )
            return self
        needed = [key for key in ("corridor_height_mm", "corridor_space") if not getattr(self, key)]
        if self.lobby_mm is not None and not self.lobby_space:
            needed.append("lobby_space")
        if needed:
            raise ValueError(f"{where} has a corridor: give {' and '.join(needed)} too")
        if self.lobby_mm is None and self.lobby_space:
            raise ValueError(f"{where} has lobby_space and no lobby: give lobby_mm, its length")
        if self.lobby_space and self.lobby_space == self.corridor_space:
            raise ValueError(
                f"{where} has one space for corridor and lobby: a lobby is a space of its own, so "
                "that its door counts; give lobby_space another name"
            )
        return self

    @property
    def corridor_name(self) -> str:
        """The corridor with its lobby, by name; blank without a corridor."""
        return " and ".join(name for name in (self.corridor_space, self.lobby_space) if name)

    @property
    def leaning(self) -> tuple[str, ...]:
        """Names of what leans on its back wall: the corridor, its lobby, and both as one."""
        if self.corridor_mm is None:
            return ()
        names = (self.corridor_space, self.lobby_space, self.corridor_name)
        return tuple(dict.fromkeys(name for name in names if name))
