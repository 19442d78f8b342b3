"""Give the pieces of a plan their marks.

The search knows lengths only. Parts of one length may carry several marks: bars are then
told apart by the marks they give, in the order of the parts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from mewswright.build.cut.plan import Cut, Pattern, StockBar
from mewswright.build.cut.sawing import Bars


@dataclass(frozen=True)
class Item:
    """All parts of one length: their marks with counts."""

    length_mm: Decimal
    marks: tuple[tuple[str, int], ...]

    @property
    def count(self) -> int:
        return sum(count for _, count in self.marks)


@dataclass
class _Left:
    mark: str
    count: int


def offcut_mm(stock_mm: Decimal, lengths: Decimal, pieces: int, kerf_mm: Decimal) -> Decimal:
    """What is left of a bar that can be kept [mm].

    Cutting the last piece off takes a kerf too; where less than a kerf is left, the piece
    ends with the bar (the saw takes the rest) and there is no offcut.

    Args:
        stock_mm: Length of the bar [mm].
        lengths: Sum of the pieces [mm].
        pieces: Number of pieces.
        kerf_mm: Width of the cut [mm].
    """
    return max(Decimal(0), stock_mm - lengths - pieces * kerf_mm)


def patterns_of(
    plan: Sequence[Bars], items: Sequence[Item], stock: Sequence[StockBar], kerf_mm: Decimal
) -> tuple[Pattern, ...]:
    """Turn a plan in lengths into patterns in marks.

    Args:
        plan: Bars, their pieces counted by item.
        items: Items in the order of the bars' pieces.
        stock: Offers in the order of the bars' stock.
        kerf_mm: Width of the cut [mm].

    Returns:
        Patterns, longest stock and most bars first.
    """
    queues = [[_Left(mark, count) for mark, count in item.marks] for item in items]
    counts: dict[tuple[int, tuple[Cut, ...]], int] = {}
    order = sorted(plan, key=lambda b: (-stock[b.stock].length_mm, -b.count, (-b.pieces).tolist()))
    for bars in order:
        used = [(i, int(n)) for i, n in enumerate(bars.pieces) if n]
        left = bars.count
        while left:
            # As many bars as give the same marks; one bar where a mark runs out within it.
            times = min([left, *(max(1, queues[i][0].count // n) for i, n in used)])
            cuts: list[Cut] = []
            for i, n in used:
                wanted = n
                while wanted:
                    head = queues[i][0]
                    take = min(wanted, head.count // times)
                    head.count -= take * times
                    wanted -= take
                    cuts.append(Cut(mark=head.mark, length_mm=items[i].length_mm, count=take))
                    if head.count == 0:
                        queues[i].pop(0)
            key = (bars.stock, tuple(cuts))
            counts[key] = counts.get(key, 0) + times
            left -= times
    patterns = []
    for (s, cuts_of), count in counts.items():
        bar = stock[s]
        lengths = sum((c.length_mm * c.count for c in cuts_of), Decimal(0))
        pieces = sum(c.count for c in cuts_of)
        patterns.append(
            Pattern(
                stock_mm=bar.length_mm,
                price=bar.price,
                count=count,
                cuts=cuts_of,
                offcut_mm=offcut_mm(bar.length_mm, lengths, pieces, kerf_mm),
            )
        )
    return tuple(sorted(patterns, key=lambda p: (-p.stock_mm, -p.count)))
