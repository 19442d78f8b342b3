"""Parts and sheets as whole numbers, for the search.

A kerf is a strip of saw dust beside a part. With part + kerf in sheet + kerf, both ways,
whole numbers that fit are parts that can be sawn, and the other way round: of n parts side
by side only n - 1 cuts lie between, and the last kerf falls off the sheet's end.

The search thinks in one frame: strips lie one above another (y), and in a strip stacks lie
beside each other (x). Sawing the sheet the other way first is the same sheet turned over its
diagonal, so each sheet on offer appears as up to two frames.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

Ints: TypeAlias = NDArray[np.int64]
Bools: TypeAlias = NDArray[np.bool_]
Grain = Literal["none", "along", "across"]
FirstCut = Literal["rip", "cross", "either"]

RIP, CROSS = 0, 1  # first cuts run along the sheet's length; or across it


@dataclass(frozen=True)
class Nesting:
    """Pieces, ways to lay them, and sheets to lay them on; lengths with their kerf.

    A way is a piece with or without a quarter turn. A frame is a sheet with the direction
    of its first cuts.
    """

    demand: Ints  # (pieces,)
    area: Ints  # (pieces,), with kerf
    piece: Ints  # (ways,): the piece that the way lays
    turned: Bools  # (ways,): the piece's length lies along the sheet's width
    across: Ints  # (frames, ways): size along x, the run of a strip
    up: Ints  # (frames, ways): size along y
    fits: Bools  # (frames, ways): by size and by grain
    wide: Ints  # (frames,)
    high: Ints  # (frames,)
    sheet: Ints  # (frames,): the sheet on offer
    first: Ints  # (frames,): RIP or CROSS
    price: Ints  # (sheets,)
    available: Ints  # (sheets,), -1: no limit

    @property
    def room(self) -> Ints:
        """Area of each sheet on offer, with kerf."""
        room = np.zeros(len(self.price), dtype=np.int64)
        room[self.sheet] = self.wide * self.high
        return room


def may_lie(part: Grain, sheet: Grain, turned: bool) -> bool:
    """Say whether a part may lie so on a sheet.

    Args:
        part: Where the grain must run in the part: along or across its length; none: no matter.
        sheet: Where the sheet's grain runs: along or across its length; none: it has none.
        turned: The part's length lies along the sheet's width.
    """
    if part == "none" or sheet == "none":
        return True
    return (part == sheet) != turned


def _common(
    pieces: Sequence[tuple[int, int, int, Grain]],
    sheets: Sequence[tuple[int, int, int, int, Grain]],
    kerf: int,
) -> int:
    sides = [side + kerf for p in pieces for side in p[:2]]
    sides += [side + kerf for s in sheets for side in s[:2]]
    return max(1, gcd(*sides))


def nesting_of(
    pieces: Sequence[tuple[int, int, int, Grain]],
    sheets: Sequence[tuple[int, int, int, int, Grain]],
    kerf: int,
    first_cut: FirstCut = "either",
) -> Nesting:
    """Turn pieces and sheets into the arrays of the search.

    Args:
        pieces: Length, width, count and grain of each piece, without kerf.
        sheets: Usable length and width, price, how many (-1: no limit), grain.
        kerf: Width of the cut, in the unit of the lengths.
        first_cut: Direction of the first cuts.
    """
    common = _common(pieces, sheets, kerf)
    ways = [(p, turn) for p in range(len(pieces)) for turn in (False, True)
            if not (turn and pieces[p][0] == pieces[p][1] and pieces[p][3] == "none")]  # fmt: skip
    firsts = {"rip": (RIP,), "cross": (CROSS,), "either": (RIP, CROSS)}[first_cut]
    frames = [(s, first) for s in range(len(sheets)) for first in firsts]
    across = np.zeros((len(frames), len(ways)), dtype=np.int64)
    up, fits = np.zeros_like(across), np.zeros(across.shape, dtype=np.bool_)
    wide, high = np.zeros(len(frames), dtype=np.int64), np.zeros(len(frames), dtype=np.int64)
    for f, (s, first) in enumerate(frames):
        length, width, _, _, grain = sheets[s]
        sides = ((length + kerf) // common, (width + kerf) // common)
        wide[f], high[f] = sides if first == RIP else sides[::-1]
        for w, (p, turn) in enumerate(ways):
            sides = ((pieces[p][0] + kerf) // common, (pieces[p][1] + kerf) // common)
            across[f, w], up[f, w] = sides if turn == (first == CROSS) else sides[::-1]
            fits[f, w] = (
                may_lie(pieces[p][3], grain, turn)
                and across[f, w] <= wide[f]
                and up[f, w] <= high[f]
            )
    return Nesting(
        demand=np.array([p[2] for p in pieces], dtype=np.int64),
        area=np.array([(p[0] + kerf) * (p[1] + kerf) // common**2 for p in pieces], dtype=np.int64),
        piece=np.array([p for p, _ in ways], dtype=np.int64),
        turned=np.array([t for _, t in ways], dtype=np.bool_),
        across=across,
        up=up,
        fits=fits,
        wide=wide,
        high=high,
        sheet=np.array([s for s, _ in frames], dtype=np.int64),
        first=np.array([f for _, f in frames], dtype=np.int64),
        price=np.array([s[2] for s in sheets], dtype=np.int64),
        available=np.array([s[3] for s in sheets], dtype=np.int64),
    )


# One sheet sawn up: strips of stacks of ways.
Strips: TypeAlias = tuple[tuple[tuple[int, ...], ...], ...]


@dataclass(frozen=True)
class Fill:
    """One sheet, filled."""

    frame: int
    strips: Strips

    def counts(self, nesting: Nesting) -> Ints:
        """How many of each piece lie on the sheet."""
        ways = [w for strip in self.strips for stack in strip for w in stack]
        return np.bincount(nesting.piece[ways], minlength=len(nesting.demand)).astype(np.int64)

    def spare(self, nesting: Nesting) -> float:
        """Largest rectangle left at an edge, as a share of the sheet."""
        across, up = nesting.across[self.frame], nesting.up[self.frame]
        wide, high = int(nesting.wide[self.frame]), int(nesting.high[self.frame])
        used, best = 0, 0
        for strip in self.strips:
            tall = max(sum(int(up[w]) for w in stack) for stack in strip)
            run = sum(max(int(across[w]) for w in stack) for stack in strip)
            best = max(best, (wide - run) * tall)
            used += tall
        return max(best, wide * (high - used)) / (wide * high)
