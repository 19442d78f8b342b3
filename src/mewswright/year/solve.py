"""A plan of a year, and what any plan costs at least.

Each unit's whole year is one shortest path; units meet only in prices (`search_kernel.py` makes
the plan, `bound_kernel.py` the bound). The same instance, seed and counted work give the same
answer; a clock that a shell lends stops the search by time instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, inf
from typing import TYPE_CHECKING, Any

from mewswright.build.cut.effort import Effort
from mewswright.year.instance import Instance, Rows

if TYPE_CHECKING:
    from mewswright.year.tables import Tables

STEPS_PER_UNIT = 150.0  # steps of a kernel in one unit of effort: about 7 ns each, all told
SLICE_STEPS = 20_000_000  # about this much work between two looks at the effort
PATIENT_ROUNDS = 250  # of negotiation, before it begins anew in another order
COOL = (0.0, 0.0, 4.0, 12.0, 30.0)  # by how much a change may be dearer, from slice to slice [cost]


@dataclass(frozen=True)
class Answer:
    """What a search found.

    Args:
        rows: The cheapest plan found, or None.
        cost: Its cost, or None.
        bound: No plan costs less; None where `stuck` says that there is no plan.
        stuck: Units that have no itinerary even alone: with them there is no plan.
        work: Work done [units of effort].
    """

    rows: Rows | None
    cost: int | None
    bound: int | None
    stuck: tuple[int, ...]
    work: float

    @property
    def proven(self) -> bool:
        """Whether no plan is cheaper."""
        return self.cost is not None and self.cost == self.bound


class _Search:
    """One search: a plan, prices and a bound, that get better by the slice."""

    def __init__(self, t: Tables, seed: int, effort: Effort) -> None:
        import numpy as np

        from mewswright.year import bound_kernel, use_kernel

        self.t, self.seed, self.effort = t, seed, effort
        places, weeks = t.base.shape[1:]
        self.use, self.bound_use = use_kernel.new_use(t), use_kernel.new_use(t)
        self.free = use_kernel.new_use(t)
        self.shadow = use_kernel.new_prices(t)  # the bound's prices
        pairs = len(bound_kernel.pairs_of(t))
        self.pair_price = np.zeros((len(t.rule_first), pairs, weeks))
        self.ways: Any = (
            np.zeros((places, weeks)),
            np.zeros((places, weeks)),
            np.zeros(self.pair_price.shape),
        )
        self.memory = np.array([-inf, 1.0, 0.0])
        self.state = np.array([0x9E3779B97F4A7C15 ^ (seed + 1)], dtype=np.uint64)
        self.best: Any = None
        self.cost = inf
        # A rough size of one round, so that slices come out alike in small and large years.
        self.round_steps = max(1, int((t.own_at[-1] + t.entry_at[-1]) * weeks * t.most.mean()))

    def spend(self, steps: float) -> None:
        self.effort.spend(steps / STEPS_PER_UNIT)

    def alone(self) -> tuple[int, ...]:
        """Send every unit its own way, as if alone; gives those that have none."""
        import numpy as np

        from mewswright.year import path_kernel, use_kernel
        from mewswright.year.tables import BLOCKED

        units, places, weeks = self.t.base.shape
        stay, clean = np.empty((places, weeks)), np.empty((places, weeks))
        room = path_kernel.scratch(places, weeks)
        stuck = []
        for u in range(units):
            use_kernel.fill(self.t, self.free, self.shadow, 0.0, 0.0, u, stay, clean)
            cost, steps = path_kernel.path(self.t, u, stay, clean, room, self.use.where[u])
            self.spend(steps)
            if cost >= BLOCKED:
                stuck.append(u)
        return tuple(stuck)

    def first_plan(self) -> bool:
        """Negotiate until a plan is clean or the effort is used up."""
        from mewswright.year import search_kernel, use_kernel

        alone = self.use.where.copy()
        rounds = max(1, SLICE_STEPS // self.round_steps)
        while True:
            self.use = use_kernel.new_use(self.t)
            self.use.where[:] = alone
            for u in range(len(alone)):
                use_kernel.put(self.t, self.use, u, 1)
            prices, press = use_kernel.new_prices(self.t), 1.0
            for _ in range(0, PATIENT_ROUNDS, rounds):
                left, press, steps = search_kernel.negotiate(
                    self.t, self.use, prices, press, min(rounds, PATIENT_ROUNDS), self.state
                )
                self.spend(steps)
                if left == 0:
                    self.best = self.use.where.copy()
                    self.cost = sum(
                        use_kernel.row_cost(self.t, u, row) for u, row in enumerate(self.best)
                    )
                    return True
                if self.effort.used_up():
                    return False

    def lift(self) -> None:
        """One slice for the bound."""
        from mewswright.year import bound_kernel

        low = self.memory[0]
        goal = self.cost if self.cost < inf else (1.1 * low + 10.0 if low > -inf else 0.0)
        rounds = max(4, SLICE_STEPS // self.round_steps)
        self.spend(
            bound_kernel.raise_bound(
                self.t,
                self.bound_use,
                self.free,
                self.shadow,
                self.pair_price,
                self.ways,
                self.memory,
                goal,
                rounds,
            )
        )

    def mend(self, heat: float) -> None:
        """One slice of replanning; every slice without heat begins at the cheapest plan."""
        from mewswright.year import search_kernel, use_kernel

        if heat == 0.0:
            self.use = use_kernel.new_use(self.t)
            self.use.where[:] = self.best
            for u in range(len(self.best)):
                use_kernel.put(self.t, self.use, u, 1)
        rounds = max(8, 8 * SLICE_STEPS // (self.round_steps // len(self.best) * 8 + 4000))
        self.cost, steps = search_kernel.replan(
            self.t, self.use, self.shadow, self.best, heat, rounds, self.state
        )
        self.spend(steps)

    def proven(self) -> bool:
        return bool(ceil(self.memory[0] - 1e-6) >= self.cost - 0.5)


def solve(instance: Instance, effort: Effort, seed: int = 0) -> Answer:
    """The cheapest plan that the effort finds, and a bound on every plan.

    A plan is never promised: None only says that none was found, unless units are `stuck`.

    Args:
        instance: What is to be planned.
        effort: Work or time allowed; a search that has begun a slice ends it.
        seed: Of the search: other seeds, other plans of the same quality.
    """
    from mewswright.year.tables import rows_of, tables

    if not instance.units:
        return Answer((), 0, 0, (), 0.0)
    search = _Search(tables(instance), seed, effort)
    stuck = search.alone()
    if stuck:
        return Answer(None, None, None, stuck, effort.spent)
    search.lift()
    if search.first_plan():
        slices = 0
        while not search.proven() and not effort.used_up():
            search.mend(COOL[slices % len(COOL)])
            # The bound soon gains little; the plan goes on gaining.
            if not search.proven() and (slices < 10 or slices % 3 == 0):
                search.lift()
            slices += 1
    bound = max(0, ceil(search.memory[0] - 1e-6))
    if search.best is None:
        return Answer(None, None, bound, (), effort.spent)
    return Answer(rows_of(search.best), round(search.cost), bound, (), effort.spent)
