"""The most value that one bar can hold: a bounded knapsack, exact in whole numbers.

One table serves every stock length: it is filled up to the longest and read at each.

Source:
    Gilmore and Gomory, A linear programming approach to the cutting-stock problem,
    Operations Research 9 (1961), for pricing by knapsack; the table is the usual dynamic
    program, a count of n split in powers of two.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mewswright.build.cut.sawing import Counts

# A dense table wider than this many times the number of sums that pieces can reach is
# slower than a table of those sums alone (its steps are gathers, not slices).
SPARSE_BELOW = 6
MOST_PLACES = 3_000_000  # wider than this, no table is made and only the length bound is known
MOST_STEPS = 60_000_000  # steps between sums that a sparse table may remember
BIG_TABLE = 60_000_000  # bytes; above, the record of choices is kept in bits


class TooWideError(Exception):
    """The lengths reach too many different sums for a table."""


def split_counts(bound: Counts, order: Counts) -> list[tuple[int, int]]:
    """Pieces and multiples (1, 2, 4, ..., rest) whose subsets give every count to `bound`."""
    steps: list[tuple[int, int]] = []
    for i in order.tolist():
        left, multiple = int(bound[i]), 1
        while left > 0:
            take = min(multiple, left)
            steps.append((i, take))
            left -= take
            multiple *= 2
    return steps


def reachable_sums(size: Counts, bound: Counts, widest: int) -> Counts:
    """All sums of pieces up to `widest`, rising from 0.

    Raises:
        TooWideError: If there are more than MOST_PLACES.
    """
    steps = split_counts(bound, np.arange(len(size)))
    if widest <= MOST_PLACES:
        bits, mask = 1, (1 << (widest + 1)) - 1
        for i, multiple in steps:
            bits |= (bits << (int(size[i]) * multiple)) & mask
        raw = np.frombuffer(bits.to_bytes(widest // 8 + 1, "little"), dtype=np.uint8)
        return np.flatnonzero(np.unpackbits(raw, bitorder="little")).astype(np.int64)
    sums = np.zeros(1, dtype=np.int64)
    for i, multiple in steps:
        more = sums + size[i] * multiple
        sums = np.union1d(sums, more[more <= widest])
        if len(sums) > MOST_PLACES:
            raise TooWideError
    return sums


class Table:
    """Best values for every room, and the patterns behind them."""

    def __init__(self, size: Counts, demand: Counts, rooms: Counts) -> None:
        """Lay out the table's places.

        Args:
            size: Piece sizes [whole units].
            demand: Most of each that a bar may hold.
            rooms: Bar rooms [whole units].

        Raises:
            TooWideError: If the pieces reach too many different sums.
        """
        self.size = size
        widest = int(rooms.max())
        self.most = np.minimum(demand, widest // size)
        self.sums = reachable_sums(size, self.most, widest)
        self.sparse = len(self.sums) * SPARSE_BELOW < widest
        self.rooms = self.sums[np.searchsorted(self.sums, rooms, side="right") - 1]
        every = np.arange(len(size))
        if self.sparse and len(self.sums) * len(split_counts(self.most, every)) > MOST_STEPS:
            raise TooWideError
        if self.sparse:
            self.place = np.searchsorted(self.sums, self.rooms)
            self.width = len(self.sums)
        else:
            self.place = self.rooms
            self.width = int(self.rooms.max()) + 1
        self._from: dict[int, tuple[int, NDArray[np.int32]]] = {}
        self._taken = np.empty((0, 0), dtype=np.bool_)
        self._packed = False
        self.steps: list[tuple[int, int]] = []
        self.best = np.zeros(0, dtype=np.int64)

    def fill(self, value: Counts, bound: Counts, order: Counts | None = None) -> Counts:
        """Best value at each room.

        Args:
            value: Worth of a piece [whole units], 0 or more.
            bound: Most of each piece.
            order: Pieces in the order of filling; it decides which equal pattern is found.

        Returns:
            Value for each of the rooms.
        """
        order = np.arange(len(value)) if order is None else order
        order = order[value[order] > 0]
        self.steps = split_counts(np.minimum(bound, self.most), order)
        self._packed = len(self.steps) * self.width > BIG_TABLE
        wide = (self.width + 7) // 8 if self._packed else self.width
        if self._taken.shape[0] < len(self.steps) or self._taken.shape[1] != wide:
            kind = np.uint8 if self._packed else np.bool_
            self._taken = np.zeros((len(self.steps) + 16, wide), dtype=kind)
        best = np.zeros(self.width, dtype=np.int64)
        room = np.empty(self.width, dtype=np.int64)
        flag = np.zeros(self.width, dtype=np.bool_)
        for step, (i, multiple) in enumerate(self.steps):
            length, worth = int(self.size[i]) * multiple, int(value[i]) * multiple
            taken = flag if self._packed else self._taken[step]
            if self.sparse:
                first, source = self._sources(length)
                tail = best[first:]
                candidate = best[source] + worth
            else:
                first = min(length, self.width)
                tail = best[first:]
                candidate = np.add(best[: self.width - first], worth, out=room[first:])
            taken[:first] = False
            np.greater(candidate, tail, out=taken[first:])
            np.maximum(candidate, tail, out=tail)
            if self._packed:
                self._taken[step] = np.packbits(flag)
        self.best = best
        result: Counts = best[self.place]
        return result

    def work(self) -> float:
        """Work of the last filling [units of effort]."""
        return len(self.steps) * (8 + self.width * (0.009 if self.sparse else 0.0025)) + 20

    def _sources(self, length: int) -> tuple[int, NDArray[np.int32]]:
        if length not in self._from:
            first = int(np.searchsorted(self.sums, length))
            source = np.searchsorted(self.sums, self.sums[first:] - length, side="right") - 1
            self._from[length] = (first, source.astype(np.int32))
        return self._from[length]

    def _choices(self, step: int, place: int) -> NDArray[np.intp]:
        if self._packed:
            column = self._taken[:step, place >> 3] >> (7 - (place & 7)) & 1
            return np.flatnonzero(column)
        return np.flatnonzero(self._taken[:step, place])

    def pattern(self, room: int, steps: int | None = None) -> Counts:
        """The pattern behind the best value of one room.

        Args:
            room: Index of the room.
            steps: Use only the first so many steps of the filling; None: all.
        """
        pieces = np.zeros(len(self.size), dtype=np.int64)
        step = len(self.steps) if steps is None else steps
        place = int(self.place[room])
        while True:
            chosen = self._choices(step, place)
            if not len(chosen):
                return pieces
            step = int(chosen[-1])
            i, multiple = self.steps[step]
            pieces[i] += multiple
            length = int(self.size[i]) * multiple
            if self.sparse:
                first, source = self._sources(length)
                place = int(source[place - first])
            else:
                place -= length

    def turning_points(self, room: int) -> NDArray[np.intp]:
        """Steps after which the best value of a room rose: each ends a pattern of its own."""
        return self._choices(len(self.steps), int(self.place[room])) + 1
