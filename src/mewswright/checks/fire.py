"""A way out for the keeper in a fire: without a key, and a second one where it is far."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, door_graph, listed
from mewswright.checks.finding import TAPE_MM, Finding
from mewswright.checks.registry import yard_check
from mewswright.checks.tethered import is_open
from mewswright.ground.door_cuts import fewest_doors_to_cut
from mewswright.ground.doors import (
    WayOut,
    beyond,
    doors_away,
    shortest_way_out,
)
from mewswright.model.quantity import Quantity, m_from_mm, metres
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.ways import OUTSIDE, Door
from mewswright.model.yard import Yard

# How far a walk through smoke may be until there are two ways to choose from: a judgement,
# for no fire code is on record.
ONE_WAY_M = 18.0
WITNESS = "way out of a fire; the local fire authority decides"


class Escape:
    """The doors of a yard as somebody sees them who runs from a fire."""

    def __init__(self, yard: Yard) -> None:
        self.doors = yard.door
        self.graph = door_graph(yard)
        self.out = frozenset({OUTSIDE, *(q.name for q in yard.quarters if _stands_open(q))})
        self.steps = doors_away(self.out, self.graph)
        self.reach_m = {s.name: m_from_mm(s.length_mm) for s in yard.space} | {
            q.name: m_from_mm(hypot(q.width_mm, q.depth_mm)) for q in yard.quarters
        }
        self._cuts: dict[str, tuple[Door, ...]] = {}

    def passes(self, door: Door, here: str) -> bool:
        """Outwards a door must open from inside; inwards it must need no key."""
        if self.steps.get(beyond(door, here), 0) > self.steps.get(here, 0):
            return door.locks != "key"
        return door.opens_from_inside

    def way(self, start: str) -> WayOut | None:
        """The way with the fewest doors, none of which needs a key."""
        return shortest_way_out(start, self.graph, self.out, self.passes)

    def stops(self, start: str) -> list[str]:
        """Doors on the shortest way that do not let out who is inside."""
        way = shortest_way_out(start, self.graph, self.out)
        if way is None:
            return []
        steps = zip(pairwise(way.rooms), way.doors, strict=True)
        return [door_between(d) for (here, _), d in steps if not self.passes(d, here)]

    def cut(self, room: str) -> tuple[Door, ...]:
        """The fewest doors that every way out of a room goes through."""
        if room not in self._cuts:
            left_by = tuple(d for d in self.graph[room] if self.passes(d, room))
            self._cuts[room] = (
                left_by
                if len(left_by) == 1
                else fewest_doors_to_cut(room, self.doors, self.out, self.passes)
            )
        return self._cuts[room]


@yard_check("D110", "A way out in a fire")
def way_out_of_fire(yard: Yard, _cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever is inside gets out by doors that need no key, by two ways where it is far."""
    escape = Escape(yard)
    for q in yard.quarters:
        if q.kind != "pitch":
            yield _judged(escape, q.name, q.name, None)
    for space in yard.space:
        yield _judged(escape, space.name, None, space.name)


def _judged(escape: Escape, start: str, quarters: str | None, space: str | None) -> Finding:
    if start in escape.out:
        return _found("sound", quarters, space, measured=Quantity(value="open face"))
    if start not in escape.steps:
        return _found(
            "mind", quarters, space, measured=Quantity(value="no way out"),
            why="its doors lead nowhere" if start in escape.graph else "the file gives it no door",
            remedy="give the doors that lead outside",
        )  # fmt: skip
    way = escape.way(start)
    if way is None:
        stops = listed(escape.stops(start))
        return _found(
            "short", quarters, space, measured=Quantity(value="no way out"),
            why=f"who is inside cannot open {stops}",
            remedy=f"fit a latch that opens from inside without a key: {stops}",
        )  # fmt: skip
    far_m, room, only = 0.0, start, None  # how far there is one way alone, and up to where
    for here in way.rooms[:-1]:
        cut = escape.cut(here)
        if len(cut) > 1:
            break
        if far_m - ONE_WAY_M <= m_from_mm(TAPE_MM):  # a second way here would be soon enough
            room, only = here, cut[0]
        far_m += escape.reach_m.get(here, 0.0)
    if only is None or far_m - ONE_WAY_M <= m_from_mm(TAPE_MM):
        return _found("sound", quarters, space, measured=metres(far_m), limit=metres(ONE_WAY_M))
    return _found(
        "mind", quarters, space, measured=metres(far_m), limit=metres(ONE_WAY_M),
        why=f"every way out of {room} goes through {door_between(only)}: a fire there shuts it",
        remedy=f"make a second way out of {room} that does not pass that door",
    )  # fmt: skip


def _found(status: str, quarters: str | None, space: str | None, **more: object) -> Finding:
    whole = {"code": "D110", "status": status, "quarters": quarters, "fitting": space,
             "sources": asked.judgement(WITNESS)} | more  # fmt: skip
    return Finding.model_validate(whole)


def _stands_open(quarters: Quarters) -> bool:
    """A person walks out through a face in which nothing stands."""
    return any(is_open(quarters, side) for side in SIDES)
