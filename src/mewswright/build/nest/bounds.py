"""Bounds: what no plan can undercut.

Each bound is a weighing: a weight for each piece, and for each sheet on offer the most weight
that one sheet can hold. Any purchase that holds the weight of all pieces costs at least the
bound, so a wrong weight could only make a bound weaker than it might be, never false.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.cut.solver import quiet_solver
from mewswright.build.nest.sheets import Fill, Ints, Nesting
from mewswright.build.nest.strips import best_strips

Floats = NDArray[np.float64]

HAIR = 1e-6  # a float's hair, by which a bound may not be rounded up
NUMBERS_A_UNIT = 200.0  # of a table, filled in about a microsecond
LONGEST = 10_000  # units along a side, for tables with a place for each
MOST_POINTS = 3000  # places of a cut along one side; more would take the table too long


def least_price(nesting: Nesting, weight: float, holds: Floats) -> int:
    """Least price of sheets that together hold a weight.

    Args:
        nesting: Prices and how many sheets there are.
        weight: Weight of all pieces.
        holds: Most weight on one sheet of each kind.
    """
    import highspy

    price, available = nesting.price, nesting.available
    if len(price) == 1:
        if holds[0] <= 0:
            return 0
        return int(np.ceil(weight / holds[0] - HAIR)) * int(price[0])
    highs = quiet_solver(mip_rel_gap=0.0, mip_abs_gap=0.5, mip_max_nodes=2000)
    scale = max(float(holds.max()), 1e-12)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(price), 1
    lp.col_cost_ = price.astype(float)
    lp.col_lower_ = np.zeros(len(price))
    lp.col_upper_ = np.where(available < 0, highspy.kHighsInf, available).astype(float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(price)
    lp.row_lower_, lp.row_upper_ = (
        np.array([weight / scale - HAIR]), np.array([highspy.kHighsInf]),
    )  # fmt: skip
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.arange(len(price) + 1, dtype=np.int32)
    lp.a_matrix_.index_ = np.zeros(len(price), dtype=np.int32)
    lp.a_matrix_.value_ = holds / scale
    highs.passModel(lp)
    highs.run()
    below = highs.getInfo().mip_dual_bound
    if not np.isfinite(below):
        return 0
    return max(0, int(np.ceil(below - HAIR * max(1.0, abs(below)))))


def area_bound(nesting: Nesting) -> int:
    """Least price by area, kerfs and all."""
    weight = float(nesting.area @ nesting.demand)
    return least_price(nesting, weight, nesting.room.astype(float))


def _stretches() -> Iterator[tuple[str, float]]:
    yield "same", 0.0
    for part in (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 1 / 3, 0.375, 0.4, 0.45, 0.5):
        yield "ends", part
    for k in (1, 2, 3, 4):
        yield "steps", k


def _stretched(kind: str, value: float, size: Ints, side: int) -> Floats:
    """A dual feasible function of lengths: pieces that fit a side still do, stretched.

    Source:
        Fekete and Schepers, Mathematical Programming 91 (2001), u^(k) and U^(eps), in their
        two-dimensional use: Mathematical Methods of Operations Research 60 (2004).
    """
    share = size / side
    if kind == "same":
        return share
    if kind == "ends":
        limit = value * side
        out = np.where(size > side - limit, 1.0, share)
        return np.where(size < limit, 0.0, out)
    k = value
    whole = (size * (k + 1)) % side == 0
    return np.where(whole, share, np.floor(size * (k + 1) / side) / k)


def size_bound(nesting: Nesting) -> int:
    """Least price by stretched sizes, where all frames are of one sheet; else 0.

    Large pieces that cannot share a sheet count as if they filled it. A piece that may be
    turned counts as the smaller of its two ways.
    """
    if len(nesting.price) != 1:
        return 0
    wide, high = int(nesting.wide[0]), int(nesting.high[0])
    fits, piece = nesting.fits[0], nesting.piece
    across = {s: _stretched(*s, nesting.across[0], wide) for s in _stretches()}
    up = {s: _stretched(*s, nesting.up[0], high) for s in _stretches()}
    best = 0.0
    for f in across.values():
        for g in up.values():
            weight = np.full(len(nesting.demand), np.inf)
            np.minimum.at(weight, piece[fits], (f * g)[fits])
            weight[~np.isfinite(weight)] = 0.0
            best = max(best, float(weight @ nesting.demand))
    return least_price(nesting, best, np.ones(1))


def points_of(sizes: Ints, copies: Ints, side: int) -> Ints | None:
    """Where a cut can lie along a side: sums of sizes, each at most so often; None: too many."""
    mask = 1
    full = (1 << (side + 1)) - 1
    for size, count in zip(sizes.tolist(), copies.tolist(), strict=True):
        for _ in range(min(count, side // size)):
            grown = (mask | (mask << size)) & full
            if grown == mask:
                break
            mask = grown
    if mask.bit_count() > MOST_POINTS:
        return None
    bits = np.frombuffer(mask.to_bytes(side // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little")).astype(np.int64)


class Relaxed:
    """The richest three-stage fill of one frame, each piece as often as one likes.

    A knapsack of ways makes stacks, one of stacks makes strips, one of strips the sheet.
    Since a real plan uses a piece only as often as it is wanted, no real fill is worth more.

    Source:
        Gilmore and Gomory, Operations Research 13 (1965).
    """

    def __init__(self, nesting: Nesting, frame: int) -> None:
        """Lay out the places of cuts; `ready` is False where they are too many."""
        self.nesting, self.frame = nesting, frame
        self.ways = np.flatnonzero(nesting.fits[frame] & (nesting.demand[nesting.piece] > 0))
        self.a, self.b = nesting.across[frame, self.ways], nesting.up[frame, self.ways]
        copies = nesting.demand[nesting.piece[self.ways]]
        xs = points_of(self.a, copies, int(nesting.wide[frame]))
        ys = points_of(self.b, copies, int(nesting.high[frame]))
        self.ready = xs is not None and ys is not None and len(self.ways) > 0
        if xs is not None and ys is not None and self.ready:
            self.xs, self.ys = xs, ys
            self.widths = np.unique(self.a)
            self.back_x = np.searchsorted(xs, xs[:, None] - self.widths[None, :], "right") - 1
            self.back_y = np.searchsorted(ys, ys[:, None] - self.b[None, :], "right") - 1
            self.back_h = np.searchsorted(ys, ys[:, None] - ys[None, :], "right") - 1

    @property
    def work(self) -> float:
        """Numbers that one filling of the tables touches."""
        return float(len(self.xs) * len(self.widths) * len(self.ys)) + len(self.ys) ** 2

    def richest(self, worth: Floats) -> float:
        """Fill the tables for given worths of the pieces; gives the worth of a full sheet."""
        value = worth[self.nesting.piece[self.ways]]
        nx, ny, nw = len(self.xs), len(self.ys), len(self.widths)
        narrow = self.a[None, :] <= self.widths[:, None]  # (widths, ways)
        stack = np.zeros((ny, nw))
        for y in range(ny):
            can = np.flatnonzero(self.back_y[y] >= 0)
            if len(can):
                got = stack[self.back_y[y, can]].T + value[can][None, :]
                stack[y] = np.where(narrow[:, can], got, 0.0).max(axis=1)
        strip = np.zeros((nx, ny))
        turned = stack.T.copy()
        for x in range(nx):
            can = np.flatnonzero(self.back_x[x] >= 0)
            if len(can):
                strip[x] = (strip[self.back_x[x, can]] + turned[can]).max(axis=0)
        whole = np.zeros(ny)
        rich = strip[nx - 1]
        for y in range(ny):
            can = np.flatnonzero(self.back_h[y] >= 0)[1:]  # the first has no height
            if len(can):
                whole[y] = (whole[self.back_h[y, can]] + rich[can]).max()
        return float(whole[ny - 1])


class Relaxation:
    """The pattern bound: what the worths of a linear program over sheets prove.

    Of two stages the richest fill is found exactly, each piece at most as often as it is
    wanted. Of three stages it is relaxed: each piece as often as it fits.
    """

    def __init__(self, nesting: Nesting, stages: int, effort: Effort) -> None:
        """Prepare all frames; `ready` is False where a table would be too large."""
        self.nesting, self.effort, self.stages = nesting, effort, stages
        frames = range(len(nesting.sheet)) if stages == 3 else ()
        self.frames = [Relaxed(nesting, f) for f in frames]
        longest = max(int(nesting.wide.max()), int(nesting.high.max()))
        self.ready = all(f.ready for f in self.frames) and (stages == 3 or longest <= LONGEST)

    @property
    def work(self) -> float:
        """Units of effort [about 1 us] that one bound takes."""
        return sum(frame.work for frame in self.frames) / NUMBERS_A_UNIT

    def bound(self, worth: Floats) -> tuple[int, list[Fill]]:
        """The bound that given worths of the pieces prove, and fills met on the way."""
        n = self.nesting
        holds = np.zeros(len(n.price))
        fills = []
        for frame in self.frames:
            sheet = int(n.sheet[frame.frame])
            holds[sheet] = max(holds[sheet], frame.richest(worth))
            self.effort.spend(frame.work / NUMBERS_A_UNIT)
        for f in range(len(n.sheet)) if self.stages == 2 else ():
            ways = np.flatnonzero(n.fits[f])
            rich = best_strips(
                n.across[f, ways], n.up[f, ways], worth[n.piece[ways]], n.piece[ways],
                n.demand, int(n.wide[f]), int(n.high[f]), self.effort.share(0.2),
                whole=False,
            )  # fmt: skip
            holds[n.sheet[f]] = max(holds[n.sheet[f]], rich.bound)
            if rich.strips:
                strips = tuple(tuple((int(ways[w]),) for w in strip) for strip in rich.strips)
                fills.append(Fill(f, strips))
        weight = float(worth @ n.demand)
        return least_price(n, weight, holds * (1 + 1e-9)), fills
