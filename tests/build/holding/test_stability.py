"""The whole answer of how a unit stands, on units from a yard file."""

import json

import pytest

from mewswright.build.holding.facts import frame_facts
from mewswright.build.holding.ground import (
    bearing_check,
    frost_word,
    soil_cone_kn,
    under_post_m2,
    under_unit_m2,
)
from mewswright.build.holding.stability import stability
from mewswright.build.holding.standing import WindCase
from mewswright.build.shell import shell_of
from mewswright.model.problem import Problem
from support.units import unit_yard

WIND = [
    WindCase("wind onto the front", "depth", 4.83, 1.2, 7.106, 1.3, 2.4),
    WindCase("wind along the front", "width", 2.0, 1.2, 3.0, 1.6, 1.0),
]


def judged(nail_n=397, **frame):
    yard = unit_yard(frame=frame)
    return stability(3.19, 2.59, 1.8, WIND, frame_facts(yard, yard.quarters[0], nail_n))


def test_a_bare_unit_lifts_slides_tips_and_racks():
    found = judged()
    assert found.uplift_kn == pytest.approx(1.5 * 7.106 - 0.9 * 1.8)
    assert not found.sound
    assert all(not one.sound for one in (*found.overturning, *found.racking))
    assert found.sway_mm is None


def test_a_lined_and_held_unit_stands():
    found = judged(
        lining="osb3_9", base="slab", anchor="slab_anchor", anchor_count=12, rafter="45x145"
    )
    failing = [c.name for c in found.holding.checks if not c.sound]
    assert failing == ["sliding of the slab"]  # 100 mm of concrete is not enough for it
    assert all(one.sound for one in found.racking)
    assert found.racking[1].path == "the roof deck carries all to the back wall"


def test_a_knee_braced_front_tells_its_sway():
    found = judged(lining="osb3_9", brace="knee", head="95x95", post_count=2, post="120x120")
    assert found.racking[1].path == "each wall takes half"
    assert 0 < found.sway_mm < found.sway_limit_mm


def test_the_weakest_check_is_used_most():
    found = judged(lining="osb3_9", anchor="concrete_hole", anchor_count=6)
    used = [c.utilisation for c in found.holding.checks]
    used += [c.utilisation for one in found.racking for c in one.checks]
    assert None not in used
    assert found.weakest.utilisation == max(used)


def test_json_has_the_promised_keys():
    answer = judged(anchor="concrete_hole", anchor_count=6).as_dict()
    assert {"uplift_kn", "sliding", "overturning", "racking", "sway_mm"} <= set(answer)
    assert "Infinity" not in json.dumps(answer, allow_nan=False)


def test_a_door_leaves_its_wall_fewer_sheets():
    yard = unit_yard(
        frame={"lining": "osb3_9"},
        door=[
            {
                "between": ["Unit", "Lobby"], "width_mm": 800, "height_mm": 1900,
                "face": "back", "at_mm": 1500,
            }
        ],
    )  # fmt: skip
    back = next(w for w in frame_facts(yard, yard.quarters[0], 397).bracing if w.side == "back")
    assert sum(back.panels_m) == pytest.approx((3000 + 2 * 95 - 800) / 1000)


def test_a_lining_that_is_no_sheet_is_refused():
    yard = unit_yard(frame={"lining": "featheredge_22x150"})
    with pytest.raises(Problem, match="is no sheet that braces a wall"):
        frame_facts(yard, yard.quarters[0], 397)


def test_ground_bears_by_what_stands_on_it():
    shell = shell_of(unit_yard().quarters[0])
    assert under_post_m2("sleepers", (95, 95)) == pytest.approx(0.295 * 0.2)
    assert under_post_m2("pads", (95, 95)) == pytest.approx(0.45**2)
    assert under_unit_m2(shell) == pytest.approx(2 * 0.2 * (3.4 + 2.4))
    assert bearing_check("post", 2.0, 0.04, 50).utilisation == pytest.approx(1.0)
    with pytest.raises(ValueError, match="area and bearing must be more than 0"):
        bearing_check("post", 2.0, 0, 50)


def test_wet_ground_holds_half_and_frost_is_told():
    assert soil_cone_kn(0.6, 0.05, wet=True) == pytest.approx(soil_cone_kn(0.6, 0.05) / 2)
    assert "can be lifted" in frost_word("pads", 800, 600)
    assert "reach below frost" in frost_word("pads", 800, 900)
    assert "move with it" in frost_word("sleepers", 800)
    assert "not known" in frost_word("sleepers", None)
