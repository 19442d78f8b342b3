"""How good a plan can be at the most, and whether a known one is the best.

Outlines grown by half the passage lie apart, so each square's middle is covered once at the most.
A price on each square, taken back once for the whole ground, makes a bound that holds for every
plan: the cheapest priced candidates of all pieces, less the sum of the prices. Prices are raised
where pieces crowd (subgradient steps as of Held, Wolfe and Crowder 1974). What no better plan can
hold is struck off. What is left is split by where a piece stands, again and again, until each
part is struck off or branched through whole.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, hypot
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mewswright.fit.place_search import Table

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

ROOT_STEPS, STEPS_A_STRIKE = 1500, 50
NODE_STEPS = 60
NODE_LOOKS = 40_000  # candidates looked at in a part before it is split
FIRST_STEP, NODE_STEP = 1.2, 0.6
SMALL = 1e-6


@dataclass(frozen=True, eq=False)
class Group:
    """Some pieces of one mark, and the candidates that they may take: places in their mark."""

    mark: int
    count: int
    picks: "Ints"


@dataclass(frozen=True, eq=False)
class Part:
    """A part of all plans: its groups, prices, bound and the priced costs, group by group."""

    groups: tuple[Group, ...]
    price: "Floats"
    bound: float
    taken: float
    value: "tuple[Floats, ...]"


@dataclass(frozen=True, eq=False)
class Proof:
    """What is known at the end: the best plan, by mark, its cost, and the bound."""

    plan: "tuple[tuple[int, int], ...] | None"  # (mark, place in it); None: the known one stood
    cost: int
    bound: int
    parts: int


def runs_of(half_m: tuple[float, float], grow_m: float, headings: "Floats", step_m: float,
            most: int) -> "Ints":  # fmt: skip
    """Squares whose middle a turned rectangle covers, as grown.

    Args:
        half_m: Half its width and depth.
        grow_m: By how much it is grown.
        headings: Its headings [deg].
        step_m: Side of a square.
        most: Rows on each side of its middle.

    Returns:
        First and last column in each row, about its middle (headings, 2 most + 1, 2).
    """
    import numpy as np

    w, d = half_m[0] + grow_m, half_m[1] + grow_m
    offs = np.arange(-most, most + 1)
    x, y = np.meshgrid(offs * step_m, offs * step_m)
    runs = np.zeros((len(headings), len(offs), 2), np.int64)
    runs[:, :, 1] = -1
    for h, deg in enumerate(np.radians(headings)):
        u, v = -x * np.cos(deg) + y * np.sin(deg), -x * np.sin(deg) - y * np.cos(deg)
        inside = (np.abs(u) < w - SMALL) & (np.abs(v) < d - SMALL)
        for r in range(len(offs)):
            columns = np.flatnonzero(inside[r])
            if len(columns):
                runs[h, r] = offs[columns[0]], offs[columns[-1]]
    return runs


class Prover:
    """Bounds and branches over one table, against a known plan."""

    def __init__(self, table: "Table", own: "tuple[Ints, ...]", known: int,
                 late: Callable[[float], bool]) -> None:  # fmt: skip
        """Take a table, the cost of each candidate by mark, and the cost of a known plan."""
        import numpy as np

        ground = table.ground
        self._table, self._own, self.known, self._late = table, own, known, late
        pieces = [c.piece for c in ground.choices]
        step = ground.grid.step_m
        # A piece may claim the ground that it keeps free against everything else that is placed.
        claims = [
            min(
                (float(table.gap[m, k]) for k in range(len(pieces)) if k != m or n > 1),
                default=ground.site.passage_m / 2,
            )
            for m, n in enumerate(table.counts)
        ]
        self._pad = max(
            int(hypot(p.half_m[0] + g, p.half_m[1] + g) / step) + 1
            for p, g in zip(pieces, claims, strict=True)
        )
        self._runs = np.stack([
            runs_of(p.half_m, g, ground.fields.headings, step, self._pad)
            for p, g in zip(pieces, claims, strict=True)
        ])  # fmt: skip
        self.plan: tuple[tuple[int, int], ...] | None = None
        self.parts = 0

    def root(self) -> Part:
        """All plans: prices raised in turns with striking off."""
        import numpy as np

        grid = self._table.ground.grid
        price = np.zeros((grid.ny + 2 * self._pad, grid.nx + 2 * self._pad))
        groups = tuple(
            Group(m, n, np.arange(len(self._own[m]))) for m, n in enumerate(self._table.counts)
        )
        part = Part(groups, price, 0.0, 0.0, ())
        done, size, before = 0, FIRST_STEP, -np.inf
        while done < ROOT_STEPS:
            part = self.priced(part.groups, part.price, STEPS_A_STRIKE, size)
            done += STEPS_A_STRIKE
            if part.bound > self.known - 1 + SMALL or self._late(0.5):
                break
            if part.bound < before + 0.5:
                size /= 2
                if size < 0.02:
                    break
            before = part.bound
        return part

    def priced(self, groups: tuple[Group, ...], price: "Floats", steps: int, size: float) -> Part:
        """Raise the prices of a part, and strike off what no better plan can hold."""
        import numpy as np

        from mewswright.fit.place_raise import raise_prices

        choices = self._table.ground.choices
        starts = np.concatenate(([0], np.cumsum([len(g.picks) for g in groups]))).astype(np.int64)
        square = np.concatenate([choices[g.mark].square[g.picks] for g in groups])
        heading = np.concatenate([choices[g.mark].heading[g.picks] for g in groups])
        cost = np.concatenate([self._own[g.mark][g.picks] for g in groups])
        value = np.empty(len(cost))
        mine = price.copy()
        bound, taken = raise_prices(
            mine, square, heading, cost, starts,
            np.array([g.count for g in groups], np.int64),
            np.array([g.mark for g in groups], np.int64), self._runs,
            self._table.ground.grid.nx, self._pad, float(self.known), steps, size, value,
        )  # fmt: skip
        left, values = [], []
        for i, g in enumerate(groups):
            mine_v = value[starts[i] : starts[i + 1]]
            keep = mine_v - mine_v.min() + bound <= self.known - 1 + SMALL
            if not keep.any():
                keep[int(np.argmin(mine_v))] = True
            left.append(Group(g.mark, g.count, g.picks[keep]))
            values.append(mine_v[keep])
        return Part(tuple(left), mine, float(bound), float(taken), tuple(values))

    def prove(self, root: Part, most: int) -> Proof:
        """Split and branch until the best plan is proven or the time is up."""
        stack = [root]
        bound = float(self.known)
        while stack:
            part = stack.pop()
            if part.bound > self.known - 1 + SMALL:
                continue
            if self._late(0.9) or self.parts >= most:
                bound = min(bound, part.bound, *(p.bound for p in stack))
                break
            self.parts += 1
            if self._branched(part):
                continue
            children = [c for c in self._split(part) if c.bound <= self.known - 1 + SMALL]
            stack += sorted(children, key=lambda c: -c.bound)
        bound = self.known if bound >= self.known else max(ceil(bound - SMALL),
                                                           ceil(root.bound - SMALL))  # fmt: skip
        return Proof(self.plan, self.known, int(min(bound, self.known)), self.parts)

    def _branched(self, part: Part) -> bool:
        """Branch through a part if that is soon done; keeps what is better."""
        import numpy as np

        from mewswright.fit.place_branch import branch

        order = sorted(range(len(part.groups)), key=lambda g: len(part.groups[g].picks))
        groups = [part.groups[g] for g in order]
        sort = [np.argsort(part.value[g], kind="stable") for g in order]
        picks = [g.picks[s] for g, s in zip(groups, sort, strict=True)]
        values = np.concatenate([part.value[g][s] for g, s in zip(order, sort, strict=True)])
        cand, starts = self._table.rows([(g.mark, p) for g, p in zip(groups, picks, strict=True)])
        weight = np.concatenate([self._own[g.mark][p] for g, p in zip(groups, picks, strict=True)])
        pieces = np.repeat(np.arange(len(groups)), [g.count for g in groups])
        best = np.full(len(pieces), -1, np.int64)
        limit, done = branch(
            best, part.taken, values, weight, pieces, starts, cand,
            self._table.rules([g.mark for g in groups]), self.known, NODE_LOOKS,
        )  # fmt: skip
        if best.min(initial=0) >= 0:
            self.known = int(limit)
            self.plan = tuple(
                (groups[g].mark, int(picks[g][best[i] - starts[g]])) for i, g in enumerate(pieces)
            )
        return bool(done)

    def _split(self, part: Part) -> list[Part]:
        """Two halves of one group's candidates, by where they lie, and how many pieces in each."""
        import numpy as np

        choices, grid = self._table.ground.choices, self._table.ground.grid
        which, spread = 0, -1.0
        way: Floats = np.zeros(0)
        for i, g in enumerate(part.groups):
            if len(g.picks) < 2:
                continue
            c = choices[g.mark]
            near = 1.0 / (1.0 + part.value[i] - part.value[i].min())  # what the bound leans on
            rows, columns = np.divmod(c.square[g.picks], grid.nx)
            for axis in (columns * grid.step_m, rows * grid.step_m):
                middle = np.average(axis, weights=near)
                wide = float(np.average((axis - middle) ** 2, weights=near))
                if wide > spread:
                    which, spread, way = i, wide, axis
        group = part.groups[which]
        if spread <= 1e-9:  # all on one spot: part them by their order
            way = np.arange(len(group.picks), dtype=np.float64)
        cut = np.median(way)
        low = way < cut if (way < cut).any() else way <= cut
        if low.all():
            low = np.arange(len(way)) < len(way) // 2
        children = []
        for count in range(group.count + 1):
            halves = [Group(group.mark, n, group.picks[of])
                      for n, of in ((count, low), (group.count - count, ~low)) if n]  # fmt: skip
            rest = (*part.groups[:which], *part.groups[which + 1 :])
            children.append(self.priced((*rest, *halves), part.price, NODE_STEPS, NODE_STEP))
        return children


def prove(
    table: "Table", own: "tuple[Ints, ...]", known: int, late: Callable[[float], bool], parts: int
) -> Proof:
    """Bound all plans, and find a better one than the known or prove that there is none.

    Args:
        table: Candidates and pieces.
        own: Cost of each candidate, by mark.
        known: Cost of a whole plan.
        late: Says whether a share of the time is used up.
        parts: Most parts of all plans to look into.
    """
    prover = Prover(table, own, known, late)
    root = prover.root()
    if root.bound > known - 1 + SMALL:
        return Proof(None, known, known, 0)
    return prover.prove(root, parts)
