"""Sight lines that are forbidden: no bird looks at one that hunts its kind.

Two pieces are taken to be in sight of each other where each lies in front of an open side of the
other, within the range of G103, whatever other quarters stand between; against quarters that
stay, walls and hedges that hide are counted too. So a plan errs on the side of the bird.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mewswright.checks.case import Case, Resident, cases
from mewswright.checks.sightlines import RANGE_M, why_afraid
from mewswright.fit.place_fields import detours_m
from mewswright.fit.place_ground import Site
from mewswright.fit.place_piece import Piece
from mewswright.ground.screens import upright_screens
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

EYE_M = 1.5  # height at which it is asked whether a wall or hedge hides: a judgement


@dataclass(frozen=True)
class Fears:
    """Names of quarters whose birds must not see each other, both ways."""

    pairs: frozenset[frozenset[str]]

    def between(self, one: Iterable[str], other: Iterable[str]) -> bool:
        """Whether some bird of one fears some bird of the other."""
        theirs = list(other)
        return any(frozenset((a, b)) in self.pairs for a in one for b in theirs)


def names_of(piece: Piece) -> list[str]:
    """Names of the quarters of a piece."""
    return [unit.quarters.name for unit in piece.units]


def fears_of(yard: Yard, moving: Iterable[str]) -> Fears:
    """Who must not see whom, as far as quarters that move have to do with it.

    Args:
        yard: The yard.
        moving: Names of quarters that are set down elsewhere.
    """
    moved = set(moving) & {stay.quarters for stay in yard.stay}
    found: set[frozenset[str]] = set()
    if not moved:
        return Fears(frozenset())
    every = [case for case in cases(yard) if case.residents]
    for case in every:
        if case.quarters.name not in moved:
            continue
        for other in every:
            if other.quarters.name != case.quarters.name and _afraid(case, other):
                found.add(frozenset((case.quarters.name, other.quarters.name)))
    return Fears(frozenset(found))


def _afraid(case: Case, other: Case) -> bool:
    return any(_fears(a, b) or _fears(b, a) for a in case.residents for b in other.residents)


def _fears(bird: Resident, other: Resident) -> bool:
    return (
        bird.bird.name != other.bird.name
        and bird.stay.overlaps(other.stay)
        and why_afraid(bird, other) is not None
    )


def afraid_mask(
    fears: Fears, site: Site, piece: Piece, heading_deg: float, x: "Floats", y: "Floats"
) -> "NDArray[np.bool_]":
    """Where a piece would be in sight of quarters that stay and that it must not see."""
    import numpy as np

    told = np.zeros(len(x), bool)
    screens = upright_screens(site.yard.feature)
    for placed in site.standing:
        if not fears.between(names_of(piece), names_of(placed.piece)):
            continue
        px, py = np.full(len(x), placed.x_m), np.full(len(x), placed.y_m)
        dx, dy = px - x, py - y
        seen = np.hypot(dx, dy) <= RANGE_M
        seen &= _before(dx, dy, heading_deg, piece)
        seen &= _before(-dx, -dy, placed.heading_deg, placed.piece)
        seen &= detours_m(x, y, EYE_M, (px, py), EYE_M, screens) < 0
        told |= seen
    return told


def _before(dx: "Floats", dy: "Floats", heading_deg: float, piece: Piece) -> "NDArray[np.bool_]":
    """Whether spots so far off lie before some open side of a piece."""
    import numpy as np

    if not piece.open_turns:
        return np.ones(len(dx), bool)
    told = np.zeros(len(dx), bool)
    for turn in piece.open_turns:
        way = np.radians(heading_deg + turn)
        told |= dx * np.sin(way) + dy * np.cos(way) > 0
    return told


def must_not_meet(fears: Fears, pieces: Sequence[Piece]) -> "NDArray[np.bool_]":
    """Which pieces must not see which (pieces, pieces)."""
    import numpy as np

    told = np.zeros((len(pieces), len(pieces)), bool)
    for i, one in enumerate(pieces):
        for j, other in enumerate(pieces):
            told[i, j] = i != j and fears.between(names_of(one), names_of(other))
    return told
