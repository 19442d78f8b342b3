"""Parts, sheets and the nest plan made of them.

Lengths are millimetres, exact decimals. Places are measured from one corner of the sheet as
it was bought, edge trim and all: x along its length, y along its width.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Length = Annotated[Decimal, Field(gt=0, allow_inf_nan=False)]
Place = Annotated[Decimal, Field(ge=0, allow_inf_nan=False)]
Price = Annotated[Decimal, Field(ge=0, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=1)]
Grain = Literal["none", "along", "across"]


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class SheetPart(_Frozen):
    """A part to be cut, `count` times."""

    mark: str = Field(min_length=1)
    length_mm: Length
    width_mm: Length
    count: Count
    grain: Grain = "none"  # where the grain must run in the part
    origin: str = ""  # where it was read, for the sentence that refuses it


class StockSheet(_Frozen):
    """Sheets on offer; an offcut is a sheet of which one is available."""

    name: str = Field(min_length=1)
    length_mm: Length
    width_mm: Length
    price: Price
    available: int | None = Field(default=None, ge=0)  # None: as many as wanted
    grain: Grain = "along"  # where its grain runs; none: it has none
    origin: str = ""


class SheetCut(_Frozen):
    """One cut, from edge to edge of the piece in hand.

    The saw takes `kerf_mm` beyond the line, on the far side of what is kept. A cut along the
    length lies at y = `at_mm` and runs from x = `from_mm` to `to_mm`; one along the width lies
    at x and runs in y.
    """

    number: Count
    stage: Literal["edge", "first", "second", "third", "trim"]
    along: Literal["length", "width"]
    at_mm: Place
    from_mm: Place
    to_mm: Place


class Placed(_Frozen):
    """One part on its sheet; `rotated`: its length lies along the sheet's width."""

    mark: str
    x_mm: Place
    y_mm: Place
    length_mm: Length
    width_mm: Length
    rotated: bool

    @property
    def far_x_mm(self) -> Decimal:
        """Its far edge along the sheet's length."""
        return self.x_mm + (self.width_mm if self.rotated else self.length_mm)

    @property
    def far_y_mm(self) -> Decimal:
        """Its far edge along the sheet's width."""
        return self.y_mm + (self.length_mm if self.rotated else self.width_mm)


class Offcut(_Frozen):
    """A rectangle that is left; its length is along the sheet's length."""

    x_mm: Place
    y_mm: Place
    length_mm: Length
    width_mm: Length


class SheetLayout(_Frozen):
    """One way to saw a sheet, and how many sheets are sawn so."""

    sheet: str
    length_mm: Length
    width_mm: Length
    count: Count
    price: Price  # of one sheet
    cuts: tuple[SheetCut, ...]
    parts: tuple[Placed, ...]
    offcuts: tuple[Offcut, ...]


class Unplaced(_Frozen):
    """A part that no sheet on offer is left for."""

    mark: str
    count: Count


class NestPlan(_Frozen):
    """All sheets, and how good the plan is known to be."""

    sheets: tuple[SheetLayout, ...]
    cost: Price
    lower_bound: Price  # no plan of these stages can cost less
    bound_by: Literal["area", "sizes", "patterns", "plan"]
    gap: float = Field(ge=0)  # (cost - lower_bound) / cost
    proven: bool
    stages: Literal[2, 3]
    kerf_mm: Place
    trim_mm: Place
    seconds: float = Field(ge=0)  # 0 where no clock was lent
    unplaced: tuple[Unplaced, ...] = ()

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
