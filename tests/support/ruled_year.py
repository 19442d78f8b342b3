"""Small years by chance in which every rule of a year occurs, and their optimum by trying all."""

from dataclasses import replace
from itertools import product

import numpy as np

from mewswright.year.instance import Apart, Before, Entry, Extras, Instance, Place, Sight, Unit
from mewswright.year.verify import breaches, plan_cost


def ruled(seed, units=2, weeks=6, cells=3):
    """A year of a few weeks; the first two places share a cell, one loose and one tethered."""
    rng = np.random.default_rng([seed, units, weeks, cells])

    def now_and_then(share):
        return rng.random() < share

    shared = {
        "clean_weeks": int(rng.integers(0, 3)),
        "rest_weeks": int(rng.integers(0, 3)),
        "most_weeks": int(rng.integers(2, 6)) if now_and_then(0.3) else None,
    }
    closed = frozenset({int(rng.integers(0, weeks))}) if now_and_then(0.3) else frozenset()
    places = [Place("loft", cell=7, **shared, closed=closed)]
    places.append(Place("loft, tied", cell=7, tethered=True, **shared))
    for p in range(1, cells):
        places.append(
            Place(
                f"room {p}",
                int(rng.integers(0, 3)),
                int(rng.integers(0, 2)),
                tethered=now_and_then(0.4),
                most_weeks=3 if now_and_then(0.2) else None,
            )
        )
    made = [_unit(rng, u, places, weeks, now_and_then) for u in range(units)]
    kin = frozenset()
    if units > 1 and now_and_then(0.4):
        turn = int(rng.integers(1, weeks))
        made[0] = replace(made[0], arrival=0, departure=turn)
        made[-1] = replace(made[-1], arrival=turn, departure=None, before=None)
        kin = frozenset({(units - 1, 0)})
    count = len(places)
    pairs = [(p, q) for p in range(count) for q in range(count) if p != q]
    everybody = frozenset(range(units))
    sights = (Sight(frozenset({0}), everybody, frozenset(_some(rng, pairs, 0.3)), 1, weeks - 2),)
    apart = (Apart(everybody, 0, weeks // 2),)
    return Instance(
        weeks,
        tuple(places),
        tuple(made),
        frozenset(_some(rng, [(p, q) for p, q in pairs if p < q], 0.3)),
        apart if now_and_then(0.5) else (),
        sights if now_and_then(0.6) else (),
        kin,
        Extras(*(int(c) for c in rng.integers(0, 5, 3)), everybody)
        if now_and_then(0.6)
        else Extras(),
    )


def _some(rng, items, share):
    return [item for item in items if rng.random() < share]


def _unit(rng, u, places, weeks, now_and_then):
    count = len(places)
    arrival = int(rng.integers(1, 3)) if now_and_then(0.2) else 0
    own = frozenset(_some(rng, range(count), 0.8)) or frozenset({0})
    entry = None
    if now_and_then(0.25) and len(own) > 1:
        entry = Entry(frozenset({max(own)}), int(rng.integers(2, 4)))
        own -= entry.places
    least = max(2, max(places[p].clean_weeks for p in own))
    before = None
    if arrival == 0 and now_and_then(0.5):
        place = int(rng.integers(0, count))
        tied = int(rng.integers(1, 4)) if places[place].tethered else 0
        before = Before(place, int(rng.integers(1, 4)), tied)
    first = int(rng.integers(0, weeks))
    week, place = int(rng.integers(arrival, weeks)), int(rng.choice(sorted(own)))
    return Unit(
        f"unit {u}",
        own,
        tuple(int(c) for c in rng.integers(0, 6, count)),
        arrival,
        least,
        int(rng.integers(least, weeks + 1)),
        int(rng.integers(0, 8)),
        entry,
        ((first, min(weeks - 1, first + 2)),) if now_and_then(0.4) else (),
        ((week, place),) if now_and_then(0.15) else (),
        ((week, place, 4),) if now_and_then(0.3) else (),
        int(rng.integers(arrival + 2, weeks + 1)) if now_and_then(0.2) else None,
        ((first, first + 1, frozenset({place})),) if now_and_then(0.3) else (),
        before,
        int(rng.integers(0, 4)) if now_and_then(0.4) else None,
        int(rng.integers(1, 4)) if now_and_then(0.4) else 0,
    )


def cheapest_by_trying(instance):
    """The least cost of all plans there are, None where there is none; asks only the checker."""
    ways = []
    for u, unit in enumerate(instance.units):
        alone = replace(
            instance, units=(unit,), apart=(), sights=(), kin=frozenset(), extras=Extras()
        )
        there = instance.weeks_of(u)
        outside = (None,) * there.start, (None,) * (instance.weeks - there.stop)
        rows = [
            outside[0] + held + outside[1]
            for held in product(range(len(instance.places)), repeat=len(there))
        ]
        ways.append([(plan_cost(alone, (r,)), r) for r in rows if not breaches(alone, (r,))])
    best = None
    for plan in sorted(product(*ways), key=lambda plan: sum(cost for cost, _ in plan)):
        if best is not None and sum(cost for cost, _ in plan) >= best:
            break
        rows = tuple(row for _, row in plan)
        cost = plan_cost(instance, rows)
        if (best is None or cost < best) and not breaches(instance, rows):
            best = cost
    return best
