"""How findings name doors, and which quarters a space serves."""

from collections.abc import Sequence

from mewswright.checks.case import Case
from mewswright.ground.doors import beyond
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


def first_served(yard: Yard, cases: Sequence[Case]) -> dict[str, str]:
    """The first quarters that have a door to a place, by the place."""
    first: dict[str, str] = {}
    for case in cases:
        for door in yard.door:
            if case.quarters.name in door.between:
                first.setdefault(beyond(door, case.quarters.name), case.quarters.name)
    return first
