"""Years of upkeep of one unit, the hours to build it, and what stands in for missing prices.

Wear is counted evenly: a roof that lasts ten years is used up by a half in five. So no
variant wins by a renewal that falls a day beyond the last year.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, PlainSerializer

from mewswright.build.cost import Costing, CostLine, Marked
from mewswright.build.takeoff import TakeOff
from mewswright.build.work import hours_of, works_of
from mewswright.fit.change_cost import NEAR_EURO
from mewswright.fit.compare_things import Thing, cleaned, worn
from mewswright.handbook.upkeep import Band, upkeep
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

CENT = Decimal("0.01")
WEEKS = 365.25 / 7  # weeks in a year
Money = Annotated[Decimal, PlainSerializer(float, return_type=float, when_used="json")]


class UpkeepLine(BaseModel):
    """One thing that is renewed or cleaned.

    `times` is how often in the years, not a whole number: wear is counted evenly.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    subject: str  # of handbook/upkeep.csv
    kind: Literal["renewal", "cleaning"]
    what: str
    amount: float
    unit: str
    life_years: float | None  # None: cleaned every week
    times: float | None
    price: Money | None  # goods for one unit; None: none is known, or none is needed
    priced: Marked | Literal["nothing to buy"]
    cost: Money
    minutes_week: float | None
    hours: float


class Upkeep(BaseModel):
    """All of it over the years. `cost` adds up what has a price."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    years: float
    cost: Money
    hours: float
    lines: tuple[UpkeepLine, ...]


@dataclass(frozen=True)
class Purchase:
    """What the take-off costs, with the handbook's prices where the yard has none."""

    total: Decimal
    priced: Marked
    missing: tuple[str, ...]
    told: tuple[str, ...]  # every price that stands in


def band_told(band: Band, unit: str) -> str:
    """One figure that was used, for the list of assumptions."""
    per = {"": "", "count": " each"}.get(band.per, f" for one {band.per}")
    of = "" if band.low == band.high else f", the middle of {band}"
    known = f"{band.place}; {band.source.how_known}"
    return f"{band.what}: {band.middle:g} {unit}{per}{of} ({known})"


class Prices:
    """Prices of renewals in one yard for one take-off."""

    def __init__(self, yard: Yard, costing: Costing) -> None:
        self._known = {price.item: price for price in yard.price}
        self._currency = yard.yard.currency
        self._lines: dict[tuple[str, str], CostLine] = {
            (line.item, line.unit): line for line in costing.lines if line.amount
        }

    def of(self, thing: Thing) -> tuple[Decimal | None, Marked, str, list[str]]:
        """Price of one unit of a thing: the price, whose it is, the unit, what was used.

        The keeper's own price of the subject goes first, then what the take-off pays for a
        laid unit (waste and whole packs in it), then the handbook.
        """
        band = upkeep().get((thing.subject, "price"))
        if thing.subject in self._known and band is not None:
            own = self._known[thing.subject]
            return own.price / Decimal(str(own.pack_size)), own.priced, band.per, []
        waste = Decimal(1)
        for unit in thing.amounts:
            line = self._lines.get((thing.item, unit))
            if line is not None and line.total is not None:
                return line.total / Decimal(str(line.amount)), line.priced, unit, []
            if line is not None:
                waste = _with_waste(line)
        if thing.item in self._known and band is not None:
            bought = self._known[thing.item]
            if bought.unit == band.per:
                return bought.price / Decimal(str(bought.pack_size)), bought.priced, band.per, []
        if band is None or self._currency not in NEAR_EURO:
            return None, "missing", band.per if band else "", []
        price = Decimal(str(band.middle)) * waste
        return price, "assumption", band.per, [band_told(band, self._currency)]


def upkeep_of(
    yard: Yard, quarters: Quarters, takeoff: TakeOff, costing: Costing, years: float
) -> tuple[Upkeep, list[str]]:
    """Reckon the upkeep of a unit over some years.

    Args:
        yard: Its prices and currency.
        quarters: The unit.
        takeoff: Its parts.
        costing: What they cost.
        years: How long [years].

    Returns:
        The upkeep, and a sentence for each figure of the handbook that was used.
    """
    told: list[str] = []
    prices = Prices(yard, costing)
    lines = [
        *_renewals(worn(quarters, takeoff), prices, years, told),
        *_cleanings(cleaned(quarters, takeoff), years, told),
    ]
    return (
        Upkeep(
            years=years,
            cost=sum((line.cost for line in lines), Decimal(0)),
            hours=round(sum(line.hours for line in lines), 2),
            lines=tuple(lines),
        ),
        told,
    )


