"""Anchors that the yard file leaves open: chosen to hold, told, bought; and named ones kept."""

import json

import pytest
from typer.testing import CliRunner

from mewswright.build.anchoring import anchored
from mewswright.build.frame_report import frame_report
from mewswright.build.takeoff import take_off
from mewswright.cli import app
from support.loaded_units import loaded
from support.units import unit_yard


def judged(yard):
    unit = yard.quarters[0]
    return frame_report(yard, unit), take_off(yard, unit)


def holds(report):
    own = [c["sound"] for c in report.anchors["checks"] if "slab" not in c["name"]]
    own += [j["utilisation"] <= 1 for j in report.joints if j["name"] == "base-ground"]
    return all(own)


@pytest.mark.parametrize("kind", ["shelter", "loft", "isolation"])
@pytest.mark.parametrize(
    ("base", "anchor"),
    [("sleepers", "concrete_hole"), ("pads", "concrete_hole"), ("slab", "slab_anchor")],
)
def test_a_unit_without_a_word_on_anchors_gets_those_that_fit_its_base(kind, base, anchor):
    report, taken = judged(loaded(kind, frame={"base": base}))
    found = report.anchors
    assert found["anchor"] == anchor
    assert found["count"] >= found["needed"] > 0
    assert holds(report)
    assert f"{found['count']} x {anchor.replace('_', ' ')}" in found["chosen"]
    assert found["chosen"] in report.assumptions
    assert any(found["chosen"] in said for said in taken.assumptions)
    if anchor == "slab_anchor":
        bought = [p.amount for p in taken.parts if p.what == "anchor"]
        assert bought == [found["count"]]
    else:
        (concrete,) = [p for p in taken.parts if p.what == "concrete of the anchors"]
        assert concrete.note.startswith(f"{found['count']} holes")


@pytest.mark.parametrize("kind", ["shelter", "loft", "isolation"])
def test_one_anchor_less_does_not_hold(kind):
    yard = loaded(kind)
    frame = anchored(yard, yard.quarters[0]).quarters.frame
    fewer = {
        "anchor": frame.anchor, "anchor_count": frame.anchor_count - 1, "hole_mm": frame.hole_mm
    }  # fmt: skip
    assert not holds(judged(loaded(kind, frame=fewer))[0])


def test_a_named_anchor_reads_as_it_did():
    for keys in ({"anchor": "none"}, {"anchor": "concrete_hole", "anchor_count": 3}):
        yard = loaded(frame=keys)
        assert anchored(yard, yard.quarters[0]).quarters is yard.quarters[0]
        report, taken = judged(yard)
        assert report.anchors["count"] == keys.get("anchor_count", 0)
        assert report.anchors["chosen"] == ""
        assert not any("chosen" in said for said in taken.assumptions)


def test_a_count_without_a_kind_is_kept():
    report, _ = judged(loaded(frame={"anchor_count": 9}))
    assert (report.anchors["anchor"], report.anchors["count"]) == ("concrete_hole", 9)
    assert "as many as the yard file says" in report.anchors["chosen"]


def test_posts_in_concrete_need_no_more():
    yard = loaded(frame={"base": "posts_in_concrete"})
    assert anchored(yard, yard.quarters[0]).why == ""
    assert anchored(yard, yard.quarters[0]).quarters.frame.anchor == "none"


def test_without_loads_none_are_chosen_and_it_says_so():
    yard = unit_yard()
    taken = take_off(yard, yard.quarters[0])
    assert not [p for p in taken.parts if "anchor" in p.what]
    assert any("no [loads]" in said and "no anchors are chosen" in said
               for said in taken.assumptions)  # fmt: skip


def test_in_a_hurricane_no_number_is_enough_and_it_says_so():
    report, taken = judged(loaded(wind=90.0, frame={"hole_mm": [200, 300]}))
    assert report.anchors["count"] == 0
    assert "do not hold it" in report.anchors["chosen"]
    assert not [p for p in taken.parts if "anchor" in p.what]


def test_an_unsound_frame_still_prints_its_whole_json(tmp_path):
    """Exit 1 says that it is not sound; what is printed is the same JSON as for a sound one."""
    path = tmp_path / "level.yard.toml"
    path.write_text(TOML, encoding="utf-8")
    done = CliRunner().invoke(app, ["frame", str(path), "Unit", "--json"])
    assert done.exit_code == 1
    told = json.loads(done.stdout)
    assert {"assumptions", "actions", "members", "stability", "anchors", "drainage", "sound",
            "weakest"} <= set(told)  # fmt: skip
    assert told["sound"] is False


TOML = """format = 1
[yard]
name = "Level ground"
latitude_deg = 47
longitude_deg = 7
altitude_m = 300
time_zone = "Europe/Zurich"
[loads]
source = "set for a test"
ground_snow_kn_m2 = 0.5
basic_wind_m_s = 22
terrain = "II"
[[quarters]]
name = "Unit"
kind = "shelter"
at_m = [0, 0]
facing_deg = 180
width_mm = 3000
depth_mm = 2000
front_height_mm = 2400
back_height_mm = 2200
[quarters.faces.front]
infill = "open"
[quarters.roof]
"""


def test_walls_are_held_though_no_anchor_holds_the_posts_inside():
    yard = loaded(
        "loft", size=(9000.0, 5000.0, 2500.0, 2500.0), wind=26.0,
        roof={"form": "duopitch", "ridge_height_mm": 3600, "deck": "osb3_18"},
        frame={"ridge_posts": 3, "ridge": "75x220"},
    )  # fmt: skip
    report = frame_report(yard, yard.quarters[0])
    (inside,) = [j for j in report.joints if j["name"] == "ridge post-ground"]
    assert inside["utilisation"] > 1
    assert report.anchors["count"] > 0
    assert holds(report)
