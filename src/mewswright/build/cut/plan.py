"""Parts, stock and the cut plan made of them.

Lengths are millimetres, exact decimals: 1234.5 stays 1234.5. Prices are exact decimals of
one currency, which the plan does not need to know. A kerf is the width of the saw's cut.
"""

from decimal import Decimal
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

Length = Annotated[Decimal, Field(gt=0, allow_inf_nan=False)]
Price = Annotated[Decimal, Field(ge=0, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=1)]


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class CutPart(_Frozen):
    """A part to be cut, `count` times."""

    mark: str = Field(min_length=1)
    section: str = Field(min_length=1)
    length_mm: Length
    count: Count
    origin: str = ""  # where it was read, for the sentence that refuses it


class StockBar(_Frozen):
    """Bars on offer: one section, length and price."""

    section: str = Field(min_length=1)
    length_mm: Length
    price: Price
    available: int | None = Field(default=None, ge=0)  # None: as many as wanted
    origin: str = ""


class Cut(_Frozen):
    """Equal pieces out of one bar."""

    mark: str
    length_mm: Length
    count: Count


class Pattern(_Frozen):
    """One way to saw a bar, and how many bars are sawn so.

    `offcut_mm` is what can be kept of the bar: its length less the pieces and one kerf for
    each piece, or nothing where the last piece ends within a kerf of the bar's end.
    """

    stock_mm: Length
    price: Price
    count: Count
    cuts: tuple[Cut, ...]
    offcut_mm: Annotated[Decimal, Field(ge=0)]


class SectionPlan(_Frozen):
    """The plan of one section, and how good it is known to be."""

    section: str
    patterns: tuple[Pattern, ...]
    cost: Price
    lower_bound: Price  # no plan can cost less
    proven: bool  # no cheaper plan exists: lower_bound has reached cost


class CutPlan(_Frozen):
    """The plans of all sections."""

    sections: tuple[SectionPlan, ...]
    cost: Price
    lower_bound: Price
    proven: bool
    seconds: float = Field(ge=0)  # 0 where no clock was lent

    def to_json(self) -> dict[str, Any]:
        """The plan as plain values, its decimals as JSON numbers."""
        plain: dict[str, Any] = _plain(self.model_dump())
        return plain


def _plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(item) for item in value]
    return value
