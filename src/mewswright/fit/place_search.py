"""The best plan: every piece in a place of its own, the cheapest together.

First ruin and rebuild from a cheap start; then prices on the ground say how good a plan can be;
then whole plans are branched through until the best is proven or the time is up. A proof holds
for the stated squares and headings, the costs in hundredths of a point, and the rules between
pieces as `place_kernel.clash` has them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from mewswright.checks.sightlines import RANGE_M
from mewswright.fit.place_bound import prove as prove_best
from mewswright.fit.place_candidates import Ground
from mewswright.fit.place_fears import must_not_meet
from mewswright.fit.place_ground import APART_M
from mewswright.fit.place_piece import Piece

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

HEAT = 250  # hundredths of a point by which a step may be worse at first, for twelve pieces
ROUNDS = 1000  # of ruin and rebuild at a time
NEAR = 0.03  # share of the best cost: what comes so near is improved by windows
WINDOW, WINDOW_LOOKS = 3, 60_000  # pieces in a window, and candidates looked at in one


@dataclass(frozen=True)
class Limits:
    """How long a search may go on: by counts, and by a clock where the shell lends one."""

    rounds: int  # of ruin and rebuild
    late: Callable[[float], bool]  # whether a share of the time is used up
    parts: int = 2000  # of all plans that are looked into for the proof


@dataclass(frozen=True, eq=False)
class Found:
    """A plan: the candidate of each piece in its mark, -1 where it found no place.

    `cost` and `bound` are hundredths of a point over all pieces.
    """

    chosen: tuple[int, ...]
    cost: int
    bound: int
    rounds: int
    parts: int

    @property
    def is_whole(self) -> bool:
        """Whether every piece has a place."""
        return min(self.chosen, default=0) >= 0

    @property
    def is_proven(self) -> bool:
        """Whether no plan of these candidates is better."""
        return self.is_whole and self.bound >= self.cost


@dataclass(frozen=True, eq=False)
class Table:
    """Candidates and pieces as the compiled part reads them."""

    ground: Ground
    mark: "Ints"  # of each piece
    counts: tuple[int, ...]
    trig: "Floats"
    size: "Floats"
    gap: "Floats"
    fear: "NDArray[np.bool_]"
    turns: "Floats"
    nturn: "Ints"
    middles: "tuple[Floats, Floats]"

    def rules(self, marks: Sequence[int]) -> tuple[Any, ...]:
        """What `clash` asks for beside two candidates, for groups of these marks."""
        import numpy as np

        of = np.array(marks, np.int64)
        both = np.ix_(of, of)
        return (self.trig, self.size[of], self.gap[both], self.fear[both], self.turns[of],
                self.nturn[of], RANGE_M)  # fmt: skip

    def rows(self, picks: "Sequence[tuple[int, Ints]]") -> tuple["Floats", "Ints"]:
        """Candidates of some groups one after the other, and where each group starts.

        Args:
            picks: For each group its mark, and places in the candidates of that mark.
        """
        import numpy as np

        x, y = self.middles
        parts = []
        for mark, pick in picks:
            choice = self.ground.choices[mark]
            square = choice.square[pick]
            parts.append(np.column_stack((x[square], y[square], choice.heading[pick])))
        starts = np.concatenate(([0], np.cumsum([len(p) for p in parts]))).astype(np.int64)
        return np.ascontiguousarray(np.concatenate(parts), float), starts


def table_of(ground: Ground) -> Table:
    """Make the table of a ground."""
    import numpy as np

    marks = [choice.alike for choice in ground.choices]
    mark = np.array([marks.index(piece.alike) for piece in ground.pieces], np.int64)
    firsts = [choice.piece for choice in ground.choices]
    deg = np.radians(ground.fields.headings)
    counts = tuple(int((mark == m).sum()) for m in range(len(marks)))
    gap = parts_of_gap_m(firsts, counts, ground.site.passage_m)
    most = max(1, *(len(p.open_turns) for p in firsts))
    turns = np.zeros((len(firsts), most))
    for i, piece in enumerate(firsts):
        turns[i, : len(piece.open_turns)] = np.radians(piece.open_turns)
    return Table(
        ground, mark, counts,
        np.column_stack((np.cos(deg), np.sin(deg), deg)),
        np.array([p.half_m for p in firsts]), gap, must_not_meet(ground.fears, firsts), turns,
        np.array([len(p.open_turns) for p in firsts], np.int64), ground.grid.middles(),
    )  # fmt: skip


def parts_of_gap_m(pieces: Sequence[Piece], counts: Sequence[int], passage_m: float) -> "Floats":
    """By how much each piece is grown when it is held against each other one [m].

    Half the passage, as a rule. Isolation keeps apart from all others: where there is one alone it
    brings the whole of what is more, so that its ground is priced whole; else both bring half.
    """
    import numpy as np

    n = len(pieces)
    told = np.full((n, n), passage_m / 2)
    isolated = [p.living_kind == "isolation" for p in pieces]
    alone = sum(c for c, i in zip(counts, isolated, strict=True) if i) == 1
    for a in range(n):
        for b in range(n):
            if isolated[a] != isolated[b] and passage_m < APART_M:
                more = APART_M - passage_m / 2 if isolated[a] else passage_m / 2
                told[a, b] = more if alone else APART_M / 2
    return told


def search(table: Table, seed: int, limits: Limits, costs: "tuple[Ints, ...] | None" = None,
           prove: bool = True, start: Sequence[int] | None = None) -> Found:  # fmt: skip
    """Find the best plan of a table.

    Args:
        table: Candidates and pieces.
        seed: Of the chances.
        limits: How long.
        costs: Cost of each candidate, by mark; None = by the pieces' own weights.
        prove: Whether to work out a bound and branch.
        start: Candidates to begin from.
    """
    import numpy as np

    own = tuple(c.costs() for c in table.ground.choices) if costs is None else costs
    orders = [np.argsort(c, kind="stable") for c in own]
    cand, starts = table.rows(list(enumerate(orders)))
    cost = np.concatenate([c[o] for c, o in zip(own, orders, strict=True)])
    n = len(table.mark)
    best = np.full(n, -1, np.int64)
    if start is not None:
        for p, i in enumerate(start):
            m = table.mark[p]
            if i >= 0:
                best[p] = starts[m] + int(np.flatnonzero(orders[m] == i)[0])
    rows = Rows(cand, cost, starts, table.rules(range(len(table.counts))))
    best, rounds = _rebuilt(table, best, seed, limits, rows)
    chosen = _places(table, best, starts, orders)
    value = _cost(table, chosen, own)
    if not prove or min(chosen) < 0:
        return Found(chosen, value, 0, rounds, 0)
    told = prove_best(table, own, value, limits.late, limits.parts)
    if told.plan is not None:
        chosen = _dealt(table, told.plan)
    return Found(chosen, told.cost, told.bound, rounds, told.parts)


def _dealt(table: Table, plan: Sequence[tuple[int, int]]) -> tuple[int, ...]:
    """Deal the candidates of a plan out to the pieces of their marks, in order."""
    by_mark: dict[int, list[int]] = {}
    for mark, place in plan:
        by_mark.setdefault(mark, []).append(place)
    for places in by_mark.values():
        places.sort(reverse=True)
    return tuple(by_mark[int(mark)].pop() for mark in table.mark)


@dataclass(frozen=True, eq=False)
class Rows:
    """All candidates, the cheapest of each mark first, as the compiled part reads them."""

    cand: "Floats"
    cost: "Ints"
    starts: "Ints"
    rules: tuple[Any, ...]


def _rebuilt(table: Table, first: "Ints", seed: int, limits: Limits, rows: Rows
             ) -> "tuple[Ints, int]":  # fmt: skip
    """Ruin and rebuild in turns, from the best and from nothing, each time cooled down.

    What comes near the best is improved by windows: three pieces at a time in their best places.
    """
    import numpy as np

    from mewswright.fit.place_kernel import rebuild, total

    best, found = first.copy(), int(total(first, rows.cost))
    heat = HEAT * len(best) / 12
    done, turn = 0, 0
    while done < limits.rounds:
        state = best.copy() if turn % 3 == 2 else np.full_like(best, -1)
        rounds = min(ROUNDS, limits.rounds - done)
        value = rebuild(state, rounds, (seed * 7919 + turn) % 2**31, table.mark, rows.starts,
                        rows.cand, rows.cost, rows.rules, heat)  # fmt: skip
        if state.min() >= 0 and value <= found * (1 + NEAR):
            value = _in_windows(table, state, value, rows)
        if value < found:
            best, found = state, int(value)
        done, turn = done + rounds, turn + 1
        if limits.late(0.35):
            break
    return best, done


def _in_windows(table: Table, state: "Ints", value: int, rows: Rows) -> int:
    """Set some neighbours down anew, in their best places together; until nothing gets better."""
    import numpy as np

    from mewswright.fit.place_branch import branch
    from mewswright.fit.place_kernel import still_open

    n = len(state)
    many = min(WINDOW, n)
    fresh = list(range(n))
    while fresh:
        centre = fresh.pop(0)
        spots = rows.cand[state, :2]
        near = np.argsort(np.hypot(*(spots - spots[centre]).T), kind="stable")[:many]
        skip = np.zeros(n, bool)
        skip[near] = True
        kept = int(rows.cost[state[~skip]].sum())
        least = [int(rows.cost[rows.starts[table.mark[p]]]) for p in near]
        group = sorted(range(many), key=lambda k: int(table.mark[near[k]]))
        marks, lists = [], []
        for k in group:
            p = near[k]
            m = int(table.mark[p])
            dearest = value - 1 - kept - (sum(least) - least[k])
            first, last = rows.starts[m], rows.starts[m + 1]
            lists.append(still_open(p, first, last, dearest, state, table.mark, skip, rows.cand,
                                    rows.cost, rows.rules))  # fmt: skip
            marks.append(m)
        if min(len(one) for one in lists) == 0:
            continue
        picks = np.concatenate(lists)
        starts = np.concatenate(([0], np.cumsum([len(one) for one in lists]))).astype(np.int64)
        chosen = np.full(many, -1, np.int64)
        limit, _ = branch(
            chosen, 0.0, rows.cost[picks].astype(float), rows.cost[picks], np.arange(many), starts,
            np.ascontiguousarray(rows.cand[picks]), table.rules(marks), value - kept, WINDOW_LOOKS,
        )  # fmt: skip
        if chosen.min() >= 0:
            for k, i in zip(group, chosen, strict=True):
                state[near[k]] = picks[i]
            value = kept + int(limit)
            fresh = [*fresh, *(int(p) for p in near if p not in fresh)]
    return value


def _places(
    table: Table, best: "Ints", starts: "Ints", orders: "Sequence[Ints]"
) -> tuple[int, ...]:
    told = []
    for p, i in enumerate(best):
        m = int(table.mark[p])
        told.append(-1 if i < 0 else int(orders[m][int(i) - int(starts[m])]))
    return tuple(told)


def _cost(table: Table, chosen: Sequence[int], own: "tuple[Ints, ...]") -> int:
    return sum(int(own[int(table.mark[p])][i]) for p, i in enumerate(chosen) if i >= 0)
