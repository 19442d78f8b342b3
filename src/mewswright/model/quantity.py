"""Numbers with their units, and the two crossings between our two units of length.

Inside quarters and timber a length is in millimetres, on the ground in metres.
Nothing else in the package converts one to the other.
"""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

Length = Annotated[float, Field(gt=0, allow_inf_nan=False)]
LengthOrNone = Annotated[float, Field(ge=0, allow_inf_nan=False)]
Finite = Annotated[float, Field(allow_inf_nan=False)]
Share = Annotated[float, Field(ge=0, le=1, allow_inf_nan=False)]
Bearing = Annotated[float, Field(ge=0, lt=360, allow_inf_nan=False)]

# After the point, at most: no more than a tape, a scale or a meter shows.
DIGITS = {"mm": 0, "g": 0, "m": 2, "m2": 2, "m3": 2, "l": 2, "deg": 1, "pct": 1, "dB": 1, "°C": 1}


class Quantity(BaseModel):
    """A number and its unit, as every finding and every page shows it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    value: float | str
    unit: str = ""

    def __str__(self) -> str:
        """Say it with a thin figure: no more digits than a tape or a scale shows."""
        if isinstance(self.value, str):
            return f"{self.value} {self.unit}".strip()
        digits = DIGITS.get(self.unit, 3)
        text = f"{self.value:.{digits}f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        text = "0" if text == "-0" else text  # a float's hair below nothing
        shown = {"m2": "m²", "m3": "m³", "deg": "°", "pct": "%"}.get(self.unit, self.unit)
        if text == "1":  # a counted thing is named in the plural: doors, perches, stays
            shown = shown.removesuffix("es") if shown.endswith("ches") else shown.removesuffix("s")
        return f"{text}{shown}" if shown == "°" else f"{text} {shown}".strip()


def millimetres(value_mm: float) -> Quantity:
    """Give a length in millimetres as a quantity."""
    return Quantity(value=value_mm, unit="mm")


def metres(value_m: float) -> Quantity:
    """Give a length in metres as a quantity."""
    return Quantity(value=value_m, unit="m")


def m_from_mm(value_mm: float) -> float:
    """Cross from quarters to ground: millimetres to metres."""
    return value_mm / 1000


def mm_from_m(value_m: float) -> float:
    """Cross from ground to quarters: metres to millimetres."""
    return value_m * 1000
