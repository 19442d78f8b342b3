"""Fittings inside quarters.

Positions are millimetres in the quarters' own frame: look at the front from
outside; x runs along the front from its left inner corner, y from the front to the
back, z up from the finished floor.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.quantity import Finite, Length, LengthOrNone
from mewswright.model.shape import Shape

Spot = tuple[Finite, Finite]
Side = Literal["front", "back", "left", "right"]


class Fitting(Shape):
    """What all fittings share."""

    name: str = Field(min_length=1, description="What the keeper calls it; once in its quarters.")


class Perch(Fitting):
    """A place to stand. `height_mm` is the top, where the foot is."""

    kind: Literal["perch"] = Field(description="What it is.")
    form: Literal["round", "branch", "flat", "shelf", "bow", "block", "ring", "stump"] = Field(
        description="Shape of the perch."
    )
    at_mm: Spot = Field(description="Middle of the perch, [x, y].")
    height_mm: Length = Field(description="Top of the perch above the finished floor.")
    length_mm: Length | None = Field(
        None, description="Length; a block, ring or stump may leave it out."
    )
    turn_deg: Annotated[float, Field(ge=-180, le=180)] = Field(
        0, description="0 = parallel to the front, 90 = front to back."
    )
    diameter_mm: Length | None = Field(
        None, description="Thickness over its cover (round, branch, bow, ring) or top (block)."
    )
    width_mm: Length | None = Field(None, description="Width of a flat perch or shelf.")
    cover: Literal["bare", "turf", "rope", "carpet", "neoprene", "cork", "bark", "sandpaper"] = (
        Field("bare", description="What the foot stands on.")
    )
    cover_age_months: LengthOrNone | None = Field(None, description="Age of the cover.")
    free_standing: bool = Field(False, description="True for a perch on its own spike or stand.")
    fixed: bool = Field(True, description="False if a bating bird could drag it.")

    @model_validator(mode="after")
    def has_the_size_of_its_form(self) -> Self:
        """Each form needs the one size that the foot feels."""
        if self.form in ("flat", "shelf"):
            if self.width_mm is None:
                raise ValueError(f"a {self.form} perch needs width_mm")
        elif self.diameter_mm is None:
            raise ValueError(f"a {self.form} perch needs diameter_mm")
        if self.form in ("round", "branch", "flat", "shelf") and self.length_mm is None:
            raise ValueError(f"a {self.form} perch needs length_mm")
        return self


class Bath(Fitting):
    """A bath, round (`diameter_mm`) or square (`width_mm` and `length_mm`)."""

    kind: Literal["bath"] = Field(description="What it is.")
    at_mm: Spot = Field(description="Middle of the bath, [x, y].")
    diameter_mm: Length | None = Field(None, description="Diameter of a round bath.")
    width_mm: Length | None = Field(None, description="Size along the front.")
    length_mm: Length | None = Field(None, description="Size front to back.")
    depth_mm: Length = Field(description="Depth of water when full.")
    rim_height_mm: LengthOrNone = Field(description="Rim above the finished floor.")
    platform_mm: LengthOrNone = Field(0, description="Height of the platform it stands on.")
    filled_from: Literal["inside", "corridor"] = Field("inside", description="Where it is filled.")
    slides_under: Side | None = Field(
        None, description="Face under which it is slid in from outside; blank = by the door."
    )
    drains: bool = Field(False, description="True where it empties without being lifted.")
    frost_free: bool = Field(False, description="True where it does not freeze: warmed or indoors.")

    @model_validator(mode="after")
    def is_round_or_square(self) -> Self:
        """A bath has one shape."""
        square = self.width_mm is not None and self.length_mm is not None
        if (self.diameter_mm is not None) == square:
            raise ValueError("a bath needs either diameter_mm, or both width_mm and length_mm")
        return self

    @property
    def size_mm(self) -> tuple[float, float]:
        """Size along x and y [mm]."""
        if self.diameter_mm is not None:
            return self.diameter_mm, self.diameter_mm
        assert self.width_mm is not None
        assert self.length_mm is not None
        return self.width_mm, self.length_mm


class Hatch(Fitting):
    """An opening through which food is passed in unseen."""

    kind: Literal["hatch"] = Field(description="What it is.")
    face: Side = Field(description="Face that it is in.")
    at_mm: LengthOrNone = Field(description="Its middle along the face: x, or y on a side face.")
    sill_mm: LengthOrNone = Field(description="Sill above the finished floor.")
    width_mm: Length = Field(description="Clear width.")
    height_mm: Length = Field(description="Clear height.")
    ledge_mm: LengthOrNone = Field(0, description="Depth of the ledge inside.")
    closes: bool = Field(True, description="True where it shuts and latches.")
    served_from: str | None = Field(
        None, description='Space that it is filled from, or "outside"; blank = not known.'
    )
    blind: bool | None = Field(
        None, description="True where the bird cannot see who fills it: two flaps, or a sleeve."
    )
    holds_days: Length | None = Field(
        None, description="Days of food that can be passed in at one time and stay sound."
    )


class Shelf(Fitting):
    """A ledge or nest box."""

    kind: Literal["shelf", "nest_box"] = Field(description="What it is.")
    at_mm: Spot = Field(description="Middle, [x, y].")
    height_mm: Length = Field(description="Top of the shelf, or floor of the box.")
    length_mm: Length = Field(description="Size along the front.")
    width_mm: Length = Field(description="Size front to back.")
    box_height_mm: Length | None = Field(None, description="Height of a nest box.")


class Upright(Fitting):
    """A post, tree stem or leg that stands in the room."""

    kind: Literal["post"] = Field(description="What it is.")
    at_mm: Spot = Field(description="Middle, [x, y].")
    size_mm: Length = Field(description="Thickness.")
    top_mm: Length | None = Field(None, description="Top; blank = to the roof.")


class Device(Fitting):
    """A camera, heater or light."""

    kind: Literal["camera", "heater", "light"] = Field(description="What it is.")
    at_mm: Spot = Field(description="Middle, [x, y].")
    height_mm: Length = Field(description="Height above the finished floor.")
    power_w: LengthOrNone | None = Field(None, description="Power.")
    shielded: bool = Field(False, description="True where a bird cannot touch it.")


AnyFitting = Annotated[Perch | Bath | Hatch | Shelf | Upright | Device, Field(discriminator="kind")]
