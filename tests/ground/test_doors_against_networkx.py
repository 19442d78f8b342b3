"""The door graph against networkx: fewest doors and smallest cuts on generated yards.

networkx's shortest_path_length and minimum_edge_cut are the outside source. Several doors
between two rooms are one edge with so much capacity there.
"""

import random

import networkx
import pytest

from mewswright.ground.door_cuts import fewest_doors_to_cut
from mewswright.ground.doors import OUTSIDE, doors_of, shortest_way_out
from mewswright.model.ways import Door

ROOMS = ["loft", "a", "b", "c", "d", "e", "f", OUTSIDE]
OPEN_AIR = frozenset({OUTSIDE, "f"})


def maze(seed):
    """Up to 16 doors between 8 places, two of them open; some pairs have two doors."""
    dice = random.Random(seed)
    return [
        Door(between=tuple(dice.sample(ROOMS, 2)), width_mm=700 + i, height_mm=1900)
        for i in range(dice.randint(1, 16))
    ]


def graph_of(doors):
    """The same maze as a graph with one edge for each pair, all open places in one node."""
    graph = networkx.Graph()
    graph.add_nodes_from(["loft", OUTSIDE])
    for door in doors:
        a, b = (OUTSIDE if name in OPEN_AIR else name for name in door.between)
        if a != b:
            have = graph.get_edge_data(a, b, {"capacity": 0})["capacity"]
            graph.add_edge(a, b, capacity=have + 1)
    return graph


@pytest.mark.parametrize("seed", range(300))
def test_fewest_doors_are_the_shortest_path(seed):
    doors, graph = maze(seed), graph_of(maze(seed))
    way = shortest_way_out("loft", doors_of(doors), OPEN_AIR)
    if not networkx.has_path(graph, "loft", OUTSIDE):
        assert way is None
    else:
        assert len(way.doors) == networkx.shortest_path_length(graph, "loft", OUTSIDE)


@pytest.mark.parametrize("seed", range(300))
def test_the_cut_is_a_smallest_one(seed):
    doors = maze(seed)
    cut = fewest_doors_to_cut("loft", doors, OPEN_AIR)
    assert len(cut) == networkx.minimum_cut_value(graph_of(doors), "loft", OUTSIDE)
    left = [door for door in doors if door not in cut]
    assert not networkx.has_path(graph_of(left), "loft", OUTSIDE)


@pytest.mark.parametrize("seed", range(300))
def test_single_doors_agree_with_minimum_edge_cut(seed):
    """Without double doors the cut is an edge cut; as many edges, whichever set is found."""
    pairs = {}
    for door in maze(seed):
        a, b = sorted(OUTSIDE if name in OPEN_AIR else name for name in door.between)
        pairs.setdefault((a, b), door)
    doors = list(pairs.values())
    cut = fewest_doors_to_cut("loft", doors, OPEN_AIR)
    edges = networkx.minimum_edge_cut(graph_of(doors), "loft", OUTSIDE)
    assert len(cut) == len(edges)


@pytest.mark.parametrize("seed", range(100))
def test_doors_that_let_through_one_way_only(seed):
    """Against maximal flow in a directed graph: narrow doors let nobody back."""
    doors = maze(seed)
    graph = networkx.DiGraph()
    graph.add_nodes_from(["loft", OUTSIDE])

    def passes(door, here):
        return door.width_mm % 3 != 0 or here == door.between[0]

    for door in doors:
        for here, there in (door.between, door.between[::-1]):
            a, b = (OUTSIDE if name in OPEN_AIR else name for name in (here, there))
            if a != b and passes(door, here):
                have = graph.get_edge_data(a, b, {"capacity": 0})["capacity"]
                graph.add_edge(a, b, capacity=have + 1)
    cut = fewest_doors_to_cut("loft", doors, OPEN_AIR, passes)
    assert len(cut) == networkx.maximum_flow_value(graph, "loft", OUTSIDE)
    way = shortest_way_out("loft", doors_of(doors), OPEN_AIR, passes)
    assert (way is not None) == networkx.has_path(graph, "loft", OUTSIDE)


@pytest.mark.parametrize("seed", range(100))
def test_the_cut_does_not_hang_on_the_order_of_the_doors(seed):
    doors = maze(seed)
    turned = doors[::-1]
    cut = fewest_doors_to_cut("loft", doors, OPEN_AIR)
    assert set(fewest_doors_to_cut("loft", turned, OPEN_AIR)) == set(cut)


def test_the_mazes_are_not_all_alike():
    sizes = {len(fewest_doors_to_cut("loft", maze(seed), OPEN_AIR)) for seed in range(300)}
    assert {0, 1, 2, 3} <= sizes
