"""Hours of sun on a grid and the shade of one moment.

Outside: shapely lays the shades out in plan; rays ask every solid at places of the ground, in
another way altogether. The ellipse of a ball's shade: r by r / sin h (plain geometry).
"""

from math import pi, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis.strategies import integers
from shapely import Point

from mewswright.ground.light import points_of, rays_of, rows_of, through
from mewswright.ground.ray_kernel import light_of_each
from mewswright.ground.solids import SolidBox, SolidCrown, yard_solids
from mewswright.ground.sun_map import dark_ground, shades, sun_grid
from support.solids import some_solids
from support.yards import quarters, yard


@settings(max_examples=30, deadline=None)
@given(integers(0, 2**32 - 1))
def test_the_ground_is_dark_where_its_rays_are_stopped(seed):
    chance = np.random.default_rng(seed)
    solids = [one for one in some_solids(chance) if one.thin is None]
    height, bearing = chance.uniform(8, 85), chance.uniform(0, 360)
    dark = dark_ground(shades(solids, height, bearing, 6))
    spots = np.column_stack((chance.uniform(-15, 15, (300, 2)), np.full(300, 1e-9)))
    rows, rays = rows_of(solids), rays_of(np.array([height]), np.array([bearing]))
    out = np.empty((300, 1), np.float32)
    passes = through(rows.thin, rays, np.array([6]))
    light_of_each(rows.boxes, rows.crowns, passes, points_of(spots), rays.suns, out)
    for (x, y, _), share in zip(spots, out[:, 0], strict=True):
        if dark.is_empty or dark.boundary.distance(Point(x, y)) > 0.03:
            assert dark.contains(Point(x, y)) == (share == 0)


def test_a_balls_shade_is_an_ellipse():
    (shade,) = shades([SolidCrown("ash", (0, 0, 5), 2, 1)], 30, 90, 6)
    assert shade.outline.area == pytest.approx(pi * 2 * 2 / sin(radians(30)), rel=0.005)
    assert shade.outline.centroid.x == pytest.approx(-5 * 3**0.5)
    assert shade.of == "ash"


def test_a_boxs_shade_is_as_long_as_its_height_over_the_tangent():
    (shade,) = shades([SolidBox("", (0, 0), (1, 0), (1, 1), (0, 0, 0), (2, 0, 0))], 45, 180, 6)
    assert shade.outline.bounds == pytest.approx((-1, -1, 1, 3))


def test_a_sun_that_is_down_throws_no_shade():
    with pytest.raises(ValueError, match="the sun stands at 0 deg: it throws no shade"):
        shades([], 0, 0, 1)


def test_the_grid_shows_less_sun_behind_quarters():
    """North of a loft in the north there is less sun in winter than south of it."""
    room = yard(quarters=[quarters()])
    grid = sun_grid(room, months=(12,), box_m=(-12, -12, 12, 12))
    assert grid.hours.shape == (24, 24)
    xs = [x for q in room.quarters for x, _ in q.corners_m]
    ys = [y for q in room.quarters for _, y in q.corners_m]
    column = int((sum(xs) / 4 + 12) // 1)
    south, north = int(min(ys) - 2 + 12), int(max(ys) + 2 + 12)
    assert grid.hours[north, column] < 0.2 * grid.hours[south, column]
    assert grid.hours.min() >= 0
    assert grid.hours.max() < 10


def test_a_yard_without_anything_has_a_grid_of_one_cell_and_no_shade():
    empty = yard()
    assert yard_solids(empty) == ()
    assert sun_grid(empty, cell_m=5).hours.size >= 1
    assert dark_ground(()).is_empty


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"cell_m": 0}, "a cell must be larger than 0 m, got 0"),
        ({"months": (13,)}, "months must be some of 1 to 12"),
        ({"step_min": 7}, "the step must divide an hour"),
        ({"cell_m": 0.01, "box_m": (0, 0, 50, 50)}, "take larger ones"),
    ],
)
def test_what_no_grid_has_is_refused(more, said):
    with pytest.raises(ValueError, match=said):
        sun_grid(yard(), **more)
