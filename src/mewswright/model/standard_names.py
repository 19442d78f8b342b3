"""Names and figures in a standard's file that cannot be meant.

This looks at the plain tables, so that a file with other faults too has its rows checked
in the same reading. A row that no check would ever find is refused: a keeper who writes
`perch_min` for `perches_min` must not believe that the rule is kept.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

Path = tuple[str | int, ...]

QUANTITIES: Mapping[str, str] = {
    "floor_area_m2": "m2",
    "volume_m3": "m3",
    "height_mm": "mm",
    "mean_height_mm": "mm",
    "length_mm": "mm",
    "width_mm": "mm",
    "each_side_spans": "spans",
    "shortest_side_spans": "spans",
    "group_size": "birds",
    "extra_bird_area_m2": "m2",
    "indoor_area_m2_per_bird": "m2",
}
# One published unit in the unit of the row. A foot and an inch are exact.
IN_SI: Mapping[tuple[str, str], float] = {
    ("ft", "mm"): 304.8,
    ("in", "mm"): 25.4,
    ("m", "mm"): 1000.0,
    ("cm", "mm"): 10.0,
    ("ft2", "m2"): 0.09290304,
    ("ft3", "m3"): 0.028316846592,
}
HALF_A_DIGIT = 0.005  # a published figure turned and rounded to two places still agrees


@dataclass(frozen=True)
class Known:
    """Names that the rows of a standard may use.

    `topics` maps the topic of a rule to the units it may have.
    """

    species: Collection[str] = ()
    groups: Collection[str] = ()
    genera: Collection[str] = ()
    states: Collection[str] = ()
    topics: Mapping[str, Collection[str]] = field(default_factory=dict)
    sources: Mapping[str, bool] = field(default_factory=dict)  # key: is it second hand?


@dataclass(frozen=True)
class BrokenRow:
    """A value, where it stands, what is wrong with it, and what would do."""

    path: Path
    given: object
    wrong: str
    allowed: tuple[str, ...] = ()


def broken_rows(data: Mapping[str, Any], known: Known) -> Iterator[BrokenRow]:
    """Find every name that refers to nothing and every figure that cannot be meant.

    Args:
        data: The tables of a standard's file as its text gives them, sound or not.
        known: Names that its rows may use.
    """
    yield from _sources(data, known)
    yield from _classes(data, known)
    yield from _sizes(data)
    yield from _rules(data, known)


def _tables(of: Any, key: str, path: Path = ()) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    rows = of.get(key) if isinstance(of, Mapping) else None
    for i, row in enumerate(rows if isinstance(rows, list) else ()):
        if isinstance(row, Mapping):
            yield (*path, key, i), row


def _sources(data: Mapping[str, Any], known: Known) -> Iterator[BrokenRow]:
    own: dict[str, bool] = {}
    for path, row in _tables(data, "source"):
        key = row.get("key")
        if isinstance(key, str):
            if key in own:
                yield BrokenRow((*path, "key"), key, "this key is used twice; give each its own")
            elif key in known.sources:
                wrong = "the handbook has a source of this key; choose another"
                yield BrokenRow((*path, "key"), key, wrong)
            own[key] = row.get("second_hand") is True
    second_hand = {**known.sources, **own}
    witnessed = [*_tables(data, "size"), *_tables(data, "rule")]
    for path, row in _tables(data, "class"):
        witnessed += _tables(row, "members", path)
    for path, row in witnessed:
        key = row.get("source")
        if not isinstance(key, str):
            continue
        if key not in second_hand:
            wrong = "no such source: give it a [[source]] in this file"
            yield BrokenRow((*path, "source"), key, wrong, tuple(own))
        elif second_hand[key] and row.get("how_known") == "read":
            wrong = f'its source {key!r} only tells what another text says: write "second hand"'
            yield BrokenRow((*path, "how_known"), "read", wrong)


def _classes(data: Mapping[str, Any], known: Known) -> Iterator[BrokenRow]:
    sized = {row.get("class") for _, row in _tables(data, "size")}
    ids: set[str] = set()
    placed: set[str] = set()
    for path, row in _tables(data, "class"):
        name = row.get("id")
        if isinstance(name, str):
            if name in ids:
                yield BrokenRow((*path, "id"), name, "this id is used twice; give each its own")
            elif name == "any":
                wrong = "any is every bird, and needs no class; choose another id"
                yield BrokenRow((*path, "id"), name, wrong)
            elif name not in sized:
                wrong = "no [[size]] is for it; give one, or leave it out"
                yield BrokenRow((*path, "id"), name, wrong)
            ids.add(name)
        for place, members in _tables(row, "members", path):
            birds = members.get("of")
            for i, bird in enumerate(birds if isinstance(birds, list) else ()):
                if not isinstance(bird, str):
                    continue
                yield from _bird((*place, "of", i), bird, known, states=False)
                if bird in placed:
                    wrong = "it stands in this file twice; a bird has one class"
                    yield BrokenRow((*place, "of", i), bird, wrong)
                placed.add(bird)


def _bird(path: Path, given: str, known: Known, states: bool) -> Iterator[BrokenRow]:
    kind, colon, name = given.partition(":")
    kinds = {"group": known.groups, "genus": known.genera}
    if states:
        kinds["skin_above_foot"] = known.groups
    if colon and kind in kinds:
        if name not in kinds[kind]:
            allowed = tuple(f"{kind}:{one}" for one in sorted(kinds[kind]))
            yield BrokenRow(path, given, f"no such {kind.replace('_', ' ')}", allowed)
    elif given not in known.species and not (states and given in ("any", *known.states)):
        words = ("any", *known.states) if states else ()
        wrong = "no such bird (mewswright handbook species)"
        yield BrokenRow(path, given, wrong, (*words, *known.species))


def _sizes(data: Mapping[str, Any]) -> Iterator[BrokenRow]:
    ids = tuple(str(row.get("id")) for _, row in _tables(data, "class"))
    seen: set[tuple[object, ...]] = set()
    given: dict[tuple[object, object], dict[str, Path]] = {}
    for path, row in _tables(data, "size"):
        of, quantity = row.get("class"), row.get("quantity")
        if isinstance(of, str) and of != "any" and of not in ids:
            yield BrokenRow((*path, "class"), of, "no such class", ("any", *ids))
        if not isinstance(quantity, str):
            continue
        if quantity not in QUANTITIES:
            yield BrokenRow((*path, "quantity"), quantity, "no check asks it", tuple(QUANTITIES))
            continue
        row_id = (of, row.get("purpose"), quantity, row.get("valid_from"))
        if row_id in seen:
            wrong = "the class has this size twice; leave one out, or give each its own days"
            yield BrokenRow((*path, "quantity"), quantity, wrong)
        seen.add(row_id)
        given.setdefault((of, row.get("purpose")), {}).setdefault(quantity, path)
        yield from _unit(path, row, QUANTITIES[quantity])
    for sizes in given.values():
        yield from _alone(sizes)


def _alone(sizes: Mapping[str, Path]) -> Iterator[BrokenRow]:
    """Find sizes that mean nothing without another of the same class."""
    for one, other, why in (
        ("width_mm", "length_mm", "a room is judged by both of its sides"),
        ("length_mm", "width_mm", "a room is judged by both of its sides"),
        ("extra_bird_area_m2", "group_size", "it says beyond how many birds the area grows"),
        ("extra_bird_area_m2", "floor_area_m2", "it is the area that grows"),
    ):
        if one in sizes and other not in sizes:
            wrong = f"give {other} of the same class and purpose too: {why}"
            yield BrokenRow((*sizes[one], "quantity"), one, wrong)


def _unit(path: Path, row: Mapping[str, Any], wanted: str) -> Iterator[BrokenRow]:
    unit, value = row.get("unit"), row.get("value")
    if isinstance(unit, str) and unit != wanted:
        yield BrokenRow((*path, "unit"), unit, f"this quantity is in {wanted}", (wanted,))
        return
    published, its_unit = row.get("original_value"), row.get("original_unit")
    if not isinstance(published, (int, float)) or not isinstance(value, (int, float)):
        return
    factor = 1.0 if its_unit in (wanted, None) else IN_SI.get((str(its_unit), wanted))
    if factor is None and wanted != "spans":
        units = tuple(one for one, si in IN_SI if si == wanted)
        wrong = f"not known how to turn it into {wanted}"
        yield BrokenRow((*path, "original_unit"), its_unit, wrong, (wanted, *units))
        return
    turned = published * (factor or 1.0)
    if abs(turned - value) > HALF_A_DIGIT * max(1.0, abs(turned) / 100):
        wrong = f"{published:g} {its_unit or wanted} are {turned:.6g} {wanted}: mend one of the two"
        yield BrokenRow((*path, "value"), value, wrong)


def _rules(data: Mapping[str, Any], known: Known) -> Iterator[BrokenRow]:
    for path, row in _tables(data, "rule"):
        topic, bird = row.get("topic"), row.get("applies_to")
        if isinstance(bird, str):
            yield from _bird((*path, "applies_to"), bird, known, states=True)
        if not isinstance(topic, str):
            continue
        if topic not in known.topics:
            wrong = "no such topic (mewswright handbook standard_rules)"
            yield BrokenRow((*path, "topic"), topic, wrong, tuple(known.topics))
            continue
        unit, units = row.get("unit", "rule"), tuple(known.topics[topic])
        if isinstance(unit, str) and unit not in units:
            wrong = f"this topic is in {' or '.join(_words(one) for one in units)}"
            yield BrokenRow((*path, "unit"), unit, wrong, units if "rule" not in units else ())


def _words(unit: str) -> str:
    return "words: give value, and no unit" if unit == "rule" else unit
