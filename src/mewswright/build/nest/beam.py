"""Beam search: lay one piece after another, and keep the most promising plans.

A plan grows at one place: into the stack in hand, as a new stack beside it, as a new strip
above, or on a new sheet. What lies left and below is closed. A strip may still grow as high,
and a stack as wide, as there is room, since what is left over is trimmed off. All
children of all plans of one step are judged at once, as arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.effort import Effort
from mewswright.build.nest.sheets import Bools, Fill, Ints, Nesting, Strips

Floats = NDArray[np.float64]

STACK, BESIDE, ABOVE, SHEET = range(4)  # where the next piece goes
CELLS_A_UNIT = 60.0  # children judged in about a microsecond


@dataclass
class _Plans:
    """Partial plans, one a row."""

    left: Ints  # (plans, pieces) still to lay
    frame: Ints
    sheets: Ints  # how many sheets are closed
    closed: Floats  # area of the closed sheets
    base: Ints  # y of the strip in hand
    tall: Ints  # its height
    x: Ints  # left edge of the stack in hand, in the strip
    broad: Ints  # its width
    y: Ints  # its top, above the strip's base
    last: Ints  # the way laid last
    laid: Floats  # area or worth of what is laid
    pieces: Ints  # how many pieces are laid
    key: NDArray[np.uint64]  # of what is left to lay

    def pick(self, rows: Ints) -> _Plans:
        return _Plans(**{name: value[rows] for name, value in vars(self).items()})


@dataclass
class _Step:
    parent: Ints
    way: Ints
    where: Ints
    frame: Ints


@dataclass(frozen=True)
class Guide:
    """What makes a partial plan promising: little waste, and large pieces gone.

    Plans are ordered by (offset + waste share) / (mean area of the laid pieces) ** power.
    """

    offset: float = 0.0
    power: float = 1.0


def _mixed(key: NDArray[np.uint64], *parts: Ints) -> NDArray[np.uint64]:
    for part in parts:
        key = (key ^ part.astype(np.uint64)) * np.uint64(0x9E3779B97F4A7C15)
        key = key ^ (key >> np.uint64(29))
    return key


class Beam:
    """A search over one nesting; holds what every run shares."""

    def __init__(self, nesting: Nesting, effort: Effort, seed: int, stages: int = 3) -> None:
        """Prepare.

        Args:
            nesting: Pieces and sheets.
            effort: When to stop.
            seed: Seed of the keys that tell plans apart.
            stages: 3, or 2: no piece above another in a stack.
        """
        self.nesting = nesting
        self.effort = effort
        self.stages = stages
        chance = np.random.default_rng(seed)
        self.keys = chance.integers(1, 2**63, size=len(nesting.demand), dtype=np.uint64)
        self.ways = np.arange(len(nesting.piece))

    def plans(
        self, demand: Ints, order: Ints, width: int, guide: Guide, give: int = 8
    ) -> list[list[Fill]]:
        """Lay all of a demand on sheets, taken in a given order.

        Args:
            demand: How many of each piece.
            order: Sheet on offer for the first, second, ... sheet; the last one repeats.
            width: Plans kept a step.
            guide: What makes a plan promising.
            give: Finished plans to hand back at most.

        Returns:
            Plans, each a list of filled sheets, the best first; none where time ran out or
            the sheets do.
        """
        steps: list[_Step] = []
        plans = self._start(demand, self._frames(order, 0))
        total = int(demand.sum())
        worth = self.nesting.area.astype(float)
        for _ in range(total):
            if self.effort.used_up():
                return []
            grown = self._grown(plans, worth, width, guide, order)
            if grown is None:
                return []
            plans, step = grown
            steps.append(step)
        end = np.lexsort((plans.base + plans.tall, plans.sheets))[:give]
        return [self._traced(steps, int(e)) for e in end]

    def fills(
        self, demand: Ints, sheets: Ints, worth: Floats, width: int, guide: Guide, give: int = 12
    ) -> list[tuple[float, Fill]]:
        """Fill one sheet with what is worth most.

        Args:
            demand: At most how many of each piece.
            sheets: Sheets on offer to try.
            worth: Of each piece; those of no worth are left out.
            width: Plans kept a step.
            guide: What makes a plan promising.
            give: Fills to hand back at most.

        Returns:
            Worth and fill, the best first.
        """
        frames = np.flatnonzero(np.isin(self.nesting.sheet, sheets))
        demand = np.where(worth > 1e-9, demand, 0)
        steps: list[_Step] = []
        plans = self._start(demand, frames)
        best: dict[int, tuple[float, int, int]] = {}  # by what is left to lay
        for depth in range(int(demand.sum())):
            if self.effort.used_up():
                break
            grown = self._grown(plans, worth, width, guide, None)
            if grown is None:
                break
            plans, step = grown
            steps.append(step)
            for t in np.argsort(-plans.laid, kind="stable")[: 2 * give]:
                best.setdefault(int(plans.key[t]), (float(plans.laid[t]), depth, int(t)))
        top = sorted(best.values(), key=lambda b: (-b[0], b[1], b[2]))[:give]
        return [(value, self._traced(steps[: d + 1], t)[0]) for value, d, t in top]

    def _frames(self, order: Ints, number: int) -> Ints:
        sheet = order[min(number, len(order) - 1)]
        return np.flatnonzero(self.nesting.sheet == sheet)

    def _start(self, demand: Ints, frames: Ints) -> _Plans:
        n = len(frames)
        zero = np.zeros(n, dtype=np.int64)
        key = (demand.astype(np.uint64) * self.keys).sum(dtype=np.uint64)
        return _Plans(
            left=np.tile(demand, (n, 1)), frame=frames.astype(np.int64), sheets=zero,
            closed=np.zeros(n), base=zero, tall=zero, x=zero, broad=zero, y=zero, last=zero - 1,
            laid=np.zeros(n), pieces=zero, key=np.full(n, key, dtype=np.uint64),
        )  # fmt: skip

    def _grown(
        self, plans: _Plans, worth: Floats, width: int, guide: Guide, order: Ints | None
    ) -> tuple[_Plans, _Step] | None:
        """All plans with one piece more, the best `width` of them."""
        n = self.nesting
        there = plans.left[:, n.piece] > 0
        self.effort.spend(there.size * 4 / CELLS_A_UNIT)
        gain = worth[n.piece][None, :]
        parents, ways, wheres, frames, areas = [], [], [], [], []

        def keep(where: int, mask: Bools, area: Floats, rows: Ints, frame: Ints) -> None:
            r, w = np.nonzero(mask)
            parents.append(rows[r])
            ways.append(w)
            wheres.append(np.full(len(r), where))
            frames.append(frame[r])
            areas.append(area[r, w])

        f = plans.frame
        a, b = n.across[f], n.up[f]
        can = there & n.fits[f]
        wide, high = n.wide[f][:, None], n.high[f][:, None]
        base, tall, x = plans.base[:, None], plans.tall[:, None], plans.x[:, None]
        broad, y = plans.broad[:, None], plans.y[:, None]
        every = np.arange(len(f))
        closed = plans.closed[:, None]
        started = (plans.tall > 0)[:, None]
        below = closed + base * wide
        # Into the stack; its order does not matter, so ways go in by their numbers.
        fits_somewhere = np.zeros(len(f), dtype=np.bool_)
        if self.stages > 2:
            now = np.maximum(broad, a)
            top = y + b
            mask = can & started & (x + now <= wide) & (base + top <= high)
            fits_somewhere |= mask.any(axis=1)
            mask &= self.ways[None, :] >= plans.last[:, None]
            keep(STACK, mask, below + x * np.maximum(tall, top) + now * top, every, f)
        mask = can & started & (x + broad + a <= wide) & (base + b <= high)
        fits_somewhere |= mask.any(axis=1)
        keep(BESIDE, mask, below + (x + broad) * np.maximum(tall, b) + a * b, every, f)
        mask = can & (base + tall + b <= high)
        fits_somewhere |= mask.any(axis=1)
        keep(ABOVE, mask, below + tall * wide + (a * b), every, f)
        if order is not None:
            full = np.flatnonzero(~fits_somewhere)
            for number in np.unique(plans.sheets[full]) if len(full) else ():
                rows = full[plans.sheets[full] == number]
                for frame in self._frames(order, int(number) + 1):
                    mask = there[rows] & n.fits[frame][None, :]
                    area = (closed + wide * high)[rows] + n.across[frame] * n.up[frame]
                    keep(SHEET, mask, area, rows, np.full(len(rows), frame))
        parent, way = np.concatenate(parents), np.concatenate(ways)
        if not len(parent):
            return None
        where, frame, area = map(np.concatenate, (wheres, frames, areas))
        laid = plans.laid[parent] + gain[0, way]
        count = plans.pieces[parent] + 1
        waste = 1 - laid / (area * self._unit(worth))
        rank = (guide.offset + waste) / (laid / count) ** guide.power
        few = min(len(rank), 4 * width)
        chosen = np.argpartition(rank, few - 1)[:few]
        chosen = chosen[np.argsort(rank[chosen], kind="stable")]
        return self._kept(plans, parent, way, where, frame, laid, chosen, width)

    def _unit(self, worth: Floats) -> float:
        """Worth of the densest piece, for each unit of area."""
        return float((worth / self.nesting.area).max())

    def _kept(
        self, plans: _Plans, parent: Ints, way: Ints, where: Ints, frame: Ints,
        laid: Floats, chosen: Ints, width: int,
    ) -> tuple[_Plans, _Step]:  # fmt: skip
        """The chosen children as plans, each kind once, `width` at most."""
        n = self.nesting
        parent, way, where = parent[chosen], way[chosen], where[chosen]
        frame, laid = frame[chosen], laid[chosen]
        old = plans.pick(parent)
        a, b = n.across[frame, way], n.up[frame, way]
        stack, beside = where == STACK, where == BESIDE
        above, sheet = where == ABOVE, where == SHEET
        same_strip = stack | beside
        old_room = (n.wide[old.frame] * n.high[old.frame]).astype(float)
        y = np.where(stack, old.y + b, b)
        piece = n.piece[way]
        new = _Plans(
            left=old.left,
            frame=frame,
            sheets=old.sheets + sheet,
            closed=old.closed + np.where(sheet, old_room, 0.0),
            base=np.where(sheet, 0, np.where(above, old.base + old.tall, old.base)),
            tall=np.where(same_strip, np.maximum(old.tall, y), b),
            x=np.where(stack, old.x, np.where(beside, old.x + old.broad, 0)),
            broad=np.where(stack, np.maximum(old.broad, a), a),
            y=y,
            last=way,
            laid=laid,
            pieces=old.pieces + 1,
            key=old.key - self.keys[piece],
        )
        key = _mixed(new.key, new.frame, new.sheets, new.base, new.tall, new.x, new.broad, new.y)
        _, once = np.unique(key, return_index=True)
        rows = np.sort(once)[:width]
        kept = new.pick(rows)
        kept.left[np.arange(len(rows)), piece[rows]] -= 1
        return kept, _Step(parent[rows], way[rows], where[rows], frame[rows])

    def _traced(self, steps: list[_Step], end: int) -> list[Fill]:
        moves = []
        for step in reversed(steps):
            moves.append((int(step.way[end]), int(step.where[end]), int(step.frame[end])))
            end = int(step.parent[end])
        return fills_of(moves[::-1])


def fills_of(moves: list[tuple[int, int, int]]) -> list[Fill]:
    """Filled sheets from the order in which pieces were laid.

    Args:
        moves: Way, where it went, frame.
    """
    fills: list[Fill] = []
    strips: list[list[list[int]]] = []
    frame = moves[0][2] if moves else 0

    def close() -> None:
        closed: Strips = tuple(tuple(tuple(stack) for stack in strip) for strip in strips)
        fills.append(Fill(frame, closed))

    for way, where, on in moves:
        if where == SHEET:
            close()
            strips = []
            frame = on
        if where in (SHEET, ABOVE) or not strips:
            strips.append([[way]])
        elif where == BESIDE:
            strips[-1].append([way])
        else:
            strips[-1][-1].append(way)
    if strips:
        close()
    return fills
