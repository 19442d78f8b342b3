"""The tables of a pack as CSV: UTF-8, comma, a heading row, lines that end in CR LF (RFC 4180)."""

import csv
import io
from collections.abc import Iterable, Sequence
from decimal import Decimal

from mewswright.build.cost import Costing
from mewswright.build.cut.plan import CutPlan
from mewswright.build.sawing import Sawing
from mewswright.checks.finding import Finding
from mewswright.papers.record import PartLine

FINDING_COLUMNS = (
    "status", "code", "quarters", "bird", "fitting", "measured", "measured_unit", "limit",
    "limit_unit", "why", "remedy", "sources",
)  # fmt: skip
TAKE_OFF_COLUMNS = tuple(PartLine.model_fields)
CUT_COLUMNS = (
    "section", "bar", "stock_mm", "bars", "mark", "length_mm", "pieces_per_bar", "offcut_mm",
    "priced",
)  # fmt: skip
SHOPPING_COLUMNS = (
    "item", "what", "marks", "amount", "unit", "waste_pct", "packs", "pack", "price", "total",
    "currency", "priced", "note",
)  # fmt: skip


def written(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Write rows under a heading; None becomes an empty cell."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue().encode()


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, float):
        return f"{round(value, 4):g}" if abs(value) < 1e5 else f"{value:.1f}"
    return str(value)


def findings_csv(findings: Iterable[Finding]) -> bytes:
    """Write findings, one a row; several sources share a cell, a semicolon between."""
    return written(
        FINDING_COLUMNS,
        (
            (
                f.status, f.code, f.quarters, f.bird, f.fitting,
                f.measured.value if f.measured else None, f.measured.unit if f.measured else None,
                f.limit.value if f.limit else None, f.limit.unit if f.limit else None,
                f.why, f.remedy,
                "; ".join(f"{s.name} ({s.locator}; {s.how_known})" for s in f.sources),
            )
            for f in findings
        ),
    )  # fmt: skip


def take_off_csv(parts: Iterable[PartLine]) -> bytes:
    """Write a take-off, one part a row."""
    return written(
        TAKE_OFF_COLUMNS, ([getattr(p, name) for name in TAKE_OFF_COLUMNS] for p in parts)
    )


def cut_csv(sawing: Sawing) -> bytes:
    """Write a cut plan: one row for each kind of piece in each kind of bar."""
    plans: tuple[tuple[CutPlan | None, bool], ...] = (
        (sawing.plan, True), (sawing.unpriced, False),
    )  # fmt: skip
    return written(
        CUT_COLUMNS,
        (
            (
                section.section, bar, pattern.stock_mm, pattern.count, cut.mark, cut.length_mm,
                cut.count, pattern.offcut_mm, priced,
            )
            for plan, priced in plans
            if plan is not None
            for section in plan.sections
            for bar, pattern in enumerate(section.patterns, start=1)
            for cut in pattern.cuts
        ),
    )  # fmt: skip


def shopping_csv(costing: Costing) -> bytes:
    """Write the lines of a costing, in its currency."""
    return written(
        SHOPPING_COLUMNS,
        (
            (
                line.item, line.what, " ".join(line.marks), line.amount, line.unit,
                line.waste_pct, line.buy, line.pack, line.price, line.total, costing.currency,
                line.priced, line.note,
            )
            for line in costing.lines
        ),
    )  # fmt: skip
