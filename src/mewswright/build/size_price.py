"""What a frame costs: bounds that are quick and never too high, and the price by the cut plan."""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from mewswright import handbook
from mewswright.build.cost import Costing, costing_of
from mewswright.build.cut.plan import CutPlan
from mewswright.build.frame import built_frame, geometry_of
from mewswright.build.gutter_parts import gutter_pieces
from mewswright.build.masses import part_mass
from mewswright.build.materials import known_material
from mewswright.build.parts import Part
from mewswright.build.pieces import Piece, marked_after, parts_of
from mewswright.build.sawing import Sawing, sawing_of, sawn_at_least
from mewswright.build.sheeting import is_sheet
from mewswright.build.size_stock import price_m
from mewswright.build.takeoff import braced_by, further_pieces
from mewswright.handbook.materials import Material
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

EFFORT_S = 0.3  # work on the cut plan of a section: enough for a household's frame
GLANCE_S = 0.1  # work, at most, to learn the least that a section can cost
ENDLESS = Decimal("Infinity")
NOTHING_SAWN = Sawing(plan=None, unpriced=None, refused=())


@dataclass(frozen=True)
class Price:
    """Price of a whole unit in the yard's currency, what of it has no price, and its timber.

    `refused` says why some of it cannot be sawn from the stock; its price then lacks that.
    """

    total: Decimal
    missing: tuple[str, ...]
    refused: tuple[str, ...]
    timber_kg: float
    timber_waste_pct: float
    costing: Costing

    @property
    def rank(self) -> tuple[Decimal, int, float]:
        """Cheapest first; then the fewest without a price; ties by mass."""
        return self.total, len(self.missing), self.timber_kg


