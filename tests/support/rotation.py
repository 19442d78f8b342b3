"""Rotations for tests and benchmarks: read from bench files, planted, or by chance."""

import json
from dataclasses import replace
from math import ceil

import numpy as np

from mewswright.year.instance import Apart, Entry, Instance, Place, Unit
from mewswright.year.verify import breaches, plan_cost

MOVE_COST, LEAST, MOST = 20, 3, 13


def instance_of(text):
    """A file of the planted rotations, as its README says that it is to be read."""
    data = json.loads(text)
    quarantine, soil = frozenset(data["quarantine"]), set(data["soil"])
    places = tuple(
        Place(f"place {p}", data["clean_weeks"], data["rest_weeks"] if p in soil else 0)
        for p in range(data["n_spaces"])
    )
    units = tuple(
        Unit(
            f"unit {u}",
            frozenset(unit["spaces"]),
            tuple(unit["cost"]),
            unit["arrival"],
            data["min_stay"],
            data["max_stay"],
            data["move_cost"],
            Entry(quarantine, 4) if unit["arrival"] > 0 else None,
            # No move takes effect in weeks a + 1 to b - 1: a to b - 1 are spent in one place.
            ((unit["moult"][0], unit["moult"][1] - 1),),
        )
        for u, unit in enumerate(data["units"])
    )
    return Instance(
        data["weeks"],
        places,
        units,
        frozenset((p, q) for p, q in data["adjacent"]),
        tuple(Apart(frozenset(units), *data["sight_weeks"]) for units in data["classes"]),
    )


def _stays(rng, weeks):
    """Lengths of the fewest stays that fill so many weeks, by chance."""
    count = ceil(weeks / MOST)
    while True:
        lengths = rng.integers(LEAST, MOST + 1, count)
        if lengths.sum() == weeks:
            return [int(n) for n in lengths]


def planted(seed, units, places, weeks=40):
    """A rotation whose least cost is known, and that cost.

    Every unit lives in places that cost it nothing and moves as seldom as its longest stay
    allows, so that no unit alone could do with less. The last place is for newcomers.
    """
    rng = np.random.default_rng([seed, units, places])
    while True:
        made = _planted(rng, units, places, weeks)
        if made is not None:
            return made


def _planted(rng, units, places, weeks):
    taken = np.zeros((places, weeks), dtype=bool)
    lived = np.zeros((places, weeks), dtype=bool)
    rows, made, optimum = [], [], 0
    for u in range(units):
        arrival = int(rng.choice([3, 6, 9])) if u == units - 1 else 0
        first, row, own, last = arrival, [None] * arrival, set(), -1
        if arrival:
            lived[-1, first : first + 4] = taken[-1, first : first + 5] = True
            row += [places - 1] * 4
            first += 4
        for length in _stays(rng, weeks - first):
            after = min(weeks, first + length + 1)  # a week to clean
            room = [p for p in range(places - 1) if p != last and not taken[p, first:after].any()]
            if not room:
                return None
            last = int(rng.choice(room))
            taken[last, first:after] = lived[last, first : first + length] = True
            row += [last] * length
            first += length
            own.add(last)
        moves = sum(a != b for a, b in zip(row[arrival:], row[arrival + 1 :], strict=False))
        optimum += MOVE_COST * moves
        others = [p for p in range(places - 1) if p not in own and rng.random() < 0.5]
        cost = [
            0 if p in own or p == places - 1 else int(rng.integers(1, 10)) for p in range(places)
        ]
        # A moult somewhere between two moves.
        last_stay = next(w for w in range(weeks - 1, 0, -1) if row[w] != row[w - 1])
        made.append(
            Unit(
                f"unit {u}",
                frozenset(own | set(others)),
                tuple(cost),
                arrival,
                LEAST,
                MOST,
                MOVE_COST,
                Entry(frozenset({places - 1}), 4) if arrival else None,
                ((last_stay, min(weeks - 1, last_stay + 7)),),
            )
        )
        rows.append(tuple(row))
    rest = [any(not lived[p, w : w + 4].any() for w in range(weeks - 3)) for p in range(places)]
    instance = Instance(
        weeks,
        tuple(Place(f"place {p}", 1, 4 if rest[p] and p % 3 == 1 else 0) for p in range(places)),
        tuple(made),
    )
    apart = (Apart(frozenset(range(0, units, 3)), 8, 29),)
    pairs = [(p, q) for p in range(places) for q in (p + 1, p + 5) if q < places]
    for pair in pairs:  # only those that the planted plan keeps to
        wider = replace(instance, adjacent=instance.adjacent | {pair}, apart=apart)
        if not breaches(wider, tuple(rows)):
            instance = wider
    assert breaches(instance, tuple(rows)) == ()
    assert plan_cost(instance, tuple(rows)) == optimum
    return instance, optimum


def by_chance(seed, units, places, weeks, suited=0.6, most=MOST, least=LEAST):
    """A rotation of which nothing is known."""
    rng = np.random.default_rng([seed, units, places, weeks])
    made = []
    for u in range(units):
        arrival = int(rng.integers(1, max(2, weeks // 3))) if u and rng.random() < 0.15 else 0
        own = frozenset(p for p in range(places - 1) if rng.random() < suited) or frozenset({0})
        calm = int(rng.integers(0, weeks))
        made.append(
            Unit(
                f"unit {u}",
                own,
                tuple(int(c) for c in rng.integers(0, 11, places)),
                arrival,
                least,
                most,
                MOVE_COST,
                Entry(frozenset({places - 1}), min(4, weeks)) if arrival else None,
                ((calm, min(weeks - 1, calm + weeks // 7)),),
            )
        )
    pairs = [(p, q) for p in range(places) for q in (p + 1, p + 5) if q < places]
    return Instance(
        weeks,
        tuple(
            Place(f"place {p}", 1, min(4, weeks // 3) if rng.random() < 0.3 else 0)
            for p in range(places)
        ),
        tuple(made),
        frozenset(pair for pair in pairs if rng.random() < 0.8),
        (Apart(frozenset(range(0, units, 2)), weeks // 6, weeks // 2),),
    )
