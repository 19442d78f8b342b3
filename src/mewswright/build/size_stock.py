"""Which timber a frame can be sized from: the yard's stock, then the handbook's usual sections.

A section of the handbook has no price here. It gets the dearest price per volume of the
yard's own stock, marked as an assumption, so that it never looks cheaper than it may be.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from mewswright import handbook
from mewswright.build.longest import usual_lengths_mm
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import tube_of
from mewswright.model.stock import ItemPrice, StockBar
from mewswright.model.yard import Yard

CONCRETE_SHARE = Decimal("0.25")  # of the price of timber per volume, where it has none (judgement)
LEAST_BREADTH_MM = 35.0  # judgement: thinner is a batten, and takes no nail of a sheet's edge
# Stands in where a yard has no price of timber at all: timber then counts by its volume.
NO_PRICE_M3 = Decimal(1000)
CENT = Decimal("0.01")


def own_sections(yard: Yard) -> tuple[str, ...]:
    """Sections that the yard has in stock, cheapest by the metre first; battens left out."""
    found = {bar.section for bar in yard.stock if tube_of(bar.section) is None}
    kept = [s for s in found if min(breadth_depth_mm(s)) >= LEAST_BREADTH_MM]
    return tuple(sorted(kept, key=lambda s: (price_m(yard, s), area_mm2(s), s)))


def usual_sections() -> tuple[str, ...]:
    """Sections that the handbook says are usually on sale; battens left out."""
    found = {
        f"{one.breadth_mm:g}x{one.depth_mm:g}"
        for one in handbook.materials("timber")
        if one.breadth_mm and one.depth_mm
    }
    return tuple(
        sorted(
            (s for s in found if min(breadth_depth_mm(s)) >= LEAST_BREADTH_MM),
            key=lambda s: (area_mm2(s), s),
        )
    )


def area_mm2(section: str) -> float:
    """Area of a section [mm2]."""
    breadth, depth = breadth_depth_mm(section)
    return breadth * depth


def price_m(yard: Yard, section: str) -> Decimal:
    """Least price of a metre of a section in the yard's stock.

    Raises:
        ValueError: If the yard has none of it.
    """
    found = [
        bar.price / Decimal(str(bar.length_mm)) * 1000
        for bar in yard.stock
        if bar.section == section
    ]
    if not found:
        raise ValueError(f"no stock of {section!r}")
    return min(found)


def dearest_m3(yard: Yard) -> Decimal:
    """Dearest price of a cubic metre of the yard's own timber; 1000 where it has none."""
    found = [
        bar.price / (Decimal(str(area_mm2(bar.section))) * Decimal(str(bar.length_mm))) * 10**9
        for bar in yard.stock
        if bar.price > 0
    ]
    return max(found, default=NO_PRICE_M3)


def fully_priced(yard: Yard, sheets: Iterable[str]) -> tuple[Yard, tuple[str, ...]]:
    """The yard with a price of all that is chosen by its price, and what was assumed.

    A bar at 0 of which there is any number has no price; a few of them are an offcut's gift.
    Timber and sheets then cost the dearest volume of the yard's own timber, concrete a
    quarter of it, so that more of a thing is never as cheap as less.

    Args:
        yard: Its stock and prices.
        sheets: Material ids of the sheets that may line walls.
    """
    per_m3, said = dearest_m3(yard), []
    bare = [bar for bar in yard.stock if bar.price == 0 and bar.available is None]
    bars = tuple(
        bar.model_copy(update={"price": _by_volume(bar.section, bar.length_mm, per_m3)})
        if bar in bare
        else bar
        for bar in yard.stock
    )
    if bare:
        named = ", ".join(dict.fromkeys(bar.section for bar in bare))
        said.append(f"no price of {named} in stock: {per_m3:.0f} a cubic metre (assumed)")
    priced = {one.item for one in yard.price}
    more = []
    for sheet in sheets:
        found = handbook.material(sheet)
        if sheet not in priced and found.sheet_length_mm and found.sheet_width_mm:
            mm3 = found.sheet_length_mm * found.sheet_width_mm * (found.thickness_mm or 0.0)
            price = (per_m3 * Decimal(str(mm3)) / 10**9).quantize(CENT, ROUND_HALF_UP)
            more.append(ItemPrice(item=sheet, unit="sheet", price=price, pack_size=1))
    if "concrete" not in priced:
        price = (per_m3 * CONCRETE_SHARE).quantize(CENT, ROUND_HALF_UP)
        more.append(ItemPrice(item="concrete", unit="m3", price=price, pack_size=1))
    said += [f"no price of {one.item}: {one.price} a {one.unit} (assumed)" for one in more]
    return (
        yard.model_copy(update={"stock": bars, "price": (*yard.price, *more)}),
        tuple(said),
    )


def _by_volume(section: str, length_mm: float, per_m3: Decimal) -> Decimal:
    volume = Decimal(str(area_mm2(section))) * Decimal(str(length_mm)) / 10**9
    return (per_m3 * volume).quantize(CENT, ROUND_HALF_UP)


def stocked(yard: Yard, sections: Iterable[str]) -> Yard:
    """The yard with stock of further sections, at an assumed price and in usual lengths.

    Sections that it has already stay as they are; those of which the handbook knows no
    lengths are left out.
    """
    has = {bar.section for bar in yard.stock}
    per_m3 = dearest_m3(yard)
    more = [
        StockBar(
            section=section,
            length_mm=length,
            price=_by_volume(section, length, per_m3),
            priced="assumption",
        )
        for section in dict.fromkeys(sections)
        if section not in has
        for length in usual_lengths_mm(section)
    ]
    return yard.model_copy(update={"stock": (*yard.stock, *more)}) if more else yard
