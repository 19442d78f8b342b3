"""Odd units right through: frame, take-off and drainage give numbers, and agree with each other."""

import json

import pytest

from mewswright.build.frame_report import frame_report
from mewswright.build.order import build_order
from mewswright.build.report import report, worked_out
from mewswright.build.water.report import drainage
from support.loaded_units import loaded

MESHED = dict.fromkeys(("front", "back", "left", "right"), "meshed")
DUO = {"form": "duopitch", "deck": "osb3_18", "cover": "felt"}
ODD = {
    "no front to speak of": {"faces": {"front": "boarded", "back": "meshed"}},
    "meshed all round on pads": {"faces": MESHED, "frame": {"base": "pads"}},
    "a box for one night": {"kind": "isolation", "size": (300.0, 300.0, 400.0, 380.0)},
    "an eave at the knee": {"size": (3000.0, 2400.0, 300.0, 250.0)},
    "a hall": {"kind": "loft", "size": (20000.0, 9000.0, 4200.0, 3000.0)},
    "40 m long": {"size": (40000.0, 3000.0, 2600.0, 2200.0)},
    "steep": {"kind": "isolation", "size": (3000.0, 2400.0, 5900.0, 2100.0)},
    "a steep house": {
        "kind": "isolation", "size": (4000.0, 3000.0, 2000.0, 2000.0),
        "roof": {**DUO, "ridge_height_mm": 3500},
    },
    "crooked ridge, post inside": {
        "kind": "loft", "size": (5000.0, 4000.0, 2300.0, 2000.0),
        "roof": {**DUO, "ridge_height_mm": 3000, "ridge_at_mm": 900}, "frame": {"ridge_posts": 1},
    },
    "stepped down a slope": {
        "frame": {"ground_fall_back_mm": 350, "ground_fall_right_mm": -200},
    },
    "posts on a slope": {"frame": {"base": "posts_in_concrete", "ground_fall_back_mm": 500}},
    "3000 m up": {"altitude_m": 3000, "snow": 9.0},
    "below the sea": {"altitude_m": -400, "snow": 0.0, "wind": 5.0},
    "nothing over it": {"roof": {"covered_share": 0, "open_gap_mm": 20}},
    "steel but for its studs": {"frame": {"rafter": "80x80x3", "post": "80x80x3"}},
    "steel plates on pads": {"faces": MESHED, "frame": {"head": "60x80x4", "base": "pads"}},
    "frost": {"loads": {"frost_depth_mm": 1500}},
}  # fmt: skip


@pytest.mark.parametrize("name", ODD)
def test_an_odd_unit_gets_numbers_that_agree(name):
    yard = loaded(**ODD[name])
    unit = yard.quarters[0]
    frame = frame_report(yard, unit)
    told = frame.contract()
    taken, sawing, costing = worked_out(yard, unit)
    out = report(taken, sawing, costing, None, build_order(unit, taken))
    water = drainage(yard, unit).model_dump(mode="json")
    json.dumps([told, out, water], allow_nan=False)  # no number that JSON cannot hold
    assert told["drainage"] == water
    # What the check counts is what is bought.
    found = told["anchors"]
    bought = sum(p.amount / 2 for p in taken.parts if p.what == "strap cast into a hole") + sum(
        p.amount for p in taken.parts if p.what == "anchor"
    )
    if unit.frame.base != "posts_in_concrete":
        assert bought == found["count"]
    assert told["sound"] is False or all((m["utilisation"] or 0) <= 1 for m in told["members"])
    marks = {p.mark for p in taken.parts}
    assert {m["mark"] for m in told["members"]} <= marks
    for part in taken.parts:
        assert part.length_mm >= 0
        assert part.amount >= 0
