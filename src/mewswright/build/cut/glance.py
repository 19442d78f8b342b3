"""The least that sawing can cost, known at a glance: no plan is looked for."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from mewswright.build.cut.effort import UNITS_PER_SECOND, Effort
from mewswright.build.cut.one_section import one_section
from mewswright.build.cut.plan import CutPart, StockBar


def least_cost(
    parts: Sequence[CutPart],
    stock: Sequence[StockBar],
    kerf_mm: Decimal | float = 3,
    seconds: float = 20,
    seed: int = 1,
) -> Decimal:
    """Cost that no cut plan of one section's parts undercuts, by one linear program.

    Never above what `cut_plan` calls `lower_bound` for long enough a search, and a small part of
    its work. 0 where these parts cannot be sawn from this stock: `cut_plan` says why.

    Args:
        parts: What to cut, all of one section.
        stock: Its bars.
        kerf_mm: Width of the saw's cut [mm], 0 or more.
        seconds: Work, worth about as many seconds.
        seed: Seed of the order in which patterns are priced.

    Source:
        Gilmore and Gomory 1961; Farley 1990, as in `cut/columns.py`.
    """
    from mewswright.build.cut.section import Search

    effort = Effort(seconds * UNITS_PER_SECOND)
    asked = one_section(parts, stock, Decimal(str(kerf_mm)), effort)
    if asked.core is None or asked.too_short:
        return Decimal(0)
    bound = Search(asked.core, effort, seed).glance()
    return asked.money(bound) if bound <= asked.core.dearest else Decimal(0)
