"""`mewswright nest`: how to saw rectangular parts from sheets for the least money."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from decimal import Decimal

    from mewswright.build.nest.plan import NestPlan, SheetLayout

LEFT_OVER = 1


def command(
    parts_file: Annotated[
        Path,
        typer.Argument(
            metavar="PARTS.csv",
            help="Columns mark,length_mm,width_mm,count and, if wanted, grain: "
            "none (blank), along or across the part's length.",
        ),
    ],
    sheets_file: Annotated[
        Path,
        typer.Argument(
            metavar="SHEETS.csv",
            help="Columns name,length_mm,width_mm,price,available (blank: no limit) and, if "
            "wanted, grain: along (blank) or across the sheet's length, or none.",
        ),
    ],
    kerf_mm: Annotated[str, typer.Option(help="Width of the saw's cut [mm].")] = "4",
    trim_mm: Annotated[str, typer.Option(help="Taken off every edge first [mm].")] = "0",
    stages: Annotated[int, typer.Option(help="2: strips and cross cuts; 3: stacks too.")] = 3,
    first_cut: Annotated[str, typer.Option(help="rip, cross or either.")] = "either",
    seconds: Annotated[float, typer.Option(help="Time to search for the best plan [s].")] = 10,
    seed: Annotated[int, typer.Option(help="Seed of the search's chances.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan as JSON.")] = False,
    svg: Annotated[
        Path | None, typer.Option(help="Folder for a drawing of each sheet with its cuts.")
    ] = None,
) -> None:
    """Say how to saw parts from sheets for the least money.

    Exit 0: a plan. 1: the sheets run out, parts are left over. 2: bad input.
    """
    with refusing():
        from time import monotonic

        from mewswright.build.nest.solve import nest_plan
        from mewswright.build.nest.tables import parts_from_csv, sheets_from_csv
        from mewswright.cli.cut import read_text
        from mewswright.model.problem import Problem

        if first_cut not in ("rip", "cross", "either"):
            raise Problem(f"--first-cut is {first_cut!r}: give rip, cross or either")
        plan = nest_plan(
            parts_from_csv(read_text(parts_file), parts_file.name),
            sheets_from_csv(read_text(sheets_file), sheets_file.name),
            _width("--kerf-mm", kerf_mm),
            seconds,
            seed,
            stages=stages,
            first_cut=first_cut,  # type: ignore[arg-type]  # narrowed by the refusal above
            trim_mm=_width("--trim-mm", trim_mm),
            clock=monotonic,
        )
        if svg is not None:
            _draw(plan, svg)
    if as_json:
        import json

        typer.echo(json.dumps(plan.to_json(), ensure_ascii=False, indent=2))
    else:
        typer.echo(_spoken(plan))
    if plan.unplaced:
        raise typer.Exit(LEFT_OVER)


def _width(option: str, text: str) -> "Decimal":
    from decimal import Decimal, InvalidOperation

    from mewswright.model.problem import Problem

    try:
        return Decimal(text)
    except InvalidOperation:
        raise Problem(
            f"{option} is {text!r}: give millimetres of 0 or more, for example 3.2"
        ) from None


def _draw(plan: "NestPlan", folder: Path) -> None:
    from mewswright.drawing.nest_sheet import nest_scene
    from mewswright.drawing.svg import to_svg
    from mewswright.model.problem import Problem

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for number, layout in enumerate(plan.sheets, 1):
            scene = nest_scene(layout, number, len(plan.sheets))
            (folder / f"sheet-{number}.svg").write_text(to_svg(scene), encoding="utf-8")
    except OSError as error:
        raise Problem(
            f"--svg {folder}: cannot be written ({error.strerror}): name a folder of your own"
        ) from error


def _spoken(plan: "NestPlan") -> str:
    lines: list[str] = []
    for number, layout in enumerate(plan.sheets, 1):
        lines += _sheet(number, layout)
    if plan.unplaced:
        left = ", ".join(f"{u.count} x {u.mark}" for u in plan.unplaced)
        lines.append(f"The sheets run out; left over: {left}")
    sheets = sum(layout.count for layout in plan.sheets)
    worth = "proven the least" if plan.proven else f"not proven, gap {plan.gap:.1%}"
    lines.append(
        f"In all: {sheets} sheet{'' if sheets == 1 else 's'}, cost {plan.cost}, {worth}; no plan "
        f"of {plan.stages} stages costs less than {_mm(plan.lower_bound)} (by {plan.bound_by})"
    )
    return "\n".join(lines)


def _sheet(number: int, layout: "SheetLayout") -> list[str]:
    lines = [
        f"Sheet {number}: {layout.count} x {layout.sheet}, {_mm(layout.length_mm)} x "
        f"{_mm(layout.width_mm)} mm, {layout.price} each"
    ]
    for cut in layout.cuts:
        side = "y" if cut.along == "length" else "x"
        lines.append(
            f"  cut {cut.number} ({cut.stage}): along the {cut.along} at {side} = "
            f"{_mm(cut.at_mm)}, from {_mm(cut.from_mm)} to {_mm(cut.to_mm)}"
        )
    for part in layout.parts:
        turned = ", turned" if part.rotated else ""
        lines.append(
            f"  {part.mark}: {_mm(part.length_mm)} x {_mm(part.width_mm)} at "
            f"{_mm(part.x_mm)}, {_mm(part.y_mm)}{turned}"
        )
    if layout.offcuts:
        best = layout.offcuts[0]
        lines.append(f"  largest offcut {_mm(best.length_mm)} x {_mm(best.width_mm)} mm")
    return lines


def _mm(length: "Decimal") -> str:
    text = f"{length:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
