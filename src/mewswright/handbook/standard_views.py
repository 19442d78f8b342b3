"""The shipped standards as tables, for the eye and for `mewswright handbook`.

The files in `mewswright/standards/` are the one home of these rows; nothing is kept twice.
"""

from collections.abc import Callable, Iterator, Mapping

from mewswright.handbook.standard_files import shipped_file, shipped_keys
from mewswright.handbook.tables import EVIDENCE, Row
from mewswright.model.standard_file import RuleRow, Size, StandardFile, Witnessed

DAYS = ("valid_from", "valid_to", "lapsed")
View = tuple[tuple[str, ...], tuple[str, ...], tuple[Row, ...]]


def view(name: str) -> View:
    """The heading, the columns and the rows of one table."""
    says, order, columns, rows_of = _VIEWS[name]
    rows = [row for key in shipped_keys() for row in rows_of(shipped_file(key))]
    sorted_by = order.split(", ")
    rows.sort(key=lambda row: [row[column] for column in sorted_by])
    heading = (
        f"handbook/{name}.csv",
        *says,
        "Made from the files in mewswright/standards/, one a standard.",
        f"Sorted by {order}. Sources: handbook/sources.toml",
    )
    return heading, columns, tuple(dict(zip(columns, row.values(), strict=True)) for row in rows)


def _evidence(row: Witnessed) -> Row:
    return {column: str(getattr(row, column)) for column in EVIDENCE}


def _days(row: Size | RuleRow) -> Row:
    return {
        "valid_from": str(row.valid_from or ""),
        "valid_to": str(row.valid_to or ""),
        "lapsed": "yes" if row.lapsed else "",
    }


def _names(file: StandardFile) -> Iterator[Row]:
    about = file.standard
    yield {
        "standard": about.key,
        "name": about.name,
        "jurisdiction": about.jurisdiction,
        "strength": about.strength,
        "summary": about.summary,
    }


def _gaps(file: StandardFile) -> Iterator[Row]:
    for gap in file.gap:
        yield {"standard": file.key, "missing": gap.missing, "matters_for": gap.matters_for}


def _classes(file: StandardFile) -> Iterator[Row]:
    for one in file.classes:
        for members in one.members:
            for bird in members.of:
                yield {
                    "standard": file.key,
                    "species": bird,
                    "bird_class": one.id,
                    "class_name": one.name,
                } | _evidence(members)


def _sizes(file: StandardFile) -> Iterator[Row]:
    for size in file.size:
        published = size.value if size.original_value is None else size.original_value
        yield (
            {
                "standard": file.key,
                "bird_class": size.bird_class,
                "purpose": size.purpose,
                "quantity": size.quantity,
                "value": f"{size.value:.15g}",
                "unit": size.unit,
                "original_value": f"{published:.15g}",
                "original_unit": size.original_unit or size.unit,
                "condition": size.condition,
            }
            | _days(size)
            | _evidence(size)
        )


def _rules(file: StandardFile) -> Iterator[Row]:
    for rule in file.rule:
        yield (
            {
                "standard": file.key,
                "topic": rule.topic,
                "applies_to": rule.applies_to,
                "place": rule.place,
                "value": rule.value or f"{rule.number:.15g}",
                "unit": rule.unit,
                "condition": rule.condition,
            }
            | _days(rule)
            | _evidence(rule)
        )


_VIEWS: Mapping[
    str,
    tuple[tuple[str, ...], str, tuple[str, ...], Callable[[StandardFile], Iterator[Row]]],
] = {
    "standard_names": (
        (
            "The standards that a yard may name, and what each is. "
            "strength: law, guide, practice or house.",
        ),
        "standard",
        ("standard", "name", "jurisdiction", "strength", "summary"),
        _names,
    ),
    "standard_gaps": (
        ("What could not be read of a standard, so that silence is not taken for permission.",),
        "standard, missing",
        ("standard", "missing", "matters_for"),
        _gaps,
    ),
    "bird_classes": (
        (
            'Which species belongs to which class of a standard. Class "any" needs no row.',
            "A species without a row for a standard: its class is not known (see standard_gaps).",
            "how_known is read where the text names the species or its group.",
        ),
        "standard, species, bird_class",
        ("standard", "species", "bird_class", "class_name", *EVIDENCE),
        _classes,
    ),
    "size_limits": (
        (
            "Smallest sizes by standard and class of bird, in SI: feet are turned exactly.",
            "purpose: loft (a bird lives there), flight_cage (before release), isolation.",
            "group_size: the birds that floor area and volume hold for; "
            "extra_bird_area_m2 comes on top for each further one.",
            "each_side_spans, shortest_side_spans: multiples of the wing span.",
        ),
        "standard, bird_class, purpose, quantity",
        (
            *("standard", "bird_class", "purpose", "quantity", "value", "unit"),
            *("original_value", "original_unit", "condition", *DAYS, *EVIDENCE),
        ),
        _sizes,
    ),
    "standard_rules": (
        (
            "Rules other than sizes, typed for the checks, in SI.",
            "applies_to: any, group:NAME, genus:NAME, a species id, or a state of the bird.",
            "place: any, loft, shelter, pitch, isolation, flight_cage, house.",
        ),
        "standard, topic, applies_to, place, value, source",
        (
            *("standard", "topic", "applies_to", "place", "value", "unit", "condition"),
            *(*DAYS, *EVIDENCE),
        ),
        _rules,
    ),
}
