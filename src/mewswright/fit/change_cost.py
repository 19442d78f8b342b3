"""What a change costs: the keeper's prices first, then a take-off, then the handbook.

The handbook's figures are judgements, for currencies of about the worth of one euro. In
any other currency they are no price at all; they then only serve to rank changes.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from math import ceil

from mewswright.build.cost import Costing, cost_of
from mewswright.build.parts import Part
from mewswright.build.sawing import Sawing
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.fit.change import Cost, Priced
from mewswright.handbook.tables import rows
from mewswright.model.problem import Problem
from mewswright.model.yard import Yard

# Currencies that buy about as much as one euro: there the handbook's figures are prices.
NEAR_EURO = frozenset({"EUR", "CHF", "USD", "GBP", "CAD", "AUD"})
CENT = Decimal("0.01")
SAW_WASTE = Decimal("1.1")  # timber by the metre, a tenth more for cuts: a judgement
NO_SAWING = Sawing(plan=None, unpriced=None, refused=())


@dataclass(frozen=True)
class Row:
    """One row of handbook/mend_costs.csv: the middle of its bands, for one unit."""

    id: str
    unit: str
    price: Decimal
    hours: float


@cache
def mend_costs() -> dict[str, Row]:
    """The handbook's rows by id."""
    return {
        row["id"]: Row(
            row["id"],
            row["unit"],
            (Decimal(row["price_low"]) + Decimal(row["price_high"])) / 2,
            (float(row["hours_low"]) + float(row["hours_high"])) / 2,
        )
        for row in rows("mend_costs")
    }


class Prices:
    """Costs of changes in one yard. Take-offs of the standing unit are made once."""

    def __init__(self, yard: Yard, quarters: str) -> None:
        self._yard = yard
        self._quarters = quarters
        self._known = {price.item: price for price in yard.price}
        self._standing: TakeOff | None = None
        self.hour = self._figure("hour_of_work")[0]

    @property
    def near_euro(self) -> bool:
        """The handbook's figures are of the yard's currency's size."""
        return self._yard.yard.currency in NEAR_EURO

    def of(self, kind: str, count: float = 1, item: str = "", amount: float = 1) -> Cost:
        """Cost a change by its kind.

        Args:
            kind: Id in handbook/mend_costs.csv; its hours, and its price if none is known.
            count: How many units of that row.
            item: Material whose price in the yard file serves before the handbook's.
            amount: How much of the material is bought, in its own unit.
        """
        row = mend_costs()[kind]
        if kind not in self._known and item in self._known:
            price = self._known[item]
            packs = ceil(amount / price.pack_size - 1e-9)
            return self._cost(price.price * packs, price.priced, row.hours * count)
        figure, priced = self._figure(kind)
        return self._cost(figure * Decimal(str(count)), priced, row.hours * count)

    def built(self, kind: str, count: float, after: Callable[[], Yard | None]) -> Cost:
        """Cost a change of the frame or its faces: what a new take-off has more of.

        What comes off is not sold, and what the yard file gives no price for makes the
        handbook's row stand in for the whole.

        Args:
            kind: Id in handbook/mend_costs.csv, for hours and where a price is missing.
            count: How many units of that row.
            after: Gives the yard as it would be.
        """
        if kind not in self._known:
            costing, timber = self._more(after())
            if costing is not None and timber is not None and costing.is_whole:
                own = not costing.from_assumption and (timber[1] == "keeper" or not timber[0])
                return self._cost(
                    costing.total + timber[0],
                    "keeper" if own else "assumption",
                    mend_costs()[kind].hours * count,
                )
        return self.of(kind, count)

    def _figure(self, kind: str) -> tuple[Decimal, Priced]:
        if kind in self._known:
            price = self._known[kind]
            return price.price / Decimal(str(price.pack_size)), price.priced
        return mend_costs()[kind].price, "assumption" if self.near_euro else "missing"

    def _cost(self, price: Decimal, priced: Priced, hours: float) -> Cost:
        figure = price.quantize(CENT, ROUND_HALF_UP)
        weight = float(figure) + hours * float(self.hour)
        if not figure:
            return Cost(figure, "nothing to buy", round(hours, 2), weight)
        return Cost(None if priced == "missing" else figure, priced, round(hours, 2), weight)

    def _more(self, yard: Yard | None) -> tuple[Costing | None, tuple[Decimal, Priced] | None]:
        if yard is None:
            return None, None
        try:
            if self._standing is None:
                self._standing = take_off(self._yard, self._yard.quarters_named(self._quarters))
            new = take_off(yard, yard.quarters_named(self._quarters))
        except Problem:  # a pitch has no frame; a material may not be on record
            return None, None
        parts = [*_grown(self._standing.parts, new.parts)]
        bought = new.model_copy(update={"parts": tuple(parts)})
        return cost_of(self._yard, bought, NO_SAWING), self._timber(self._standing, new)

    def _timber(self, old: TakeOff, new: TakeOff) -> tuple[Decimal, Priced] | None:
        """Price of the sawn timber that is more, by the metre; None where one has no price."""
        total, priced = Decimal(0), "keeper"
        before = _metres(old)
        for section, metres in _metres(new).items():
            more = metres - before.get(section, 0)
            if more <= 1e-6:
                continue
            bars = [bar for bar in self._yard.stock if bar.section == section]
            if not bars:
                return None
            bar = min(bars, key=lambda one: one.price / Decimal(str(one.length_mm)))
            total += bar.price * Decimal(str(more * 1000 / bar.length_mm)) * SAW_WASTE
            if bar.priced != "keeper":
                priced = "assumption"
        return total, "keeper" if priced == "keeper" else "assumption"


def _metres(takeoff: TakeOff) -> dict[str, float]:
    found: dict[str, float] = {}
    for part in takeoff.parts:
        if part.sawn:
            metres = part.count * part.length_mm / 1000
            found[part.section] = found.get(part.section, 0) + metres
    return found


def _grown(old: tuple[Part, ...], new: tuple[Part, ...]) -> list[Part]:
    """Parts that are not sawn, with only the amount that is more than before."""
    before: dict[tuple[str, str], float] = {}
    for part in old:
        if not part.sawn:
            key = (part.material, part.unit)
            before[key] = before.get(key, 0) + part.amount
    grown: list[Part] = []
    for part in new:
        if part.sawn or not part.amount:
            continue
        key = (part.material, part.unit)
        have = min(before.get(key, 0.0), part.amount)
        before[key] = before.get(key, 0.0) - have
        if part.amount - have > 1e-6:
            more = {"amount": round(part.amount - have, 4), "packs": 0}
            grown.append(part.model_copy(update=more))
    return grown
