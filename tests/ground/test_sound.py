"""Sound against published figures.

Spreading (ISO 9613-2, divergence): 100 dB at 1 m is 93.98 dB at 2 m and 73.98 dB at 20 m.
Maekawa's chart: about 5 dB where the wall just touches the line, 13 to 14 dB at N = 1.
"""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground.screens import upright_screens
from mewswright.ground.sound import barrier_loss_db, detour_m, distance_for_m, level_db
from mewswright.model.place import Feature


@pytest.mark.parametrize(("away_m", "db"), [(1, 100), (2, 93.98), (20, 73.98)])
def test_spreading(away_m, db):
    assert level_db(100, away_m) == pytest.approx(db, abs=0.01)


def test_nearer_than_a_metre_is_a_metre():
    assert level_db(80, 0.1) == 80


@given(floats(61, 120), floats(30, 60))
def test_the_distance_for_a_limit_gives_the_limit(at_1m, limit):
    assert level_db(at_1m, distance_for_m(at_1m, limit)) == pytest.approx(limit)


@pytest.mark.parametrize(
    ("number", "low_db", "high_db"), [(0, 4.5, 5.5), (1, 13, 14), (10, 20, 20)]
)
def test_maekawas_chart_capped(number, low_db, high_db):
    detour = number * 343 / 500 / 2  # N = 2 x detour / wave length
    assert low_db <= barrier_loss_db(detour) <= high_db


def test_a_wall_that_is_not_in_the_way_has_no_loss():
    with pytest.raises(ValueError, match=r"^a detour is 0 m or more, got -1$"):
        barrier_loss_db(-1)


def wall(height_m, north_m=3):
    return Feature.model_validate(
        {"name": f"wall {north_m}", "kind": "wall", "line_m": [[-9, north_m], [9, north_m]],
         "height_m": height_m}
    )  # fmt: skip


def test_the_detour_by_pythagoras():
    """From 0 to 10 m at ground level over 4 m, 3 m off: 5 + sqrt(65) - 10."""
    screens = upright_screens([wall(4)])
    assert detour_m((0, 0, 0), (0, 10, 0), screens) == pytest.approx(5 + sqrt(65) - 10)
    assert detour_m((0, 0, 5), (0, 10, 5), screens) is None
    both = upright_screens([wall(4), wall(1, north_m=6)])
    assert detour_m((0, 0, 0), (0, 10, 0), both) == pytest.approx(5 + sqrt(65) - 10)
