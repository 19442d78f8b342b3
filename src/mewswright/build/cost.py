"""Cost and shopping list of a take-off, in the yard's currency.

Every price is marked: the keeper's own, an assumption, or missing. What is missing is
never counted as nothing in silence: the total says that it is not whole.
"""

from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from math import ceil
from re import match
from typing import Literal

from pydantic import BaseModel, ConfigDict

from mewswright import handbook
from mewswright.build.cut.plan import CutPlan
from mewswright.build.materials import known_material, waste_pct
from mewswright.build.parts import Part
from mewswright.build.sawing import Sawing, exact_mm
from mewswright.build.sheeting import Sheeting, SheetPlan, is_sheet, sheeting_of
from mewswright.build.takeoff import TakeOff
from mewswright.build.tube import tube_of
from mewswright.handbook.coatings import coatings
from mewswright.handbook.materials import Material
from mewswright.model.stock import ItemPrice
from mewswright.model.yard import Yard

Marked = Literal["keeper", "assumption", "missing"]
CENT = Decimal("0.01")
CLOUTS_PER_KG = 650  # the handbook's low end, so that never too few are bought
BULK_BAG_M3 = 0.5  # the handbook's low end of a bulk bag
WHOLE_PACKS = (
    "sheet",
    "roll",
    "sleeper",
    "slab",
    "length",
    "board",
    "box",
    "bag",
    "each",
    "set",
    "tin",
)


class CostLine(BaseModel):
    """One line of the shopping list."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    item: str  # handbook id, or the section of sawn timber
    what: str
    marks: tuple[str, ...]
    amount: float  # laid or built in, before waste
    unit: str
    waste_pct: float | None  # None: none is added, `note` says why where it matters
    buy: int  # packs, bars or pieces
    pack: str  # what one is
    price: Decimal | None  # of one
    total: Decimal | None
    priced: Marked
    note: str = ""


class Costing(BaseModel):
    """All lines and their sum."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    currency: str
    lines: tuple[CostLine, ...]
    total: Decimal  # of the lines with a price
    from_keeper: Decimal
    from_assumption: Decimal
    missing: tuple[str, ...]  # items without a price
    is_whole: bool  # nothing is missing

    def shopping(self) -> tuple[CostLine, ...]:
        """The lines on which something is bought."""
        return tuple(line for line in self.lines if line.buy)


def cost_of(yard: Yard, takeoff: TakeOff, cut_plan: Sawing) -> Costing:
    """Cost a take-off.

    Sheets, rolls and boxes are bought whole. The handbook's waste is added to what is
    cut from roll or board and to loose goods and fixings. Sawn timber comes from the cut
    plan, sheets from the sheet plan; only the handbook's allowance for defects is added to
    the timber.

    Args:
        yard: Prices and currency.
        takeoff: The parts.
        cut_plan: How the sawn ones are cut (build/sawing.py).
    """
    return costing_of(yard, takeoff.parts, cut_plan)


def costing_of(yard: Yard, parts: Sequence[Part], cut_plan: Sawing) -> Costing:
    """Cost parts, as `cost_of` does those of a take-off."""
    sheets = sheeting_of(yard, parts)
    lines = [*_timber(yard, parts, cut_plan), *_materials(yard, parts, sheets)]
    sums = {
        marked: sum(
            (line.total for line in lines if line.total is not None and line.priced == marked),
            Decimal(0),
        )
        for marked in ("keeper", "assumption")
    }
    missing = tuple(line.item for line in lines if line.priced == "missing")
    return Costing(
        currency=yard.yard.currency,
        lines=tuple(lines),
        total=sums["keeper"] + sums["assumption"],
        from_keeper=sums["keeper"],
        from_assumption=sums["assumption"],
        missing=missing,
        is_whole=not missing,
    )


