"""From parts and stock to a cut plan of least cost."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from decimal import Decimal

import numpy as np

from mewswright.build.cut.effort import UNITS_PER_SECOND, Effort
from mewswright.build.cut.marks import patterns_of
from mewswright.build.cut.one_section import one_section
from mewswright.build.cut.plan import CutPart, CutPlan, SectionPlan, StockBar
from mewswright.build.cut.sawing import Bars
from mewswright.build.cut.verify import verify
from mewswright.model.problem import Problem

WIDEST_KERF_MM = 100  # judgement: wider is a slip of the pen, no saw
FINEST_MM = Decimal("0.001")  # finer than any saw cuts; keeps the whole numbers small


def cut_plan(
    parts: Sequence[CutPart],
    stock: Sequence[StockBar],
    kerf_mm: Decimal | float = 3,
    seconds: float = 20,
    seed: int = 1,
    *,
    clock: Callable[[], float] | None = None,
    fewest: bool = True,
) -> CutPlan:
    """Saw all parts from the stock for the least money.

    n pieces from a bar take n - 1 kerfs; a last cut that falls on the bar's end costs none.
    `proven` is true only where no plan can cost less. A plan that is proven comes out the
    same for the same input and seed, whatever the machine; where the time ran out first,
    a faster machine may find a cheaper one. Without a clock the search is cut off by
    counted work instead, and every plan comes out the same.

    Args:
        parts: What to cut. Rows that repeat mark, section and length are added up.
        stock: Bars on offer. Equal lengths at different prices are separate offers.
        kerf_mm: Width of the saw's cut [mm], 0 or more.
        seconds: Time for the whole plan [s]; without a clock, work worth about as much.
        seed: Seed of the search's chances.
        clock: Gives the time now [s], for example `time.monotonic`.
        fewest: Whether to look for few different patterns too; the bars stay the same.

    Returns:
        The plan, checked by `verify`.

    Raises:
        Problem: If a part is longer than any bar of its section, a section has no stock,
            the stock runs out, one mark has two lengths, or an argument makes no sense.

    Source:
        Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963).
    """
    kerf = _kerf(kerf_mm)
    if not (math.isfinite(seconds) and seconds > 0):
        raise Problem(f"seconds is {seconds}: give a number above 0")
    started = clock() if clock else 0.0
    units = None if clock else seconds * UNITS_PER_SECOND
    effort = Effort(units, clock, started + seconds if clock else None)
    sections: dict[str, list[CutPart]] = {}
    for part in parts:
        sections.setdefault(part.section, []).append(part)
    everything: list[CutPart | StockBar] = [*parts, *stock]
    for given in everything:
        if _too_fine(given.length_mm):
            raise Problem(
                f"{_place(given.origin)}length {given.length_mm} mm is finer than a thousandth "
                "of a millimetre: round it"
            )
    _refuse_two_lengths(parts)
    for section, wanted in sections.items():  # all refusals that need no search come first
        _refuse_what_cannot_fit(section, wanted, stock)
    plans = []
    for done, (section, wanted) in enumerate(sections.items()):
        share = effort.share(1 / (len(sections) - done))
        offers = [bar for bar in stock if bar.section == section]
        plans.append(_section_plan(section, wanted, offers, kerf, share, seed, fewest=fewest))
    plan = CutPlan(
        sections=tuple(plans),
        cost=sum((s.cost for s in plans), Decimal(0)),
        lower_bound=sum((s.lower_bound for s in plans), Decimal(0)),
        proven=all(s.proven for s in plans),
        seconds=round(clock() - started, 3) if clock else 0.0,
    )
    verify(plan, parts, stock, kerf)
    return plan


def _kerf(kerf_mm: Decimal | float) -> Decimal:
    kerf = Decimal(str(kerf_mm))
    if not kerf.is_finite() or not 0 <= kerf < WIDEST_KERF_MM or _too_fine(kerf):
        raise Problem(
            f"the kerf is {kerf_mm} mm: give the width of the cut, from 0 to below "
            f"{WIDEST_KERF_MM} mm, at most three places behind the point"
        )
    return kerf


def _too_fine(length_mm: Decimal) -> bool:
    return length_mm != length_mm.quantize(FINEST_MM)


def _place(origin: str) -> str:
    return f"{origin}: " if origin else ""


def _refuse_two_lengths(parts: Sequence[CutPart]) -> None:
    seen: dict[tuple[str, str], CutPart] = {}
    for part in parts:
        first = seen.setdefault((part.section, part.mark), part)
        if first.length_mm != part.length_mm:
            raise Problem(
                f"{_place(part.origin)}mark {part.mark!r} is {part.length_mm} mm long here and "
                f"{first.length_mm} mm in {first.origin or 'an earlier part'}: "
                "give each length a mark of its own"
            )


def _refuse_what_cannot_fit(
    section: str, parts: Sequence[CutPart], stock: Sequence[StockBar]
) -> None:
    offers = [bar for bar in stock if bar.section == section]
    if not offers:
        names = ", ".join(repr(s) for s in dict.fromkeys(bar.section for bar in stock))
        raise Problem(
            f"{_place(parts[0].origin)}part {parts[0].mark!r} is of section {section!r}, of "
            f"which there is no stock; there is stock of: {names or 'nothing'}; "
            "add a row for it to the stock"
        )
    longest = max(offers, key=lambda bar: bar.length_mm)
    for part in parts:
        if part.length_mm > longest.length_mm:
            raise Problem(
                f"{_place(part.origin)}part {part.mark!r} is {part.length_mm} mm long and the "
                f"longest stock of {section!r} is {longest.length_mm} mm: "
                "offer longer bars, or joint the part"
            )


def _runs_out(
    section: str, parts: Sequence[CutPart], offers: Sequence[StockBar], sure: bool
) -> Problem:
    pieces = sum(part.count for part in parts)
    wanted = sum((part.length_mm * part.count for part in parts), Decimal(0))
    held = ", ".join(
        f"{'any number' if bar.available is None else bar.available} of {bar.length_mm} mm"
        + (f" ({bar.origin})" if bar.origin else "")
        for bar in offers
    )
    given = f"{pieces} pieces, {wanted} mm in all before kerfs, against {held}"
    if sure:
        return Problem(
            f"section {section!r}: the stock runs out: {given}; raise 'available', or leave it "
            "blank where more can be bought"
        )
    return Problem(
        f"section {section!r}: no plan was found within the time, nor was it shown that there "
        f"is none: {given}; raise 'available' or allow more seconds"
    )


def _section_plan(
    section: str,
    parts: Sequence[CutPart],
    offers: Sequence[StockBar],
    kerf: Decimal,
    effort: Effort,
    seed: int,
    *,
    fewest: bool,
) -> SectionPlan:
    from mewswright.build.cut.few import fewer_patterns
    from mewswright.build.cut.section import Search

    asked = one_section(parts, offers, kerf, effort)
    plan, bound, core = list(asked.free), 0, asked.core
    if core is not None:
        if asked.too_short:
            raise _runs_out(section, parts, offers, sure=True)
        outcome = Search(core, effort, seed).run()
        if outcome.cost >= core.missing_price:
            raise _runs_out(section, parts, offers, sure=outcome.bound > core.dearest)
        few = fewer_patterns(core, outcome.plan, effort, seed) if fewest else outcome.plan
        for bars in few:
            full = np.zeros(len(asked.items), dtype=np.int64)
            full[asked.live] = bars.pieces
            plan.append(Bars(int(asked.useful[bars.stock]), full, bars.count))
        bound = outcome.bound
    patterns = patterns_of(plan, asked.items, asked.kept, kerf)
    cost = sum((p.price * p.count for p in patterns), Decimal(0))
    lower_bound = min(cost, asked.money(bound))
    return SectionPlan(
        section=section,
        patterns=patterns,
        cost=cost,
        lower_bound=lower_bound,
        proven=lower_bound == cost,
    )
