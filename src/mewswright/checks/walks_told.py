"""The daily round, the barrow's ways and the way to the flying ground, round what stands."""

from itertools import pairwise
from math import inf

from mewswright.checks.outlook_told import WalkHere, Walks
from mewswright.ground.footprint import feature_points
from mewswright.ground.paths import Ways, door_step_m, shortest_round, straight_m
from mewswright.model.place import Feature, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.yard import Yard

BARROW_MM = 650.0  # width with hands where the file gives none: a judgement
GRAZE_M = 0.05  # air on each side of a barrow


def walks(yard: Yard) -> Walks:
    """The round and the ways of a yard; what is missing for them is named."""
    rooms, gates, heaps = (
        [f for f in yard.feature if f.kind == kind]
        for kind in ("weighing_room", "flying_ground_gate", "compost")
    )
    homes = [q for q in yard.quarters if any(s.quarters == q.name for s in yard.stay)]
    homes = homes or list(yard.quarters)
    missing = [
        word
        for word, found in (
            ("weighing_room", rooms), ("flying_ground_gate", gates), ("compost", heaps),
            ("quarters", homes),
        )
        if not found
    ]  # fmt: skip
    names = [q.name for q in homes]
    steps = [door_step_m(yard, q) for q in homes]
    start = rooms[0] if rooms else None
    return _round(yard, start, names, steps).model_copy(
        update={
            "barrow": _barrow(yard, heaps, names, steps),
            "to_flying_ground": _to_fly(yard, rooms, gates),
            "missing": tuple(missing),
        }
    )


def middle_m(feature: Feature) -> Point:
    """Middle of a feature's corners."""
    points = feature_points(feature)
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _round(yard: Yard, start: Feature | None, names: list[str], steps: list[Point]) -> Walks:
    nothing = Walks(
        start=start.name if start else None, order=(), round_m=None, round_in_file_order_m=None,
        proven=False, points=(), unreached=(), barrow=(), to_flying_ground=None, missing=(),
    )  # fmt: skip
    if not steps:
        return nothing
    places = [middle_m(start), *steps] if start is not None else steps
    ways = Ways(yard, places)
    lengths = ways.table()
    # Without a weighing room the round starts at the first quarters.
    reached = [i for i in range(len(places)) if lengths[0][i] < inf]
    lost = tuple(
        names[i - (start is not None)] for i in range(1, len(places)) if lengths[0][i] == inf
    )
    part = [[lengths[i][j] for j in reached] for i in reached]
    found = shortest_round(part)
    if found is None:
        return nothing.model_copy(update={"unreached": lost})
    order = [reached[i] for i in found.order]
    stops = [0, *order, 0]
    points: list[Point] = []
    for a, b in pairwise(stops):
        walk = ways.walk(a, b)
        points += walk.points if walk is not None else ()
    plain = [0, *reached[1:], 0]
    told = order if start is not None else [0, *order]
    return nothing.model_copy(
        update={
            "order": tuple(names[i - (start is not None)] for i in told),
            "round_m": found.length_m,
            "round_in_file_order_m": sum(lengths[a][b] for a, b in pairwise(plain)),
            "proven": found.proven,
            "points": tuple(points),
            "unreached": lost,
        }
    )


def _barrow(
    yard: Yard, heaps: list[Feature], names: list[str], steps: list[Point]
) -> tuple[WalkHere, ...]:
    if not heaps or not steps:
        return ()
    half = m_from_mm(yard.service.barrow_mm or BARROW_MM) / 2 + GRAZE_M
    ends = [middle_m(heap) for heap in heaps]
    ways = Ways(yard, [*steps, *ends], half)
    found = []
    for i, name in enumerate(names):
        every = [(ways.walk(i, len(steps) + k), heap, ends[k]) for k, heap in enumerate(heaps)]
        walk, heap, end = min(every, key=lambda one: one[0].length_m if one[0] else inf)
        found.append(
            WalkHere(
                start=name, end=heap.name, length_m=walk.length_m if walk else None,
                straight_m=straight_m(steps[i], end), points=walk.points if walk else (),
            )
        )  # fmt: skip
    return tuple(found)


def _to_fly(yard: Yard, rooms: list[Feature], gates: list[Feature]) -> WalkHere | None:
    if not rooms or not gates:
        return None
    places = [middle_m(f) for f in (*rooms, *gates)]
    ways = Ways(yard, places)
    every = [
        (ways.walk(i, len(rooms) + k), i, k)
        for i in range(len(rooms))
        for k in range(len(gates))
    ]  # fmt: skip
    walk, i, k = min(every, key=lambda one: one[0].length_m if one[0] else inf)
    return WalkHere(
        start=rooms[i].name, end=gates[k].name, length_m=walk.length_m if walk else None,
        straight_m=straight_m(places[i], places[len(rooms) + k]),
        points=walk.points if walk else (),
    )  # fmt: skip
