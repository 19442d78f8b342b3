"""Whether there is a plan, told by trying every one; asks only the checker. For small years."""

from dataclasses import replace
from functools import lru_cache
from itertools import product

from mewswright.year.feasible import Verdict
from mewswright.year.instance import Extras
from mewswright.year.verify import breaches


@lru_cache(maxsize=50_000)
def rows_alone(alone):
    """Every row that keeps a unit's own rules; the instance holds that unit alone."""
    (unit,) = alone.units
    after = alone.weeks if unit.departure is None else min(alone.weeks, unit.departure)
    first = sorted(unit.suitable | (unit.entry.places if unit.entry else frozenset()))
    lived = product(first, repeat=after - unit.arrival)
    tail = (None,) * (alone.weeks - after)
    rows = ((None,) * unit.arrival + row + tail for row in lived)
    return tuple(row for row in rows if not breaches(alone, (row,)))


def by_trying(instance, seconds=0.0):
    """An oracle: tries all rows of each unit with all of the others."""
    ways = []
    for unit in instance.units:
        alone = replace(
            instance, units=(replace(unit, name="A"),), apart=(), sights=(), kin=frozenset(),
            extras=Extras(),
        )  # fmt: skip
        ways.append(rows_alone(alone))
    order = sorted(range(len(ways)), key=lambda u: len(ways[u]))

    def extended(chosen):
        if len(chosen) == len(ways):
            return chosen
        u = order[len(chosen)]
        for row in ways[u]:
            more = {**chosen, u: row}
            units = sorted(more)
            part = _part(instance, units)
            if not breaches(part, tuple(more[v] for v in units)):
                done = extended(more)
                if done is not None:
                    return done
        return None

    found = extended({})
    if found is None:
        return Verdict("none")
    return Verdict("plan", tuple(found[u] for u in range(len(ways))))


def _part(instance, units):
    """The instance with some of its units; rests are held by fewer units all the sooner."""
    new = {u: k for k, u in enumerate(units)}

    def of(some):
        return frozenset(new[u] for u in some if u in new)

    return replace(
        instance,
        units=tuple(instance.units[u] for u in units),
        apart=tuple(replace(rule, units=of(rule.units)) for rule in instance.apart),
        sights=tuple(replace(s, afraid=of(s.afraid), feared=of(s.feared)) for s in instance.sights),
        kin=frozenset((new[a], new[b]) for a, b in instance.kin if a in new and b in new),
        extras=Extras(),
    )
