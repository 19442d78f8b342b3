"""The yard: the whole holding, as one yard file describes it."""

from collections.abc import Iterable
from typing import Annotated, Literal, Self

from pydantic import Field, PrivateAttr, field_validator, model_validator
from pydantic_core import PydanticKnownError

from mewswright.model.bird import Bird, Stay
from mewswright.model.place import Climate, Feature, Loads, Point, WindSector
from mewswright.model.problem import Problem
from mewswright.model.quantity import Bearing, Finite, Length, LengthOrNone
from mewswright.model.quarters import Quarters
from mewswright.model.row import Row
from mewswright.model.service import Service
from mewswright.model.shape import Shape
from mewswright.model.standard_file import StandardFile
from mewswright.model.stock import ItemPrice, Offcut, StockBar
from mewswright.model.time_zone import not_a_time_zone
from mewswright.model.ways import Door, Space
from mewswright.model.year_keys import YearWishes

HorizonHeight = Annotated[float, Field(ge=0, lt=90, allow_inf_nan=False)]


class Holding(Shape):
    """Where the yard is and which rules bind it."""

    name: str = Field(min_length=1, description="Name of the yard.")
    latitude_deg: Annotated[float, Field(ge=-90, le=90)] = Field(description="North is positive.")
    longitude_deg: Annotated[float, Field(ge=-180, le=180)] = Field(description="East is positive.")
    altitude_m: Finite = Field(description="Height above the sea.")
    time_zone: str = Field(min_length=1, description="IANA name, such as Europe/Zurich.")
    ground_fall_pct: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] = Field(
        0, description="Fall of the ground; units may give their own."
    )
    ground_falls_to_deg: Bearing = Field(0, description="Bearing that the ground falls towards.")
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")] = Field(
        "EUR", description="ISO 4217 code of all prices."
    )
    standards: tuple[str, ...] = Field(
        ("house",), description="Standards that bind it, shipped or own (mewswright standards)."
    )
    boundary_m: tuple[Point, ...] = Field(
        (), description="Corners of the boundary, [east, north] of the yard's origin."
    )
    horizon_deg: tuple[tuple[Bearing, HorizonHeight], ...] = Field(
        (),
        description="Land round about that hides the sun: [bearing, height over level] of its "
        "edge, straight between; none = free.",
    )

    @field_validator("time_zone")
    @classmethod
    def time_zone_is_known(cls, name: str) -> str:
        """Refuse a name that no clock goes by: sun and shade are told by it."""
        wrong = not_a_time_zone(name)
        if wrong:
            raise ValueError(wrong)
        return name

    @field_validator("horizon_deg")
    @classmethod
    def horizon_bearings_differ(
        cls, pairs: tuple[tuple[float, float], ...]
    ) -> tuple[tuple[float, float], ...]:
        """Refuse two heights at one bearing."""
        bearings = [bearing for bearing, _ in pairs]
        for bearing in bearings:
            if bearings.count(bearing) > 1:
                raise ValueError(
                    f"horizon_deg gives bearing {bearing:g} more than once: keep one height of it"
                )
        return pairs


class HouseLimits(Shape):
    """Limits that the keeper sets for the house standard, instead of the handbook's."""

    tether_margin_mm: LengthOrNone | None = Field(None, description="Air beyond the wing tips.")
    perch_side_clear_mm: LengthOrNone | None = Field(None, description="Beyond half the span.")
    perch_back_clear_mm: LengthOrNone | None = Field(None, description="Behind the tail.")
    quarantine_days: Length | None = Field(None, description="Days of isolation for a newcomer.")
    spore_distance_m: Length | None = Field(None, description="Distance from spore sources.")
    tree_reach_heights: Length | None = Field(
        None, description="Reach of a tree, in tree heights, for the warning."
    )


class Yard(Shape):
    """One yard file."""

    format: Literal[1] = Field(description="Version of the file's shape; 1.")
    yard: Holding = Field(description="Where it is and which rules bind it.")
    house: HouseLimits = Field(HouseLimits(), description="The keeper's own limits.")
    climate: Climate | None = Field(None, description="Monthly normals.")
    wind_rose: tuple[WindSector, ...] = Field((), description="Where the wind comes from.")
    loads: Loads | None = Field(None, description="Snow and wind for the structure.")
    feature: tuple[Feature, ...] = Field((), description="What stands on the ground.")
    bird: tuple[Bird, ...] = Field((), description="The birds.")
    quarters: tuple[Quarters, ...] = Field((), description="The quarters.")
    row: tuple[Row, ...] = Field((), description="Units that share walls.")
    space: tuple[Space, ...] = Field((), description="Lobbies, corridors and rooms.")
    door: tuple[Door, ...] = Field((), description="The doors.")
    service: Service = Field(Service(), description="The weighing room and the store.")
    stay: tuple[Stay, ...] = Field((), description="Who lives where.")
    year: YearWishes = Field(YearWishes(), description="What a plan of the year aims at.")
    stock: tuple[StockBar, ...] = Field((), description="Timber that can be bought.")
    offcut: tuple[Offcut, ...] = Field((), description="What lies in the rack: used first.")
    price: tuple[ItemPrice, ...] = Field((), description="Prices of other materials.")
    # Not of the file: the keeper's standards lie in files of their own beside it.
    _own_standards: tuple[StandardFile, ...] = PrivateAttr(())

    @field_validator("format", mode="before")
    @classmethod
    def format_is_a_whole_number(cls, value: object) -> object:
        """Refuse true and 1.0, which Python takes for 1."""
        if type(value) is not int:
            raise PydanticKnownError("literal_error", {"expected": "1"})
        return value

    @model_validator(mode="after")
    def wind_adds_up(self) -> Self:
        """Shares of a wind rose make a whole, less the calm hours."""
        total = sum(sector.share_pct for sector in self.wind_rose)
        if total > 100.5:
            raise ValueError(f"the shares of wind_rose add up to {total:g} %, more than 100 %")
        return self

    @property
    def own_standards(self) -> tuple[StandardFile, ...]:
        """Standards of the keeper's own, which travel with the yard and are not in its file."""
        return self._own_standards

    def with_own_standards(self, files: Iterable[StandardFile]) -> Self:
        """Give the same yard with the keeper's own standards beside it."""
        yard = self.model_copy()
        yard._own_standards = tuple(files)
        return yard

    def quarters_named(self, name: str) -> Quarters:
        """Give the quarters of a name.

        Raises:
            Problem: If there are none; names those that there are.
        """
        for quarters in self.quarters:
            if quarters.name == name:
                return quarters
        for row in self.row:
            if name == row.name or name in row.leaning:
                what = "a row" if name == row.name else f"the corridor of row {row.name!r}"
                raise Problem(
                    f"{name!r} is {what}, and this asks for one unit: name one of its units, "
                    f"{', '.join(row.quarters)}"
                )
        known = ", ".join(q.name for q in self.quarters) or "none at all"
        raise Problem(f"no quarters {name!r} in {self.yard.name!r}; there are: {known}")

    def bird_named(self, name: str) -> Bird:
        """Give the bird of a name.

        Raises:
            Problem: If there is none; names those that there are.
        """
        for bird in self.bird:
            if bird.name == name:
                return bird
        known = ", ".join(b.name for b in self.bird) or "none at all"
        raise Problem(f"no bird {name!r} in {self.yard.name!r}; there are: {known}")

    def stays_in(self, quarters: str) -> tuple[Stay, ...]:
        """Give the stays in quarters, in the file's order."""
        return tuple(stay for stay in self.stay if stay.quarters == quarters)
