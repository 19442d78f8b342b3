"""A bird: who it is, what it measures, and what it is kept for.

A measured size overrides the handbook's. Lengths are millimetres, masses grams.
"""

from datetime import date
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from mewswright.model.quantity import Length, LengthOrNone
from mewswright.model.shape import Shape
from mewswright.model.year_keys import BirdYear, Names


class Bird(Shape):
    """One bird of the yard."""

    name: str = Field(min_length=1, description="The bird's name; once in the yard.")
    species: str = Field(min_length=1, description="Species id of the handbook (handbook species).")
    sex: Literal["m", "f", "unknown"] = Field("unknown", description="Sex.")
    hatched_year: Annotated[int, Field(ge=1900, le=2200)] | None = Field(
        None, description="Year it hatched."
    )
    use: Literal["flown", "display", "breeding", "resting", "retired"] = Field(
        "flown", description="What it is kept for now."
    )
    arrives_on: date | None = Field(None, description="First day in the yard, for a newcomer.")
    leaves_on: date | None = Field(None, description="Last day in the yard, for one that leaves.")
    wing_span_mm: Length | None = Field(None, description="Measured wing span.")
    wing_chord_mm: Length | None = Field(None, description="Measured folded wing.")
    tail_mm: Length | None = Field(None, description="Measured tail, longest feather.")
    body_length_mm: Length | None = Field(None, description="Measured bill to tail tip.")
    body_width_mm: Length | None = Field(None, description="Measured body width, wings closed.")
    head_width_mm: Length | None = Field(None, description="Measured head width.")
    foot_span_mm: Length | None = Field(None, description="Measured front to hind talon tip.")
    mass_g: Length | None = Field(None, description="Full weight, fed up, out of moult.")
    leash_working_mm: Length | None = Field(
        None, description="Leash from ring to swivel as it is tied."
    )
    jess_swivel_mm: Length | None = Field(None, description="Swivel and jesses, stretched.")
    tethered_by: Literal["both_legs", "one_leg"] = Field(
        "both_legs", description="Which legs the jesses hold."
    )
    leash: Literal["leather", "braided", "webbing", "elastic"] | None = Field(
        None, description="What the leash is made of; elastic = with a part that gives."
    )
    flights_per_week: Annotated[int, Field(ge=0, le=100)] | None = Field(
        None, description="Free flights in an ordinary week."
    )
    companions: Names = Field((), description="Birds that it lives with in peace.")
    fears: Names = Field((), description="Birds that it must not see, beyond the handbook's.")
    used_to: Names = Field((), description="Features whose noise it is used to, such as the lane.")
    feather_state: Literal["hard", "moulting"] = Field("hard", description="State of the feathers.")
    nervous: bool = Field(False, description="True for a bird that bates at little.")
    one_winged: bool = Field(False, description="True for a bird that cannot fly level.")
    flies: Literal["strongly", "weakly", "not"] | None = Field(
        None, description="How it flies now: a young, old, heavy or hurt bird flies weakly."
    )
    year: BirdYear = Field(BirdYear(), description="What its year is to be like.")
    note: str = Field("", description="Anything worth remembering.")

    @model_validator(mode="after")
    def leaves_after_it_arrives(self) -> Self:
        """A bird is in the yard for at least one day."""
        if self.arrives_on and self.leaves_on and self.leaves_on < self.arrives_on:
            raise ValueError(
                f"{self.name!r} leaves on {self.leaves_on}, before it arrives on "
                f"{self.arrives_on}: change one of the days"
            )
        return self


class Stay(Shape):
    """One bird in one quarters; without dates it always holds."""

    bird: str = Field(min_length=1, description="Name of the bird.")
    quarters: str = Field(min_length=1, description="Name of the quarters.")
    mode: Literal["loose", "tethered"] = Field(description="Loose or on a leash.")
    perch: str | None = Field(None, description="Perch that a tethered bird is tied to.")
    starts_on: date | None = Field(None, description="First day; blank = since ever.")
    ends_on: date | None = Field(None, description="Last day; blank = until further notice.")
    daytime_only: bool = Field(False, description="True where it stands there by day alone.")
    hours_a_day: Annotated[float, Field(gt=0, le=24)] | None = Field(
        None, description="Hours a day there."
    )
    isolated: bool = Field(False, description="True while it is kept apart as a newcomer or sick.")
    undisturbed_days: LengthOrNone | None = Field(
        None, description="Days on end on which nobody may enter: breeding, moult."
    )
    locked: bool = Field(
        False, description="True for a stay to come that a plan of the year must keep."
    )

    @model_validator(mode="after")
    def ends_after_it_starts(self) -> Self:
        """A stay has at least one day."""
        if self.starts_on and self.ends_on and self.ends_on < self.starts_on:
            raise ValueError(
                f"the stay ends on {self.ends_on}, before it starts on {self.starts_on}: "
                "change one of the days"
            )
        return self

    def overlaps(self, other: "Stay") -> bool:
        """Say whether two stays share a day (blank dates are open ends)."""
        starts_before = (
            self.starts_on is None or other.ends_on is None or (self.starts_on <= other.ends_on)
        )
        ends_after = (
            self.ends_on is None or other.starts_on is None or (other.starts_on <= self.ends_on)
        )
        return starts_before and ends_after
