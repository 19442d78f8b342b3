"""Which neighbours a unit has, on a yard small enough to measure by hand."""

import pytest

from mewswright.build.actions.neighbours import drifts_on_roof, edge_heights_m, neighbours
from mewswright.build.shell import shell_of
from mewswright.model.yard import Yard
from support.units import unit_yard


def with_features(*features, **unit):
    raw = unit_yard(**unit).model_dump(mode="json", exclude_none=True, exclude_unset=True)
    return Yard.model_validate(raw | {"feature": list(features)})


# The unit faces south: its roof runs from y = -2.4 - ... in front to the north behind.
HOUSE = {
    "name": "House", "kind": "building", "height_m": 6.0,
    "outline_m": [[-5, 4.0], [10, 4.0], [10, 12.0], [-5, 12.0]],
}  # fmt: skip


def test_a_house_behind_by_hand():
    """The back of the roof ends 2.4 + 0.095 + 0.15 m north of the front's inner line."""
    yard = with_features(HOUSE)
    shell = shell_of(yard.quarters[0])
    (house,), unknown = neighbours(yard, shell)
    assert unknown == ()
    assert house.side == "back"
    assert house.distance_m == pytest.approx(4.0 - 2.645)
    assert house.across_m == pytest.approx(8.0)
    assert house.roof_m == pytest.approx(2.4 + 2 * 0.095 + 0.2 + 0.15)
    (found,) = drifts_on_roof(shell, [house], 2.0)
    back = edge_heights_m(shell)[1]
    assert found.taller_by_m <= 6.0 - back + 1e-9
    # b1 + b2 = 10.94 m over twice at least 3.35 m feeds less than the annex's limit of 4
    assert found.drift.mu_wind == pytest.approx(10.94 / (2 * found.taller_by_m))
    assert found.drift.mu_slide > 0
    assert 0.8 <= found.far_mu < found.mean_mu < found.near_mu < found.drift.mu_at_wall


def test_snow_drifts_less_the_farther_the_wall():
    means = []
    for gap in (0.2, 1.0, 2.0, 4.0):
        wall = {
            "name": "Wall", "kind": "wall", "height_m": 5.0, "width_m": 0.4,
            "line_m": [[-5, 2.645 + gap], [10, 2.645 + gap]],
        }  # fmt: skip
        yard = with_features(wall)
        shell = shell_of(yard.quarters[0])
        found = drifts_on_roof(shell, neighbours(yard, shell)[0], 2.0)
        means.append(found[0].mean_mu if found else 0.8)
    assert means == sorted(means, reverse=True)


def test_what_is_lower_or_far_or_a_tree_brings_no_drift():
    low = {"name": "Low", "kind": "wall", "height_m": 1.5, "line_m": [[-5, 3.0], [9, 3.0]]}
    far = {**HOUSE, "name": "Far", "outline_m": [[-5, 40], [9, 40], [9, 50], [-5, 50]]}
    tree = {"name": "Ash", "kind": "tree", "height_m": 15, "at_m": [1, 4]}
    yard = with_features(low, far, tree)
    shell = shell_of(yard.quarters[0])
    beside, _ = neighbours(yard, shell)
    assert [one.name for one in beside] == ["Low"]
    assert drifts_on_roof(shell, beside, 2.0) == ()


def test_without_snow_there_is_no_drift():
    yard = with_features(HOUSE)
    shell = shell_of(yard.quarters[0])
    assert drifts_on_roof(shell, neighbours(yard, shell)[0], 0) == ()


def test_a_near_thing_of_unknown_height_is_named():
    shed = {"name": "Shed", "kind": "building", "outline_m": [[5, 0], [7, 0], [7, 2], [5, 2]]}
    room = {"name": "Weighing", "kind": "weighing_room", "at_m": [1, 6]}
    yard = with_features(HOUSE, shed, room)
    beside, unknown = neighbours(yard, shell_of(yard.quarters[0]))
    assert [one.name for one in beside] == ["House"]
    assert unknown == ("Shed, 1.8 m away",)  # the weighing room is in the house


def test_a_taller_unit_beside_counts():
    yard = unit_yard()
    tall = yard.quarters[0].model_copy(
        update={"name": "Tall", "at_m": (4.0, 0.0), "front_height_mm": 4000, "back_height_mm": 3800}
    )
    both = yard.model_copy(update={"quarters": (*yard.quarters, tall)})
    shell = shell_of(both.quarters[0])
    (one,), _ = neighbours(both, shell)
    assert (one.name, one.side) == ("Tall", "right")
    assert one.distance_m == pytest.approx(4.0 - 3.0 - 2 * 0.195)
    assert len(drifts_on_roof(shell, [one], 2.0)) == 1
    assert drifts_on_roof(shell_of(tall), neighbours(both, shell_of(tall))[0], 2.0) == ()
