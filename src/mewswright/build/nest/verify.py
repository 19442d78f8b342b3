"""Check a nest plan against its parts and sheets, without the code that made it.

The sheet is sawn again by the list of cuts alone: each cut must run from edge to edge of one
piece in hand. What comes off the saw must be exactly the parts and the offcuts of the plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import TypeAlias

from mewswright.build.nest.plan import NestPlan, SheetCut, SheetLayout, SheetPart, StockSheet

Piece: TypeAlias = tuple[Decimal, Decimal, Decimal, Decimal]  # x, y, far x, far y


class BadPlanError(Exception):
    """A plan that does not do what it says: a fault of the program, not of the input."""


def verify(
    plan: NestPlan,
    parts: Sequence[SheetPart],
    sheets: Sequence[StockSheet],
    kerf_mm: Decimal,
    trim_mm: Decimal = Decimal(0),
) -> None:
    """Saw every sheet again, count every part and add up every price.

    Args:
        plan: The plan.
        parts: What was to be cut.
        sheets: What it was to be cut from.
        kerf_mm: Width of the cut [mm].
        trim_mm: Taken off every edge first [mm].

    Raises:
        BadPlanError: If a part is short, over, off the sheet, against its grain or nearer than
            a kerf to another, a cut does not run from edge to edge or comes out of turn, more
            sheets are used than there are, or a cost, bound or claim is wrong.
    """
    offers = {sheet.name: sheet for sheet in sheets}
    by_mark = {part.mark: part for part in parts}
    wanted: Counter[str] = Counter()
    for part in parts:
        wanted[part.mark] += part.count
    cut: Counter[str] = Counter()
    used: Counter[str] = Counter()
    for layout in plan.sheets:
        offer = offers.get(layout.sheet)
        if offer is None or (offer.length_mm, offer.width_mm, offer.price) != (
            layout.length_mm, layout.width_mm, layout.price,
        ):  # fmt: skip
            raise BadPlanError(f"sheet {layout.sheet!r} is not on offer so")
        used[layout.sheet] += layout.count
        _verify_parts(layout, offer, by_mark, kerf_mm, trim_mm)
        _verify_cuts(layout, kerf_mm, plan.stages)
        for placed in layout.parts:
            cut[placed.mark] += layout.count
    for name, count in used.items():
        available = offers[name].available
        if available is not None and count > available:
            raise BadPlanError(f"sheet {name!r}: {count} are used and {available} are there")
    for left in plan.unplaced:
        cut[left.mark] += left.count
    if wanted != cut:
        mark = next(m for m in {**wanted, **cut} if wanted[m] != cut[m])
        raise BadPlanError(f"part {mark!r}: {cut[mark]} accounted for, {wanted[mark]} wanted")
    cost = sum((layout.price * layout.count for layout in plan.sheets), Decimal(0))
    if cost != plan.cost:
        raise BadPlanError(f"the sheets cost {cost}, not {plan.cost}")
    if plan.lower_bound > cost or plan.proven != (plan.lower_bound == cost and not plan.unplaced):
        raise BadPlanError("the plan's claim of proof does not agree with its bound")


def _verify_parts(
    layout: SheetLayout,
    offer: StockSheet,
    by_mark: dict[str, SheetPart],
    kerf_mm: Decimal,
    trim_mm: Decimal,
) -> None:
    where = f"sheet {layout.sheet!r}"
    if not layout.parts:
        raise BadPlanError(f"{where} is bought and not sawn")
    boxes = []
    for p in layout.parts:
        part = by_mark[p.mark]
        if (p.length_mm, p.width_mm) != (part.length_mm, part.width_mm):
            raise BadPlanError(f"{where}: part {p.mark!r} has a wrong size")
        long, short = (p.width_mm, p.length_mm) if p.rotated else (p.length_mm, p.width_mm)
        if min(p.x_mm, p.y_mm) < trim_mm:
            raise BadPlanError(f"{where}: part {p.mark!r} lies in the trimmed edge")
        if p.x_mm + long > offer.length_mm - trim_mm or p.y_mm + short > offer.width_mm - trim_mm:
            raise BadPlanError(f"{where}: part {p.mark!r} does not lie within the sheet")
        if "none" not in (part.grain, offer.grain):
            with_length = offer.grain == "along"  # the sheet's grain runs along x
            part_with_x = (part.grain == "along") != p.rotated  # so does the part's
            if with_length != part_with_x:
                raise BadPlanError(f"{where}: part {p.mark!r} lies against its grain")
        boxes.append((p.x_mm, p.y_mm, p.x_mm + long, p.y_mm + short, p.mark))
    for i, (ax, ay, bx, by, mark) in enumerate(boxes):
        for cx, cy, dx, dy, other in boxes[:i]:
            if ax < dx + kerf_mm and cx < bx + kerf_mm and ay < dy + kerf_mm and cy < by + kerf_mm:
                raise BadPlanError(f"{where}: {mark!r} and {other!r} have no kerf between them")


def _verify_cuts(layout: SheetLayout, kerf_mm: Decimal, stages: int) -> None:
    where = f"sheet {layout.sheet!r}"
    zero = Decimal(0)
    whole: Piece = (zero, zero, layout.length_mm, layout.width_mm)
    turns: dict[Piece, tuple[str, int]] = {whole: ("", 0)}  # way of the last cut, turns so far
    boxes = [(p.x_mm, p.y_mm, p.far_x_mm, p.far_y_mm) for p in layout.parts]
    for number, cut in enumerate(layout.cuts, 1):
        if cut.number != number:
            raise BadPlanError(f"{where}: cut {cut.number} is counted wrong")
        piece = _sawn_by(turns, cut, where)
        last, turn = turns.pop(piece)
        if cut.stage != "edge":
            turn += cut.along != last
            last = cut.along
        halves = _halves(piece, cut, kerf_mm)
        holding = sum(any(_within(box, half) for box in boxes) for half in halves)
        if turn > stages + 1 or (turn > stages and holding > 1):
            raise BadPlanError(f"{where}: cut {number} needs more than {stages} stages")
        turns.update(dict.fromkeys(halves, (last, turn)))
    for p, box in zip(layout.parts, boxes, strict=True):
        if turns.pop(box, None) is None:
            raise BadPlanError(f"{where}: no cut frees part {p.mark!r}")
    for o in layout.offcuts:
        box = (o.x_mm, o.y_mm, o.x_mm + o.length_mm, o.y_mm + o.width_mm)
        if turns.pop(box, None) is None:
            raise BadPlanError(f"{where}: an offcut at {o.x_mm}, {o.y_mm} does not come off")


def _within(box: Piece, piece: Piece) -> bool:
    return box[0] >= piece[0] and box[1] >= piece[1] and box[2] <= piece[2] and box[3] <= piece[3]


def _sawn_by(pieces: Iterable[Piece], cut: SheetCut, where: str) -> Piece:
    """The piece through which a cut runs from edge to edge."""
    for piece in pieces:
        x, y, far_x, far_y = piece
        if cut.along == "length":
            start, end, low, high = x, far_x, y, far_y
        else:
            start, end, low, high = y, far_y, x, far_x
        if (start, end) == (cut.from_mm, cut.to_mm) and low < cut.at_mm < high:
            return piece
    raise BadPlanError(f"{where}: cut {cut.number} does not run from edge to edge")


def _halves(piece: Piece, cut: SheetCut, kerf_mm: Decimal) -> list[Piece]:
    """What a cut leaves of a piece, the saw dust gone."""
    x, y, far_x, far_y = piece
    low, high = (y, far_y) if cut.along == "length" else (x, far_x)
    # An edge cut at the near side keeps what lies beyond it: there the saw runs in the waste.
    near_edge = cut.stage == "edge" and low == 0
    ends = [(low, cut.at_mm - kerf_mm), (cut.at_mm, high)]
    if not near_edge:
        ends = [(low, cut.at_mm), (cut.at_mm + kerf_mm, high)]
    return [
        (x, a, far_x, b) if cut.along == "length" else (a, y, b, far_y) for a, b in ends if b > a
    ]
