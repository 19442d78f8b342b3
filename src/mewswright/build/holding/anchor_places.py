"""Where anchors stand round a unit. Metres from its front left outer corner."""

from collections.abc import Sequence
from itertools import pairwise

from mewswright.build.holding.standing import WindCase

CORNERS = 4
ALONG_EDGE = 1e-9


def anchor_places(width_m: float, depth_m: float, count: int) -> tuple[tuple[float, float], ...]:
    """Where anchors stand round a unit [m from its front left outer corner].

    Args:
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].
        count: How many.

    Returns:
        The corners first (front left, back right, front right, back left); each further
        one goes into the edge where anchors stand farthest apart, evenly spaced.
    """
    corners = ((0.0, 0.0), (width_m, depth_m), (width_m, 0.0), (0.0, depth_m))
    places = list(corners[:count])
    edges = (
        ((0.0, 0.0), (1.0, 0.0), width_m), ((0.0, depth_m), (1.0, 0.0), width_m),
        ((0.0, 0.0), (0.0, 1.0), depth_m), ((width_m, 0.0), (0.0, 1.0), depth_m),
    )  # fmt: skip
    inner = [0, 0, 0, 0]
    for _ in range(count - CORNERS):
        widest = max(range(4), key=lambda edge: (edges[edge][2] / (inner[edge] + 1), -edge))
        inner[widest] += 1
    for (start, way, length), between in zip(edges, inner, strict=True):
        for step in range(1, between + 1):
            at = length * step / (between + 1)
            places.append((start[0] + way[0] * at, start[1] + way[1] * at))
    return tuple(places)


def widest_gap_m(places: Sequence[tuple[float, float]], width_m: float, depth_m: float) -> float:
    """Farthest that two neighbouring anchors of one edge stand apart [m].

    An edge without anchors at both of its corners counts with its whole length.
    """
    widest = 0.0
    for axis, edge_at, length in ((0, 0.0, width_m), (0, depth_m, width_m),
                                  (1, 0.0, depth_m), (1, width_m, depth_m)):  # fmt: skip
        own = sorted(p[axis] for p in places if abs(p[1 - axis] - edge_at) < ALONG_EDGE)
        if len(own) < 2:
            widest = max(widest, length)
        else:
            widest = max(widest, *(b - a for a, b in pairwise(own)))
    return widest


def lever_m(
    case: WindCase, places: Sequence[tuple[float, float]], width_m: float, depth_m: float
) -> float:
    """Moment about the leeward edge that anchors hold, for 1 kN on the hardest pulled [m].

    Args:
        case: The wind; it may come from either end, and the worse counts.
        places: Where the anchors stand.
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].

    Source:
        Statics of a stiff base that turns about its edge: pull grows with the distance y,
        sum y^2 / base.
    """
    axis, base = (1, depth_m) if case.along == "depth" else (0, width_m)
    one_way = sum(place[axis] ** 2 for place in places)
    other_way = sum((base - place[axis]) ** 2 for place in places)
    return min(one_way, other_way) / base


def spread_m(
    case: WindCase, places: Sequence[tuple[float, float]], width_m: float, depth_m: float
) -> float:
    """Moment about their middle that anchors hold, for 1 kN more on the outermost [m].

    Arguments as `lever_m`. Source: statics of a stiff base, sum y^2 / y_max about the middle.
    """
    axis, base = (1, depth_m) if case.along == "depth" else (0, width_m)
    return sum((place[axis] - base / 2) ** 2 for place in places) / (base / 2)