def _timber(yard: Yard, parts: Sequence[Part], sawing: Sawing) -> Iterable[CostLine]:
    marks: dict[str, list[str]] = {}
    metres: dict[str, float] = {}
    for part in parts:
        if part.sawn:
            marks.setdefault(part.section, []).append(part.mark)
            metres[part.section] = metres.get(part.section, 0) + part.count * part.length_mm / 1000
    planned: set[str] = set()
    cost = Decimal(0)
    for plan, has_price in ((sawing.plan, True), (sawing.unpriced, False)):
        if plan is None:
            continue
        for section, stock_mm, price, count in _bars(plan):
            first = section not in planned
            planned.add(section)
            priced: Marked = "missing"
            if price == 0 and _in_rack(yard, section, stock_mm):
                yield _from_rack(section, marks[section], metres[section] if first else 0,
                                 stock_mm, count)  # fmt: skip
                continue
            if has_price:
                priced = _whose(yard, section, stock_mm, price)
                cost += Decimal(0) if tube_of(section) else price * count
            yield CostLine(
                item=section,
                what=_bar_called(section),
                marks=tuple(marks[section]),
                amount=round(metres[section], 3) if first else 0,
                unit="m",
                waste_pct=None,
                buy=count,
                pack=f"{stock_mm:f} mm",
                price=price if has_price else None,
                total=price * count if has_price else None,
                priced=priced,
                note=(
                    "from the cut plan"
                    if has_price
                    else "the yard has no stock of it; lengths are the handbook's usual ones"
                ),
            )
    for section in marks:
        if section not in planned:
            yield CostLine(
                item=section,
                what=_bar_called(section),
                marks=tuple(marks[section]),
                amount=round(metres[section], 3),
                unit="m",
                waste_pct=None,
                buy=0,
                pack="",
                price=None,
                total=None,
                priced="missing",
                note="not in the cut plan: see why it was refused",
            )
    if cost:
        rule = handbook.fixing_rule("defect_allowance")
        share = (rule.high or rule.figure).value
        yield CostLine(
            item="defect_allowance",
            what="timber for defects",
            marks=(),
            amount=share,
            unit="%",
            waste_pct=None,
            buy=0,
            pack="",
            price=None,
            total=(cost * Decimal(str(share)) / 100).quantize(CENT, ROUND_HALF_UP),
            priced="assumption",
            note=f"{share:g} % of the priced timber, on top of the cut plan",
        )


def _bar_called(section: str) -> str:
    return f"steel tube {section}" if tube_of(section) else f"sawn timber {section}"


def _in_rack(yard: Yard, section: str, stock_mm: Decimal) -> bool:
    return any(
        piece.section == section and exact_mm(piece.length_mm) == stock_mm for piece in yard.offcut
    )


def _from_rack(
    item: str, marks: Sequence[str], metres: float, stock_mm: Decimal, count: int
) -> CostLine:
    """What is taken from the rack: nothing is bought."""
    return CostLine(
        item=item, what=f"{_bar_called(item)}, from the rack", marks=tuple(marks),
        amount=round(metres, 3), unit="m", waste_pct=None, buy=0, pack=f"{stock_mm:f} mm",
        price=Decimal(0), total=Decimal(0), priced="keeper",
        note=f"{count} x {stock_mm:f} mm lie in the rack",
    )  # fmt: skip


def _bars(plan: CutPlan) -> list[tuple[str, Decimal, Decimal, int]]:
    """Bars bought, by section, length and price."""
    bars: dict[tuple[str, Decimal, Decimal], int] = {}
    for section in plan.sections:
        for pattern in section.patterns:
            key = (section.section, pattern.stock_mm, pattern.price)
            bars[key] = bars.get(key, 0) + pattern.count
    return [(*key, count) for key, count in bars.items()]


def _whose(yard: Yard, section: str, stock_mm: Decimal, price: Decimal) -> Marked:
    for bar in yard.stock:
        if (bar.section, exact_mm(bar.length_mm), bar.price) == (section, stock_mm, price):
            return bar.priced
    return "missing"


def _materials(yard: Yard, parts: Sequence[Part], sheets: Sheeting) -> Iterable[CostLine]:
    prices = {price.item: price for price in yard.price}
    groups: dict[tuple[str, str], list[Part]] = {}
    for part in parts:
        if not part.sawn and part.amount:
            groups.setdefault((part.material, part.unit), []).append(part)
    for (item, unit), group in groups.items():
        amount = round(sum(part.amount for part in group), 4)
        laid_out = sum(part.packs for part in group)
        sawn = sheets.of(item) if all(is_sheet(part) for part in group) else None
        yield _material_line(item, unit, amount, laid_out, group, prices.get(item), sawn)


