"""Distances in space against brute force, and the walk from the floor against a graph library.

Outside: a dense sampling of both lines (numpy) for distances; networkx for the walk.
"""

import math

import networkx
import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats, integers, lists, tuples

from mewswright.build import flight
from mewswright.build.landing import landing_room_mm
from mewswright.model.quarters import Quarters
from support.yards import perch, quarters

spot = tuples(floats(0, 5000), floats(0, 5000), floats(0, 3000))


def nearest_by_sampling(a, b, c, d, steps=401):
    share = np.linspace(0, 1, steps)[:, None]
    one = np.asarray(a) + (np.asarray(b) - np.asarray(a)) * share
    two = np.asarray(c) + (np.asarray(d) - np.asarray(c)) * share
    return float(np.sqrt(((one[:, None, :] - two[None, :, :]) ** 2).sum(axis=2)).min())


@given(a=spot, b=spot, c=spot, d=spot)
def test_distance_of_two_segments_agrees_with_sampling(a, b, c, d):
    exact, sampled = flight.segment_gap_mm(a, b, c, d), nearest_by_sampling(a, b, c, d)
    step = (math.dist(a, b) + math.dist(c, d)) / 400
    assert exact <= sampled + 0.01  # near-parallel lines: far below what a tape reads
    assert sampled <= exact + step


@given(a=spot, b=spot, low=spot, size=tuples(*[floats(1, 900)] * 3))
def test_distance_to_a_box_agrees_with_sampling(a, b, low, size):
    slab = flight.Slab("box", low, tuple(x + s for x, s in zip(low, size, strict=True)))
    share = np.linspace(0, 1, 2001)[:, None]
    line = np.asarray(a) + (np.asarray(b) - np.asarray(a)) * share
    out = np.maximum(np.maximum(np.asarray(slab.low) - line, line - np.asarray(slab.high)), 0)
    sampled = float(np.sqrt((out**2).sum(axis=1)).min())
    exact = flight.segment_to_slab_mm(a, b, slab)
    assert exact <= sampled + 1e-3
    assert sampled <= exact + math.dist(a, b) / 2000 + 1e-3


def test_a_block_is_solid_down_to_the_floor():
    room = Quarters.model_validate(quarters(fitting=[perch(height_mm=900, diameter_mm=100)]))
    thing = flight.perch_thing(room.perches[0])
    assert flight.way_clear_mm((0, 1500, 300), (5000, 1500, 300), thing) == pytest.approx(-50)
    assert flight.way_clear_mm((0, 1500, 1400), (5000, 1500, 1400), thing) == pytest.approx(450)


def test_climb_by_hand():
    """A rise of 1000 over 1000 is 45 degrees; down is no climb."""
    assert flight.climb_deg(1000, 1000) == pytest.approx(45)
    assert flight.climb_deg(-500, 1000) == 0
    assert flight.climb_deg(500, 0) == pytest.approx(90)


@given(
    spots=lists(tuples(floats(100, 4900), floats(100, 5900), floats(100, 2900)), min_size=1,
                max_size=6),
    angle=floats(0, 70), hop=integers(0, 900),
)  # fmt: skip
def test_the_walk_from_the_floor_agrees_with_networkx(spots, angle, hop):
    fittings = [perch(f"p{i}", x, y, height_mm=z) for i, (x, y, z) in enumerate(spots)]
    room = Quarters.model_validate(quarters(fitting=fittings))
    stride = flight.Stride(angle, float(hop))
    graph = networkx.DiGraph()
    graph.add_node(flight.FLOOR)
    for end in room.perches:
        for start in (None, *room.perches):
            if start is not end and flight.can_step(start, end, room, stride):
                graph.add_edge(start.name if start else flight.FLOOR, end.name)
    assert set(flight.reached(room, stride)) == networkx.descendants(graph, flight.FLOOR)


def test_room_to_land_ends_at_a_taller_thing():
    """By hand: a block at y 1500 in a room of 6000; a 2 m post 1000 in front of its edge."""
    post = {"kind": "post", "name": "post", "at_mm": [1500, 2550], "size_mm": 100, "top_mm": 2000}
    bare = Quarters.model_validate(quarters(fitting=[perch()]))
    with_post = Quarters.model_validate(quarters(fitting=[perch(), post]))

    assert landing_room_mm(bare, bare.perches[0], flight.things(bare)) == 4500
    assert landing_room_mm(with_post, with_post.perches[0], flight.things(with_post)) == 1500
