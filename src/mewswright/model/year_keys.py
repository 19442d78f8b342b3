"""What a keeper may say of the year to come: wishes, windows and weeks of rest.

Every key may be left out. Days are dates; a day that comes back every year is written as
month and day, "09-15", and a span of such days may run over new year.
"""

from datetime import date
from typing import Annotated, Literal, Self, get_args

from pydantic import AfterValidator, Field, field_validator, model_validator

from mewswright.model.shape import Shape

Names = tuple[Annotated[str, Field(min_length=1)], ...]
Aim = Literal["moves", "wished", "free_time", "neighbours", "round", "sun", "heating", "cleaning"]
AIMS: tuple[Aim, ...] = get_args(Aim)
LEAP_YEAR = 2000  # so that "02-29" may be written


def _is_a_day(text: str) -> str:
    try:
        date.fromisoformat(f"{LEAP_YEAR}-{text}")
    except ValueError:
        raise ValueError(
            f'{text!r} is not a day of the year: write month and day, as in "09-15"'
        ) from None
    return text


MonthDay = Annotated[str, Field(pattern=r"^\d\d-\d\d$"), AfterValidator(_is_a_day)]
Weeks = Annotated[int, Field(ge=1, le=520)]
Days = Annotated[int, Field(ge=0, le=366)]


class Span(Shape):
    """From one day to another, both included."""

    starts_on: date = Field(description="First day.")
    ends_on: date = Field(description="Last day.")
    note: str = Field("", description="What for.")

    @model_validator(mode="after")
    def ends_after_it_starts(self) -> Self:
        """A span has at least one day."""
        if self.ends_on < self.starts_on:
            raise ValueError(
                f"it ends on {self.ends_on}, before it starts on {self.starts_on}: "
                "change one of the days"
            )
        return self


class Together(Span):
    """Birds that share quarters for a time and move as one."""

    birds: Annotated[Names, Field(min_length=2)] = Field(description="Who.")

    @field_validator("birds")
    @classmethod
    def birds_differ(cls, birds: tuple[str, ...]) -> tuple[str, ...]:
        """Refuse a bird named twice."""
        for name in birds:
            if birds.count(name) > 1:
                raise ValueError(f"{name!r} is named twice: name each bird once")
        return birds


class Breeding(Together):
    """A pair from pairing to fledging: together in one place, undisturbed."""


class BirdYear(Shape):
    """What a bird's year is to be like."""

    moult: Literal["must", "wish", "none"] | None = Field(
        None,
        description="Whether its moult is heeded: must, wish or none; blank = wish for a flown "
        "bird, else none.",
    )
    moult_asks: Literal["loose", "undisturbed", "both"] = Field(
        "loose", description="What the moult asks: to be loose, not to be moved, or both."
    )
    moult_from: MonthDay | None = Field(
        None, description="First day of the moult; blank = as the handbook says of its kind."
    )
    moult_to: MonthDay | None = Field(None, description="Last day of the moult.")
    wished: Names = Field((), description="Quarters wished for it, one as good as another.")
    never_in: Names = Field((), description="Quarters in which it must not live.")
    may_see: Names = Field(
        (),
        description="Birds that it may see in a plan though it fears them: a blind hangs there.",
    )
    sick: tuple[Span, ...] = Field((), description="When it must be alone in isolation.")
    moves_from: date | None = Field(None, description="It is not moved before this day.")
    moves_until: date | None = Field(None, description="It is not moved after this day.")
    tether_most_weeks: Weeks | None = Field(
        None, description="Most weeks on end on a tether; blank = as for the yard."
    )
    free_least_weeks: Annotated[int, Field(ge=0, le=520)] | None = Field(
        None, description="Fewest weeks of a year loose; blank = as for the yard."
    )
    shortest_stay_weeks: Weeks | None = Field(
        None, description="Shortest stay in one place; blank = as for the yard."
    )

    @model_validator(mode="after")
    def windows_are_whole(self) -> Self:
        """Both ends of the moult are given, or none; moves have a day on which they may be."""
        if (self.moult_from is None) != (self.moult_to is None):
            raise ValueError("give both moult_from and moult_to, or neither")
        if self.moves_from and self.moves_until and self.moves_until < self.moves_from:
            raise ValueError(
                f"it is not moved before {self.moves_from} nor after {self.moves_until}, so never: "
                "change one of the days"
            )
        return self


class QuartersYear(Shape):
    """When quarters cannot be lived in, and how they are kept clean."""

    closed: tuple[Span, ...] = Field(
        (), description="When nobody may live there: building, repair, deep cleaning."
    )
    clean_days: Days | None = Field(
        None,
        description="Days empty between two birds, to be scrubbed and to dry; blank = as for the "
        "yard.",
    )
    clean_every_weeks: Weeks | None = Field(
        None, description="Weeks after which they must be emptied and cleaned; blank = no need."
    )
    rest_weeks: Annotated[int, Field(ge=0, le=52)] = Field(
        0, description="Weeks in a row that the soil must lie empty once in the plan."
    )
    stands: Annotated[int, Field(ge=1, le=50)] | None = Field(
        None,
        description="Tethered birds that may stand there at once, each at a perch of its own; "
        "blank = one, or as many as stand there now.",
    )


class YearWishes(Shape):
    """The year of the yard: what it aims at, and what holds where nothing else is said."""

    order: tuple[Aim, ...] = Field(
        AIMS,
        description="What matters, first things first: moves (few of them), wished quarters, free "
        "time shared fairly, the same neighbours, a short round in the flying season, sun in "
        "winter and shade in summer, little heating, cleaning spread out. One left out counts "
        "for nothing.",
    )
    flying_from: MonthDay | None = Field(
        None, description="First day of the flying season; blank = 1 October, south 1 April."
    )
    flying_to: MonthDay | None = Field(
        None, description="Last day of the flying season; blank = 15 March, south 15 September."
    )
    clean_days: Days = Field(
        7, description="Days empty between two birds, to be scrubbed and to dry."
    )
    shortest_stay_weeks: Weeks = Field(2, description="Shortest stay of a bird in one place.")
    tether_most_weeks: Weeks | None = Field(
        None, description="Most weeks on end on a tether; blank = no end."
    )
    free_least_weeks: Annotated[int, Field(ge=0, le=520)] = Field(
        0, description="Fewest weeks of a year loose."
    )
    feeding_in_sight: Literal["allowed", "never"] = Field(
        "allowed", description="Whether birds may live where one sees another being fed."
    )
    together: tuple[Together, ...] = Field(
        (), description="Birds that share quarters from one day to another."
    )
    breeding: tuple[Breeding, ...] = Field(
        (), description="Pairs from pairing to fledging, undisturbed."
    )

    @field_validator("order")
    @classmethod
    def aims_differ(cls, order: tuple[Aim, ...]) -> tuple[Aim, ...]:
        """Refuse an aim named twice."""
        for aim in order:
            if order.count(aim) > 1:
                raise ValueError(f"order names {aim!r} twice: name each aim once")
        return order

    @model_validator(mode="after")
    def season_is_whole(self) -> Self:
        """Both ends of the flying season are given, or none."""
        if (self.flying_from is None) != (self.flying_to is None):
            raise ValueError("give both flying_from and flying_to, or neither")
        return self
