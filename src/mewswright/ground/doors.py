"""Ways out: how many doors lie between a room and the open air.

Rooms and doors make a graph. A space that is not closed in counts as open air, and so
do quarters that a bird can fly out of.
"""

from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from mewswright.model.ways import OUTSIDE, Door, Space

Passes = Callable[[Door, str], bool]  # whether a door lets through who comes from a room


def lets_all_through(_door: Door, _from: str) -> bool:
    """Every door can be passed from both sides."""
    return True


def beyond(door: Door, here: str) -> str:
    """Name of the place on the other side of a door."""
    return door.between[1] if door.between[0] == here else door.between[0]


@dataclass(frozen=True)
class WayOut:
    """The shortest way from a room to the open air.

    `rooms` runs from the room itself to the first place that is open; `doors` are the
    doors between them, one fewer.
    """

    rooms: tuple[str, ...]
    doors: tuple[Door, ...]

    @property
    def through(self) -> str:
        """The way in words."""
        return " to ".join(self.rooms)


def doors_of(doors: Iterable[Door]) -> Mapping[str, tuple[Door, ...]]:
    """The doors of every room, by its name."""
    found: dict[str, list[Door]] = {}
    for door in doors:
        for name in set(door.between):
            found.setdefault(name, []).append(door)
    return {name: tuple(of) for name, of in found.items()}


def open_places(spaces: Iterable[Space], open_quarters: Iterable[str]) -> frozenset[str]:
    """Names of all places from which a bird is gone."""
    return frozenset({OUTSIDE, *open_quarters, *(s.name for s in spaces if not s.closed_in)})


def shortest_way_out(
    start: str,
    doors: Mapping[str, Sequence[Door]],
    open_air: frozenset[str],
    passes: Passes = lets_all_through,
) -> WayOut | None:
    """The way from a room to the open air that passes the fewest doors.

    Every other way passes as many or more, so this one answers for all of them.

    Args:
        start: Name of the room; it is left by a door even if it is open itself.
        doors: Doors by room, as `doors_of` gives them.
        open_air: Names of the places that are open.
        passes: Which doors may be passed, and from which side.

    Returns:
        The way, or None where no door leads out.
    """
    queue: deque[WayOut] = deque([WayOut((start,), ())])
    seen = {start}
    while queue:
        way = queue.popleft()
        for door in doors.get(way.rooms[-1], ()):
            here = way.rooms[-1]
            there = beyond(door, here)
            if there in seen or not passes(door, here):
                continue
            onward = WayOut((*way.rooms, there), (*way.doors, door))
            if there in open_air:
                return onward
            seen.add(there)
            queue.append(onward)
    return None


def is_reachable(start: str, doors: Mapping[str, Sequence[Door]]) -> bool:
    """Whether doors lead from a room to the outside, through whatever lies between."""
    return shortest_way_out(start, doors, frozenset({OUTSIDE})) is not None


def doors_away(goals: frozenset[str], doors: Mapping[str, Sequence[Door]]) -> Mapping[str, int]:
    """How many doors lie at least between a place and the nearest of some goals, by place.

    A place from which no door leads there is left out.
    """
    steps = dict.fromkeys(sorted(goals), 0)
    queue = deque(steps)
    while queue:
        here = queue.popleft()
        for door in doors.get(here, ()):
            there = beyond(door, here)
            if there not in steps:
                steps[there] = steps[here] + 1
                queue.append(there)
    return steps
