"""`mewswright cut`: how to saw parts from stock for the least money."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from decimal import Decimal

    from mewswright.build.cut.plan import CutPlan


def command(
    parts_file: Annotated[
        Path, typer.Argument(metavar="PARTS.csv", help="Columns mark,section,length_mm,count.")
    ],
    stock_file: Annotated[
        Path,
        typer.Argument(
            metavar="STOCK.csv",
            help="Columns section,length_mm,price,available; available blank: no limit.",
        ),
    ],
    kerf_mm: Annotated[str, typer.Option(help="Width of the saw's cut [mm].")] = "3",
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan as JSON.")] = False,
    seconds: Annotated[float, typer.Option(help="Time to search for the best plan [s].")] = 20,
) -> None:
    """Say how to saw parts from stock for the least money. Exit 0: a plan. 2: bad input."""
    with refusing():
        from decimal import Decimal, InvalidOperation
        from time import monotonic

        from mewswright.build.cut.solve import cut_plan
        from mewswright.build.cut.tables import parts_from_csv, stock_from_csv
        from mewswright.model.problem import Problem

        try:
            kerf = Decimal(kerf_mm)
        except InvalidOperation:
            raise Problem(
                f"--kerf-mm is {kerf_mm!r}: give millimetres of 0 or more, for example 3.2"
            ) from None
        parts = parts_from_csv(read_text(parts_file), parts_file.name)
        stock = stock_from_csv(read_text(stock_file), stock_file.name)
        plan = cut_plan(parts, stock, kerf, seconds, clock=monotonic)
    if as_json:
        import json

        typer.echo(json.dumps(plan.to_json(), ensure_ascii=False, indent=2))
    else:
        typer.echo(_spoken(plan))


def read_text(path: Path) -> str:
    """Text of a file, or a Problem that names it."""
    from mewswright.model.problem import Problem

    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise Problem(f"{path}: not UTF-8 text: save it as CSV in UTF-8") from error
    except OSError as error:
        raise Problem(f"{path}: cannot be read ({error.strerror}): check its name") from error


def _spoken(plan: "CutPlan") -> str:
    lines: list[str] = []
    for section in plan.sections:
        lines.append(f"{section.section}: {_worth(section.cost, section.lower_bound)}")
        for pattern in section.patterns:
            cuts = " + ".join(f"{c.count} x {c.mark} ({_mm(c.length_mm)})" for c in pattern.cuts)
            lines.append(
                f"  {pattern.count} x {_mm(pattern.stock_mm)} mm: {cuts}; "
                f"offcut {_mm(pattern.offcut_mm)} mm"
            )
    lines.append(f"In all: {_worth(plan.cost, plan.lower_bound)}")
    return "\n".join(lines)


def _mm(length: "Decimal") -> str:
    text = f"{length:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _worth(cost: object, lower_bound: object) -> str:
    if cost == lower_bound:
        return f"cost {cost}, proven the least"
    return f"cost {cost}, not proven; no plan can cost less than {lower_bound}"
