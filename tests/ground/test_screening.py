"""Screens that break lines: true when set up, and never much longer than a brute search finds.

The brute search tries every cut through the lines on a fine grid, and asks shapely what stands
in its way.
"""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from shapely import LineString, Polygon

from mewswright.ground.lookers import clear_lines
from mewswright.ground.screening import CLEAR_M, MARGIN_M, free_standing, on_a_face, proposals
from mewswright.ground.sight import Body
from support.yards import quarters, yard


def pair(gap_m=12, **more):
    """Two lofts that look at each other, and the lines between three eyes in each."""
    one = quarters("One", at_m=[5, 0], facing_deg=0)
    two = quarters("Two", at_m=[1, gap_m], facing_deg=190)
    of = yard(quarters=[one, two], **more)
    bodies = [Body(q) for q in of.quarters]
    starts = [bodies[0].eye(x, 2000, h) for x, h in ((800, 500), (2500, 1500), (4200, 900))]
    ends = [bodies[1].eye(x, 2500, h) for x, h in ((900, 600), (2500, 1800), (4000, 1200))]
    return of, bodies, clear_lines(starts, ends, bodies, ()), starts, ends


def brute(lines, bodies):
    """Least length over a fine grid of cuts that stay clear of both lofts."""
    starts, ends = (np.array([line[i] for line in lines]) for i in (0, 1))
    best = float("inf")
    walls = [Polygon(b.quarters.corners_m).buffer(CLEAR_M) for b in bodies]
    middle = starts.mean(axis=0)[:2]
    way = ends.mean(axis=0)[:2] - middle
    for turn in np.arange(0, pi, pi / 180):
        u, n = np.array([cos(turn), sin(turn)]), np.array([-sin(turn), cos(turn)])
        for share in np.linspace(0.01, 0.99, 99):
            at = (middle + share * way) @ n
            a, b = starts[:, :2] @ n, ends[:, :2] @ n
            with np.errstate(divide="ignore", invalid="ignore"):
                t = (at - a) / (b - a)
            if not ((t > 0) & (t < 1)).all():
                continue
            along = starts[:, :2] @ u + t * ((ends - starts)[:, :2] @ u)
            low, high = along.min() - MARGIN_M, along.max() + MARGIN_M
            if high - low >= best:
                continue
            line = LineString([n * at + u * low, n * at + u * high])
            if not any(wall.intersects(line) for wall in walls):
                best = high - low
    return best


@pytest.mark.parametrize("gap_m", [8, 12, 20, 35])
def test_a_free_screen_is_about_the_shortest_that_a_fine_grid_finds(gap_m):
    of, bodies, lines, _, _ = pair(gap_m)
    found = free_standing(of, lines, bodies)
    assert found.length_m <= 1.02 * brute(lines, bodies)


@pytest.mark.parametrize("gap_m", [8, 12, 20, 35])
def test_every_proposal_hides_all(gap_m):
    of, bodies, lines, starts, ends = pair(gap_m)
    assert len(lines) == 9
    found = proposals(of, lines, bodies, ("One", "Two"))
    assert {(p.kind, p.at) for p in found} == {
        ("free-standing", ""), ("on a face", "One"), ("on a face", "Two")
    }  # fmt: skip
    assert [p.length_m for p in found] == sorted(p.length_m for p in found)
    for one in found:
        assert clear_lines(starts, ends, bodies, one.screens) == ()


def test_a_screen_on_a_face_is_as_wide_and_high_as_the_lines():
    """Eye to eye square through the front: the point, and the margin on each side and above."""
    one = quarters("One", at_m=[5, 0], facing_deg=0)
    body = Body(yard(quarters=[one]).quarters[0])
    found = on_a_face(body, [((2.5, -3.0, 1.0), (2.5, 9.0, 1.0))])
    assert found.length_m == pytest.approx(2 * MARGIN_M)
    assert found.height_m == pytest.approx(1.0 + MARGIN_M)
    assert found.parts[0][0][0][1] == found.parts[0][0][1][1] == 0


def test_a_line_over_the_wall_has_no_screen_on_the_face():
    body = Body(yard(quarters=[quarters("One", at_m=[5, 0], facing_deg=0)]).quarters[0])
    assert on_a_face(body, [((2.5, -1.0, 2.0), (2.5, 2.0, 9.0))]) is None


def test_nowhere_to_stand():
    """A lane that fills all the ground between two lofts leaves none for a screen."""
    lane = {"name": "Lane", "kind": "lane", "line_m": [[-99, 6], [99, 6]], "width_m": 30}
    of, bodies, lines, _, _ = pair(12, feature=[lane])
    assert free_standing(of, lines, bodies) is None


def test_inside_the_boundary():
    of, bodies, lines, _, _ = pair(12)
    holding = of.yard.model_copy(update={"boundary_m": ((-9, -9), (9, -9), (9, 3), (-9, 3))})
    found = free_standing(of.model_copy(update={"yard": holding}), lines, bodies)
    assert all(y <= 3 for part, _ in found.parts for _, y in part)
    assert hypot(found.length_m) < 9
