"""The plan of one section: quick plans, the bound, dives, and proof by enumeration."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np

from mewswright.build.cut.columns import Generator
from mewswright.build.cut.dive import dive
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.enumerate import feasible_worths, patterns_within, rounded_up
from mewswright.build.cut.greedy import cost_of, greedy_plan, tidy
from mewswright.build.cut.knapsack import Table, TooWideError
from mewswright.build.cut.master import Master
from mewswright.build.cut.mip import choose_bars
from mewswright.build.cut.sawing import Bars, Counts, Sawing

QUICK_TRIES = 12
FIRST_LIST, LAST_LIST = 4_000, 60_000  # patterns listed for a proof, at first and at most
FIRST_NODES = 2_000
MOST_DIVES = 400


@dataclass(frozen=True)
class Outcome:
    """A section's best bars, and what is known of them."""

    plan: list[Bars]
    cost: int
    bound: int


def length_bound(sawing: Sawing) -> int:
    """Cost that the summed sizes alone demand, at the lowest price per room."""
    if (sawing.price == 0).any():
        return 0
    need = sum(int(n) * int(d) for n, d in zip(sawing.size, sawing.demand, strict=True))
    return min(
        -(-need * int(price) // int(room))
        for price, room in zip(sawing.price, sawing.room, strict=True)
    )


class Search:
    """The search for one section's plan."""

    def __init__(self, sawing: Sawing, effort: Effort, seed: int) -> None:
        self.sawing = sawing
        self.effort = effort
        self.rng = np.random.default_rng(seed)
        self.plan: list[Bars] = []
        self.cost = cost_of(sawing, [])
        self.bound = 0

    def offer(self, plan: list[Bars] | None) -> bool:
        """Keep a plan if it is the cheapest so far. True if it was."""
        if plan is None:
            return False
        plan = tidy(self.sawing, plan)
        cost = cost_of(self.sawing, plan)
        if cost >= self.cost:
            return False
        self.plan, self.cost = plan, cost
        return True

    def raise_bound(self, bound: int) -> None:
        """Take note that no plan costs less than `bound`."""
        self.bound = max(self.bound, rounded_up(bound, self.sawing, self.cost))

    @property
    def done(self) -> bool:
        """True once the plan is as cheap as the bound, or the effort is used up."""
        return self.bound >= self.cost or self.effort.used_up()

    def quick(self) -> None:
        """Plans without any linear program."""
        sawing, effort = self.sawing, self.effort
        for exact in (False, True):
            plan, _ = greedy_plan(sawing, sawing.demand, sawing.available, effort, exact_fill=exact)
            self.offer(plan)
        for _ in range(QUICK_TRIES):
            if self.done:
                return
            plan, _ = greedy_plan(
                sawing,
                sawing.demand,
                sawing.available,
                effort,
                rng=self.rng,
                most_cost=self.cost,
            )
            self.offer(plan)

    def run(self) -> Outcome:
        """Search until proven or until the effort is used up."""
        sawing, effort = self.sawing, self.effort
        self.raise_bound(length_bound(sawing))
        self.quick()
        if self.done:
            return Outcome(self.plan, self.cost, self.bound)
        try:
            table = Table(sawing.size, sawing.demand, sawing.room)
            master = Master(sawing, effort)
            generator = Generator(sawing, table, master, effort)
        except TooWideError:  # the quick plan and the length bound must do
            return Outcome(self.plan, self.cost, self.bound)
        self.seed_columns(master)
        root = generator.converge(self.rng, sawing.demand, sawing.available, whole_problem=True)
        self.raise_bound(ceil(generator.bound))
        if root is not None and not self.done:
            self.improve(generator, table)
        return Outcome(self.plan, self.cost, self.bound)

    def seed_columns(self, master: Master) -> None:
        """First columns: each piece alone in each stock, and the quick plan's bars."""
        sawing = self.sawing
        for i in range(len(sawing.size)):
            one = np.zeros(len(sawing.size), dtype=np.int64)
            one[i] = 1
            for s in range(len(sawing.room)):
                if sawing.size[i] <= sawing.room[s]:
                    master.add(s, one)
        for bars in self.plan:
            master.add(bars.stock, bars.pieces)

    def improve(self, generator: Generator, table: Table) -> None:
        """Dives and integer programs in turn, the latter with ever longer lists."""
        one_price = len(self.sawing.price) == 1
        listed, nodes = FIRST_LIST, FIRST_NODES
        for turn in range(MOST_DIVES):
            plan = dive(
                self.sawing,
                generator,
                self.effort,
                self.rng,
                self.cost - 1,
                noise=0.0 if turn == 0 else 0.1 * min(turn, 10),
                lazy=one_price,
            )
            while self.offer(plan):
                self.raise_bound(self.bound)
                if self.done:
                    return
                plan = None
            if self.done:
                return
            if turn % 4 == (3 if one_price else 0):
                self.prove(generator, table, listed, nodes)
                listed, nodes = min(LAST_LIST, listed * 4), nodes * 4
                if self.done:
                    return

    def prove(self, generator: Generator, table: Table, listed: int, nodes: int) -> None:
        """List all patterns a cheaper plan could use and let the integer solver choose.

        Where the list is too long, the solver chooses among the columns known: that can
        give a better plan, never a proof.
        """
        sawing = self.sawing
        worths = feasible_worths(
            sawing, table, generator.bound_worth, generator.bound_best, generator.parts
        )
        target = min(self.cost - 1, sawing.dearest)
        listing = patterns_within(sawing, worths, target, listed, self.effort)
        if listing is None:
            stock, pieces = self.known_within(
                generator.master,
                worths.piece,
                worths.rent,
                target * worths.parts - worths.total,
                worths.parts,
            )
        else:
            stock, pieces = listing
        if not len(stock):
            if listing is not None:
                self.raise_bound(self.cost)
            return
        chosen = choose_bars(
            sawing, stock, pieces, sawing.demand, sawing.available, target, nodes, self.effort
        )
        self.offer(chosen.plan)
        if chosen.exhausted and listing is not None:
            self.raise_bound(self.cost)

    def known_within(
        self, master: Master, piece: Counts, rent: Counts, gap: int, parts: int
    ) -> tuple[Counts, Counts]:
        """Known columns with the lowest reduced costs, no more than the gap."""
        rows = np.flatnonzero(master.stock[: master.columns] >= 0)
        stock, pieces = master.stock[rows], master.pieces[rows]
        reduced = self.sawing.price[stock] * parts + rent[stock] - pieces @ piece
        order = np.argsort(reduced, kind="stable")[:3000]
        order = order[reduced[order] <= gap]
        return stock[order], pieces[order]
