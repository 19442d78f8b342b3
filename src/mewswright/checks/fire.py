"""A way out for the keeper in a fire: without a key, and a second one where it is far."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import hypot

from mewswright.checks import asked
from mewswright.checks.case import Case
from mewswright.checks.doorways import door_between, listed
from mewswright.checks.finding import TAPE_MM, Finding
from mewswright.checks.registry import yard_check
from mewswright.checks.tethered import is_open
from mewswright.ground.door_cuts import fewest_doors_to_cut
from mewswright.ground.doors import (
    Passes,
    WayOut,
    beyond,
    doors_away,
    doors_of,
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


@yard_check("D110", "A way out in a fire")
def way_out_of_fire(yard: Yard, cases: Sequence[Case]) -> Iterator[Finding]:
    """Whoever is inside gets out by doors that need no key, by two ways where it is far."""
    graph = doors_of(yard.door)
    out = frozenset({OUTSIDE, *(c.quarters.name for c in cases if _stands_open(c.quarters))})
    steps = doors_away(out, graph)
    passes = _without_a_key(steps)
    reach_m = _reaches_m(yard)
    built = [(q.name, None) for q in yard.quarters if q.kind != "pitch"]
    names = built + [(None, s.name) for s in yard.space]
    for quarters, space in names:
        start = quarters or space or ""
        if start in out:
            yield _found("sound", quarters, space, measured=Quantity(value="open face"))
        elif start not in steps:
            if start in graph or space or _is_closed(yard, start):
                yield _found(
                    "mind", quarters, space, measured=Quantity(value="no way out"),
                    why="its doors lead nowhere" if start in graph else "the file gives it no door",
                    remedy="give the doors that lead outside",
                )  # fmt: skip
        else:
            yield _judged(yard, quarters, space, graph, passes, out, reach_m)


def _judged(
    yard: Yard, quarters: str | None, space: str | None, graph: Mapping[str, Sequence[Door]],
    passes: Passes, out: frozenset[str], reach_m: Mapping[str, float],
) -> Finding:  # fmt: skip
    start = quarters or space or ""
    way = shortest_way_out(start, graph, out, passes)
    if way is None:
        blocked = shortest_way_out(start, graph, out)
        stops = [] if blocked is None else _stops(blocked, passes)
        return _found(
            "short", quarters, space, measured=Quantity(value="no way out"),
            why=f"who is inside cannot open {listed([door_between(d) for d in stops])}",
            remedy="fit a latch that opens from inside without a key: "
            + listed([door_between(d) for d in stops]),
        )  # fmt: skip
    far_m, room, only = 0.0, start, None  # how far there is one way alone, and up to where
    for here in way.rooms[:-1]:
        cut = fewest_doors_to_cut(here, yard.door, out, passes)
        if len(cut) > 1:
            break
        if far_m - ONE_WAY_M <= m_from_mm(TAPE_MM):  # a second way here would be soon enough
            room, only = here, cut[0]
        far_m += reach_m.get(here, 0.0)
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


def _without_a_key(steps: Mapping[str, int]) -> Passes:
    """Outwards a door must open from inside; inwards it must need no key."""

    def passes(door: Door, here: str) -> bool:
        there = beyond(door, here)
        if steps.get(there, 0) > steps.get(here, 0):
            return door.locks != "key"
        return door.opens_from_inside

    return passes


def _stops(way: WayOut, passes: Passes) -> list[Door]:
    """Doors of a way that do not let through."""
    return [d for (here, _), d in zip(pairwise(way.rooms), way.doors, strict=True)
            if not passes(d, here)]  # fmt: skip


def _stands_open(quarters: Quarters) -> bool:
    """A person walks out through a face in which nothing stands."""
    return any(is_open(quarters, side) for side in SIDES)


def _is_closed(yard: Yard, name: str) -> bool:
    return any(q.name == name and not _stands_open(q) for q in yard.quarters)


def _reaches_m(yard: Yard) -> dict[str, float]:
    """How far it is from end to end of every place [m]."""
    rooms = {s.name: m_from_mm(s.length_mm) for s in yard.space}
    return rooms | {q.name: m_from_mm(hypot(q.width_mm, q.depth_mm)) for q in yard.quarters}
