"""`mewswright handbook`: the figures behind every finding, with their sources."""

from typing import TYPE_CHECKING, Annotated

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.handbook.tables import Row, Table


def command(
    table: Annotated[
        str, typer.Argument(metavar="[TABLE]", help="Which table; without one, all are listed.")
    ] = "",
    species: Annotated[
        str | None, typer.Option(help="Only rows of this species: id or name.")
    ] = None,
    standard: Annotated[str | None, typer.Option(help="Only rows of this standard.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the rows as JSON.")] = False,
) -> None:
    """Print a handbook table with its sources. Exit 0: printed. 2: no such table or name."""
    import json

    with refusing():
        if not table:
            listed = _tables()
            if as_json:
                typer.echo(json.dumps({"tables": listed}, ensure_ascii=False, indent=2))
            else:
                typer.echo("\n".join(f"{one['name']:20} {one['holds']}" for one in listed))
            return
        from mewswright.handbook.pick import pick

        found = pick(table, species, standard)
    if as_json:
        body = {"table": found.name, "heading": found.heading, "rows": [*map(_as_json, found.rows)]}
        typer.echo(json.dumps(body, ensure_ascii=False, indent=2))
    else:
        typer.echo(_spoken(found))


def _tables() -> list[dict[str, str]]:
    """Every table with the first line of what its head says it holds."""
    from mewswright.handbook.tables import table, table_names

    found = []
    for name in table_names():
        first_sentence = table(name).heading[1].split(". ")[0].rstrip(".")
        found.append({"name": name, "holds": first_sentence})
    return found


def _as_json(row: "Row") -> dict[str, object]:
    """A row with its source in the shape that findings use."""
    return {**row, "sources": [_reference(row)] if row.get("source") else []}


def _reference(row: "Row") -> dict[str, str]:
    from mewswright.handbook.evidence import source

    return {
        "name": source(row["source"]).cite,
        "locator": row["where"],
        "how_known": row["how_known"],
    }


def _spoken(found: "Table") -> str:
    """The table in words: its head, then each row with its witness below it."""
    from mewswright.handbook.tables import EVIDENCE

    lines = list(found.heading[1:])
    for row in found.rows:
        said = [f"{key} {row[key]}" for key in found.columns if row[key] and key not in EVIDENCE]
        lines += ["", "; ".join(said)]
        if row.get("source"):
            ref = _reference(row)
            sure = f"{row['confidence']} confidence" if row["confidence"] else ""
            parts = (ref["name"], ref["locator"], ref["how_known"], sure, row["note"])
            lines.append("    " + "; ".join(part for part in parts if part))
    rows = len(found.rows)
    lines += ["", f"{rows} row" if rows == 1 else f"{rows} rows"]
    return "\n".join(lines)
