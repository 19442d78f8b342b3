"""How numbers are printed: no more digits than a tape or a till shows."""

from decimal import Decimal

from mewswright.model.quantity import Quantity


def figure(value: float | Decimal, digits: int = 1) -> str:
    """Write a number with at most so many decimals and no idle noughts; never a minus nought."""
    text = f"{round(float(value), digits) + 0.0:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def money(value: Decimal | None, currency: str = "") -> str:
    """Write a price; a dash where there is none."""
    if value is None:
        return "–"
    return f"{currency} {value:.2f}".strip()


def quantity(value: Quantity | None) -> str:
    """Write a quantity of a finding, or nothing."""
    return str(value) if value is not None else ""


UNITS = {"m2": "m²", "m3": "m³", "deg": "°", "pct": "%", "C": "°C", "degC": "°C", "c": "°C"}


def unit(name: str) -> str:
    """Write a unit as paper shows it."""
    return UNITS.get(name, name)
