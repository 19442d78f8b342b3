"""What is wished of a place, and how much each wish weighs for each kind of quarters.

Every wish is a share from 0, wholly met, to 1, not at all. Weights add up to 100 for each piece,
so that the score of a plan, the mean over its pieces, runs from 0, nothing left to wish, to 100.
All weights are judgements of ours; each wish is shown by itself.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from mewswright.fit.place_fields import Fields
from mewswright.fit.place_ground import APART_M
from mewswright.fit.place_piece import Piece
from mewswright.handbook import species
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WHAT: Mapping[str, str] = {
    "morning_sun": "sun of the mornings of the year at its open side, against the best that open "
    "ground gives",
    "afternoon_shade": "no sun at its open side in the afternoons of the three hottest months",
    "back_to_wind": "little of the year's wind blows in at its open side",
    "spores": "far from what gives off mould spores, least of all down-wind of it",
    "trees": "out of reach of trees that may fall",
    "short_round": "a short walk from the weighing room, round what stands today",
    "quiet": "little noise, and no look at dogs, traffic or children",
    "in_view": "a camera shows who stands before its front",
    "apart": "away from other quarters",
}
WISHES = tuple(WHAT)
WEIGHTS: Mapping[str, Mapping[str, float]] = {
    "loft": {"morning_sun": 18, "afternoon_shade": 14, "back_to_wind": 18, "spores": 12,
             "trees": 10, "short_round": 12, "quiet": 8, "in_view": 8, "apart": 0},
    "shelter": {"morning_sun": 18, "afternoon_shade": 14, "back_to_wind": 22, "spores": 10,
                "trees": 10, "short_round": 12, "quiet": 6, "in_view": 8, "apart": 0},
    "pitch": {"morning_sun": 24, "afternoon_shade": 18, "back_to_wind": 0, "spores": 10,
              "trees": 12, "short_round": 12, "quiet": 10, "in_view": 14, "apart": 0},
    "isolation": {"morning_sun": 14, "afternoon_shade": 12, "back_to_wind": 16, "spores": 14,
                  "trees": 8, "short_round": 4, "quiet": 18, "in_view": 4, "apart": 10},
}  # fmt: skip
# By warmth class, arctic to tropical: how much more or less morning sun and shade weigh.
SUN_BY_CLASS = {"A": 0.6, "B": 0.8, "C": 1.0, "D": 1.2, "E": 1.4}
SHADE_BY_CLASS = {"A": 1.6, "B": 1.3, "C": 1.0, "D": 0.8, "E": 0.7}
QUIET_FOR_NEW = 2.0  # for a newcomer or a nervous bird
FAR_APART = 5.0  # of the distance that is asked: there the wish is wholly met
LOOKS_DEG = 80.0  # off the bearing of an open side: what lies farther round is not looked at
# Wishes that pull together, for plans that show what each costs the others.
SIDES: Mapping[str, tuple[str, ...]] = {
    "sun and shade": ("morning_sun", "afternoon_shade"),
    "out of the wind": ("back_to_wind",),
    "health and safety": ("spores", "trees", "apart"),
    "short work": ("short_round", "in_view"),
    "quiet": ("quiet",),
}


def residents_of(yard: Yard, piece: Piece) -> list[str]:
    """Names of the birds that live in a piece today."""
    names = {unit.quarters.name for unit in piece.units}
    return list(dict.fromkeys(stay.bird for stay in yard.stay if stay.quarters in names))


def weights_of(yard: Yard, piece: Piece) -> dict[str, float]:
    """How much each wish weighs for a piece; 100 in all.

    Morning sun and afternoon shade follow the warmth classes of its birds, of all birds of the
    yard where nobody lives in it yet. Quiet weighs twice for a newcomer or a nervous bird.
    """
    birds = [yard.bird_named(name) for name in residents_of(yard, piece)]
    weights = dict(WEIGHTS[piece.living_kind])
    classes = [
        c for bird in birds or yard.bird for c in species(bird.species).temp_class.split("/")
    ]
    if classes:
        weights["morning_sun"] *= _mean(SUN_BY_CLASS[c] for c in classes)
        weights["afternoon_shade"] *= _mean(SHADE_BY_CLASS[c] for c in classes)
    if any(bird.nervous or bird.arrives_on is not None for bird in birds):
        weights["quiet"] *= QUIET_FOR_NEW
    total = sum(weights.values())
    return {wish: 100 * weights[wish] / total for wish in WISHES}


def _mean(values: Iterable[float]) -> float:
    found = list(values)
    return sum(found) / len(found)


def misses(piece: Piece, fields: Fields, heading: int, x: "Floats", y: "Floats") -> "Floats":
    """How far each wish is missed with the piece's middle at each spot (spots, wishes).

    Args:
        piece: The piece.
        fields: What the ground is like.
        heading: Which of the fields' headings its front looks to.
        x: East of its middle [m].
        y: North of its middle [m].
    """
    import numpy as np

    deg = float(fields.headings[heading])
    turn = np.radians(deg)
    grid = fields.grid
    front = grid.square_of(x + piece.half_m[1] * np.sin(turn), y + piece.half_m[1] * np.cos(turn))
    middle = grid.square_of(x, y)
    u, v = piece.door_uv
    door = grid.square_of(x - u * np.cos(turn) - v * np.sin(turn),
                          y + u * np.sin(turn) - v * np.cos(turn))  # fmt: skip
    told = np.empty((len(x), len(WISHES)))
    if piece.open_turns:
        looks = [_heading_near(fields, deg + t) for t in piece.open_turns]
        told[:, 0] = 1 - fields.morning[front][:, looks].max(axis=1)
        told[:, 1] = fields.afternoon[front][:, looks].max(axis=1)
        told[:, 2] = fields.wind[front][:, looks].max(axis=1)
    else:
        told[:, 0] = 1 - fields.all_round[middle, 0]
        told[:, 1] = fields.all_round[middle, 1]
        told[:, 2] = 0.0
    told[:, 3] = fields.spores[middle]
    told[:, 4] = fields.trees[middle]
    told[:, 5] = fields.walk[door]
    told[:, 6] = np.maximum(fields.noise[front], _startled(piece, fields, deg, front))
    told[:, 7] = fields.unseen[front]
    told[:, 8] = np.clip(1 - fields.others[middle] / (FAR_APART * APART_M), 0.0, 1.0)
    return told


def _heading_near(fields: Fields, deg: float) -> int:
    import numpy as np

    return int(np.argmin(np.abs((fields.headings - deg + 180) % 360 - 180)))


def _startled(piece: Piece, fields: Fields, deg: float, squares: "NDArray[np.int64]") -> "Floats":
    """Nearness of the nearest startling thing that an open side looks at."""
    import numpy as np

    seen = fields.startling[squares]
    if not seen.shape[1]:
        return np.zeros(len(squares))
    near = seen[:, :, 2]
    if piece.open_turns:
        bearing = np.degrees(np.arctan2(seen[:, :, 0], seen[:, :, 1]))
        looked = np.zeros(near.shape, bool)
        for turn in piece.open_turns:
            looked |= np.abs((bearing - deg - turn + 180) % 360 - 180) <= LOOKS_DEG
        near = np.where(looked, near, 0.0)
    told: Floats = near.max(axis=1)
    return told


def headings_for(yard: Yard, spots: int) -> "Floats":
    """Bearings that fronts may look to: evenly round, some turned to the yard's own lines.

    Args:
        yard: The yard.
        spots: How many there are, evenly round.

    Returns:
        Bearings in rising order [deg]. Where the boundary or a front that stands looks within half
        a step of one, that line takes its place; so new fronts stand square to old ones.
    """
    import numpy as np

    step = 360 / spots
    lines = [q.facing_deg for q in yard.quarters if q.kind != "pitch"]
    lines += _across(yard.yard.boundary_m)
    told = {}
    for slot in range(spots):
        base = slot * step
        near = [line for line in lines if abs((line - base + 180) % 360 - 180) < step / 2]
        told[slot] = near[0] % 360 if near else base
    return np.array(sorted(told.values()))


def _across(boundary: Sequence[tuple[float, float]]) -> list[float]:
    """Bearings square to the longest sides of the boundary, both ways."""
    from mewswright.fit.place_piece import bearing_of

    edges = list(zip(boundary, (*boundary[1:], *boundary[:1]), strict=True)) if boundary else []
    edges.sort(key=lambda e: -((e[0][0] - e[1][0]) ** 2 + (e[0][1] - e[1][1]) ** 2))
    found = []
    for start, end in edges[:4]:
        bearing = bearing_of(start, end)
        found += [(bearing + 90) % 360, (bearing + 270) % 360]
    return found
