"""How findings name doors, and which quarters a space serves."""

from collections.abc import Mapping, Sequence

from mewswright.checks.case import Case
from mewswright.ground.doors import beyond, doors_of
from mewswright.model.ways import Door
from mewswright.model.yard import Yard


def door_to(name: str, door: Door) -> str:
    """A door as it is named by who stands in one of its two places."""
    return f"door to {beyond(door, name)}"


def door_between(door: Door) -> str:
    """A door as it is named by nobody in particular."""
    return f"door {door.between[0]} to {door.between[1]}"


def listed(names: Sequence[str]) -> str:
    """Some names in a sentence, each once and in one order."""
    return ", ".join(sorted(set(names)))


def door_graph(yard: Yard) -> Mapping[str, tuple[Door, ...]]:
    """The doors of every place, so sorted that no way hangs on the order of the file."""
    return doors_of(sorted(yard.door, key=lambda door: (sorted(door.between), door.width_mm)))


def first_served(yard: Yard, cases: Sequence[Case]) -> dict[str, str]:
    """The first quarters that have a door to a place, by the place."""
    first: dict[str, str] = {}
    graph = doors_of(yard.door)
    for case in cases:
        for door in graph.get(case.quarters.name, ()):
            first.setdefault(beyond(door, case.quarters.name), case.quarters.name)
    return first
