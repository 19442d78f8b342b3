"""Why no layout was found: the fewest requirements in each other's way, and the least room.

What the nearest layouts miss is gathered until no layout meets all of it together. Then
requirements are let go one by one: whatever can go without a layout turning up is not part
of the clash. The search is no proof; what is said of sizes is a layout found at that
size and none found a tape's step below.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from mewswright.checks.finding import STATUSES, Finding
from mewswright.fit.doorway import DOORWAY
from mewswright.fit.layout import Room
from mewswright.fit.screen import Layout
from mewswright.fit.search import Budget, Clock, Found, fitted

STEPS, STARTS = 360, 3
STEP_MM = 10.0
NEAREST = 3  # layouts that came nearest, whose misses are looked at first
GROWTH = (1.05, 1.1, 1.2, 1.35, 1.6, 2.0, 2.8, 4.0)
# What the search places by, in the order in which a keeper would let go.
LET_GO = (
    "L104", "L101", "P118", "P110", "P112", "P111", "L103", "P107", "P117", "P105", "P106", "L102",
    "T115", "T102", "T103", "W101", "W102", "P109", "P108", "P103", "P104", "P101", "P102",
    "T101",
)  # fmt: skip


@dataclass(frozen=True)
class Clash:
    """Requirements that no layout was found to meet together.

    `smallest` is False where the time ran out before all of them were tried.
    """

    codes: tuple[str, ...]
    told: tuple[Finding, ...]
    smallest: bool


@dataclass(frozen=True)
class Least:
    """Least dimensions at which a layout was found, each with the others as they are [mm].

    None where none was found up to four times the dimension. `together` is width, depth
    and raise of the roof where no single one is enough.
    """

    width_mm: float | None
    depth_mm: float | None
    higher_mm: float | None
    together: tuple[float, float, float] | None


def is_of_the_room(finding: Finding) -> bool:
    """The size of the room decides it, whatever stands in it."""
    return finding.code[0] == "S" or finding.code == "T104"


def room_itself(room: Room) -> Clash | None:
    """What the room lacks whatever stands in it: each of these alone forbids every layout."""
    fixed = tuple(f for f in room.judge.of_unit(room.bare) if is_of_the_room(f))
    return Clash(tuple(dict.fromkeys(f.code for f in fixed)), fixed, True) if fixed else None


def clash(room: Room, pool: Sequence[Found], clock: Clock | None, until_s: float) -> Clash:
    """The fewest requirements in each other's way, as far as the search can tell."""
    codes = {code for found in pool[:NEAREST] for code in _missed(room, found.layout)}
    smallest = True
    while (other := _found(room, _others(codes), clock, until_s)) is not None:
        more = _missed(room, other) - codes  # what a layout gives up that meets those so far
        if not more or (clock is not None and clock() >= until_s):
            smallest = False
            break
        codes |= more
    for code in [c for c in LET_GO if c in codes] + [c for c in codes if c not in LET_GO]:
        if clock is not None and clock() >= until_s:
            smallest = False
            break
        rest = codes - {code}
        if _found(room, _others(rest), clock, until_s) is None:
            codes = rest
    return Clash(tuple(sorted(codes)), _told(room, codes, pool), smallest)


def _missed(room: Room, layout: Layout) -> set[str]:
    """Codes that a layout misses, by the screen and by the checks."""
    seen = room.screen(layout.count).look(layout)
    missed = {*seen.faults, *(finding.code for finding in room.judge_unit(layout))} - {DOORWAY}
    if layout.bath is None and room.screen(layout.count).specs.bath is not None:
        missed.add("W101")
    return missed | ({"P109"} if layout.count < room.asked else set())


def _others(codes: set[str]) -> frozenset[str]:
    """All requirements of places that are not in a set: those that are let go."""
    return frozenset(code for code in (DOORWAY, *LET_GO) if code not in codes)


