"""Keys of a frame that say how its walls are parted into panels that can be carried.

Lengths are millimetres.
"""

from typing import Annotated, Literal

from pydantic import Field

from mewswright.model.quantity import Length
from mewswright.model.shape import Shape


class PanelKeys(Shape):
    """Panels of the walls, and the way that they are carried; part of the frame."""

    bay_max_mm: Length | None = Field(
        None, description="Longest panel of a wall; blank = one panel a wall."
    )
    bay_bolt: Literal["M10", "M12"] = Field(
        "M10", description="Bolts through the paired uprights where two panels meet."
    )
    bay_bolt_mm: Length = Field(600, description="These bolts, apart at most.")
    carry_kg: Length | None = Field(
        None,
        description="What one person of the team carries; blank = no panel is too heavy.",
    )
    carry_people: Annotated[int, Field(ge=1, le=12)] = Field(
        2, description="People who carry a panel."
    )
    carry_clad: bool = Field(
        True,
        description="True where boards, bars and mesh are carried on the panels; False where they "
        "go on once the panels stand.",
    )
    through_gate: bool = Field(
        False, description="True where panels must pass the yard's narrowest gate, by its width_m."
    )
    way_width_mm: Length | None = Field(
        None, description="Clear width of the narrowest way to the spot; blank = no limit."
    )
    way_height_mm: Length | None = Field(
        None, description="Clear height of that way; blank = open to the sky."
    )
