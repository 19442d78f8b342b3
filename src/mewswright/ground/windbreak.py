"""How much of the wind is left behind walls, hedges, buildings and neighbouring quarters.

Metres on the ground. For comfort, rain and air alone: no structure may count on it, and nothing
in `build` reads it. Single trees, and the lull in front of a windbreak, count for nothing; where
several stand up-wind the best one counts alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, log, radians
from typing import TYPE_CHECKING

from mewswright import handbook
from mewswright.ground.distances import Edge, feature_edges, is_inside
from mewswright.ground.openness import face_open_share
from mewswright.ground.rose import BIN_DEG, bearings_deg
from mewswright.handbook.air import windbreaks
from mewswright.model.place import Feature, Point
from mewswright.model.quantity import m_from_mm
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SOLID = ("wall", "building", "hay", "straw", "log_stack")
LETS_THROUGH = ("hedge", "fence")
HEDGE_POROSITY = 0.5  # where the yard file gives none: a judgement
WAVERS_DEG = 15  # the wind of an hour wavers so far to either side: a judgement
# Whole shelter up to half the height of a windbreak, none from a fifth over its top: judgements.
FULL_TO, NONE_FROM = 0.5, 1.2
NOTHING = -1


@dataclass(frozen=True)
class Windbreak:
    """One upright thing: an edge on the ground, its height, and its open share."""

    of: str
    edge: Edge
    height_m: float
    porosity: float


def wind_left(
    distance_heights: "NDArray[np.float64]", porosity: "NDArray[np.float64]"
) -> "NDArray[np.float64]":
    """Share of the open wind that is left near the ground behind a long windbreak [-].

    Nearer than the table begins, its first value holds. Thinner than 25 to 35 % dense, it fades
    to nothing.

    Args:
        distance_heights: Distance down-wind, in heights of the windbreak.
        porosity: Open share, 0 to 1; of the same shape.

    Source:
        Table of wind left, Brandle EC1763 (from memory), straight between its entries; it ends at
        30 heights, where this is made to reach the whole wind at 35.
    """
    import numpy as np

    table = windbreaks()
    density = 100 * (1 - porosity)
    nodes = [0.0, *table]
    lines = [np.ones_like(distance_heights)]
    for line in table.values():
        at, left = zip(*line, strict=True)
        lines.append(np.interp(distance_heights, (*at, at[-1] + 5), (*left, 1.0)))
    stack = np.stack(lines)
    upper = np.clip(np.searchsorted(nodes, density), 1, len(nodes) - 1)
    low, high = np.array(nodes)[upper - 1], np.array(nodes)[upper]
    share = (density - low) / (high - low)
    first = np.take_along_axis(stack, (upper - 1)[None], 0)[0]
    second = np.take_along_axis(stack, upper[None], 0)[0]
    told: NDArray[np.float64] = first + (second - first) * share
    return told


def sheltered_to_m(height_m: float, bears_m_s: float, wind_m_s: float, turn_deg: float) -> float:
    """Distance behind a long windbreak that is sheltered whole, square to it [m].

    Args:
        height_m: Its height [m].
        bears_m_s: Wind that does no harm [m/s].
        wind_m_s: The open wind [m/s].
        turn_deg: Between the wind and the square to the windbreak [deg].

    Source:
        17 H (Vm / V) cos(turn), Woodruff and Zingg (from memory).
    """
    return 17 * height_m * bears_m_s / wind_m_s * cos(radians(turn_deg))


def feature_breaks(features: Iterable[Feature]) -> tuple[Windbreak, ...]:
    """What of the features on the ground breaks the wind; a thing without height breaks none."""
    found = []
    for one in features:
        if one.kind not in (*SOLID, *LETS_THROUGH) or not one.height_m:
            continue
        porosity = one.porosity
        if porosity is None:
            porosity = HEDGE_POROSITY if one.kind == "hedge" else 0.0
        if porosity < 1:
            found += [
                Windbreak(one.name, edge, one.height_m, porosity)
                for edge in feature_edges(one)
                if edge[0] != edge[1]
            ]
    return tuple(found)


def quarters_breaks(quarters: Quarters) -> tuple[Windbreak, ...]:
    """Walls of quarters as windbreaks, each as open as its face and as high as its mean."""
    q = quarters
    if q.faces is None or q.front_height_mm is None or q.back_height_mm is None:
        return ()
    front_left, front_right, back_right, back_left = q.corners_m
    edges: dict[str, tuple[Edge, float]] = {
        "front": ((front_left, front_right), q.front_height_mm),
        "right": ((front_right, back_right), q.gable_area_m2 * 1e6 / q.depth_mm),
        "back": ((back_right, back_left), q.back_height_mm),
        "left": ((back_left, front_left), q.gable_area_m2 * 1e6 / q.depth_mm),
    }
    found = []
    for side in SIDES:
        face = q.faces.side(side)
        edge, high_mm = edges[side]
        over = max(0.0, 1 - face.upstand_mm / high_mm)
        porosity = face_open_share(face) * over
        if porosity < 1:
            found.append(Windbreak(q.name, edge, m_from_mm(high_mm), porosity))
    return tuple(found)


@dataclass(frozen=True, eq=False)
class Lee:
    """Shelter of spots on each bearing of a rose.

    Attributes:
        left: Share of the open wind that is left (spots, bins).
        by: Which of `names` breaks it most, -1 for nothing (spots, bins).
        names: Whose the windbreaks are.
    """

    left: "NDArray[np.float64]"
    by: "NDArray[np.int64]"
    names: tuple[str, ...]


class Shelter:
    """The windbreaks of a yard, to be asked for spots."""

    def __init__(self, yard: Yard) -> None:
        """Gather what breaks the wind in a yard."""
        import numpy as np

        breaks = [*feature_breaks(yard.feature)]
        for quarters in yard.quarters:
            breaks += quarters_breaks(quarters)
        self._names = tuple(dict.fromkeys(one.of for one in breaks))
        index = {name: n for n, name in enumerate(self._names)}
        self._of = np.array([index[one.of] for one in breaks], int)
        self._ends = np.array([one.edge for one in breaks], float).reshape(-1, 2, 2)
        self._height = np.array([one.height_m for one in breaks], float)
        self._porosity = np.array([one.porosity for one in breaks], float)
        self._built_over: list[tuple[str, tuple[Point, ...]]] = [
            (one.name, one.outline_m)
            for one in yard.feature
            if one.kind == "building" and one.outline_m is not None
        ]
        self._built_over += [(q.name, q.corners_m) for q in yard.quarters if q.faces is not None]

    def inside_of(self, spot: Point, own: str) -> str | None:
        """What else stands over a spot, such as the neighbour on a shared wall."""
        for name, outline in self._built_over:
            if name != own and is_inside(spot, outline):
                return name
        return None

    def lee(self, spots: Sequence[tuple[float, float, float]], own: str | None = None) -> Lee:
        """Shelter at spots, by bearing.

        Args:
            spots: East, north and up [m].
            own: Name of what the spots belong to, which does not count.
        """
        import numpy as np

        counted = np.array([name != own for name in self._names], bool)
        mine = counted[self._of] if len(self._of) else np.zeros(0, bool)
        left = np.ones((len(spots), len(bearings_deg())))
        by = np.full(left.shape, NOTHING)
        if mine.any():
            for row, spot in enumerate(spots):
                left[row], by[row] = self._at(spot, mine)
        return Lee(_wavered(left), by, self._names)

    def _at(
        self, spot: tuple[float, float, float], mine: "NDArray[np.bool_]"
    ) -> "tuple[NDArray[np.float64], NDArray[np.int64]]":
        import numpy as np

        ends, height = self._ends[mine], self._height[mine]
        low = np.clip((NONE_FROM - spot[2] / height) / (NONE_FROM - FULL_TO), 0, 1)
        start, along = ends[:, 0] - np.array(spot[:2]), ends[:, 1] - ends[:, 0]
        way = np.radians(bearings_deg())
        east, north = np.sin(way)[:, None], np.cos(way)[:, None]
        cross = east * along[:, 1] - north * along[:, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            far = (start[:, 0] * along[:, 1] - start[:, 1] * along[:, 0]) / cross
            share = (start[:, 0] * north - start[:, 1] * east) / cross
        met = (np.abs(cross) > 1e-9) & (far >= 0) & (share >= 0) & (share <= 1)
        _, edge = np.nonzero(met)
        behind = wind_left(far[met] / height[edge], self._porosity[mine][edge])
        told = np.ones(met.shape)
        told[met] = 1 - (1 - behind) * low[edge]
        best = told.argmin(axis=1)
        least = told[np.arange(len(told)), best]
        return least, np.where(least < 1, self._of[mine][best], NOTHING)


def _wavered(left: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """Each bearing as the mean of those that its wind wavers over."""
    import numpy as np

    steps = range(-(WAVERS_DEG // BIN_DEG), WAVERS_DEG // BIN_DEG + 1)
    told: NDArray[np.float64] = np.mean([np.roll(left, n, axis=1) for n in steps], axis=0)
    return told


OPEN_TERRAIN = "II"  # what a weather station stands in, and what a yard without [loads] is given
STATION_M = 10.0
YARD_Z0_M = 0.03  # roughness of grass and gravel, for what stands on it is asked by itself
LOWEST_M = 0.1


@lru_cache(maxsize=4096)
def height_share(height_m: float, terrain: str) -> float:
    """Mean wind so high over a yard, as a share of that 10 m up in the open [-].

    The roughness of the country slows the wind down to 10 m; from there to the ground it is that
    of the yard's own grass and gravel, for what stands on the yard is asked by itself.

    Args:
        height_m: Height over the ground [m]; under 0.1 m it is taken as that.
        terrain: Terrain category of `[loads]`, 0 to IV.

    Source:
        The mean wind of EN 1991-1-4:2005, 4.3.2, kr ln(z / z0) with kr = 0.19 (z0 / 0.05)^0.07
        (read), at 10 m; below, the logarithm of height over 0.03 m (from memory).
    """

    def aloft(z0_m: float) -> float:
        return float(0.19 * (z0_m / 0.05) ** 0.07) * log(STATION_M / z0_m)

    known = handbook.terrains()
    slowed = aloft(known[terrain].z0_m) / aloft(known[OPEN_TERRAIN].z0_m)
    return slowed * log(max(height_m, LOWEST_M) / YARD_Z0_M) / log(STATION_M / YARD_Z0_M)


def terrain_of(yard: Yard) -> str:
    """Terrain category of a yard; the open country where it gives no `[loads]`."""
    return yard.loads.terrain if yard.loads is not None else OPEN_TERRAIN
