"""Where pieces may stand: every square and heading that no rule refuses, and what it costs.

A candidate is the middle of a square and a heading. Costs are whole hundredths of a point, so
that a search can prove a plan the best.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from mewswright.fit.place_fears import Fears, afraid_mask
from mewswright.fit.place_fields import Fields, Grid, fields_of
from mewswright.fit.place_ground import Rule, Site
from mewswright.fit.place_piece import Piece, reach_m
from mewswright.fit.place_wishes import headings_for, misses, weights_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

POINT = 100  # units of cost in a point
STEPS_M = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 8.0)
MOST_SQUARES = 6500
HEADINGS = 16
PITCH_HEADINGS = 4  # a square looks the same after a quarter of a turn


@dataclass(frozen=True, eq=False)
class Choice:
    """Candidates of pieces that are alike, the cheapest first.

    Attributes:
        alike: The mark that they share.
        piece: The first of them.
        square: Square of the middle (candidates,).
        heading: Which heading (candidates,).
        missed: Shares by which each wish is missed (candidates, wishes).
        weights: Points of each wish (wishes,).
    """

    alike: str
    piece: Piece
    square: "Ints"
    heading: "Ints"
    missed: "Floats"
    weights: "Floats"

    def costs(self, weights: "Floats | None" = None) -> "Ints":
        """Cost of each candidate [hundredths of a point], by its own or by other weights."""
        import numpy as np

        points = self.missed @ (self.weights if weights is None else weights)
        told: Ints = np.rint(points * POINT).astype(np.int64)
        return told


@dataclass(frozen=True, eq=False)
class Ground:
    """Everything that a search needs: site, grid, fields and the candidates of every mark."""

    site: Site
    grid: Grid
    fields: Fields
    pieces: tuple[Piece, ...]
    choices: tuple[Choice, ...]
    fears: Fears


def grid_of(site: Site, step_m: float | None = None) -> Grid:
    """Squares over the ground: half a metre, coarser where the yard is large."""
    west, south, east, north = site.boundary.bounds
    steps = STEPS_M if step_m is None else (step_m,)
    for step in steps:
        nx, ny = ceil((east - west) / step), ceil((north - south) / step)
        share = site.boundary.area / max((east - west) * (north - south), 1e-9)
        if nx * ny * share <= MOST_SQUARES or step == steps[-1]:
            break
    return Grid(west + step / 2, south + step / 2, step, max(1, nx), max(1, ny))


def ground_of(site: Site, pieces: Sequence[Piece], fears: Fears, step_m: float | None = None,
              without: Sequence[Rule] = ()) -> Ground:  # fmt: skip
    """Work out the ground for some pieces.

    Args:
        site: The site.
        pieces: What is to be placed.
        fears: Who must not see whom.
        step_m: Side of a square [m]; None = as fine as the yard's size allows.
        without: Rules that are not asked.
    """
    grid = grid_of(site, step_m)
    moving = [unit.quarters.name for piece in pieces for unit in piece.units]
    fields = fields_of(site, grid, headings_for(site.yard, HEADINGS), moving)
    choices = choices_of(site, grid, fields, pieces, fears, without)
    return Ground(site, grid, fields, tuple(pieces), choices, fears)


def choices_of(site: Site, grid: Grid, fields: Fields, pieces: Sequence[Piece], fears: Fears,
               without: Sequence[Rule] = ()) -> tuple[Choice, ...]:  # fmt: skip
    """The candidates of every mark of some pieces."""
    marks: dict[str, Piece] = {}
    for piece in pieces:
        marks.setdefault(piece.alike, piece)
    return tuple(_choice(site, grid, fields, piece, fears, without) for piece in marks.values())


def _choice(site: Site, grid: Grid, fields: Fields, piece: Piece, fears: Fears,
            without: Sequence[Rule]) -> Choice:  # fmt: skip
    import numpy as np

    squares, headings, missed = [], [], []
    room = room_round(site, grid, piece.living_kind, without)
    x, y = room.x, room.y
    for heading in headings_of(piece, fields):
        deg = float(fields.headings[heading])
        fits = _fits(site, piece, room, deg, without)
        if "sight" not in without and len(fits):
            fits = fits[~afraid_mask(fears, site, piece, deg, x[fits], y[fits])]
        squares.append(fits)
        headings.append(np.full(len(fits), heading))
        missed.append(misses(piece, fields, heading, x[fits], y[fits]))
    weights = weights_of(site.yard, piece)
    told = Choice(piece.alike, piece, np.concatenate(squares), np.concatenate(headings),
                  np.concatenate(missed), np.array(list(weights.values())))  # fmt: skip
    order = np.argsort(told.costs(), kind="stable")
    return Choice(piece.alike, piece, told.square[order], told.heading[order],
                  told.missed[order], told.weights)  # fmt: skip


def headings_of(piece: Piece, fields: Fields) -> list[int]:
    """Headings that differ for a piece: a square pitch looks the same after a quarter turn."""
    every = range(len(fields.headings))
    if piece.open_turns or abs(piece.half_m[0] - piece.half_m[1]) > 1e-9:
        return list(every)
    by_quarter: dict[int, int] = {}
    for i in every:
        by_quarter.setdefault(round(float(fields.headings[i]) % 90), i)
    return sorted(by_quarter.values())[:PITCH_HEADINGS]


@dataclass(frozen=True, eq=False)
class Room:
    """How much free ground lies round the middle of each square [m]; less than 0 = none."""

    x: "Floats"
    y: "Floats"
    round_m: "Floats"


def room_round(site: Site, grid: Grid, kind: str, without: Sequence[Rule]) -> Room:
    """Free ground round every square for a kind of quarters."""
    import numpy as np
    import shapely

    x, y = grid.middles()
    free = site.free(kind, without)
    round_m = np.full(len(x), -1.0)
    if not free.is_empty:
        inside = np.flatnonzero(shapely.contains_xy(free, x, y))
        round_m[inside] = shapely.distance(free.boundary, shapely.points(x[inside], y[inside]))
    return Room(x, y, round_m)


def _fits(site: Site, piece: Piece, room: Room, heading_deg: float, without: Sequence[Rule]
          ) -> "Ints":  # fmt: skip
    """The squares on which no rule of the ground refuses a piece, by its exact outline."""
    import numpy as np
    import shapely

    sure = np.flatnonzero(room.round_m >= reach_m(piece))
    maybe = np.flatnonzero(
        (room.round_m >= min(piece.half_m) - 1e-9) & (room.round_m < reach_m(piece))
    )
    if len(maybe):
        free = site.free(piece.living_kind, without)
        outlines = boxes(room.x[maybe], room.y[maybe], heading_deg, *piece.half_m)
        maybe = maybe[shapely.covers(free, outlines)]
    told = np.sort(np.concatenate((sure, maybe)))
    if "access" not in without and len(told):
        turn = np.radians(heading_deg)
        u, v = piece.door_uv
        told = told[
            shapely.intersects_xy(
                site.at_hand_today,
                room.x[told] - u * np.cos(turn) - v * np.sin(turn),
                room.y[told] + u * np.sin(turn) - v * np.cos(turn),
            )
        ]
    return told


def boxes(x: "Floats", y: "Floats", heading_deg: float, half_w: float, half_d: float
          ) -> "NDArray[np.object_]":  # fmt: skip
    """Turned rectangles round many middles, as outlines."""
    import numpy as np
    import shapely

    turn = np.radians(heading_deg)
    east, north = np.sin(turn), np.cos(turn)
    corners = np.empty((len(x), 4, 2))
    for i, (u, v) in enumerate(((-half_w, -half_d), (half_w, -half_d), (half_w, half_d),
                                (-half_w, half_d))):  # fmt: skip
        corners[:, i, 0] = x - u * north - v * east
        corners[:, i, 1] = y + u * east - v * north
    told: NDArray[np.object_] = np.asarray(shapely.polygons(corners))
    return told


def counts(ground: Ground) -> Mapping[str, int]:
    """How many candidates each mark has."""
    return {choice.alike: len(choice.square) for choice in ground.choices}
