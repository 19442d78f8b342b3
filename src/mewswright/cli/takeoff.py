"""`mewswright takeoff`: every part of one unit, its cut plan and its cost."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.build.mark_runs import mark_runs
from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.build.cost import Costing
    from mewswright.build.cut.plan import CutPlan
    from mewswright.build.floor_load import FloorLoad
    from mewswright.build.order import BuildOrder
    from mewswright.build.parts import Part
    from mewswright.build.sawing import Sawing
    from mewswright.build.sheeting import Sheeting
    from mewswright.build.takeoff import TakeOff


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    quarters: Annotated[
        str, typer.Argument(metavar="QUARTERS", help="Name of the quarters, or of a row.")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="Print the take-off as JSON.")] = False,
) -> None:
    """Take off every part of one unit, saw it and cost it. Exit 0: done. 2: bad input."""
    with refusing():
        from mewswright.build.order import build_order
        from mewswright.build.report import report, worked_out
        from mewswright.build.row import unit_or_row
        from mewswright.build.sheeting import sheeting_of
        from mewswright.checks.open import open_yard

        yard, unit = unit_or_row(open_yard(yard_file), quarters)
        takeoff, sawing, costing = worked_out(yard, unit)
        sheets = sheeting_of(yard, takeoff.parts)
        order = build_order(unit, takeoff)
    if as_json:
        import json

        told = report(takeoff, sawing, costing, sheets, order)
        typer.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        typer.echo("\n".join(_spoken(takeoff, sawing, costing, sheets, order)))


def _spoken(
    takeoff: "TakeOff",
    sawing: "Sawing",
    costing: "Costing",
    sheets: "Sheeting",
    order: "BuildOrder",
) -> Iterator[str]:
    yield f"{takeoff.quarters}, {takeoff.yard}: {len(takeoff.parts)} kinds of part"
    yield ""
    for part in takeoff.parts:
        yield _part(part)
    yield ""
    yield "Setting out"
    for key, value in takeoff.setting_out.model_dump().items():
        name, _, unit = key.rpartition("_")
        words = name.replace("_", " ") if unit in ("mm", "deg") else key.replace("_", " ")
        shown = ", ".join(f"{x:g}" for x in value) if isinstance(value, tuple) else value
        yield f"  {words}: {shown} {unit if unit in ('mm', 'deg') else ''}".rstrip()
    yield ""
    if takeoff.floor_load is not None:
        yield "Floor"
        yield from _floor(takeoff.floor_load)
        yield ""
    yield from _sawn(sawing)
    yield ""
    yield from _sheets(sheets)
    rack = [*sawing.rack, *sheets.rack]
    if rack:
        yield "From the rack"
        for use in rack:
            size = f"{use.length_mm:g}" + (f" x {use.width_mm:g}" if use.width_mm else "")
            yield f"  {use.count} x {use.what} of {size} mm: {mark_runs(use.marks)}"
        yield ""
    yield from _order(order)
    yield ""
    yield from _costs(costing)
    yield ""
    yield "Assumed"
    yield from (f"  {line}" for line in (*takeoff.assumptions, *order.assumptions))
    yield ""
    yield "Mind"
    yield from (f"  {line}" for line in takeoff.cautions)


def _order(order: "BuildOrder") -> Iterator[str]:
    yield f"Order of building: {order.hours:g} h of one person"
    for step in order.steps:
        hours = f"{step.hours:.1f} h, " if step.hours else ""
        people = "1 person" if step.people == 1 else f"{step.people} people"
        yield f"  {step.number}. {step.title}: {hours}{people}"
        if step.marks:
            yield f"     parts: {mark_runs(step.marks)}"
        if step.tools:
            yield f"     tools: {', '.join(step.tools)}"
        yield from (f"     hold: {hold}" for hold in step.holds)


def _floor(load: "FloorLoad") -> Iterator[str]:
    if load.drained_kg is not None:
        yield (
            f"  {load.volume_m3:.2f} m3: {load.drained_kg:.0f} kg drained, {load.soaked_kg:.0f} kg "
            f"soaked; a barrow of {load.barrow_l:g} l and {load.barrow_kg:g} kg"
        )
    yield f"  {load.answer}"


def _part(part: "Part") -> str:
    size = (
        f"{part.section or part.material} {part.length_mm:g} mm"
        if part.length_mm
        else (part.material)
    )
    if part.width_mm and not part.sawn:
        size += f" x {part.width_mm:g} mm"
    cuts = ""
    if part.cut_start_deg or part.cut_end_deg:
        cuts = f", cuts {part.cut_start_deg:g} and {part.cut_end_deg:g} deg from square"
    amount = f", {part.amount:g} {part.unit}" if part.unit != "piece" else ""
    note = f" ({part.note})" if part.note else ""
    return (
        f"{part.mark:>5}  {part.how_many:g} x {part.what}, {part.place}: {size}{cuts}{amount}{note}"
    )


def _sawn(sawing: "Sawing") -> Iterator[str]:
    yield "Cut plan"
    if sawing.plan:
        yield from _plan(sawing.plan, "cost")
    if sawing.unpriced:
        yield "  No stock of these in the yard file; usual lengths, and metres for their cost:"
        yield from _plan(sawing.unpriced, "metres")
    for reason in sawing.refused:
        yield f"  not planned: {reason}"


def _sheets(sheets: "Sheeting") -> Iterator[str]:
    if not sheets.plans and not sheets.refused:
        return
    yield "Sheet plan"
    for one in sheets.plans:
        proof = "proven the fewest" if one.plan.proven else "fewer may do"
        yield f"  {one.material}: {one.buy} to buy, {proof}"
        for layout in one.plan.sheets:
            marks = Counter(part.mark for part in layout.parts)
            told = " + ".join(f"{count} x {mark}" for mark, count in marks.items())
            yield (
                f"    {layout.count} x {layout.length_mm:f} x {layout.width_mm:f} mm: {told}; "
                f"{len(layout.cuts)} cuts"
            )
    for reason in sheets.refused:
        yield f"  not planned: {reason}"
    yield ""


def _plan(plan: "CutPlan", worth: str) -> Iterator[str]:
    for section in plan.sections:
        proof = "proven the least" if section.proven else f"at least {section.lower_bound}"
        yield f"  {section.section}: {worth} {section.cost}, {proof}"
        for pattern in section.patterns:
            cuts = " + ".join(f"{c.count} x {c.mark}" for c in pattern.cuts)
            yield (
                f"    {pattern.count} x {pattern.stock_mm:g} mm: {cuts}; "
                f"offcut {pattern.offcut_mm:g} mm"
            )


def _costs(costing: "Costing") -> Iterator[str]:
    yield f"Shopping list [{costing.currency}]"
    for line in costing.lines:
        bought = f"{line.buy} x {line.pack}: " if line.buy else ""
        total = f"{line.total:.2f} ({line.priced})" if line.total is not None else "price missing"
        price = f" at {line.price:.2f}" if line.price is not None else ""
        yield f"  {line.what}: {bought}{total}{price}"
    yield (
        f"  In all {costing.total:.2f}: {costing.from_keeper:.2f} at the keeper's prices, "
        f"{costing.from_assumption:.2f} assumed"
    )
    if costing.missing:
        yield f"  This is not the whole cost: no price for {', '.join(costing.missing)}"
