"""Check a cut plan against its parts and stock, without the code that made it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal

from mewswright.build.cut.plan import CutPart, CutPlan, SectionPlan, StockBar


class BadPlanError(Exception):
    """A plan that does not do what it says: a fault of the program, not of the input."""


def verify(
    plan: CutPlan, parts: Sequence[CutPart], stock: Sequence[StockBar], kerf_mm: Decimal
) -> None:
    """Count every piece, measure every bar and add up every price.

    Args:
        plan: The plan.
        parts: What was to be cut.
        stock: What it was to be cut from.
        kerf_mm: Width of the cut [mm].

    Raises:
        BadPlanError: If a part is short or over, a bar is overfull or not on offer, more bars
            are used than there are, an offcut or a cost is wrong, or a bound is above it.
    """
    wanted: Counter[tuple[str, str, Decimal]] = Counter()
    for part in parts:
        wanted[part.section, part.mark, part.length_mm] += part.count
    cut: Counter[tuple[str, str, Decimal]] = Counter()
    for section in plan.sections:
        _verify_section(section, kerf_mm)
        _verify_stock(section, stock)
        for pattern in section.patterns:
            for piece in pattern.cuts:
                key = (section.section, piece.mark, piece.length_mm)
                cut[key] += piece.count * pattern.count
    if wanted != cut:
        key = next(k for k in {**wanted, **cut} if wanted[k] != cut[k])
        raise BadPlanError(f"part {key}: {cut[key]} cut, {wanted[key]} wanted")
    for name in ("cost", "lower_bound"):
        total = sum((getattr(s, name) for s in plan.sections), Decimal(0))
        if getattr(plan, name) != total:
            raise BadPlanError(f"the plan's {name} is {getattr(plan, name)}, its sections' {total}")
    if plan.proven != (plan.lower_bound == plan.cost):
        raise BadPlanError("the plan's claim of proof does not agree with its bound")


def _verify_section(section: SectionPlan, kerf_mm: Decimal) -> None:
    name = section.section
    cost = Decimal(0)
    for pattern in section.patterns:
        if not pattern.cuts:
            raise BadPlanError(f"section {name!r}: a bar is bought and not sawn")
        lengths = sum((c.length_mm * c.count for c in pattern.cuts), Decimal(0))
        pieces = sum(c.count for c in pattern.cuts)
        over = lengths + (pieces - 1) * kerf_mm - pattern.stock_mm
        if over > 0:
            raise BadPlanError(
                f"section {name!r}: a {pattern.stock_mm} mm bar is overfull by {over} mm"
            )
        offcut = max(Decimal(0), -over - kerf_mm)
        if pattern.offcut_mm != offcut:
            raise BadPlanError(f"section {name!r}: an offcut of {offcut} mm is given wrong")
        cost += pattern.price * pattern.count
    if cost != section.cost:
        raise BadPlanError(f"section {name!r}: its bars cost {cost}, not {section.cost}")
    if section.lower_bound > cost or section.proven != (section.lower_bound == cost):
        raise BadPlanError(
            f"section {name!r}: the bound {section.lower_bound} does not fit the cost"
        )


def _verify_stock(section: SectionPlan, stock: Sequence[StockBar]) -> None:
    held: dict[tuple[Decimal, Decimal], float] = {}
    for bar in stock:
        if bar.section == section.section:
            more = float("inf") if bar.available is None else bar.available
            key = (bar.length_mm, bar.price)
            held[key] = held.get(key, 0) + more
    for pattern in section.patterns:
        key = (pattern.stock_mm, pattern.price)
        held[key] = held.get(key, 0) - pattern.count
        if held[key] < 0:
            raise BadPlanError(
                f"section {section.section!r}: more {pattern.stock_mm} mm bars at "
                f"{pattern.price} are used than there are"
            )
