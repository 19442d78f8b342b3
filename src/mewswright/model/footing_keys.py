"""Keys of a frame that say what ground it stands on and how it is footed.

Lengths are millimetres.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.quantity import Finite, Length, LengthOrNone
from mewswright.model.shape import Shape

AUTO = "auto"  # the anchors that are chosen here
Section = Annotated[str, Field(pattern=r"^\d+(\.\d+)?x\d+(\.\d+)?$")]


class FootingKeys(Shape):
    """Base, anchors and the ground under a unit; part of its frame."""

    base: Literal["sleepers", "pads", "slab", "posts_in_concrete"] = Field(
        "sleepers", description="What it stands on."
    )
    ground_fall_back_mm: Finite | None = Field(
        None,
        description="How much lower the ground lies at the back than at the front, clear inside; "
        "minus: higher; blank = by the yard's slope.",
    )
    ground_fall_right_mm: Finite | None = Field(
        None,
        description="How much lower it lies at the right than at the left, seen from in front; "
        "minus: higher; blank = by the yard's slope.",
    )
    floor_up_mm: LengthOrNone = Field(
        0, description="How far the base lifts the floor above what is usual for its kind."
    )
    foot_post: Section | None = Field(
        None, description="Short posts in concrete, or legs on pads; blank = as the posts."
    )
    gravel_mm: LengthOrNone = Field(
        100, description="Gravel at the bottom of each hole of posts in concrete."
    )
    edge_board: Section = Field(
        "45x145", description="Boards that close the gap under raised sole plates."
    )
    anchor: Literal["auto", "none", "slab_anchor", "concrete_hole", "ground_anchor"] = Field(
        "auto",
        description="What holds the unit down; posts in concrete do so themselves. auto = what "
        "fits the base, as few as hold it in its wind.",
    )
    anchor_count: Annotated[int, Field(ge=0, le=100)] = Field(
        0, description="How many of them; of auto, 0 = as few as hold."
    )
    anchor_tested_kn: Length | None = Field(
        None,
        description="Pull that every ground anchor held in a test on the spot [kN]; blank = not "
        "tested, and it counts for nothing.",
    )
    hole_mm: tuple[Length, Length] | None = Field(
        None, description="Across and deep of a hole of concrete; blank = the handbook's usual one."
    )

    @model_validator(mode="after")
    def counts_no_anchor_twice(self) -> Self:
        """Posts in concrete are the anchors, and their holes are deeper than their gravel."""
        if self.base != "posts_in_concrete":
            return self
        if self.anchor not in ("none", AUTO):
            raise ValueError(
                f'base is posts_in_concrete and anchor is {self.anchor}: set anchor = "none", for '
                "the posts themselves hold the unit down and would be counted twice"
            )
        if self.hole_mm is not None and self.hole_mm[1] <= self.gravel_mm:
            raise ValueError(
                f"holes of {self.hole_mm[1]:g} mm leave nothing above {self.gravel_mm:g} mm of "
                "gravel: make hole_mm deeper or gravel_mm less"
            )
        return self
