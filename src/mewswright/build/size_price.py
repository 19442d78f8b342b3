"""What a frame costs: bounds that are quick and never too high, and the price by the cut plan."""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from mewswright import handbook
from mewswright.build.cost import Costing, cost_of
from mewswright.build.cut.plan import CutPlan
from mewswright.build.holding.ground import hole_volume_m3
from mewswright.build.holding.means import means
from mewswright.build.masses import part_mass
from mewswright.build.parts import Part
from mewswright.build.sawing import Sawing, sawing_of
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.size_choices import Anchor, Brace, Choices, framed_as
from mewswright.build.size_stock import price_m
from mewswright.build.takeoff import TakeOff, take_off
from mewswright.handbook.materials import Material
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

EFFORT_S = 0.3  # work on the cut plan of a section: enough for a household's frame
GLANCE_S = 0.02  # work to learn the least that a section can cost
ENDLESS = Decimal("Infinity")


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
            quarters: The unit; its own frame does not matter.
        """
        # As if the rack were empty: what lies in it must not choose the sections of a frame.
        self.yard, self.quarters = yard.model_copy(update={"offcut": ()}), quarters
        rule = handbook.fixing_rule("defect_allowance")
        self.defects = 1 + Decimal(str((rule.high or rule.figure).value)) / 100
        self.items = {one.item: one for one in yard.price}
        self.too_long: dict[str, None] = {}  # pieces that no bar of their section gives, in words
        self._longest = {
            section: max(bar.length_mm for bar in yard.stock if bar.section == section)
            for section in {bar.section for bar in yard.stock}
        }
        self._sawn: dict[Hashable, Sawing] = {}
        self._glanced: dict[Hashable, Decimal] = {}
        self._metres: dict[str, Decimal] = {}

    def taken_off(self, frame: Frame) -> TakeOff:
        """The take-off of the unit with this frame."""
        return take_off(self.yard, self.quarters.model_copy(update={"frame": frame}))

    def price(self, frame: Frame) -> Price:
        """Price of the unit with this frame, by its cut plan."""
        return self._price(self.taken_off(frame))

    def price_below(self, frame: Frame, most: Decimal | None) -> Price | None:
        """Price of the unit with this frame; None where it is sure to be more than `most`."""
        found = self.taken_off(frame)
        if most is not None:
            rest = cost_of(self.yard, found, Sawing(plan=None, unpriced=None, refused=())).total
            if rest + self._sawn_for_at_least(found.parts) > most:
                return None
        return self._price(found)

    def _price(self, found: TakeOff) -> Price:
        sawing = self._sawing(found.parts)
        costing = cost_of(self.yard, found, sawing)
        masses = [part_mass(part) for part in found.parts if part.sawn]
        missing = tuple(sorted({*costing.missing, *sawing.refused}))
        bought = sum(
            float(line.pack.split()[0]) * line.buy / 1000
            for line in costing.lines
            if line.what.startswith("sawn timber") and line.buy
        )
        used = sum(part.count * part.length_mm / 1000 for part in found.parts if part.sawn)
        return Price(
            costing.total, missing, sawing.refused, round(sum(m.kg for m in masses if m), 3),
            round(100 * (bought - used) / bought, 2) if bought else 0.0, costing,
        )  # fmt: skip

    def _sawn_for_at_least(self, parts: Sequence[Part]) -> Decimal:
        """Least that any cut plan of these parts costs, with the allowance for defects."""
        total = Decimal(0)
        for key, of_section in _by_section(parts).items():
            if key in self._sawn:
                plan = self._sawn[key].plan
                total += plan.lower_bound if plan else 0
                continue
            if key not in self._glanced:
                plan = sawing_of(self.yard, of_section, effort_s=GLANCE_S).plan
                self._glanced[key] = plan.lower_bound if plan else Decimal(0)
            total += self._glanced[key]
        return total * self.defects

    def _sawing(self, parts: Sequence[Part]) -> Sawing:
        priced: list[CutPlan] = []
        unpriced: list[CutPlan] = []
        refused: list[str] = []
        for key, of_section in _by_section(parts).items():
            if key not in self._sawn:
                self._sawn[key] = sawing_of(self.yard, of_section, effort_s=EFFORT_S)
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

    def anchors(self, anchor: Anchor, count: int) -> Decimal:
        """Least that so many anchors can cost: concrete by its volume, without any waste."""
        if anchor.kind == "none" or not count:
            return Decimal(0)
        hole_m = means(anchor.kind, anchor.hole_mm).hole_m
        if hole_m is None:
            return count * self.each(anchor.kind)
        price = self.items.get("concrete")
        if price is None or price.unit != "m3":
            return 2 * count * self.each("strap_30")
        volume = Decimal(str(round(hole_volume_m3(*hole_m), 6)))
        return count * (
            volume * price.price / Decimal(str(price.pack_size)) + 2 * self.each("strap_30")
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


@dataclass(frozen=True)
class Bounds:
    """Least that each choice can cost; their sum with `rest` bounds a whole unit from below."""

    rafters: tuple[Decimal, ...]
    heads: tuple[Decimal, ...]
    posts: tuple[Decimal, ...]
    studs: tuple[Decimal, ...]
    braces: tuple[Decimal, ...]
    rest: Decimal


def bounds_of(pricer: Pricer, choices: Choices, base: Frame) -> Bounds:
    """Bound the price of every choice from below, each by itself.

    Every choice is set out beside those that leave least of it: the widest spacings, the
    fewest posts, the highest plates. What is not sawn is priced once, on the leanest frame.

    Args:
        pricer: Prices.
        choices: What may be chosen.
        base: The frame whose other keys stay.
    """
    by_size = _leanest(choices)

    def parts(**chosen: object) -> tuple[Part, ...]:
        return pricer.taken_off(framed_as(base, **{**by_size, **chosen})).parts  # type: ignore[arg-type]

    bare = base.model_copy(
        update={
            **Brace().keys, "anchor": "none", "anchor_count": 0,
            "hole_mm": base.hole_mm if base.base == "posts_in_concrete" else None,
        }
    )  # fmt: skip
    lean = pricer.taken_off(framed_as(bare, **by_size))  # type: ignore[arg-type]
    not_sawn = cost_of(pricer.yard, lean, Sawing(plan=None, unpriced=None, refused=()))
    each = {"strap": pricer.each("strap_30"), "bracket": pricer.each("angle_bracket_90")}
    rest = not_sawn.total - sum(
        (
            line.total
            for line in not_sawn.lines
            if line.total is not None
            and (line.item, True) in (("strap_30", bool(each["strap"])),
                                      ("angle_bracket_90", bool(each["bracket"])))
        ),
        Decimal(0),
    )  # fmt: skip

    # Other posts and rails have other faces to paint: at the most a tin less, in a household.
    rest -= sum((line.price for line in not_sawn.lines if line.item == base.coating and line.price),
                Decimal(0))  # fmt: skip

    def rafter(choice: tuple[str, float]) -> Decimal:
        kept = [p for p in parts(rafter=choice) if p.kind == "rafter" or p.place.startswith("roof")]
        straps = 2 * sum(p.count for p in kept if p.kind == "rafter")
        return pricer.timber_bound(kept) + straps * each["strap"]

    def post(choice: tuple[str, int | None]) -> Decimal:
        kept = [p for p in parts(post=choice) if p.kind == "post"]
        return pricer.timber_bound(kept) + 2 * sum(p.count for p in kept) * each["bracket"]

    def other(choice: tuple[str, float]) -> Decimal:
        most = max(choices.posts, key=lambda p: p[1] or 0)
        return pricer.timber_bound(
            p
            for p in parts(stud=choice, post=most)
            if p.kind not in ("rafter", "head", "post") and not p.place.startswith("roof")
        )

    return Bounds(
        tuple(rafter(choice) for choice in choices.rafters),
        tuple(
            pricer.timber_bound(p for p in parts(head=choice) if p.kind == "head")
            for choice in choices.heads
        ),
        tuple(post(choice) for choice in choices.posts),
        tuple(other(choice) for choice in choices.studs),
        tuple(_brace(pricer, framed_as(bare, **by_size), brace) for brace in choices.braces),  # type: ignore[arg-type]
        rest,
    )


def _leanest(choices: Choices) -> dict[str, object]:
    def up(head: tuple[str, bool]) -> float:
        return breadth_depth_mm(head[0])[1 if head[1] else 0]

    def deep(choice: tuple[str, object]) -> float:
        return breadth_depth_mm(choice[0])[1]

    return {
        "rafter": max(choices.rafters, key=lambda r: r[1]),
        "head": max(choices.heads, key=up),
        "post": min(choices.posts, key=lambda p: (p[1] or 0, deep(p))),
        "stud": min(choices.studs, key=lambda s: (-s[1], deep(s))),
    }


def _brace(pricer: Pricer, frame: Frame, brace: Brace) -> Decimal:
    """Least price of a way of bracing: sheets by their area, braces by the metre."""
    braced = pricer.taken_off(frame.model_copy(update=brace.keys)).parts
    total = pricer.timber_bound(p for p in braced if p.what == "knee brace")
    price = pricer.items.get(brace.lining)
    area = sum(p.amount for p in braced if p.what == "lining sheet")
    if price and area:
        per_pack = Decimal(str(_sheet_m2(handbook.material(brace.lining))))
        total += price.price * Decimal(str(area)) / per_pack / Decimal(str(price.pack_size))
    return total


def _sheet_m2(sheet: Material) -> float:
    if sheet.sheet_length_mm and sheet.sheet_width_mm:
        return sheet.sheet_length_mm * sheet.sheet_width_mm / 1e6
    return 1.0
