"""What the weighing room and the store hold: cold, scale, cupboards, barrow.

Every key may be left out: what is not given is not known, and is asked for.
"""

from pydantic import Field

from mewswright.model.quantity import Length, LengthOrNone
from mewswright.model.shape import Shape


class Service(Shape):
    """The weighing room and the store that serve all quarters."""

    freezer_l: LengthOrNone | None = Field(None, description="Room for food in the freezer [l].")
    fridge_l: LengthOrNone | None = Field(
        None, description="Room for thawing and thawed food in the fridge [l]."
    )
    freezer_c: float | None = Field(None, description="Temperature of the freezer [C].")
    fridge_c: float | None = Field(None, description="Temperature of the fridge [C].")
    delivery_days: Length | None = Field(None, description="Days between two deliveries of food.")
    medicines_locked: bool | None = Field(None, description="True where medicines are locked up.")
    chemicals_apart: bool | None = Field(
        None, description="True where cleaning chemicals stand apart from food."
    )
    scale_max_g: Length | None = Field(None, description="Heaviest load that the scale weighs.")
    scale_step_g: Length | None = Field(None, description="Smallest step that the scale shows.")
    barrow_mm: Length | None = Field(None, description="Width of the barrow, hands included.")
    barrow_l: Length | None = Field(
        None, description="What the barrow holds [l]; blank = the handbook's."
    )
    barrow_kg: Length | None = Field(
        None, description="Load that is wheeled in it [kg]; blank = the handbook's."
    )
    box_mm: Length | None = Field(None, description="Length of a travelling box as it is carried.")
