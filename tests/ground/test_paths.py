"""Walks against networkx on a graph of shapely's, and rounds against trying all orders."""

from itertools import combinations, pairwise, permutations
from math import dist, inf, sqrt

import networkx
import numpy as np
import pytest
from shapely import LineString

from mewswright.ground.paths import Ways, obstacles, shortest_round
from support.yards import quarters, yard


def crowded(seed):
    rng = np.random.default_rng(seed)
    places = [
        quarters(f"Q{i}", at_m=[float(x), float(y)], facing_deg=float(rng.uniform(0, 360)),
                 width_mm=float(rng.uniform(2000, 6000)), depth_mm=float(rng.uniform(2000, 4000)))
        for i, (x, y) in enumerate(rng.uniform(0, 30, (6, 2)))
    ]  # fmt: skip
    wall = {"name": "wall", "kind": "wall", "line_m": [[-5, 15], [35, 16]], "width_m": 0.4}
    gate = {"name": "gate", "kind": "gate", "at_m": [float(rng.uniform(0, 30)), 15.6]}
    return yard(quarters=places, feature=[wall, gate]), rng


@pytest.mark.parametrize("seed", range(6))
def test_a_walk_is_that_of_networkx(seed):
    of, rng = crowded(seed)
    blocked = obstacles(of)
    free = [(float(x), float(y)) for x, y in rng.uniform(-4, 34, (60, 2))]
    places = [p for p in free if not blocked.intersects(LineString([p, (p[0] + 0.01, p[1])]))][:6]
    ways = Ways(of, places)
    graph = networkx.Graph()
    corners = places + [
        tuple(c) for part in getattr(blocked, "geoms", [blocked])
        for ring in (part.exterior, *part.interiors) for c in ring.coords[:-1]
    ]  # fmt: skip
    core = blocked.buffer(-0.002)
    graph.add_nodes_from(corners)
    for a, b in combinations(corners, 2):
        if not core.intersects(LineString([a, b])):
            graph.add_edge(a, b, weight=dist(a, b))
    for i, j in combinations(range(len(places)), 2):
        walk = ways.walk(i, j)
        if not networkx.has_path(graph, places[i], places[j]):
            assert walk is None
            continue
        want = networkx.dijkstra_path_length(graph, places[i], places[j])
        assert walk.length_m == pytest.approx(want)
        assert not core.intersects(LineString(walk.points))


def test_round_a_wall_by_pythagoras():
    """A thin wall of 8 m, eyes 3 m before and behind its middle, 0.35 m off: by hand."""
    wall = {"name": "wall", "kind": "wall", "line_m": [[-4, 0], [4, 0]], "width_m": 0.1}
    ways = Ways(yard(feature=[wall]), [(0, -3), (0, 3)])
    aside, off = 4.35, 0.4  # half the wall and 0.35 past its end; half its width and 0.35
    want = 2 * sqrt(aside**2 + (3 - off) ** 2) + 2 * off
    assert ways.walk(0, 1).length_m == pytest.approx(want)


def test_a_gate_opens_its_wall():
    wall = {"name": "wall", "kind": "wall", "line_m": [[-400, 0], [400, 0]]}
    gate = {"name": "gate", "kind": "gate", "at_m": [0, 0]}
    ways = Ways(yard(feature=[wall, gate]), [(0, -3), (0, 3)])
    assert ways.walk(0, 1).length_m == pytest.approx(6)


def test_closed_in_all_round():
    ring = [[-5, -5], [5, -5], [5, 5], [-5, 5], [-5, -5]]
    wall = {"name": "wall", "kind": "wall", "line_m": ring}
    ways = Ways(yard(feature=[wall]), [(0, 0), (20, 0)])
    assert ways.walk(0, 1) is None
    assert ways.table()[0][1] == inf


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("count", [2, 5, 8])
def test_the_round_is_the_shortest_of_all_orders(seed, count):
    rng = np.random.default_rng(seed)
    spots = rng.uniform(0, 50, (count, 2))
    lengths = [[dist(a, b) for b in spots] for a in spots]
    found = shortest_round(lengths)
    every = min(
        sum(lengths[a][b] for a, b in zip((0, *order), (*order, 0), strict=True))
        for order in permutations(range(1, count))
    )
    assert found.length_m == pytest.approx(every)
    assert found.proven
    assert sorted(found.order) == list(range(1, count))


@pytest.mark.parametrize("seed", range(4))
def test_a_long_round_is_no_worse_than_networkx(seed):
    """Thirty places: against Christofides of networkx, which is within a half of the shortest."""
    rng = np.random.default_rng(seed)
    spots = rng.uniform(0, 50, (30, 2))
    lengths = [[dist(a, b) for b in spots] for a in spots]
    found = shortest_round(lengths)
    assert sorted(found.order) == list(range(1, 30))
    assert not found.proven
    graph = networkx.complete_graph(30)
    for a, b in graph.edges:
        graph.edges[a, b]["weight"] = lengths[a][b]
    other = networkx.approximation.traveling_salesman_problem(
        graph, method=networkx.approximation.christofides
    )
    theirs = sum(lengths[a][b] for a, b in pairwise(other))
    assert found.length_m <= theirs + 1e-9


def test_odd_rounds():
    assert shortest_round([[0.0]]).length_m == 0
    assert shortest_round([[0.0, inf], [inf, 0.0]]) is None
