"""Cuts of the door graph: the fewest doors that stand in every way out.

By the theorem of Menger there are as many ways out of which no two share a door as
there are doors in the smallest cut.
"""

from collections import deque
from collections.abc import Mapping, Sequence

from mewswright.ground.doors import Passes, lets_all_through
from mewswright.model.ways import OUTSIDE, Door

Arc = tuple[int, bool]  # which door, and whether it is passed as its `between` is written


def fewest_doors_to_cut(
    start: str,
    doors: Sequence[Door],
    open_air: frozenset[str],
    passes: Passes = lets_all_through,
) -> tuple[Door, ...]:
    """The fewest doors such that every way from a room to the open air passes one of them.

    Where several sets are as small, the one nearest to the room is given: it is the
    only one of its kind, so the answer does not hang on the order of the doors.

    Args:
        start: Name of the room; it is left by a door even if it is open itself.
        doors: All doors.
        open_air: Names of the places that are open.
        passes: Which doors may be passed, and from which side.

    Returns:
        The doors in the order given; none where no way leads out.

    Source:
        Ford & Fulkerson 1956, maximal flow through a network, every door of capacity 1.
    """
    ends = [(_place(door.between[0], start, open_air), _place(door.between[1], start, open_air))
            for door in doors]  # fmt: skip
    arcs: dict[str, list[Arc]] = {}
    room: dict[Arc, int] = {}  # how many more may go that way through that door
    for i, (door, (a, b)) in enumerate(zip(doors, ends, strict=True)):
        if a == b:
            continue
        arcs.setdefault(a, []).append((i, True))
        arcs.setdefault(b, []).append((i, False))
        room[i, True] = int(passes(door, door.between[0]))
        room[i, False] = int(passes(door, door.between[1]))
    while True:
        reached = _reached(start, arcs, room, ends)
        if OUTSIDE not in reached:
            break
        here = OUTSIDE
        while here != start:
            i, onward = arc = reached[here]
            room[arc] -= 1
            room[i, not onward] += 1
            here = ends[i][0] if onward else ends[i][1]
    return tuple(
        door
        for door, (a, b) in zip(doors, ends, strict=True)
        if (a in reached) != (b in reached)
        and passes(door, door.between[0] if a in reached else door.between[1])
    )


def _place(name: str, start: str, open_air: frozenset[str]) -> str:
    """All open places are one: who is in one of them is out."""
    return OUTSIDE if name in open_air and name != start else name


def _reached(
    start: str,
    arcs: Mapping[str, Sequence[Arc]],
    room: Mapping[Arc, int],
    ends: Sequence[tuple[str, str]],
) -> dict[str, Arc]:
    """Places that can still be reached, each with the door that it was reached by."""
    reached: dict[str, Arc] = {start: (-1, True)}
    queue = deque([start])
    while queue and OUTSIDE not in reached:
        for arc in arcs.get(queue.popleft(), ()):
            there = ends[arc[0]][1] if arc[1] else ends[arc[0]][0]
            if there not in reached and room[arc] > 0:
                reached[there] = arc
                queue.append(there)
    return reached
