"""What timber and material can be bought, and at what price."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, ValidationInfo
from pydantic_core import PydanticKnownError

from mewswright.model.quantity import Length
from mewswright.model.quarters import Section
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

    section: Section = Field(description="Breadth x depth, as in the frame.")
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
