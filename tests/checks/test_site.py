"""The ground round quarters of 5 x 6 m, their front left corner at the origin, facing south.

Facing south, the left corner seen from in front lies west: the floor covers 0 to 5 m east
and 0 to 6 m north. Distances by hand. Compost 10 m is the handbook's judgement; a tree
falls as far as it is high, and is asked after within 1.5 of its heights; 60 in (1.524 m)
from a live line; 1.8 m of fence against a fox.
"""

import pytest

from support.yards import bird, findings, only, quarters, stay, yard


def holding(*features, who=None, place=None, **more):
    who = who or bird()
    return yard(
        bird=[who], quarters=[place or quarters()], stay=[stay(who["name"])],
        feature=list(features), **more,
    )  # fmt: skip


def heap(east_m, **more):
    return {"name": "heap", "kind": "compost", "at_m": [east_m, 3]} | more


def test_the_ground_of_these_quarters_is_as_said_above():
    corners = holding().quarters[0].corners_m
    assert {tuple(round(v, 9) + 0.0 for v in c) for c in corners} == {
        (0, 0),
        (5, 0),
        (5, 6),
        (0, 6),
    }


@pytest.mark.parametrize(("east_m", "status"), [(15, "sound"), (14.999, "short")])
def test_g101_compost_at_ten_metres(east_m, status):
    found = only(holding(heap(east_m)), "G101")
    assert found.status == status
    assert found.measured.value == pytest.approx(east_m - 5)


def test_g101_rounds_its_remedy_up():
    """8.684 m away, 10 m wanted: 1.31 m farther would still be 6 mm short."""
    found = only(holding(heap(13.684)), "G101")
    assert found.remedy == "move it 1.32 m farther off"
    assert only(holding(heap(13.684 + 1.32)), "G101").status == "sound"


def test_g101_the_wind_and_the_bird_are_named():
    east_wind = [{"from_deg": 90, "share_pct": 40, "speed_m_s": 3}]
    found = only(holding(heap(10), wind_rose=east_wind), "G101")
    assert found.status == "short"
    assert "the wind blows from there to here in 40 % of all hours" in found.why
    assert "Bramble's kind falls ill of mould more than others" in found.why


@pytest.mark.parametrize(
    ("east_m", "from_deg", "status"),
    [(20, 90, "mind"), (20, 45, "mind"), (20, 44, "sound"), (25, 90, "sound")],
)
def test_g101_up_wind_it_is_minded_to_twice_the_distance(east_m, from_deg, status):
    wind = [{"from_deg": from_deg, "share_pct": 40, "speed_m_s": 3}]
    assert only(holding(heap(east_m), wind_rose=wind), "G101").status == status


@pytest.mark.parametrize(("species", "status"), [("common_kestrel", "mind"), (None, "short")])
def test_g101_a_log_stack_matters_more_to_a_prone_bird(species, status):
    who = bird() if species is None else bird("Thistle", species)
    assert only(holding(heap(9, kind="log_stack"), who=who), "G101").status == status


def test_g101_the_keepers_own_distance():
    of = holding(heap(13), house={"spore_distance_m": 8})
    assert only(of, "G101").status == "sound"


def tree(east_m, **more):
    return {"name": "ash", "kind": "tree", "at_m": [east_m, 3], "height_m": 10} | more


@pytest.mark.parametrize(
    ("east_m", "more", "status"),
    [(20, {}, "sound"), (19.999, {}, "mind"), (15, {}, "mind"), (14.999, {}, "short"),
     (14.999, {"condition": "suspect"}, "harm"), (14.999, {"condition": "dead"}, "harm"),
     (19.999, {"condition": "dead", "lean_deg": 270}, "short"),
     (19.999, {"condition": "dead", "lean_deg": 90}, "mind")],
)  # fmt: skip
def test_g102_a_tree_of_ten_metres(east_m, more, status):
    assert only(holding(tree(east_m, **more)), "G102").status == status


def test_g102_the_keepers_own_reach():
    of = holding(tree(22), house={"tree_reach_heights": 2})
    assert only(of, "G102").status == "mind"


def two(east_m, **more):
    return yard(quarters=[quarters("One"), quarters("Two", at_m=[east_m, 0])], **more)


@pytest.mark.parametrize(("east_m", "status"), [(5, "sound"), (4.999, "short"), (2, "short")])
def test_g105_two_quarters_on_one_spot(east_m, status):
    assert {f.status for f in findings(two(east_m), "G105")} == {status}


def test_g105_says_how_deep():
    found = only(two(4.5), "G105", quarters="One")
    assert found.why == "it lies in Two"
    assert found.remedy == "move one of the two 0.5 m"


@pytest.mark.parametrize(("edge_m", "status"), [(-0.1, "sound"), (0.5, "short")])
def test_g105_over_the_boundary(edge_m, status):
    of = holding()
    boundary = [[edge_m, -1], [30, -1], [30, 30], [edge_m, 30]]
    of = of.model_copy(update={"yard": of.yard.model_copy(update={"boundary_m": boundary})})
    assert only(of, "G105").status == status


@pytest.mark.parametrize(("east_m", "status"), [(6.524, "sound"), (6.523, "mind")])
def test_g106_a_power_line(east_m, status):
    line = {"name": "line", "kind": "power_line", "line_m": [[east_m, -50], [east_m, 50]]}
    assert only(holding(line), "G106").status == status


@pytest.mark.parametrize(("height_m", "status"), [(1.8, "sound"), (1.799, "mind"), (None, "mind")])
def test_g107_a_fence_round_the_lawn(height_m, status):
    fence = {"name": "fence", "kind": "fence", "line_m": [[-9, -9], [40, -9]], "height_m": height_m}
    of = yard(
        bird=[bird()], quarters=[quarters("Lawn", "pitch")], feature=[fence],
        stay=[stay(quarters="Lawn", mode="tethered")],
    )  # fmt: skip
    assert only(of, "G107").status == status


def test_g107_does_not_ask_where_nobody_stands_on_the_lawn():
    assert findings(holding(), "G107") == []


def test_g108_florida_asks_a_barrier_that_the_file_cannot_show():
    of = holding()
    asked = of.model_copy(update={"yard": of.yard.model_copy(update={"standards": ("us-fl",)})})
    assert only(asked, "G108").status == "mind"
    assert findings(of, "G108") == []
