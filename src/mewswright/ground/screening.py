"""Screens that break lines of sight: where to set one, and how long and high it must be at least.

Metres. A free-standing screen is upright and straight. Every line that it is to break crosses
it, so along a given cut through them its length and height follow; cuts of many bearings and
places are tried, and the shortest that stands on free ground is kept. A screen on a face fills
the part of that face that the lines go through, from the floor up.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING, Literal

from mewswright.ground.distances import Edge, crossing_share
from mewswright.ground.footprint import footprint
from mewswright.ground.screens import Eye, Screen
from mewswright.ground.sight import Body
from mewswright.model.place import Feature
from mewswright.model.quarters import SIDES
from mewswright.model.yard import Yard

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

MARGIN_M = 0.3  # past the outermost line at each end and at the top: a bird shifts and stands up
CLEAR_M = 0.5  # from quarters and whatever stands: a person passes, a door opens a little
BEARINGS, PLACES = 36, 48  # of the cuts that are tried
WAY_M = 1.2  # width of a lane or path that gives none
STANDS = (
    "wall", "hedge", "fence", "building", "weighing_room", "compost", "leaf_mould", "hay",
    "straw", "log_stack", "rotting_timber", "dog_run", "kennel", "pond", "playground", "tree",
)  # fmt: skip
WAYS = ("road", "lane", "path", "gate", "flying_ground_gate")

Line = tuple[Eye, Eye]


@dataclass(frozen=True)
class Proposal:
    """One way to break lines of sight.

    Attributes:
        kind: On the ground by itself, or on a face of quarters.
        at: Name of the quarters whose face it is; blank on the ground.
        parts: Upright pieces: the edge on the ground, its height all along.
    """

    kind: Literal["free-standing", "on a face"]
    at: str
    parts: tuple[tuple[Edge, float], ...]

    @property
    def screens(self) -> tuple[Screen, ...]:
        """What it puts in the way."""
        return tuple(Screen(edge, (high, high), "the screen") for edge, high in self.parts)

    @property
    def length_m(self) -> float:
        """Length of all its parts [m]."""
        return sum(dist(*edge) for edge, _ in self.parts)

    @property
    def height_m(self) -> float:
        """Height of its highest part [m]."""
        return max(high for _, high in self.parts)


def free_standing(yard: Yard, lines: Sequence[Line], bodies: Sequence[Body]) -> Proposal | None:
    """Shortest free-standing screen that breaks some lines; None where none finds free ground.

    Args:
        yard: The yard, whose quarters, features, ways and boundary it stays clear of.
        lines: The lines, all of them clear now.
        bodies: Every quarters of the yard.
    """
    import numpy as np

    starts, ends = (np.array([line[i] for line in lines], float) for i in (0, 1))
    ground = _ground(yard, bodies)
    across = _bearing(starts, ends)
    bearings = across + np.pi * np.arange(BEARINGS) / BEARINGS
    way = ends.mean(axis=0)[:2] - starts.mean(axis=0)[:2]
    # Places crowd at both ends, where the lines draw together.
    share = (1 - np.cos(np.pi * np.linspace(0.01, 0.99, PLACES))) / 2
    places = starts.mean(axis=0)[:2] + share[:, None] * way
    best = _shortest(starts, ends, bearings, places, ground)
    if best is None:
        return None
    _, bearing, place = best
    fine = bearing + np.pi / BEARINGS * np.linspace(-1, 1, 9)
    step = np.hypot(*way) / PLACES
    along = way / max(float(np.hypot(*way)), 1e-9)
    close = place + along * (step * np.linspace(-1.5, 1.5, 25))[:, None]
    best = _shortest(starts, ends, fine, close, ground) or best
    return Proposal("free-standing", "", (best[0],))


def _bearing(starts: "NDArray[np.float64]", ends: "NDArray[np.float64]") -> float:
    import numpy as np

    way = ends.mean(axis=0) - starts.mean(axis=0)
    return float(np.arctan2(way[1], way[0]) + np.pi / 2)


Found = tuple[tuple[Edge, float], float, "NDArray[np.float64]"]


def _shortest(
    starts: "NDArray[np.float64]",
    ends: "NDArray[np.float64]",
    bearings: "NDArray[np.float64]",
    places: "NDArray[np.float64]",
    ground: "BaseGeometry | None",
) -> Found | None:
    """The shortest standing piece over some bearings [rad from east] and places."""
    import numpy as np

    found = []
    for bearing in bearings:
        u = np.array([np.cos(bearing), np.sin(bearing)])
        n = np.array([-u[1], u[0]])
        a, b = starts[:, :2] @ n, ends[:, :2] @ n
        at = places @ n
        with np.errstate(divide="ignore", invalid="ignore"):
            share = (at[:, None] - a) / (b - a)
        crossed = np.all((share > 0) & (share < 1), axis=1)
        if not crossed.any():
            continue
        share = share[crossed]
        along = starts[:, :2] @ u + share * ((ends - starts)[:, :2] @ u)
        high = (starts[:, 2] + share * (ends - starts)[:, 2]).max(axis=1) + MARGIN_M
        low, top = along.min(axis=1) - MARGIN_M, along.max(axis=1) + MARGIN_M
        for k, place in enumerate(places[crossed]):
            foot = n * (place @ n)
            edge = _edge(foot + u * low[k], foot + u * top[k])
            found.append((top[k] - low[k], high[k], float(bearing), edge, place))
    for _, high_m, turn, edge, place in sorted(found, key=lambda one: one[:3]):
        if _is_free(edge, ground):
            return (edge, float(high_m)), turn, place
    return None


def _edge(one: "NDArray[np.float64]", other: "NDArray[np.float64]") -> Edge:
    return (float(one[0]), float(one[1])), (float(other[0]), float(other[1]))


def _is_free(edge: Edge, ground: "BaseGeometry | None") -> bool:
    from shapely import LineString

    return ground is None or bool(ground.contains(LineString(edge)))


def _ground(yard: Yard, bodies: Sequence[Body]) -> "BaseGeometry":
    """Where a screen may stand."""
    from shapely import MultiPoint, Polygon, unary_union

    outlines = [Polygon(body.quarters.corners_m) for body in bodies]
    kept = [outline.buffer(CLEAR_M) for outline in outlines]
    kept += [
        _under(feature).buffer(CLEAR_M if feature.kind in STANDS else 0.01)
        for feature in yard.feature
        if feature.kind in STANDS or feature.kind in WAYS
    ]
    if len(yard.yard.boundary_m) >= 3:
        whole = Polygon(yard.yard.boundary_m).buffer(0)
    else:
        corners = [p for outline in outlines for p in outline.exterior.coords]
        whole = MultiPoint(corners or [(0, 0)]).convex_hull.buffer(200)
    return whole.difference(unary_union(kept))


def _under(feature: Feature) -> "BaseGeometry":
    way = feature.kind in WAYS
    return footprint(feature, WAY_M / 2 if way else 0.01, WAY_M if way else 0.1)


def on_a_face(body: Body, lines: Sequence[Line]) -> Proposal | None:
    """Boards on the faces of quarters that the lines go through; None where that cannot be.

    It cannot where a line goes through no face, or above one.
    """
    if body.quarters.faces is None:
        return None
    hit: dict[int, list[tuple[float, float, float]]] = {}
    edges = tuple(_faces(body))
    for start, end in lines:
        crossed = False
        for k, (edge, tops) in enumerate(edges):
            flat = (start[:2], end[:2])
            share, along = crossing_share(flat, edge), crossing_share(edge, flat)
            if share is None or along is None:
                continue
            up = start[2] + (end[2] - start[2]) * share
            top = tops[0] + (tops[1] - tops[0]) * along
            if up > top:
                return None
            hit.setdefault(k, []).append((along, up, top))
            crossed = True
        if not crossed:
            return None
    return Proposal("on a face", body.quarters.name, tuple(_boards(edges, hit)))


def _faces(body: Body) -> Iterator[tuple[Edge, tuple[float, float]]]:
    for side in SIDES:
        yield from body.side_m(side)


def _boards(
    edges: Sequence[tuple[Edge, tuple[float, float]]],
    hit: dict[int, list[tuple[float, float, float]]],
) -> Iterator[tuple[Edge, float]]:
    for k, met in sorted(hit.items()):
        ((ax, ay), (bx, by)), tops = edges[k]
        spare = MARGIN_M / dist((ax, ay), (bx, by))
        low = max(0.0, min(at for at, _, _ in met) - spare)
        high = min(1.0, max(at for at, _, _ in met) + spare)
        top = min(max(up for _, up, _ in met) + MARGIN_M, max(tops))
        yield (
            (
                (ax + (bx - ax) * low, ay + (by - ay) * low),
                (ax + (bx - ax) * high, ay + (by - ay) * high),
            ),
            top,
        )


def proposals(
    yard: Yard, lines: Sequence[Line], bodies: Sequence[Body], ends: Iterable[str]
) -> tuple[Proposal, ...]:
    """Ways to break lines: one on the ground, and one on the faces of each quarters at an end.

    Args:
        yard: The yard.
        lines: The lines, all of them clear now, at least one.
        bodies: Every quarters of the yard.
        ends: Names of the quarters in which the lines begin or end.
    """
    names = tuple(dict.fromkeys(ends))
    found = [free_standing(yard, lines, bodies)]
    found += [on_a_face(body, lines) for body in bodies if body.quarters.name in names]
    return tuple(
        sorted(
            (one for one in found if one is not None), key=lambda one: (one.length_m, one.height_m)
        )
    )
