"""What timber and material can be bought, and at what price."""

from decimal import Decimal
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator
from pydantic_core import PydanticKnownError

from mewswright.model.quantity import Length
from mewswright.model.quarters import AnySection
from mewswright.model.shape import Shape


def _figure(value: object, info: ValidationInfo) -> object:
    """Refuse a price that a file writes in quotes, as any other number in quotes is refused."""
    if info.mode != "json":
        return value
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise PydanticKnownError("decimal_type")
    return Decimal(str(value))  # by way of text: 8.6 stays 8.6


Price = Annotated[
    Decimal,
    Field(ge=0, allow_inf_nan=False),
    BeforeValidator(_figure, json_schema_input_type=Annotated[float, Field(ge=0)]),
]
Priced = Literal["keeper", "assumption"]


class StockBar(Shape):
    """One length of one section that can be bought."""

    section: AnySection = Field(
        description="Breadth x depth, as in the frame; a third number is the wall of a tube."
    )
    length_mm: Length = Field(description="Length of one piece.")
    price: Price = Field(description="Price of one piece, in the yard's currency.")
    available: Annotated[int, Field(ge=0)] | None = Field(
        None, description="How many there are; blank = as many as wanted."
    )
    priced: Priced = Field("assumption", description="Whose price it is.")


class ItemPrice(Shape):
    """The price of a material that is not sawn: sheet, roll, box, bag, piece."""

    item: str = Field(min_length=1, description="Material id of the handbook.")
    unit: str = Field(min_length=1, description="What one pack is: sheet, roll, box, bag, m3, m2.")
    pack_size: Length = Field(1, description="How much of the material's own unit one pack holds.")
    price: Price = Field(description="Price of one pack, in the yard's currency.")
    priced: Priced = Field("assumption", description="Whose price it is.")


class Offcut(Shape):
    """What lies in the rack already: it is used before anything is bought, and costs nothing."""

    section: AnySection | None = Field(None, description="Of a timber: breadth x depth.")
    item: str | None = Field(None, min_length=1, description="Of a sheet: its material id.")
    length_mm: Length = Field(description="Usable length.")
    width_mm: Length | None = Field(None, description="Usable width of a sheet.")
    count: Annotated[int, Field(ge=1, le=1000)] = Field(1, description="How many alike.")

    @model_validator(mode="after")
    def is_timber_or_sheet(self) -> Self:
        """It is one of both, and a sheet has a width."""
        if (self.section is None) == (self.item is None):
            raise ValueError("an offcut is either a timber with section, or a sheet with item")
        if (self.item is None) != (self.width_mm is None):
            raise ValueError(
                "a sheet in the rack needs width_mm"
                if self.item
                else "a timber in the rack has its width in its section: leave out width_mm"
            )
        return self