def _found(
    room: Room, ignored: frozenset[str], clock: Clock | None, until_s: float
) -> Layout | None:
    """A layout that turns up once some requirements are let go, or None."""
    count = 1 if "P109" in ignored and room.asked else room.counts()[0]
    search = room.search(count, ignored)
    pool = search.run(Budget(STEPS, STARTS, clock, until_s), enough=True)
    room.tried += search.tried
    return pool[0].layout if pool and pool[0].fault == 0 else None


def _told(room: Room, codes: set[str], pool: Sequence[Found]) -> tuple[Finding, ...]:
    """What the checks say in these codes of the layouts that came nearest, the worst first."""
    told: dict[str, Finding] = {}
    for found in pool[:NEAREST]:
        case = room.judge.case(fitted(room.kept, found.layout))
        for finding in room.judge.all_of_unit(case):
            seen = told.get(finding.code)
            if finding.code in codes and (seen is None or _rank(finding) < _rank(seen)):
                told[finding.code] = finding
    return tuple(told[code] for code in sorted(told))


def _rank(finding: Finding) -> int:
    return STATUSES.index(finding.status)


def least(room: Room, clock: Clock | None, until_s: float) -> Least:
    """The least width, depth or height at which a layout is found."""
    q = room.quarters
    width, depth = q.width_mm, q.depth_mm
    height = min(q.front_height_mm or 0.0, q.back_height_mm or 0.0)

    def fits(width_mm: float, depth_mm: float, higher_mm: float) -> bool:
        other = room.resized(width_mm, depth_mm, higher_mm)
        if room_itself(other) is not None:
            return False
        found = other.passes(Budget(STEPS, STARTS, clock, until_s))
        room.tried += other.tried
        return found

    def over() -> bool:
        return clock is not None and clock() >= until_s

    one = _least(width, lambda mm: fits(mm, depth, 0.0), over)
    two = _least(depth, lambda mm: fits(width, mm, 0.0), over)
    three = _least(height, lambda mm: fits(width, depth, mm - height), over)
    together = None
    if one is None and two is None and three is None:
        together = _together(width, depth, height, fits, over)
    return Least(one, two, None if three is None else three - height, together)


def _least(now_mm: float, fits: Callable[[float], bool], over: Callable[[], bool]) -> float | None:
    """The least length at which a layout is found, to ten millimetres."""
    low_mm = now_mm
    for factor in GROWTH:
        if over():
            return None
        high_mm = _up(now_mm * factor)
        if fits(high_mm):
            return _halved(low_mm, high_mm, fits, over)
        low_mm = high_mm
    return None


def _halved(
    low_mm: float, high_mm: float, fits: Callable[[float], bool], over: Callable[[], bool]
) -> float:
    while high_mm - low_mm > STEP_MM + 1e-6 and not over():
        middle = _up((low_mm + high_mm) / 2)
        if middle >= high_mm:
            break
        if fits(middle):
            high_mm = middle
        else:
            low_mm = middle
    return high_mm


def _together(
    width: float, depth: float, height: float,
    fits: Callable[[float, float, float], bool], over: Callable[[], bool],
) -> tuple[float, float, float] | None:  # fmt: skip
    """Grow all three alike until a layout is found, then take back each as far as it goes."""
    for factor in GROWTH:
        if over():
            return None
        w, d, h = _up(width * factor), _up(depth * factor), _up(height * (factor - 1))
        if not fits(w, d, h):
            continue
        return _taken_back((width, depth, 0.0), (w, d, h), fits, over)
    return None


def _taken_back(
    least_mm: tuple[float, float, float], most_mm: tuple[float, float, float],
    fits: Callable[[float, float, float], bool], over: Callable[[], bool],
) -> tuple[float, float, float]:  # fmt: skip
    """Bring each of three sizes, the last first, as far back as a layout is still found."""
    sizes = list(most_mm)
    for i in (2, 1, 0):

        def at(mm: float, i: int = i) -> bool:
            return fits(*(mm if k == i else size for k, size in enumerate(sizes)))

        low = least_mm[i]
        sizes[i] = low if at(low) else _halved(low, sizes[i], at, over)
    return sizes[0], sizes[1], sizes[2]


def _up(value_mm: float) -> float:
    return -(-value_mm // STEP_MM) * STEP_MM
