"""Which rows of a table speak of one species or one standard."""

from mewswright.handbook.species import Species
from mewswright.handbook.species import species as species_named
from mewswright.handbook.standard_rules import applies
from mewswright.handbook.standard_tables import standard
from mewswright.handbook.tables import Row, Table, rows, table, table_names
from mewswright.model.problem import Problem

# Columns that name a species or a kind of bird, in the order in which they are asked.
BIRD_COLUMNS = ("species", "subject", "applies_to", "bird_class")


def pick(name: str, species_name: str | None = None, standard_key: str | None = None) -> Table:
    """A table with only the rows that speak of a species, a standard or both.

    Args:
        name: The table's name.
        species_name: Id, common or scientific name; every row if left out.
        standard_key: Such as `dk`; every row if left out.

    Raises:
        Problem: If there is no such table, species or standard, or the table has no
            rows by species or standard.
    """
    whole = table(name)
    kept = whole.rows
    if standard_key is not None:
        key = standard(standard_key).key
        _must_have(whole, ("standard",), "standard")
        kept = tuple(row for row in kept if row["standard"] == key)
    if species_name is not None:
        bird = species_named(species_name)
        if whole.name != "species":
            _must_have(whole, BIRD_COLUMNS, "species")
        kept = tuple(row for row in kept if _speaks_of(whole, row, bird))
    return Table(whole.name, whole.heading, whole.columns, kept)


def _must_have(whole: Table, wanted: tuple[str, ...], what: str) -> None:
    if not set(wanted) & set(whole.columns) or (whole.name == "standards" and what == "species"):
        others = ", ".join(n for n in table_names() if _by(n, wanted, what))
        raise Problem(f"table {whole.name!r} has no rows by {what}; those that have: {others}")


def _by(name: str, wanted: tuple[str, ...], what: str) -> bool:
    named = bool(set(wanted) & set(table(name).columns)) and not (
        name == "standards" and what == "species"
    )
    return named or (name == "species" and what == "species")


def _speaks_of(whole: Table, row: Row, bird: Species) -> bool:
    if whole.name == "species":
        return row["id"] == bird.id
    column = next(column for column in BIRD_COLUMNS if column in whole.columns)
    if column == "bird_class":
        classes = rows("bird_classes")
        return row["bird_class"] == "any" or any(
            other["species"] == bird.id
            and other["standard"] == row["standard"]
            and other["bird_class"] == row["bird_class"]
            for other in classes
        )
    return applies(row[column], bird)