class Pricer:
    """Prices of the frames of one unit; each section is sawn once for the same pieces."""

    def __init__(self, yard: Yard, quarters: Quarters) -> None:
        """Remember nothing yet.

        Args:
            yard: Its stock and prices decide.
            quarters: The unit; its own frame only sets out its gutters, if it has any.
        """
        # As if the rack were empty: what lies in it must not choose the sections of a frame.
        self.yard = yard.model_copy(update={"offcut": ()}) if yard.offcut else yard
        self.quarters = quarters
        rule = handbook.fixing_rule("defect_allowance")
        self.defects = 1 + Decimal(str((rule.high or rule.figure).value)) / 100
        self.items = {one.item: one for one in yard.price}
        self.too_long: dict[str, None] = {}  # pieces that no bar of their section gives, in words
        self._longest = {
            section: max(bar.length_mm for bar in yard.stock if bar.section == section)
            for section in {bar.section for bar in yard.stock}
        }
        # Set out once: a pipe is as long as the wall is thick, or as good as.
        self._gutters = gutter_pieces(self.yard, quarters)
        self._standing: dict[Hashable, tuple[tuple[Part, ...], list[Piece]]] = {}
        self._sawn: dict[Hashable, Sawing] = {}
        self._glanced: dict[Hashable, Decimal] = {}
        self._metres: dict[str, Decimal] = {}

    def parts(self, frame: Frame) -> tuple[Part, ...]:
        """All parts of the unit with this frame, as its take-off counts them."""
        standing, further = self._stands(frame)
        braced = braced_by(self.yard, self._unit(frame))
        return standing + marked_after(
            standing, [piece for piece in (*braced, *further) if piece.amount or piece.sawn]
        )

    def bare(self, frame: Frame) -> tuple[Part, ...]:
        """The same without what braces it and holds it down."""
        standing, further = self._stands(frame)
        return standing + marked_after(standing, [p for p in further if p.amount or p.sawn])

    def bracing(self, frame: Frame) -> tuple[Part, ...]:
        """What braces it and holds it down."""
        return parts_of(braced_by(self.yard, self._unit(frame)))

    def _unit(self, frame: Frame) -> Quarters:
        return self.quarters.model_copy(update={"frame": frame})

    def _stands(self, frame: Frame) -> tuple[tuple[Part, ...], list[Piece]]:
        """What stands but for bracing and anchors, and the fixings of that: each set out once."""
        key = geometry_of(frame)
        if key not in self._standing:
            unit = self._unit(frame)
            parts = built_frame(self.yard, unit).parts
            further = further_pieces(self.yard, unit, parts)
            self._standing[key] = parts, [*further, *self._gutters]
        return self._standing[key]

    def price(self, frame: Frame) -> Price:
        """Price of the unit with this frame, by its cut plan."""
        return self._price(self.parts(frame))

    def not_sawn(self, parts: Sequence[Part]) -> Costing:
        """Cost of all that is not sawn timber."""
        return costing_of(self.yard, parts, NOTHING_SAWN)

    def at_least(self, parts: Sequence[Part]) -> Decimal:
        """Least that these parts can cost: whole packs, and timber by a glance at its cut plan."""
        return self.not_sawn(parts).total + self.sawn_at_least(parts)

    def added(self, parts: Sequence[Part], more: Sequence[Part]) -> Decimal:
        """Least by which further parts make these dearer; sheets by their area.

        Args:
            parts: What there is.
            more: What is added: sheets, fixings, concrete, braces.
        """
        sheets = [part for part in more if is_sheet(part)]
        packed = [part for part in more if not part.sawn and not is_sheet(part)]
        total = self.timber_bound(more)
        if packed:
            items = {part.material for part in packed}
            before = [part for part in parts if part.material in items and not part.sawn]
            total += self.not_sawn([*before, *packed]).total - self.not_sawn(before).total
        for item in {part.material for part in sheets}:
            price, row = self.items.get(item), known_material(item)
            area = sum(part.amount for part in sheets if part.material == item)
            if price and row:
                total += price.price * ceil(area / (_sheet_m2(row) * price.pack_size) - 1e-9)
        return total

    def _price(self, parts: Sequence[Part]) -> Price:
        sawing = self._sawing(parts)
        costing = costing_of(self.yard, parts, sawing)
        masses = [part_mass(part) for part in parts if part.sawn]
        missing = tuple(sorted({*costing.missing, *sawing.refused}))
        bought = sum(
            float(line.pack.split()[0]) * line.buy / 1000
            for line in costing.lines
            if line.what.startswith("sawn timber") and line.buy
        )
        used = sum(part.count * part.length_mm / 1000 for part in parts if part.sawn)
        return Price(
            costing.total, missing, sawing.refused, round(sum(m.kg for m in masses if m), 3),
            round(100 * (bought - used) / bought, 2) if bought else 0.0, costing,
        )  # fmt: skip

    def sawn_at_least(self, parts: Sequence[Part]) -> Decimal:
        """Least that any cut plan of these parts costs, with the allowance for defects."""
        total = Decimal(0)
        for key, of_section in _by_section(parts).items():
            if key in self._sawn:
                plan = self._sawn[key].plan
                total += plan.lower_bound if plan else 0
                continue
            if key not in self._glanced:
                self._glanced[key] = sawn_at_least(self.yard, of_section, effort_s=GLANCE_S)
            total += self._glanced[key]
        return total * self.defects

    def _sawing(self, parts: Sequence[Part]) -> Sawing:
        priced: list[CutPlan] = []
        unpriced: list[CutPlan] = []
        refused: list[str] = []
        for key, of_section in _by_section(parts).items():
            if key not in self._sawn:
                self._sawn[key] = sawing_of(self.yard, of_section, effort_s=EFFORT_S, fewest=False)
            found = self._sawn[key]
            priced += [found.plan] if found.plan else []
            unpriced += [found.unpriced] if found.unpriced else []
            refused += found.refused
        return Sawing(plan=_joined(priced), unpriced=_joined(unpriced), refused=tuple(refused))

    def timber_bound(self, parts: Iterable[Part]) -> Decimal:
        """Least that the sawn ones of these parts can cost: by the metre, without any waste.

        Endless where a part is longer than any bar of its section in stock.
        """
        total = Decimal(0)
        for part in parts:
            if part.sawn:
                longest = self._longest.get(part.section, part.length_mm)
                if part.length_mm > longest:
                    self.too_long[
                        f"{part.what} of {part.section}: the longest in stock is {longest:g} mm, "
                        f"and {part.length_mm:.0f} mm are needed"
                    ] = None
                    return ENDLESS
                total += (
                    Decimal(str(part.count * part.length_mm)) / 1000 * self._metre(part.section)
                )
        return total * self.defects

    def _metre(self, section: str) -> Decimal:
        if section not in self._metres:
            own = any(bar.section == section for bar in self.yard.stock)
            self._metres[section] = price_m(self.yard, section) if own else Decimal(0)
        return self._metres[section]

    def each(self, item: str) -> Decimal:
        """Price of one piece of an item that is bought by the piece; 0 where none is known."""
        price = self.items.get(item)
        return (
            price.price if price and price.pack_size == 1 and price.unit == "piece" else Decimal(0)
        )


def _by_section(parts: Sequence[Part]) -> dict[Hashable, list[Part]]:
    """The sawn parts of each section, by a key that tells what is sawn of it."""
    sections: dict[str, list[Part]] = {}
    for part in parts:
        if part.sawn:
            sections.setdefault(part.section, []).append(part)
    return {
        (section, tuple(sorted((p.length_mm, p.count) for p in found))): found
        for section, found in sections.items()
    }


def _joined(plans: Sequence[CutPlan]) -> CutPlan | None:
    if not plans:
        return None
    return CutPlan(
        sections=tuple(s for plan in plans for s in plan.sections),
        cost=sum((plan.cost for plan in plans), Decimal(0)),
        lower_bound=sum((plan.lower_bound for plan in plans), Decimal(0)),
        proven=all(plan.proven for plan in plans),
        seconds=0,
    )


def _sheet_m2(sheet: Material) -> float:
    if sheet.sheet_length_mm and sheet.sheet_width_mm:
        return sheet.sheet_length_mm * sheet.sheet_width_mm / 1e6
    return 1.0
