"""From parts and sheets to a nest plan of least price."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from mewswright.build.cut.effort import UNITS_PER_SECOND, Effort
from mewswright.build.cut.sawing import scale_of
from mewswright.build.nest.beam import Beam, Guide
from mewswright.build.nest.layout import Lying, sawn
from mewswright.build.nest.plan import (
    Grain,
    NestPlan,
    SheetLayout,
    SheetPart,
    StockSheet,
    Unplaced,
)
from mewswright.build.nest.search import GUIDES, Search
from mewswright.build.nest.sheets import RIP, Fill, FirstCut, Nesting, may_lie, nesting_of
from mewswright.build.nest.verify import verify
from mewswright.model.problem import Problem

WIDEST_KERF_MM = 100  # judgement: wider is a slip of the pen, no saw
FINEST_MM = Decimal("0.001")  # finer than any saw cuts; keeps the whole numbers small
SEARCH_SHARE = 0.93  # of the time; the rest lays each sheet again for large offcuts
MOST_PIECES = 5000  # judgement: beyond that the search would not end in a keeper's lifetime
OTHER: dict[Grain, Grain] = {"none": "none", "along": "across", "across": "along"}


@dataclass(frozen=True)
class _Piece:
    """Equal parts: the longer side first, and the marks they are cut for."""

    length_mm: Decimal
    width_mm: Decimal
    grain: Grain
    marks: tuple[tuple[SheetPart, bool], ...]  # True: the part's own length is the shorter side

    @property
    def count(self) -> int:
        return sum(part.count for part, _ in self.marks)


def nest_plan(
    parts: Sequence[SheetPart],
    sheets: Sequence[StockSheet],
    kerf_mm: Decimal | float = 4,
    seconds: float = 10,
    seed: int = 1,
    *,
    stages: int = 3,
    first_cut: FirstCut = "either",
    trim_mm: Decimal | float = 0,
    clock: Callable[[], float] | None = None,
) -> NestPlan:
    """Saw all parts from the sheets for the least money.

    All cuts run from edge to edge of the piece in hand: first into strips, then each strip
    across, then (three stages) each stack into parts; a last cut trims a part that is
    narrower than its stack. At equal price limited sheets (offcuts) come before others, then
    fewer sheets; then one large offcut is better than several small ones, as far as plans
    that were met allow.

    `proven` is true only where no plan of these stages costs less. Without a clock the
    search is cut off by counted work, and every plan comes out the same.

    Args:
        parts: What to cut. Rows that repeat a mark, its size and its grain are added up.
        sheets: Sheets on offer; an offcut is a sheet of which one is available.
        kerf_mm: Width of the saw's cut [mm], 0 or more.
        seconds: Time for the plan [s]; without a clock, work worth about as much.
        seed: Seed of the search's chances.
        stages: 2 or 3.
        first_cut: First cuts run along the sheet's length (rip), across it, or either.
        trim_mm: Taken off every edge of every sheet first [mm].
        clock: Gives the time now [s], for example `time.monotonic`.

    Returns:
        The plan, checked by `verify`. Where limited sheets run out, `unplaced` names what is
        left over.

    Raises:
        Problem: If a part fits no sheet, a mark or a sheet is named twice with two
            meanings, or an argument makes no sense.
    """
    kerf = _width("the kerf", kerf_mm)
    trim = _width("the trim", trim_mm)
    if not (math.isfinite(seconds) and seconds > 0):
        raise Problem(f"seconds is {seconds}: give a number above 0")
    if stages not in (2, 3):
        raise Problem(f"stages is {stages}: give 2 or 3")
    _refuse(parts, sheets, trim)
    started = clock() if clock else 0.0
    effort = Effort(
        None if clock else seconds * UNITS_PER_SECOND, clock, started + seconds if clock else None
    )
    fills: list[Fill] = []
    pieces = _pieces(parts)
    bound, bound_by = Decimal(0), "plan"
    if pieces:
        nesting, unit, money = _nesting(pieces, sheets, kerf, trim, first_cut)
        search = Search(nesting, stages, effort.share(SEARCH_SHARE), seed, unit)
        outcome = search.run()
        bound, bound_by = Decimal(outcome.bound // unit) * money, outcome.bound_by
        fills = outcome.fills or _as_many_as_fit(nesting, stages, seed)
        fills = _tidied(nesting, fills, stages, seed, effort)
        layouts, unplaced = _layouts(nesting, fills, pieces, sheets, kerf, trim)
    else:
        layouts, unplaced = (), ()
    cost = sum((layout.price * layout.count for layout in layouts), Decimal(0))
    lower = min(cost, bound)
    plan = NestPlan.model_validate(
        {
            "sheets": layouts,
            "cost": cost,
            "lower_bound": lower,
            "bound_by": bound_by,
            "gap": round(float((cost - lower) / cost), 6) if cost else 0.0,
            "proven": lower == cost and not unplaced,
            "stages": stages,
            "kerf_mm": kerf,
            "trim_mm": trim,
            "seconds": round(clock() - started, 3) if clock else 0.0,
            "unplaced": unplaced,
        }
    )
    verify(plan, parts, sheets, kerf, trim)
    return plan


def _width(name: str, given: Decimal | float) -> Decimal:
    width = Decimal(str(given))
    if not width.is_finite() or not 0 <= width < WIDEST_KERF_MM or _too_fine(width):
        raise Problem(
            f"{name} is {given} mm: give millimetres from 0 to below {WIDEST_KERF_MM}, "
            "at most three places behind the point"
        )
    return width


def _too_fine(length_mm: Decimal) -> bool:
    return length_mm != length_mm.quantize(FINEST_MM)


def _place(origin: str) -> str:
    return f"{origin}: " if origin else ""


def _refuse(parts: Sequence[SheetPart], sheets: Sequence[StockSheet], trim: Decimal) -> None:
    """Refuse what needs no search to be refused."""
    things: list[SheetPart | StockSheet] = [*parts, *sheets]
    for thing in things:
        for side in (thing.length_mm, thing.width_mm):
            if _too_fine(side):
                raise Problem(
                    f"{_place(thing.origin)}{side} mm is finer than a thousandth of a "
                    "millimetre: round it"
                )
    names: dict[str, StockSheet] = {}
    for sheet in sheets:
        if sheet.name in names:
            raise Problem(
                f"{_place(sheet.origin)}sheet {sheet.name!r} is there twice, first in "
                f"{names[sheet.name].origin or 'an earlier row'}: give each row a name of its own"
            )
        names[sheet.name] = sheet
        if min(sheet.length_mm, sheet.width_mm) <= 2 * trim:
            raise Problem(
                f"{_place(sheet.origin)}sheet {sheet.name!r} is {sheet.length_mm} x "
                f"{sheet.width_mm} mm, and {trim} mm off every edge leave nothing: "
                "trim less, or leave the sheet out"
            )
    seen: dict[str, SheetPart] = {}
    for part in parts:
        first = seen.setdefault(part.mark, part)
        if (first.length_mm, first.width_mm, first.grain) != (
            part.length_mm, part.width_mm, part.grain,
        ):  # fmt: skip
            raise Problem(
                f"{_place(part.origin)}mark {part.mark!r} is {_size(part)} here and "
                f"{_size(first)} in {first.origin or 'an earlier part'}: "
                "give each size a mark of its own"
            )
        _refuse_what_cannot_lie(part, sheets, trim)
    pieces = sum(part.count for part in parts)
    if pieces > MOST_PIECES:
        raise Problem(
            f"there are {pieces} pieces and at most {MOST_PIECES} are nested at once: "
            "nest one building at a time"
        )


def _size(part: SheetPart) -> str:
    return f"{part.length_mm} x {part.width_mm} mm, grain {part.grain},"


def _lies(part: SheetPart, sheet: StockSheet, trim: Decimal, grain: bool) -> bool:
    room = (sheet.length_mm - 2 * trim, sheet.width_mm - 2 * trim)
    size = (part.length_mm, part.width_mm)
    return any(
        (not grain or may_lie(part.grain, sheet.grain, turned))
        and all(s <= r for s, r in zip(size[::-1] if turned else size, room, strict=True))
        for turned in (False, True)
    )


def _refuse_what_cannot_lie(part: SheetPart, sheets: Sequence[StockSheet], trim: Decimal) -> None:
    if any(_lies(part, sheet, trim, grain=True) for sheet in sheets):
        return
    offers = ", ".join(f"{s.name} {s.length_mm} x {s.width_mm} mm" for s in sheets)
    trimmed = f" less {trim} mm off every edge" if trim else ""
    remedy = "offer a larger sheet, or join the part from two"
    if any(_lies(part, sheet, trim, grain=False) for sheet in sheets):
        remedy = "it would fit with its grain the other way: let its grain be none, or offer more"
    raise Problem(
        f"{_place(part.origin)}part {part.mark!r} is {_size(part)} and fits none of the "
        f"sheets ({offers or 'there are none'}{trimmed}): {remedy}"
    )


def _pieces(parts: Sequence[SheetPart]) -> list[_Piece]:
    """Equal parts together, whichever side is called the length; the largest first."""
    groups: dict[tuple[Decimal, Decimal, Grain], list[tuple[SheetPart, bool]]] = {}
    for part in parts:
        swapped = part.width_mm > part.length_mm
        key = (
            max(part.length_mm, part.width_mm),
            min(part.length_mm, part.width_mm),
            OTHER[part.grain] if swapped else part.grain,
        )
        groups.setdefault(key, []).append((part, swapped))
    pieces = [_Piece(*key, tuple(marks)) for key, marks in groups.items()]
    return sorted(pieces, key=lambda p: (-p.length_mm * p.width_mm, -p.length_mm, p.grain))


def _nesting(
    pieces: Sequence[_Piece],
    sheets: Sequence[StockSheet],
    kerf: Decimal,
    trim: Decimal,
    first_cut: FirstCut,
) -> tuple[Nesting, int, Decimal]:
    """The problem in whole numbers, the unit of price in it, and that unit in money."""
    sides = [side for p in pieces for side in (p.length_mm, p.width_mm)]
    sides += [side for s in sheets for side in (s.length_mm, s.width_mm)]
    power, _ = scale_of([*sides, kerf, trim])
    scale, common = scale_of([sheet.price for sheet in sheets])
    total = sum(piece.count for piece in pieces)
    # At equal price: first what is in the rack, then fewer sheets. A plan has at most `total`
    # sheets, so these preferences never add up to one unit of price.
    unit = 2 * total + 1
    offers: list[tuple[int, int, int, int, Grain]] = []
    for sheet in sheets:
        some = sheet.available is not None
        offers.append(
            (
                int((sheet.length_mm - 2 * trim) * power),
                int((sheet.width_mm - 2 * trim) * power),
                int(sheet.price * scale) // common * unit + (1 if some else 2),
                -1 if sheet.available is None else sheet.available,
                sheet.grain,
            )
        )
    nesting = nesting_of(
        [(int(p.length_mm * power), int(p.width_mm * power), p.count, p.grain) for p in pieces],
        offers,
        int(kerf * power),
        first_cut,
    )
    return nesting, unit, Decimal(common) / scale


def _as_many_as_fit(nesting: Nesting, stages: int, seed: int) -> list[Fill]:
    """Sheet by sheet, with as much area as goes on each: for a rack that holds too little."""
    beam = Beam(nesting, Effort(None), seed, stages)
    left, demand = nesting.available.copy(), nesting.demand.copy()
    fills: list[Fill] = []
    while demand.any() and left.any():
        usable = np.flatnonzero(left)
        found = beam.fills(demand, usable, nesting.area.astype(float), 24, Guide(0.1, 0.5), 1)
        if not found:
            break
        fill = found[0][1]
        demand = demand - fill.counts(nesting)
        sheet = int(nesting.sheet[fill.frame])
        left[sheet] -= left[sheet] > 0
        fills.append(fill)
    return fills


def _tidied(
    nesting: Nesting, fills: list[Fill], stages: int, seed: int, effort: Effort
) -> list[Fill]:
    """The same parts on the same sheets, each sheet laid so that its largest offcut is large."""
    beam = Beam(nesting, effort, seed, stages)
    left = nesting.demand.copy()
    tidied: list[Fill] = []
    known: dict[tuple[int, bytes], Fill] = {}
    for fill in fills:
        wanted = np.minimum(fill.counts(nesting), left)  # a cover may hold pieces twice
        left = left - wanted
        if not wanted.any():
            continue
        sheet = int(nesting.sheet[fill.frame])
        key = (sheet, wanted.tobytes())
        if key not in known:
            choices = [_without(nesting, fill, wanted)]
            for guide in GUIDES[:2]:
                plans = beam.plans(wanted, np.array([sheet]), 12, guide)
                choices += [plan[0] for plan in plans if len(plan) == 1]
            known[key] = max(choices, key=lambda f: f.spare(nesting))
        tidied.append(known[key])
    return tidied


def _without(
    nesting: Nesting, fill: Fill, wanted: np.ndarray[tuple[int], np.dtype[np.int64]]
) -> Fill:
    """A fill without the pieces that are laid elsewhere already."""
    left = wanted.copy()
    strips = []
    for strip in fill.strips:
        stacks = []
        for stack in strip:
            kept = []
            for way in stack:
                if left[nesting.piece[way]] > 0:
                    left[nesting.piece[way]] -= 1
                    kept.append(way)
            if kept:
                stacks.append(tuple(kept))
        if stacks:
            strips.append(tuple(stacks))
    return Fill(fill.frame, tuple(strips))


def _layouts(
    nesting: Nesting,
    fills: Sequence[Fill],
    pieces: Sequence[_Piece],
    sheets: Sequence[StockSheet],
    kerf: Decimal,
    trim: Decimal,
) -> tuple[tuple[SheetLayout, ...], tuple[Unplaced, ...]]:
    """Marks for the pieces, places and cuts; equal layouts are counted together."""
    queues = [
        [(part, swapped) for part, swapped in piece.marks for _ in range(part.count)][::-1]
        for piece in pieces
    ]
    # Equal sheets one after another, so that a mark goes on as many equal sheets as it can.
    keys = [(fill.frame, fill.strips) for fill in fills]
    first_seen = {key: n for n, key in reversed(list(enumerate(keys)))}
    layouts: dict[SheetLayout, int] = {}

    def turn(fill: Fill) -> tuple[bool, int, int]:  # the rack first
        sheet = int(nesting.sheet[fill.frame])
        return sheets[sheet].available is None, sheet, first_seen[fill.frame, fill.strips]

    for fill in sorted(fills, key=turn):
        along = int(nesting.first[fill.frame]) == RIP
        sheet = sheets[int(nesting.sheet[fill.frame])]
        strips = []
        for strip in fill.strips:
            stacks = [
                sorted(
                    (_lying(nesting, way, queues, along) for way in stack),
                    key=lambda p: (-p.u_mm, -p.v_mm),
                )
                for stack in strip
            ]
            strips.append(sorted(stacks, key=lambda s: -sum(p.v_mm for p in s)))
        strips.sort(key=lambda strip: -max(sum(p.v_mm for p in s) for s in strip))
        made = sawn(sheet, along, strips, kerf, trim)
        layout = SheetLayout(
            sheet=sheet.name,
            length_mm=sheet.length_mm,
            width_mm=sheet.width_mm,
            count=1,
            price=sheet.price,
            cuts=made.cuts,
            parts=made.parts,
            offcuts=made.offcuts,
        )
        layouts[layout] = layouts.get(layout, 0) + 1
    left = Counter(part.mark for queue in queues for part, _ in queue)
    return (
        tuple(layout.model_copy(update={"count": n}) for layout, n in layouts.items()),
        tuple(Unplaced(mark=mark, count=n) for mark, n in left.items()),
    )


def _lying(
    nesting: Nesting, way: int, queues: list[list[tuple[SheetPart, bool]]], along: bool
) -> Lying:
    piece, turned = int(nesting.piece[way]), bool(nesting.turned[way])
    part, swapped = queues[piece].pop()
    rotated = turned != swapped
    on_x, on_y = part.length_mm, part.width_mm
    if rotated:
        on_x, on_y = on_y, on_x
    u, v = (on_x, on_y) if along else (on_y, on_x)
    return Lying(part.mark, part.length_mm, part.width_mm, u, v, rotated)
