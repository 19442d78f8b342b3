"""From pieces to filled sheets of least price.

Beam search gives plans at once. Their sheets become the columns of a linear program, whose
duals say what each piece is worth; beam search on one sheet fills it with what is worth most;
that repeats. The integer solver then chooses sheets among all that were seen, and dives
fix some sheets and lay the rest anew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from mewswright.build.cut.effort import UNITS_PER_SECOND, Effort
from mewswright.build.cut.master import Master
from mewswright.build.cut.mip import choose_bars
from mewswright.build.cut.sawing import Sawing
from mewswright.build.nest.beam import Beam, Guide
from mewswright.build.nest.bounds import Floats, Relaxation, area_bound, size_bound
from mewswright.build.nest.sheets import Fill, Ints, Nesting

GUIDES = (Guide(0.1, 1.0), Guide(0.1, 0.5), Guide(0.0, 1.0), Guide(0.03, 0.7), Guide(0.3, 1.0))
FILL_GUIDE = Guide(0.05, 0.0)
CROWDED = 15  # pieces a sheet (judgement)
BEAM_SHARE, COLUMN_SHARE = 0.2, 0.4  # of what is left, before something else is tried
EARLY_SHARE, LAST_SHARE = 0.03, 0.3  # of what is left, for one bound


@dataclass
class Outcome:
    """What the search found."""

    fills: list[Fill] | None
    cost: int
    bound: int
    bound_by: str


class Search:
    """One nesting, searched."""

    def __init__(
        self, nesting: Nesting, stages: int, effort: Effort, seed: int, unit: int = 1
    ) -> None:
        """Open.

        Args:
            nesting: Pieces and sheets.
            stages: 2 or 3 stages of cuts before the last trim.
            effort: When to stop.
            seed: Seed of all chances.
            unit: Price that counts; less than that is only a preference.
        """
        self.nesting, self.stages, self.effort, self.unit = nesting, stages, effort, unit
        self.chance = np.random.default_rng(seed)
        self.beam = Beam(nesting, effort, seed, stages)
        self.best: list[Fill] | None = None
        self.cost = 0
        self.together = 0.0  # squares of the largest offcuts: one large beats two half as large
        self.relaxation: Relaxation | None = None
        self.bound, self.bound_by = area_bound(nesting), "area"
        sized = size_bound(nesting)
        if sized > self.bound:
            self.bound, self.bound_by = sized, "sizes"
        self.fill_of: dict[tuple[int, bytes], Fill] = {}
        self.sawing = Sawing(
            size=nesting.area,
            demand=nesting.demand,
            room=nesting.room,
            price=nesting.price,
            available=nesting.available,
        )
        self.sawing = replace(self.sawing, missing_price=100 * (self.sawing.dearest + 1))
        self.master = Master(self.sawing, effort)

    def run(self) -> Outcome:
        """Search until the bound is met or the effort is used up."""
        width = 12
        self.beams(width, self.orders())
        steps: list[Callable[[], None]] = [partial(self.columns, 40), partial(self.choose, 0.25)]
        if self.crowded():
            steps = []
        while True:
            for step in steps:
                if self.done() or self.effort.used_up():
                    return Outcome(self.best, self.cost, self.bound, self.bound_by)
                step()
            if self.crowded() and width < 300:
                # Columns of many small pieces seldom fit together: a broader beam does more.
                width *= 3
                steps = [partial(self.beams, width, self.purchases(4) or self.orders())]
                continue
            width = min(400, int(width * 1.7))
            steps = [
                partial(self.dive, max(16, width // 2)),
                partial(self.beams, width, self.purchases(4) or self.orders()),
                partial(self.columns, 10),
                partial(self.choose, 0.3),
            ]

    def crowded(self) -> bool:
        """Say whether many pieces lie on a sheet."""
        return self.best is not None and self.nesting.demand.sum() > CROWDED * len(self.best)

    def done(self) -> bool:
        """True once nothing better can be."""
        return self.best is not None and self.cost // self.unit <= self.bound // self.unit

    # Plans

    def offer(self, fills: list[Fill]) -> None:
        """Remember a plan's sheets, and the plan if it is the cheapest."""
        counts = [fill.counts(self.nesting) for fill in fills]
        for fill, pieces in zip(fills, counts, strict=True):
            self.column(fill, pieces)
        sheets = self.nesting.sheet[[fill.frame for fill in fills]]
        used = np.bincount(sheets, minlength=len(self.nesting.price))
        limit = self.nesting.available
        if bool(
            (used > limit)[limit >= 0].any() or (np.sum(counts, axis=0) < self.nesting.demand).any()
        ):
            return
        cost = int(self.nesting.price[sheets].sum())
        together = sum(fill.spare(self.nesting) ** 2 for fill in fills)
        if self.best is None or (cost, -together) < (self.cost, -self.together):
            self.best, self.cost, self.together = fills, cost, together

    def column(self, fill: Fill, pieces: Ints) -> bool:
        """Add a filled sheet to the linear program; True if it is new."""
        sheet = int(self.nesting.sheet[fill.frame])
        if not self.master.add(sheet, pieces):
            return False
        self.fill_of[sheet, pieces.tobytes()] = fill
        return True

    def orders(self) -> list[Ints]:
        """In what order sheets may be taken: the rack first, then the best value."""
        n = self.nesting
        worth_of = n.price / n.room
        fits = np.array([n.fits[n.sheet == s].any() for s in range(len(n.price))])
        limited = [s for s in range(len(n.price)) if n.available[s] >= 0 and fits[s]]
        endless = [s for s in range(len(n.price)) if n.available[s] < 0 and fits[s]]
        limited.sort(key=lambda s: (worth_of[s], n.price[s]))
        rack = [s for s in limited for _ in range(min(int(n.available[s]), int(n.demand.sum())))]
        if not endless:
            backwards = sorted(rack, key=lambda s: -n.room[s])
            return [np.array(rack), np.array(backwards)] if rack else []
        found = []
        for s in sorted(endless, key=lambda s: worth_of[s])[:3]:
            better = [r for r in rack if worth_of[r] <= worth_of[s]]
            found.append(np.array([*better, s]))
            if better:
                found.append(np.array([s]))
        return found

    def purchases(self, most: int) -> list[Ints]:
        """Some purchases, by chance, that are cheaper than the best plan and large enough."""
        n = self.nesting
        if len(n.price) == 1 or self.best is None:
            return []
        area = int(n.area @ n.demand)
        found = []
        for _ in range(20 * most):
            bought, room, price = [], 0, 0
            left = n.available.copy()
            while room < area and price // self.unit < self.cost // self.unit:
                can = np.flatnonzero((left != 0) & (n.price + price < self.cost))
                if not len(can):
                    break
                s = int(self.chance.choice(can))
                left[s] -= left[s] > 0
                bought.append(s)
                room, price = room + int(n.room[s]), price + int(n.price[s])
            if room >= area and price < self.cost:
                order = sorted(bought, key=lambda s: -n.room[s])
                found.append(np.array(order if self.chance.random() < 0.6 else order[::-1]))
                if len(found) == most:
                    break
        return found

    def beams(self, width: int, orders: list[Ints]) -> None:
        """Whole plans by beam search, by each guide and order, for a share of what is left."""
        enough = self._share_used(BEAM_SHARE)
        for guide in GUIDES:
            for order in orders:
                for fills in self.beam.plans(self.nesting.demand, order, width, guide):
                    self.offer(fills)
                if self.done() or (self.best is not None and enough()):
                    return

    def _left(self) -> float:
        """What is left of the effort [units of about 1 us]."""
        left = self.effort.seconds_left() * UNITS_PER_SECOND
        if self.effort.units is not None:
            left = min(left, self.effort.units - self.effort.spent)
        return left

    def _share_used(self, share: float) -> Callable[[], bool]:
        """A question: is a share of what is left now used up?"""
        end = self._left() * (1 - share)
        return lambda: self._left() <= end

    # Columns

    def columns(self, rounds: int) -> None:
        """Column generation: fills that the linear program would pay for."""
        enough = self._share_used(COLUMN_SHARE)
        for turn in range(rounds):
            solved = None if self.effort.used_up() else self.master.solve()
            if solved is None:
                return
            _, _, worth, rent = solved
            new = self.priced(self.nesting.demand, worth, rent, 24 if turn % 2 else 48)
            if new == 0 or turn == rounds - 1 or enough():
                new += self.raise_bound(worth, LAST_SHARE)
            elif turn % 8 == 7:
                new += self.raise_bound(worth, EARLY_SHARE)
            if new == 0 or enough() or self.done():
                return

    def priced(self, demand: Ints, worth: Floats, rent: Floats, width: int) -> int:
        """Add fills worth more than their sheet; gives how many were new."""
        new = 0
        rents = np.zeros(len(self.nesting.price))
        rents[self.master.limited] = rent
        for s in range(len(self.nesting.price)):
            if self.nesting.available[s] == 0:
                continue
            fills = self.beam.fills(demand, np.array([s]), worth, width, FILL_GUIDE)
            for value, fill in fills:
                if value > self.nesting.price[s] + rents[s] + 1e-7:
                    new += self.column(fill, fill.counts(self.nesting))
        return new

    def raise_bound(self, worth: Floats, share: float) -> int:
        """Weigh pieces by their worth in the linear program; gives how many fills were new."""
        if self.relaxation is None:  # its tables of places are not made for nothing
            self.relaxation = Relaxation(self.nesting, self.stages, self.effort)
        if not self.relaxation.ready or self.relaxation.work > share * self._left():
            return 0
        bound, fills = self.relaxation.bound(worth)
        if bound > self.bound:
            self.bound, self.bound_by = bound, "patterns"
        return sum([self.column(fill, fill.counts(self.nesting)) for fill in fills])

    def choose(self, share: float) -> None:
        """The integer solver's choice among all sheets seen."""
        known = self.master.stock[: self.master.columns] >= 0
        pieces = self.master.pieces[: self.master.columns][known]
        stock = self.master.stock[: self.master.columns][known]
        if not len(stock):
            return
        most = self.cost - 1 if self.best is not None else self.sawing.dearest
        chosen = choose_bars(
            self.sawing, stock, pieces, self.nesting.demand, self.nesting.available,
            most, 500, self.effort.share(share),
        )  # fmt: skip
        if chosen.plan is not None:
            self.offer(
                [
                    self.fill_of[bars.stock, bars.pieces.tobytes()]
                    for bars in chosen.plan
                    for _ in range(bars.count)
                ]
            )

    def dive(self, width: int) -> None:
        """Fix the sheets that the linear program likes best, and lay the rest anew."""
        demand = self.nesting.demand.copy()
        available = self.nesting.available.copy()
        fixed: list[Fill] = []
        spent = 0
        while demand.any() and not self.effort.used_up():
            self.master.restrict(demand, available)
            for _ in range(3):
                solved = self.master.solve()
                if solved is None or self.effort.used_up():
                    break
                if not self.priced(demand, solved[2], solved[3], width):
                    break
            if solved is None:
                break
            amount = np.where(self.master.stock[: len(solved[1])] >= 0, solved[1], 0.0)
            amount = amount * self.chance.uniform(0.85, 1.15, size=len(amount))
            c = int(amount.argmax())
            if amount[c] < 1e-6:
                break
            pieces, sheet = self.master.pieces[c].copy(), int(self.master.stock[c])
            times = max(1, int(solved[1][c] + 1e-9))
            times = min(times, int((demand[pieces > 0] // pieces[pieces > 0]).min()) or 1)
            if available[sheet] >= 0:
                times = min(times, int(available[sheet]))
                available[sheet] -= times
            demand = np.maximum(demand - times * pieces, 0)
            fixed += [self.fill_of[sheet, pieces.tobytes()]] * times
            spent += times * int(self.nesting.price[sheet])
            if not demand.any():
                self.offer(fixed)
            elif demand.sum() < 0.7 * self.nesting.demand.sum():
                self.finish(fixed, demand, available, width)
            if self.done() or (self.best is not None and spent >= self.cost):
                break
        self.master.restrict(self.nesting.demand, self.nesting.available)

    def finish(self, fixed: list[Fill], demand: Ints, available: Ints, width: int) -> None:
        """Complete a part of a plan by beam search."""
        guide = GUIDES[int(self.chance.integers(len(GUIDES)))]
        for order in (*self.orders()[:2], *self.purchases(1)):
            left = available.copy()
            kept = []
            for s in order.tolist():
                if left[s] != 0:
                    kept.append(s)
                    left[s] -= left[s] > 0
            if not kept:
                continue
            for fills in self.beam.plans(demand, np.array(kept), width, guide, give=2):
                self.offer([*fixed, *fills])