def _renewals(
    things: Iterable[Thing], prices: Prices, years: float, told: list[str]
) -> Iterator[UpkeepLine]:
    for thing in things:
        life = upkeep()[thing.subject, "life_years"]
        work = upkeep()[thing.subject, "work_h"]
        price, priced, unit, used = prices.of(thing)
        times = years / life.middle
        goods = (price or Decimal(0)) * Decimal(str(thing.amounts.get(unit, 0)))
        told += [band_told(life, "years of life"), band_told(work, "h to renew"), *used]
        yield UpkeepLine(
            subject=thing.subject,
            kind="renewal",
            what=thing.what,
            amount=round(thing.amounts.get(unit, thing.amounts.get(work.per, 0)), 3),
            unit=unit or work.per,
            life_years=life.middle,
            times=round(times, 3),
            price=None if price is None else price.quantize(CENT, ROUND_HALF_UP),
            priced=priced,
            cost=(goods * Decimal(str(times))).quantize(CENT, ROUND_HALF_UP),
            minutes_week=None,
            hours=round(times * work.middle * thing.amounts.get(work.per, 0), 2),
        )


def _cleanings(things: Iterable[Thing], years: float, told: list[str]) -> Iterator[UpkeepLine]:
    for thing in things:
        band = upkeep().get((thing.subject, "clean_min_week"))
        if band is None:
            continue
        told.append(band_told(band, "minutes a week"))
        minutes = band.middle * thing.amounts[band.per]
        yield UpkeepLine(
            subject=thing.subject,
            kind="cleaning",
            what=thing.what,
            amount=round(thing.amounts[band.per], 3),
            unit=band.per,
            life_years=None,
            times=None,
            price=None,
            priced="nothing to buy",
            cost=Decimal(0),
            minutes_week=round(minutes, 2),
            hours=round(minutes / 60 * WEEKS * years, 2),
        )


def _with_waste(line: CostLine) -> Decimal:
    return 1 + Decimal(str(line.waste_pct or 0)) / 100


def purchase_of(yard: Yard, quarters: Quarters, takeoff: TakeOff, costing: Costing) -> Purchase:
    """Price a take-off; where the yard has no price, the handbook's stands in if it has one.

    The handbook's prices serve only in a currency of about the worth of one euro.
    """
    things = {thing.item: thing for thing in worn(quarters, takeoff) if thing.item}
    near_euro = yard.yard.currency in NEAR_EURO
    total, missing, told = costing.total, [], []
    for line in costing.lines:
        if line.priced != "missing":
            continue
        thing = things.get(line.item)
        band = upkeep().get((thing.subject, "price")) if thing else None
        if thing is None or band is None or not near_euro:
            missing.append(line.item)
            continue
        amount = line.amount if band.per == line.unit else thing.amounts.get(band.per, 0)
        goods = Decimal(str(band.middle)) * Decimal(str(amount)) * _with_waste(line)
        total += goods.quantize(CENT, ROUND_HALF_UP)
        told.append(
            f"{line.what} has no price in the yard file; this stands in: "
            f"{band_told(band, yard.yard.currency)}"
        )
    marked: Marked = "keeper"
    if missing:
        marked = "missing"
    elif told or costing.from_assumption:
        marked = "assumption"
    return Purchase(total, marked, tuple(missing), tuple(told))


def hours_to_build(quarters: Quarters, takeoff: TakeOff) -> tuple[float, list[str]]:
    """Hours of one person to build a unit [h], and the figures that were used."""
    works = works_of(quarters, takeoff)
    return hours_of(works), [band_told(work.band, "h") for work in works]


__all__ = [
    "Money", "Prices", "Purchase", "Upkeep", "UpkeepLine", "hours_to_build", "purchase_of",
    "upkeep_of",
]  # fmt: skip
