"""One section's parts and stock as whole numbers: what the searches for its plan work on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.marks import Item
from mewswright.build.cut.plan import CutPart, StockBar
from mewswright.build.cut.sawing import Bars, Sawing, sawing_of, scale_of

Places = np.ndarray[tuple[int], np.dtype[np.intp]]


@dataclass(frozen=True)
class OneSection:
    """What is asked of one section, and what bars that cost nothing give of it already.

    Attributes:
        items: The lengths wanted, longest first.
        kept: The offers, cheapest first.
        free: Bars that cost nothing and never run out, as far as they serve.
        core: What is left to be sawn from offers that matter; None: nothing.
        live: Of each size in `core`, its place in `items`.
        useful: Of each offer in `core`, its place in `kept`.
        scale: What prices were multiplied by, and then divided by, to make whole numbers.
    """

    items: list[Item]
    kept: list[StockBar]
    free: list[Bars]
    core: Sawing | None
    live: Places
    useful: Places
    scale: tuple[int, int]

    @property
    def too_short(self) -> bool:
        """Whether some piece is longer than every offer that is left."""
        core = self.core
        return core is not None and (not len(core.room) or core.size.max() > core.room.max())

    def money(self, cost: int) -> Decimal:
        """A cost in whole price units as money."""
        power, common = self.scale
        return Decimal(cost) * common / power


def one_section(
    parts: Sequence[CutPart], offers: Sequence[StockBar], kerf: Decimal, effort: Effort
) -> OneSection:
    """Set up the problem of one section.

    Args:
        parts: What to cut, all of the section.
        offers: Its bars.
        kerf: Width of the cut [mm].
        effort: Allowance.
    """
    marks: dict[Decimal, dict[str, int]] = {}
    for part in parts:
        of_length = marks.setdefault(part.length_mm, {})
        of_length[part.mark] = of_length.get(part.mark, 0) + part.count
    items = [Item(length, tuple(marks[length].items())) for length in sorted(marks, reverse=True)]
    pieces = sum(part.count for part in parts)
    power, common = scale_of([bar.price for bar in offers])
    kept = sorted(offers, key=lambda bar: (bar.price, bar.length_mm))
    sawing = sawing_of(
        [item.length_mm for item in items],
        [item.count for item in items],
        [
            (
                bar.length_mm,
                int(bar.price * power) // common,
                -1 if bar.available is None or bar.available >= pieces else bar.available,
            )
            for bar in kept
        ],
        kerf,
    )
    free, sawing = _free_bars(sawing, effort)
    core, none = None, np.zeros(0, dtype=np.intp)
    live = useful = none
    if sawing.demand.any():
        live = np.flatnonzero(sawing.demand)
        useful = _useful(sawing)
        core = replace(
            sawing,
            size=sawing.size[live],
            demand=sawing.demand[live],
            room=sawing.room[useful],
            price=sawing.price[useful],
            available=sawing.available[useful],
        )
    return OneSection(items, kept, free, core, live, useful, (power, common))


def _free_bars(sawing: Sawing, effort: Effort) -> tuple[list[Bars], Sawing]:
    """Saw from bars that cost nothing and never run out whatever they hold.

    No plan does better: those pieces then cost nothing, and leave the rest of the stock
    to the others.
    """
    from mewswright.build.cut.greedy import greedy_plan

    free = np.flatnonzero((sawing.price == 0) & (sawing.available < 0))
    if not len(free):
        return [], sawing
    best = int(free[np.argmax(sawing.room[free])])
    held = np.where(sawing.size <= sawing.room[best], sawing.demand, 0)
    alone = replace(
        sawing,
        room=sawing.room[[best]],
        price=sawing.price[[best]],
        available=sawing.available[[best]],
    )
    plan, _ = greedy_plan(alone, held, alone.available, effort)
    plan = [Bars(best, bars.pieces, bars.count) for bars in plan]
    return plan, replace(sawing, demand=sawing.demand - held)


def _useful(sawing: Sawing) -> Places:
    """Offers that hold a piece and that no unlimited offer matches in room at the price or less."""
    keep = []
    smallest = int(sawing.size[sawing.demand > 0].min())
    for s in range(len(sawing.room)):
        beaten = any(
            sawing.available[t] < 0
            and sawing.room[t] >= sawing.room[s]
            and (
                sawing.price[t] < sawing.price[s]
                or (
                    sawing.price[t] == sawing.price[s]
                    and (sawing.room[t] > sawing.room[s] or t < s)
                )
            )
            for t in range(len(sawing.room))
            if t != s and not (sawing.price[t] == 0 and sawing.price[s] == 0)
        )
        if (
            not beaten
            and sawing.room[s] >= smallest
            and sawing.available[s] != 0
            and not (sawing.price[s] == 0 and sawing.available[s] < 0)
        ):
            keep.append(s)
    return np.array(keep, dtype=np.intp)
