"""More birds than rooms: proofs by counting that no plan exists, in words that a keeper can check.

Some units, in some weeks, may live only in some rooms. Their weeks, and those in which a room
lies empty because one of them has just left it, are counted against the weeks that these rooms
have. A shortage is a proof; that none is found proves nothing.

Source: deficient sets of units are P. Hall's (On representatives of subsets, 1935); the worst one
is found as a closure of greatest weight by a least cut (J. Picard, 1976).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from mewswright.year.instance import Instance, Unit
from mewswright.year.rooms import Rooms, rooms_of, settled_from

MOST_WINDOWS = 60
Why = Literal["rooms", "moves", "rest", "loose", "tether"]


@dataclass(frozen=True)
class Shortage:
    """Units that need more weeks of their rooms than there are.

    Args:
        units: The units.
        rooms: The only rooms in which they may live in these weeks.
        first: First week of the count.
        last: Last week, inclusive.
        needed: Weeks of living, and of empty rooms after moves, that they need [weeks].
        there: Weeks that the rooms have [weeks].
        why: What the count rests on: rooms alone; that they must move; that the rooms must rest;
            free time in the year; or the longest time on a tether.
    """

    units: tuple[int, ...]
    rooms: tuple[int, ...]
    first: int
    last: int
    needed: int
    there: int
    why: Why


@dataclass(frozen=True)
class _Count:
    """What each unit asks for, where, and what each room has."""

    first: int
    last: int
    why: Why
    asked: Mapping[int, int]
    where: Mapping[int, frozenset[int]]
    has: Mapping[int, int]

    def short(self, units: frozenset[int]) -> int:
        rooms = frozenset[int]().union(*(self.where[u] for u in units))
        return sum(self.asked[u] for u in units) - sum(self.has[r] for r in rooms)


def shortage(instance: Instance) -> Shortage | None:
    """The smallest shortage found, or None where counting proves nothing.

    No unit of it can be left out: without any one of them the count comes right.
    """
    best: Shortage | None = None
    known: dict[object, frozenset[int]] = {}  # weeks are mostly alike
    for count in _counts(instance, rooms_of(instance)):
        mark = (*(tuple(sorted(of.items())) for of in (count.asked, count.where, count.has)),)
        if mark not in known:
            found = _worst(count)
            known[mark] = _irreducible(count, found) if found else found
        units = known[mark]
        if not units:
            continue
        rooms = frozenset[int]().union(*(count.where[u] for u in units))
        one = Shortage(
            tuple(sorted(units)), tuple(sorted(rooms)), count.first, count.last,
            sum(count.asked[u] for u in units), sum(count.has[r] for r in rooms), count.why,
        )  # fmt: skip
        if best is None or len(one.units) < len(best.units):
            best = one
        elif (
            one.units == best.units and one.rooms == best.rooms and one.first == best.last + 1
            and one.why == best.why == "rooms"
        ):  # fmt: skip
            best = Shortage(  # the same shortage goes on
                best.units, best.rooms, best.first, one.last, best.needed + one.needed,
                best.there + one.there, best.why,
            )  # fmt: skip
    return best


def _counts(instance: Instance, rooms: Rooms) -> Iterator[_Count]:
    for week in range(instance.weeks):
        yield _of_window(instance, rooms, week, week, "rooms")
    shortest = min((unit.max_stay for unit in instance.units), default=instance.weeks)
    due = [p.most_weeks for p in instance.places if p.most_weeks is not None]
    for first, last in _windows(instance):
        if last - first + 1 > min([shortest, *due]):
            # Where nobody need move, the weeks one by one say more.
            yield _of_window(instance, rooms, first, last, "moves")
    if any(place.rest_weeks for place in instance.places):
        yield _of_window(instance, rooms, 0, instance.weeks - 1, "rest")
    if any(unit.free_least for unit in instance.units):
        yield _loose(instance, rooms, 0, instance.weeks - 1, "loose")
    if any(unit.tether_most is not None for unit in instance.units):
        for first, last in _windows(instance):
            yield _loose(instance, rooms, first, last, "tether")


def _windows(instance: Instance) -> list[tuple[int, int]]:
    """Spans of weeks between the weeks in which something changes, longest first."""
    starts, ends = {0}, {instance.weeks - 1}
    for u, unit in enumerate(instance.units):
        there = instance.weeks_of(u)
        starts |= {there.start, settled_from(unit)}
        ends |= {there.stop - 1}
        barred = ((first, last) for first, last, _ in unit.barred)
        for first, last in (*unit.undisturbed, *barred):
            starts |= {first, last + 1}
            ends |= {first - 1, last}
    for place in instance.places:
        starts |= {w + 1 for w in place.closed if w + 1 not in place.closed}
        ends |= {w - 1 for w in place.closed if w - 1 not in place.closed}
    spans = [(a, b) for a in starts for b in ends if 0 <= a < b < instance.weeks]
    return sorted(spans, key=lambda span: (span[0] - span[1], span))[:MOST_WINDOWS]


def _of_window(instance: Instance, rooms: Rooms, first: int, last: int, why: Why) -> _Count:
    asked, where = {}, {}
    for u, unit in enumerate(instance.units):
        weeks = _there(instance, u, first, last)
        if not weeks:
            continue
        where[u] = rooms.within(u, weeks)
        asked[u] = len(weeks)
        if why == "moves":
            asked[u] += _emptied(instance, unit, weeks, len(where[u]))
    return _Count(first, last, why, asked, where, _has(instance, rooms, first, last, why))


def _there(instance: Instance, u: int, first: int, last: int) -> range:
    there = instance.weeks_of(u)
    return range(max(first, there.start), min(last + 1, there.stop))


def _emptied(instance: Instance, unit: Unit, weeks: range, rooms: int) -> int:
    """Weeks in which a room must lie empty because this unit had to move within some weeks."""
    own = range(max(weeks.start, settled_from(unit)), weeks.stop)
    places = [instance.places[p] for p in unit.suitable]
    if not own or not places:
        return 0
    ends = [unit.max_stay if p.most_weeks is None else p.most_weeks for p in places]
    longest = min(unit.max_stay, max(ends))
    moves = -(-len(own) // longest) - 1
    if moves < 1:
        return 0
    if rooms == 1:
        return 1  # it has nowhere to move to
    clean = min(place.clean_weeks for place in places)
    # Nothing says that the last move lies before the last week's cleaning is over.
    return (moves - 1) * clean + min(1, clean)


def _has(instance: Instance, rooms: Rooms, first: int, last: int, why: Why) -> dict[int, int]:
    has = {}
    for room, places in enumerate(rooms.places):
        weeks = last - first + 1 - sum(first <= w <= last for w in rooms.closed[room])
        if why == "rest":
            # Closed weeks may be the rest.
            rest = max(instance.places[p].rest_weeks for p in places)
            weeks = min(weeks, last - first + 1 - rest)
        has[room] = weeks
    return has


def _loose(instance: Instance, rooms: Rooms, first: int, last: int, why: Why) -> _Count:
    """Weeks that units must be loose, against the rooms in which they may."""
    free = frozenset(p for p, place in enumerate(instance.places) if not place.tethered)
    asked, where = {}, {}
    for u, unit in enumerate(instance.units):
        weeks = _there(instance, u, first, last)
        if why == "loose":
            least = unit.free_least
        else:
            least = 0 if unit.tether_most is None else len(weeks) // (unit.tether_most + 1)
        choices = [rooms.choices[u][w] or frozenset() for w in weeks]
        least = max(least, sum(choice <= free for choice in choices))
        if least > 0:
            asked[u] = least
            where[u] = frozenset(rooms.of_place[p] for c in choices for p in c & free)
    return _Count(first, last, why, asked, where, _has(instance, rooms, first, last, why))


def _worst(count: _Count) -> frozenset[int]:
    """The units that are shortest of rooms; empty where none are."""
    units = sorted(count.asked)
    if not units:
        return frozenset()
    # Units that ask for the same rooms are one node.
    alike: dict[frozenset[int], list[int]] = {}
    for u in units:
        alike.setdefault(count.where[u], []).append(u)
    none = alike.get(frozenset())
    if none:
        return frozenset(none[:1])
    groups = sorted(alike.items(), key=lambda item: item[1])
    taken = sorted(frozenset[int]().union(*alike))
    if sum(count.asked[u] for u in units) <= min((count.has[r] for r in taken), default=0):
        return frozenset()
    kept = _cut(
        [sum(count.asked[u] for u in members) for _, members in groups],
        [[taken.index(r) for r in where] for where, _ in groups],
        [count.has[r] for r in taken],
    )
    return frozenset(u for g in kept for u in groups[g][1])


def _cut(asked: Sequence[int], where: Sequence[Sequence[int]], has: Sequence[int]) -> list[int]:
    """Groups that cannot all be housed, or none: those on the near side of a least cut."""
    left, room_left = list(asked), list(has)
    housed: list[dict[int, int]] = [{} for _ in asked]  # weeks of each group in each room
    for g, rooms in enumerate(where):
        for r in sorted(rooms, key=lambda r: -room_left[r]):
            weeks = min(left[g], room_left[r])
            if weeks > 0:
                housed[g][r] = weeks
                left[g] -= weeks
                room_left[r] -= weeks
    while True:
        # From whoever is not housed to a room with time left, others moving on to make way.
        came: dict[int, tuple[int, int | None]] = {}  # room: by which group, from which room
        seen: dict[int, int | None] = {g: None for g, weeks in enumerate(left) if weeks > 0}
        if not seen:
            return []
        line = deque(seen)
        end = None
        while line and end is None:
            g = line.popleft()
            for r in where[g]:
                if r in came:
                    continue
                came[r] = g, seen[g]
                if room_left[r] > 0:
                    end = r
                    break
                for other, lived in enumerate(housed):
                    if other not in seen and lived.get(r, 0) > 0:
                        seen[other] = r
                        line.append(other)
        if end is None:
            return sorted(seen)
        way, r = [], end
        while True:
            g, before = came[r]
            way.append((g, before, r))
            if before is None:
                break
            r = before
        weeks = min(
            [room_left[end], left[way[-1][0]]]
            + [housed[g][old] for g, old, _ in way if old is not None]
        )
        room_left[end] -= weeks
        left[way[-1][0]] -= weeks
        for g, old, new in way:
            housed[g][new] = housed[g].get(new, 0) + weeks
            if old is not None:
                housed[g][old] -= weeks


def _irreducible(count: _Count, units: frozenset[int]) -> frozenset[int]:
    """A part of some short units of which none can be left out."""
    kept = units
    order = sorted(units, key=lambda u: (-len(count.where[u]), u))
    for u in order:  # the quick way first
        if u in kept and len(kept) > 1 and count.short(kept - {u}) > 0:
            kept -= {u}
    for u in order:
        if u in kept and len(kept) > 1:
            fewer = {v: count.asked[v] for v in kept if v != u}
            kept = _worst(replace(count, asked=fewer)) or kept
    return kept
