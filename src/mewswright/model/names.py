"""Names in a yard file that refer to nothing, or that are used twice.

This looks at the plain tables of the file, so that a file with other faults too has its
names checked in the same reading.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mewswright.model.ways import OUTSIDE

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class BrokenName:
    """A name, where it stands, what is wrong with it, and which names would do."""

    path: Path
    name: str
    wrong: str
    allowed: tuple[str, ...] = ()


def broken_names(data: Mapping[str, Any]) -> Iterator[BrokenName]:
    """Find every name that refers to nothing, and every one used twice.

    Args:
        data: The tables of a yard file as its text gives them, sound or not.

    Yields:
        Each such name, table by table.
    """
    birds, quarters, spaces, features = (
        _named(data, table) for table in ("bird", "quarters", "space", "feature")
    )
    # Quarters and spaces share one set of names, since doors speak of both; a row is asked
    # for where a unit may be.
    for tables in (("feature",), ("bird",), ("quarters", "space", "row")):
        yield from _twice(data, tables)
    yield from _rows(data, quarters, spaces)
    for path, stay in _tables(data, "stay"):
        yield from _unknown((*path, "bird"), stay.get("bird"), "no such bird", birds)
        place = stay.get("quarters")
        yield from _unknown((*path, "quarters"), place, "no such quarters", quarters)
        if stay.get("perch") is not None and place in quarters:
            perches = _perches(data, str(place))
            yield from _unknown((*path, "perch"), stay["perch"], "no such perch there", perches)
    for path, bird in _tables(data, "bird"):
        for key in ("companions", "fears"):
            for i, name in enumerate(_list(bird.get(key))):
                yield from _unknown((*path, key, i), name, "no such bird", birds)
        for i, name in enumerate(_list(bird.get("used_to"))):
            yield from _unknown((*path, "used_to", i), name, "no such feature", features)
        year = _table(bird.get("year"))
        for key in ("wished", "never_in"):
            for i, name in enumerate(_list(year.get(key))):
                yield from _unknown((*path, "year", key, i), name, "no such quarters", quarters)
        for i, name in enumerate(_list(year.get("may_see"))):
            yield from _unknown((*path, "year", "may_see", i), name, "no such bird", birds)
    for key in ("together", "breeding"):
        for path, group in _tables(_table(data.get("year")), key):
            for i, name in enumerate(_list(group.get("birds"))):
                yield from _unknown(("year", *path, "birds", i), name, "no such bird", birds)
    ends = (*quarters, *spaces, OUTSIDE)
    for path, door in _tables(data, "door"):
        between = _list(door.get("between"))
        for i, name in enumerate(between):
            yield from _unknown((*path, "between", i), name, "no such place", ends)
        if len(between) == 2 and between[0] == between[1]:
            wrong = "a door leads from one place to another, not back into the same"
            yield BrokenName((*path, "between", 1), str(between[1]), wrong)
        into = door.get("opens_into")
        if into is not None:
            yield from _unknown((*path, "opens_into"), into, "no such place", ends)


def _rows(
    data: Mapping[str, Any], quarters: tuple[str, ...], spaces: tuple[str, ...]
) -> Iterator[BrokenName]:
    taken: set[object] = set()
    for path, row in _tables(data, "row"):
        for key in ("corridor_space", "lobby_space"):
            if row.get(key) is None:
                continue
            yield from _unknown((*path, key), row[key], "no such space", spaces)
            if row[key] in taken:
                wrong = "it is a corridor or a lobby already; name each space once"
                yield BrokenName((*path, key), str(row[key]), wrong)
            taken.add(row[key])
        for i, name in enumerate(_list(row.get("quarters"))):
            yield from _unknown((*path, "quarters", i), name, "no such quarters", quarters)
            if isinstance(name, str) and name in taken:
                wrong = "it stands in a row already; name each unit once"
                yield BrokenName((*path, "quarters", i), name, wrong)
            taken.add(name)


def _tables(data: Mapping[str, Any], key: str) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    for i, table in enumerate(_list(data.get(key))):
        if isinstance(table, Mapping):
            yield (key, i), table


def _table(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _list(value: object) -> Sequence[Any]:
    return value if isinstance(value, (list, tuple)) else ()


def _named(data: Mapping[str, Any], key: str) -> tuple[str, ...]:
    names = (table.get("name") for _, table in _tables(data, key))
    return tuple(name for name in names if isinstance(name, str))


def _perches(data: Mapping[str, Any], quarters: str) -> tuple[str, ...]:
    return tuple(
        str(fitting.get("name"))
        for _, table in _tables(data, "quarters")
        if table.get("name") == quarters
        for fitting in _list(table.get("fitting"))
        if isinstance(fitting, Mapping) and fitting.get("kind") == "perch"
    )


def _unknown(
    path: Path, name: object, wrong: str, allowed: tuple[str, ...]
) -> Iterator[BrokenName]:
    if isinstance(name, str) and name not in allowed:
        yield BrokenName(path, name, wrong, allowed)


def _twice(data: Mapping[str, Any], tables: Sequence[str]) -> Iterator[BrokenName]:
    seen = {OUTSIDE} if "space" in tables else set()
    for key in tables:
        for path, table in _tables(data, key):
            name = table.get("name")
            if not isinstance(name, str):
                continue
            if name in seen:
                wrong = (
                    "this name means the open air; choose another"
                    if name == OUTSIDE
                    else "this name is used twice; give each its own"
                )
                yield BrokenName((*path, "name"), name, wrong)
            seen.add(name)
