"""What hangs, by hand: hangers, ledger bolts, and posts inside under a ridge."""

import pytest

from mewswright.build.actions.combine import Factors
from mewswright.build.actions.of_unit import actions_on
from mewswright.build.frame import built_frame
from mewswright.build.frame_report import frame_report
from mewswright.build.frame_uprights import Down
from mewswright.build.hung import along_kn, hangers, ledger_bolts
from mewswright.build.takeoff import take_off
from mewswright.model.place import Loads
from support.units import unit_yard

LOADS = Loads(source="test", ground_snow_kn_m2=1.2, basic_wind_m_s=24, terrain="II")
ON = {
    "dead load": Down("dead", 1.0), "least dead load": Down("dead", 0.5),
    "snow": Down("snow", 2.0), "wind, lifting": Down("wind", -2.0),
}  # fmt: skip


def ridged(**frame):
    yard = unit_yard(
        width_mm=6000, depth_mm=4000, front_height_mm=2300, back_height_mm=2300,
        roof={"form": "duopitch", "ridge_height_mm": 3000}, frame={"ridge": "95x220", **frame},
    )  # fmt: skip
    return yard.model_copy(update={"loads": LOADS})


def using() -> Factors:
    yard = ridged()
    return actions_on(yard, yard.quarters[0], built_frame(yard, yard.quarters[0])).factors


def test_combinations_on_a_hanger():
    """1.35 + 1.5 x 2 = 4.35 kN down; at the least 0.5 x least factor - 1.5 x 2 up."""
    forces = [kn for kn, _ in along_kn(ON, using())]
    assert max(forces) == pytest.approx(1.35 + 3.0)
    assert min(forces) == pytest.approx(using().gamma_g_favourable * 0.5 - 3.0)


def test_a_hanger_is_pressed_and_lifted():
    """6 kN on record: under snow times kmod / 1.3, and half of it where it is lifted."""
    pressed, lifted = hangers("rafter-ridge", [ON], using(), "C24")
    kmod = {"short": 0.9, "medium": 0.8, "long": 0.7}[using().duration["snow"]]
    assert pressed.utilisation == pytest.approx(4.35 / (6 * kmod / 1.3))
    assert lifted.capacity_kn == pytest.approx(0.5 * 6 / 1.3 * min(1, 0.9), rel=0.12)
    assert lifted.utilisation == pytest.approx(
        (3.0 - 0.5 * using().gamma_g_favourable) / lifted.capacity_kn
    )


def test_two_bolts_hold_a_ledger_and_twice_the_load_uses_twice_as_much():
    once = ledger_bolts({0.0: ON}, using(), "C24", (45, 145), (45, 95))
    assert [(one.means, one.count) for one in once] == [("m6_coach_bolt", 2)] * 2
    double = {name: Down(one.kind, 2 * one.kn) for name, one in ON.items()}
    twice = ledger_bolts({0.0: double}, using(), "C24", (45, 145), (45, 95))
    for one, two in zip(once, twice, strict=True):
        assert two.utilisation == pytest.approx(2 * one.utilisation)


def test_a_stud_that_takes_no_bolt_fails():
    (none,) = ledger_bolts({0.0: ON}, using(), "C24", (45, 145), (30, 95))
    assert none.utilisation == float("inf")
    assert "too narrow for any bolt" in none.note


def test_a_shallow_ledger_takes_one_bolt():
    one, _ = ledger_bolts({0.0: ON}, using(), "C24", (45, 60), (45, 95))
    assert (one.count, "one bolt only" in one.note) == (1, True)


def test_a_post_inside_stands_on_its_own_slab_and_must_be_held_down():
    """450 x 450 x 38 mm at 24 kN/m3 weigh 0.185 kN, whatever the walls stand on."""
    report = frame_report(
        yard := ridged(ridge_posts=1, base="slab", anchor="none"), yard.quarters[0]
    )
    joint = next(one for one in report.joints if one["name"] == "ridge post-ground")
    assert joint["means"] == "paving slab"
    slab = 24 * 0.45 * 0.45 * 0.038 * using().gamma_g_favourable
    assert joint["capacity_kn"] == pytest.approx(slab, abs=0.01)
    assert joint["utilisation"] > 1
    assert not report.sound
    assert {"rafter-ridge", "rafter-ridge, lifted"} <= {one["name"] for one in report.joints}
    assert "ridge post inside" in report.bearing["direction"]
    none = frame_report(yard := ridged(base="slab"), yard.quarters[0])
    assert "ridge post-ground" not in {one["name"] for one in none.joints}


@pytest.mark.parametrize(
    ("held", "mark", "each"),
    [
        ({"anchor": "slab_anchor", "base": "slab"}, "anchor", 1),
        ({"anchor": "concrete_hole"}, "strap cast into a hole", 2),
    ],
)
def test_an_anchor_stands_under_each_post_inside_and_is_bought(held, mark, each):
    yard = ridged(ridge_posts=2, anchor_count=8, **held)
    anchors = frame_report(yard, yard.quarters[0]).anchors
    assert (anchors["count"], anchors["under_ridge_posts"]) == (8 + 2, 2)
    parts = take_off(yard, yard.quarters[0]).parts
    bought = [p for p in parts if p.what == mark]
    assert sum(p.amount for p in bought) == (8 + 2) * each
    assert "under the posts inside" in " ".join(p.place for p in bought)


def test_no_anchor_stands_inside_without_anchors_at_the_walls():
    yard = ridged(ridge_posts=2, anchor="none")
    assert frame_report(yard, yard.quarters[0]).anchors["count"] == 0
    assert not [p for p in take_off(yard, yard.quarters[0]).parts if "posts inside" in p.place]


@pytest.mark.parametrize(("tested_kn", "inside"), [(None, 0), (8, 2)])
def test_a_ground_anchor_stands_inside_only_once_it_was_tested(tested_kn, inside):
    """Untested it counts for nothing, so that the slab alone is credited, and none is bought."""
    yard = ridged(
        ridge_posts=2, anchor="ground_anchor", anchor_count=30, anchor_tested_kn=tested_kn
    )
    report = frame_report(yard, yard.quarters[0])
    anchors = report.anchors
    assert (anchors["count"], anchors["under_ridge_posts"]) == (30 + inside, inside)
    (joint,) = [one for one in report.joints if one["name"] == "ridge post-ground"]
    # By hand: 0.9 of 24 kN/m3 x 0.45 x 0.45 x 0.038 m, and half of the pull that was tested.
    slab = 0.9 * 24 * 0.45**2 * 0.038
    assert joint["capacity_kn"] == pytest.approx(slab + (tested_kn or 0) / 2, abs=0.02)
    bought = [p for p in take_off(yard, yard.quarters[0]).parts if p.what == "anchor"]
    assert sum(p.amount for p in bought) == 30 + inside
