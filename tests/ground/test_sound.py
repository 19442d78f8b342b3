"""Sound against published figures.

Spreading (ISO 9613-2, divergence): 100 dB at 1 m is 93.98 dB at 2 m and 73.98 dB at 20 m.
Maekawa's chart: about 5 dB where the wall just touches the line, 13 to 14 dB at N = 1.
"""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from mewswright.ground.heard import dulls, heard
from mewswright.ground.screens import upright_screens
from mewswright.ground.sound import (
    barrier_loss_db,
    detour_m,
    detour_round_m,
    distance_for_m,
    level_db,
)
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


def fence(*line):
    return Feature.model_validate(
        {"name": "fence", "kind": "fence", "line_m": line, "height_m": 99}
    )


def test_round_the_end_of_a_short_wall_by_pythagoras():
    """A wall 99 m high that ends 3 m aside, 4 m off: 5 + 5 - 8; its other end is farther."""
    assert detour_round_m((0, 0), (0, 8), fence([-3, 4], [30, 4])) == pytest.approx(2)
    source = Feature.model_validate(
        {"name": "dog", "kind": "kennel", "at_m": [0, 0], "sound_db_1m": 90}
    )
    one = heard(source, (0, 8, 1), dulls([fence([-3, 4], [30, 4])]))
    assert one.detour_m == pytest.approx(2)
    assert one.level_db == pytest.approx(level_db(90, 8) - barrier_loss_db(2))


def test_round_a_building_the_nearer_side_counts():
    """A square of 4 m in the line, 1 m to its left and 3 m to its right: the left corners."""
    barn = Feature.model_validate(
        {"name": "barn", "kind": "building", "height_m": 5,
         "outline_m": [[-1, 2], [3, 2], [3, 6], [-1, 6]]}
    )  # fmt: skip
    found = detour_round_m((0, 0), (0, 8), barn)
    assert found == pytest.approx(sqrt(1 + 4) + sqrt(1 + 36) - 8)
    assert found <= 2 * sqrt(5) + 4 - 8  # the hull is the real way round


def test_a_wall_across_everything_is_passed_over_its_top():
    long_wall = wall(4).model_copy(update={"line_m": ((-900, 3), (900, 3))})
    source = Feature.model_validate({"name": "dog", "kind": "kennel", "at_m": [0, 0]})
    one = heard(source, (0, 10, 1), dulls([long_wall]))
    assert one.detour_m == pytest.approx(
        detour_m((0, 0, 1), (0, 10, 1), upright_screens([long_wall]))
    )
    assert one.level_db is None
