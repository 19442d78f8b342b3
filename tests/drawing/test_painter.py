"""Hiding, against rays: what a ray from the viewer meets first is what must be seen."""

from itertools import pairwise, product
from math import sqrt

import numpy as np
import pytest

from mewswright.drawing.exploded import PAPER, TO_VIEWER
from mewswright.drawing.painter import Body, hiders, inside, painted_order, seen

FACES = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
EDGES = [(i, j) for i in range(8) for j in range(i + 1, 8) if bin(i ^ j).count("1") == 1]
VIEWER = np.array(TO_VIEWER) / sqrt(3)


def box(middle, halves, turn=None):
    turn = np.eye(3) if turn is None else turn
    corners = np.array(list(product((-1, 1), repeat=3))) * halves
    return middle, halves, turn, Body(corners @ turn.T + middle, FACES, PAPER)


def meets(one, start):
    """Where along the ray towards the viewer a box begins and ends, or None (slabs)."""
    middle, halves, turn, _ = one
    at, along = turn.T @ (start - middle), turn.T @ VIEWER
    with np.errstate(divide="ignore"):
        ends = np.sort(np.array([(-halves - at) / along, (halves - at) / along]), axis=0)
    enter, leave = ends[0].max(), ends[1].min()
    return (enter, leave) if enter < leave - 1e-6 else None


def painted(bodies):
    return painted_order(bodies, TO_VIEWER, hiders(bodies, TO_VIEWER))


def scattered(seed, turned):
    """Boxes in a lattice of balls that touch no other, each turned at random."""
    rng = np.random.default_rng(seed)
    found = []
    for cell in product(range(3), repeat=3):
        turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
        halves = rng.uniform(10, 55, 3)  # of 95 mm at the most from middle to corner
        found.append(box(np.array(cell) * 200.0, halves, turn if turned else None))
    return [found[k] for k in rng.permutation(len(found))]


def long_ones(seed):
    """Long sticks along the three axes, packed close, none in another's way."""
    rng = np.random.default_rng(seed)
    found = []
    for _ in range(400):
        halves = rng.uniform(5, 20, 3)
        halves[rng.integers(3)] = rng.uniform(50, 250)
        middle = rng.uniform(0, 600, 3)
        apart = (np.any(np.abs(middle - o[0]) >= halves + o[1]) for o in found)
        if all(apart):
            found.append(box(middle, halves))
    return found


CASES = [scattered(seed, turned) for seed in range(2) for turned in (False, True)]


@pytest.mark.parametrize("boxes", CASES)
def test_a_solid_is_painted_after_all_that_it_hides(boxes):
    order = painted([b for *_, b in boxes])
    assert sorted(order) == list(range(len(boxes)))
    place = {k: i for i, k in enumerate(order)}
    rng = np.random.default_rng(1)
    checked = 0
    for start in rng.uniform(-100, 500, (1000, 3)):
        hits = sorted((h[0], k) for k, one in enumerate(boxes) if (h := meets(one, start)))
        for (_, far), (_, near) in pairwise(hits):
            assert place[far] < place[near]
            checked += 1
    assert checked > 60


@pytest.mark.parametrize("boxes", [CASES[1], long_ones(5)])
def test_a_line_is_seen_where_no_ray_from_it_meets_a_nearer_solid(boxes):
    before = hiders([b for *_, b in boxes], TO_VIEWER)
    seen_points = hidden_points = 0
    for k, (*_, body) in enumerate(boxes):
        nearer = [boxes[j][3].outline for j in before[k]]
        for p, q in EDGES:
            a, b = body.places[p], body.places[q]
            fa, fb = (tuple(map(float, body.flat[c])) for c in (p, q))
            long = float(np.hypot(fb[0] - fa[0], fb[1] - fa[1]))
            shown = [
                tuple(np.hypot(e[0] - fa[0], e[1] - fa[1]) / long for e in piece)
                for piece in seen(fa, fb, nearer)
            ]
            for share in (0.13, 0.61):
                if any(abs(share - end) * long < 1.0 for piece in shown for end in piece):
                    continue  # on the rim of what hides it
                at = a + share * (b - a)
                blocked = any(
                    h is not None and h[1] > 1e-3 and h[1] - max(h[0], 0) > 2
                    for j, one in enumerate(boxes)
                    if j != k
                    for h in [meets(one, at)]
                )
                drawn = any(start < share < end for start, end in shown)
                if blocked:
                    assert not drawn
                    hidden_points += 1
                elif not any(j != k and meets(o, at) for j, o in enumerate(boxes)):
                    assert drawn
                    seen_points += 1
    assert seen_points > 50
    assert hidden_points > 50


def test_a_ring_that_no_order_paints_still_ends():
    """Three sticks, each over the next, as a three-legged knot lies."""
    u = np.array([1.0, 1.0, 0.0]) / sqrt(2)
    v = np.cross(VIEWER, u)
    ring = []
    for k in range(3):
        c, s = np.cos(2 * np.pi * k / 3), np.sin(2 * np.pi * k / 3)
        side = c * u + s * v
        along = -s * u + c * v + 0.35 * VIEWER
        along /= np.linalg.norm(along)
        across = np.cross(VIEWER, along)
        across /= np.linalg.norm(across)
        turn = np.column_stack([along, across, np.cross(along, across)])
        ring.append(box(side * 40, np.array([100.0, 5.0, 5.0]), turn))
    assert sorted(painted([b for *_, b in ring])) == [0, 1, 2]


def test_no_solids_have_no_order():
    assert painted([]) == []


def test_the_part_of_a_line_in_an_outline_is_what_the_outline_gives():
    """By hand: a square of 10 about the origin, less what shrinks it by 0.2 all round."""
    square = ((-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0))
    assert inside((-10, 0), (10, 0), square) == pytest.approx((0.26, 0.74))
    assert inside((-10, 6), (10, 6), square) is None
    assert inside((-10, 5), (10, 5), square) is None  # along its rim
