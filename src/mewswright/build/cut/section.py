"""The plan of one section: quick plans, the bound, dives, and proof by enumeration."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np

from mewswright.build.cut.columns import Generator
from mewswright.build.cut.dive import dive
from mewswright.build.cut.effort import Effort
from mewswright.build.cut.enumerate import Worths, feasible_worths, patterns_within, rounded_up
from mewswright.build.cut.greedy import cost_of, greedy_plan, tidy
from mewswright.build.cut.knapsack import Table, TooWideError
from mewswright.build.cut.listdive import dive_in_list
from mewswright.build.cut.master import Master
from mewswright.build.cut.mip import Chosen, choose_bars
from mewswright.build.cut.purchase import Purchases
from mewswright.build.cut.sawing import Bars, Counts, Sawing
from mewswright.build.cut.settle import Care, judge, span

QUICK_TRIES = 12
FIRST_LIST, LAST_LIST = 4_000, 30_000  # patterns listed for a proof, at first and at most
FIRST_NODES = 500
KNOWN_NODES = 50
ROOT_NODES = 20
# The row of the target over more patterns than these can hold the solver at its root, deaf to its
# time limit: measured for 25 679 of them.
LONG_LIST = 10_000
MOST_TURNS = 400
SHORT_LIST = 4_000  # patterns of a first proof
SHORT_NODES, SHORT_ROUNDS = 150, 4  # programs in one round of descents, and rounds at first
DIVES_PER_TURN = 6
MOST_KNOWN = 3_000
MOST_DOUBTS = 6  # purchases in doubt before the next turn


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
        self.ruled_out: set[bytes] = set()  # purchases that cannot be sawn
        self.short: tuple[int, Counts, Counts] | None = None  # a bound and all that can meet it

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
        self.raise_bound(length_bound(self.sawing))
        self.quick()
        root = None if self.done else self.root()
        if root is not None and not self.done:
            self.improve(*root)
        return Outcome(self.plan, self.cost, self.bound)

    def glance(self) -> int:
        """What no plan undercuts, by the first linear program alone: no plan is looked for."""
        sawing, effort = self.sawing, self.effort
        self.raise_bound(length_bound(sawing))
        plan, _ = greedy_plan(sawing, sawing.demand, sawing.available, effort)
        self.offer(plan)
        if not self.done:
            self.root()
        return self.bound

    def root(self) -> tuple[Generator, Table] | None:
        """Solve the linear program of all patterns, and note its bound; None where that fails."""
        sawing, effort = self.sawing, self.effort
        try:
            table = Table(sawing.size, sawing.demand, sawing.room)
            master = Master(sawing, effort)
            generator = Generator(sawing, table, master, effort)
        except TooWideError:  # the quick plan and the length bound must do
            return None
        self.seed_columns(master)
        solved = generator.converge(self.rng, sawing.demand, sawing.available, whole_problem=True)
        self.raise_bound(ceil(generator.bound))
        return None if solved is None else (generator, table)

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
        """Dives, purchases in the order of cost, and lists of patterns, ever longer."""
        one_price = len(self.sawing.price) == 1
        purchases = None
        if not one_price:
            purchases = Purchases(self.sawing, self.effort)
            purchases.require(generator.bound_worth, generator.bound_best)
        listed, nodes = FIRST_LIST, FIRST_NODES
        for turn in range(MOST_TURNS):
            for n in range(DIVES_PER_TURN if one_price else 2 if turn == 0 else 1):
                # With one price the bound is nearly always met: ask for it outright, and for
                # one bar less every second time, lest a plan that is far off stays.
                target = self.bound if one_price and n != 1 else self.cost - 1
                plan = dive(
                    self.sawing,
                    generator,
                    self.effort,
                    self.rng,
                    target,
                    noise=0.0 if turn + n == 0 else 0.1 * min(turn + n, 10),
                    lazy=one_price and n % 3 < 2,
                )
                if self.offer(plan):
                    self.raise_bound(self.bound)
                if one_price and turn + n == 0 and not self.done:
                    self.short_list(generator, table)
                elif not self.done:
                    self.dive_short(1)
                if self.done:
                    return
            if purchases is not None:
                self.buy(generator, table, purchases, Care(2 + turn, listed, nodes))
                if self.done:
                    return
            # The solver's choice among known columns is slow: less often than dives.
            known_too = turn % 3 == 2
            if purchases is None or known_too:
                while self.prove(generator, table, listed, nodes, known_too):
                    if self.done:
                        return
            if self.done:
                return
            listed, nodes = min(LAST_LIST, listed * 4), nodes * 2

    def buy(self, generator: Generator, table: Table, purchases: Purchases, care: Care) -> None:
        """Try purchases in the order of cost until one can be sawn.

        Args:
            generator: Holds the columns.
            table: The knapsack.
            purchases: Conditions on what is bought, kept between turns.
            care: What to spend on one purchase.
        """
        sawing, doubts = self.sawing, 0
        low = self.bound
        while not self.done:
            found = span(purchases, low, min(self.cost - 1, sawing.dearest))
            if found is None:
                return
            top, queue = found
            while len(queue) and not self.done:
                bought = queue[0]
                cost = int(bought @ sawing.price)
                if cost >= self.cost:
                    break
                if not doubts:
                    self.bound = max(self.bound, cost)
                key = bought.tobytes()
                if key in self.ruled_out:
                    queue = queue[1:]
                    continue
                verdict = judge(
                    sawing, generator, table, purchases, bought, care, self.effort, self.rng
                )
                self.offer(verdict.plan)
                if verdict.ruled_out:
                    self.ruled_out.add(key)
                elif verdict.plan is None:
                    doubts += 1
                    if doubts > MOST_DOUBTS:
                        return
                queue = queue[1:]
                queue = queue[purchases.met_by(queue)]
            if self.effort.used_up():
                return
            low = min(top + 1, self.cost)
            if not doubts:
                self.bound = max(self.bound, low)

    def short_list(self, generator: Generator, table: Table) -> None:
        """Meet the bound with the few patterns that can, or show that they cannot.

        Where the bound leaves next to no waste, few patterns can be in a plan that meets it:
        a search among them is far quicker than one that prices new ones.
        """
        sawing = self.sawing
        if (sawing.available >= 0).any():
            return
        generator.converge(
            self.rng, sawing.demand, sawing.available, whole_problem=True, to_the_end=True
        )
        worths = feasible_worths(
            sawing, table, generator.bound_worth, generator.bound_best, generator.parts
        )
        listing = patterns_within(
            sawing, worths, self.bound, SHORT_LIST, self.effort, maximal=False
        )
        if listing is None:
            return
        self.short = (self.bound, *listing)
        self.dive_short(SHORT_ROUNDS)
        if not self.done:
            self.prove(generator, table, SHORT_LIST, FIRST_NODES, False)

    def dive_short(self, rounds: int) -> None:
        """Search the short list anew: many short rounds, as one may go astray for long."""
        for _ in range(rounds):
            if self.short is None or self.short[0] != self.bound or self.done:
                return
            target, stock, pieces = self.short
            self.offer(
                dive_in_list(self.sawing, stock, pieces, target, SHORT_NODES, self.effort, self.rng)
            )

    def prove(
        self, generator: Generator, table: Table, listed: int, nodes: int, known_too: bool
    ) -> bool:
        """List all patterns that plans up to some cost can use; let the integer solver choose.

        The cost is the highest, below that of the best plan, for which the list is not too
        long. Either the solver finds a plan, which is then the best of all, or the bound
        rises above that cost. Where even the bound's own list is too long, the solver
        chooses among the columns known: that can give a better plan, never a proof.

        Args:
            generator: Holds the bound and its worths.
            table: The knapsack.
            listed: Patterns allowed on the list.
            nodes: Branching nodes allowed.
            known_too: Where every list is too long, choose among the columns known.

        Returns:
            True if the plan or the bound improved.
        """
        sawing = self.sawing
        worths = feasible_worths(
            sawing, table, generator.bound_worth, generator.bound_best, generator.parts
        )
        top = min(self.cost - 1, sawing.dearest)
        target, listing = self.longest_list(worths, top, listed)
        if listing is None and not known_too:
            return False
        if listing is None:
            target, nodes = top, KNOWN_NODES
            stock, pieces = self.known_within(generator.master, worths, target)
        else:
            stock, pieces = listing
        chosen = Chosen(None, True)
        better = False
        # Quick to show that there is none; where there may be one, found better without.
        steps = [(True, min(nodes, ROOT_NODES)), (False, nodes)]
        first = 0 if listing is not None and len(stock) <= LONG_LIST else 1
        for only_within, most_nodes in steps[first:]:
            if not len(stock):
                break
            chosen = choose_bars(
                sawing,
                stock,
                pieces,
                sawing.demand,
                sawing.available,
                target,
                most_nodes,
                self.effort,
                only_within,
            )
            better = self.offer(chosen.plan) or better
            if chosen.exhausted or self.effort.used_up():
                break
        if listing is None:
            return better
        # A plan that costs more than `target` may use patterns off the list.
        sure = target + 1 if chosen.exhausted else min(target + 1, chosen.bound)
        before = self.bound
        self.raise_bound(min(sure, self.cost))
        return better or self.bound > before

    def longest_list(
        self, worths: Worths, top: int, listed: int
    ) -> tuple[int, tuple[Counts, Counts] | None]:
        """The highest cost up to `top` whose list of patterns is short enough, and the list."""
        low, high = self.bound, top
        found = patterns_within(self.sawing, worths, top, listed, self.effort)
        best: tuple[int, tuple[Counts, Counts] | None] = (top, found)
        if found is not None:
            return best
        while low < high and not self.effort.used_up():
            target = (low + high) // 2
            found = patterns_within(self.sawing, worths, target, listed, self.effort)
            if found is None:
                high = target
            else:
                best = (target, found)
                low = target + 1
                if 2 * len(found[0]) > listed:
                    break
        return best

    def known_within(self, master: Master, worths: Worths, target: int) -> tuple[Counts, Counts]:
        """Known columns that a plan of cost `target` can use, those of least reduced cost."""
        rows = np.flatnonzero(master.stock[: master.columns] >= 0)
        stock, pieces = master.stock[rows], master.pieces[rows]
        reduced = (
            self.sawing.price[stock] * worths.parts + worths.rent[stock] - pieces @ worths.piece
        )
        order = np.argsort(reduced, kind="stable")[:MOST_KNOWN]
        order = order[reduced[order] <= target * worths.parts - worths.total]
        return stock[order], pieces[order]