def _material_line(
    item: str, unit: str, amount: float, laid_out: int, group: Sequence[Part],
    price: ItemPrice | None, sawn: SheetPlan | None = None,
) -> CostLine:  # fmt: skip
    material = known_material(item)
    waste = waste_pct(material)
    natural = pack_content(material, unit)
    if price is None:
        content, pack = natural, _pack_name(material, unit, natural)
    else:
        content, pack = _priced_content(price, material, unit, natural)
    needed = Decimal(str(amount)) * (1 + Decimal(str(waste or 0)) / 100)
    buy = ceil(needed / Decimal(str(content)))
    if laid_out:
        # A counted layout may need more than its area: the larger of the two is bought.
        counted = Decimal(str(laid_out)) * Decimal(str(natural)) / Decimal(str(content))
        buy = max(buy, ceil(counted))
    note = "" if material else "not in the handbook"
    if sawn is not None:
        waste, note = None, "from the sheet plan"
        buy = ceil(Decimal(sawn.buy) * Decimal(str(natural)) / Decimal(str(content)))
        if sawn.rack:
            note += f"; {sum(one.count for one in sawn.rack)} from the rack"
    return CostLine(
        item=item,
        what=_called(item, material, group),
        marks=tuple(part.mark for part in group),
        amount=amount,
        unit=unit,
        waste_pct=waste,
        buy=buy,
        pack=pack,
        price=price.price if price else None,
        total=price.price * buy if price else None,
        priced=price.priced if price else "missing",
        note=note,
    )


def _called(item: str, material: Material | None, group: Sequence[Part]) -> str:
    if material is not None:
        return material.name
    return group[0].what if len(group) == 1 else item.replace("_", " ")


def pack_content(material: Material | None, unit: str) -> float:
    """How much one usual pack of a material holds, in the unit that it is laid in.

    A sheet or a roll holds its area, a board or trim its longest stock length, a box the
    fewest pieces that the handbook gives; 1 where nothing is known.
    """
    if material is None:
        return 1
    if unit == "m2" and material.sheet_length_mm and material.sheet_width_mm:
        return material.sheet_length_mm * material.sheet_width_mm / 1e6
    if unit == "m2" and material.roll_length_mm and material.roll_width_mm:
        return material.roll_length_mm * material.roll_width_mm / 1e6
    if unit == "l" and material.id in coatings():
        return min(coatings()[material.id].tins_l)
    if unit == "m" and material.stock_lengths_mm:
        return max(material.stock_lengths_mm) / 1000
    if material.id == "clout_nail_13":
        return CLOUTS_PER_KG
    if unit == "piece" and material.unit == "box":
        fewest = match(r"\d+", material.pack)
        return float(fewest.group()) if fewest else 1
    return 1


def _priced_content(
    price: ItemPrice, material: Material | None, unit: str, natural: float
) -> tuple[float, str]:
    """What one priced pack holds, in the unit that the material is laid in, and its name."""
    if material is not None and material.id == "clout_nail_13" and price.unit == "kg":
        return CLOUTS_PER_KG * price.pack_size, f"{price.pack_size:g} kg"
    if price.pack_size == 1 and price.unit in WHOLE_PACKS:
        content = BULK_BAG_M3 if price.unit == "bag" and unit == "m3" else natural
        return content, _named(price.unit, content, unit)
    if price.unit == unit:
        return price.pack_size, _named("", price.pack_size, unit)
    return price.pack_size, _named(price.unit, price.pack_size, unit)


def _named(name: str, content: float, unit: str) -> str:
    if not name:
        return unit if content == 1 else f"{content:g} {unit}"
    return name if unit == "piece" and content == 1 else f"{name} of {round(content, 2):g} {unit}"


def _pack_name(material: Material | None, unit: str, natural: float) -> str:
    name = material.unit if material is not None and natural != 1 else ""
    if unit == "l" and natural != 1:
        name = "tin"
    return _named("" if name == unit else name, natural, unit)
