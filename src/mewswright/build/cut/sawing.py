"""One section's cutting problem in whole numbers.

With l' = l + kerf and L' = L + kerf the rule "n pieces take n - 1 kerfs, and the last cut
may fall on the bar's end" is exactly sum(l') <= L'. Lengths and prices are then scaled to
whole numbers, so that nothing is ever rounded.

Source:
    The kerf identity: sum(l_i) + (n - 1) k <= L is sum(l_i + k) <= L + k.
"""

from dataclasses import dataclass, field, replace
from decimal import Decimal
from math import gcd

import numpy as np
from numpy.typing import NDArray

Counts = NDArray[np.int64]

# A missing piece costs this many whole plans, so that even a hundredth of a piece missing
# from the fractional plan shows that the stock runs out.
MISSING_TIMES = 100


@dataclass(frozen=True)
class Bars:
    """A pattern: what one bar of a stock gives, and how many such bars."""

    stock: int
    pieces: Counts
    count: int


@dataclass(frozen=True)
class Sawing:
    """Whole-number form. Sizes fall; `available` is -1 where there is no limit.

    `missing_price` is what a plan is charged for a piece it leaves out: more than any whole
    plan can cost, so a plan that leaves nothing out always wins.
    """

    size: Counts
    demand: Counts
    room: Counts
    price: Counts
    available: Counts
    missing_price: int = field(default=0)

    @property
    def dearest(self) -> int:
        """No sensible plan costs more: a bar of the dearest for every piece."""
        return int(self.demand.sum()) * int(self.price.max())

    @property
    def scarce(self) -> NDArray[np.bool_]:
        """Pieces that no unlimited stock can hold."""
        endless = self.room[self.available < 0]
        return self.size > (int(endless.max()) if len(endless) else 0)


def scale_of(values: list[Decimal]) -> tuple[int, int]:
    """Numerator and divisor that turn exact decimals into the smallest whole numbers.

    Returns:
        (power, common): value * power / common is whole for every value.
    """
    power = 1
    for value in values:
        exponent = value.normalize().as_tuple().exponent
        if isinstance(exponent, int) and exponent < 0:
            power = max(power, int(10**-exponent))
    common = 0
    for value in values:
        common = gcd(common, int(value * power))
    return power, max(1, common)


def sawing_of(
    lengths: list[Decimal],
    demand: list[int],
    stock: list[tuple[Decimal, int, int]],
    kerf_mm: Decimal,
) -> Sawing:
    """Scale one section to whole numbers.

    Args:
        lengths: Different piece lengths [mm], falling, none longer than the longest stock.
        demand: How many of each.
        stock: Length [mm], price [whole units], available (-1: no limit) of each offer.
        kerf_mm: Width of the cut [mm].
    """
    power, _ = scale_of([*lengths, *(s[0] for s in stock), kerf_mm])
    size = [int((length + kerf_mm) * power) for length in lengths]
    room = [int((s[0] + kerf_mm) * power) for s in stock]
    common = gcd(*size) if size else 1
    sawing = Sawing(
        size=np.array([n // common for n in size], dtype=np.int64),
        demand=np.array(demand, dtype=np.int64),
        room=np.array([n // common for n in room], dtype=np.int64),
        price=np.array([s[1] for s in stock], dtype=np.int64),
        available=np.array([s[2] for s in stock], dtype=np.int64),
    )
    return replace(sawing, missing_price=MISSING_TIMES * (sawing.dearest + 1))
