"""Frames under odd yards: a verdict or a plain refusal, no fault; and what must be monotone."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mewswright.build.frame_report import frame_report
from mewswright.model.problem import Problem
from support.loaded_units import loaded

SIDES = ("front", "back", "left", "right")
BARN = {
    "name": "Barn", "kind": "building", "height_m": 6,
    "outline_m": [[-6, 1], [-1, 1], [-1, 9], [-6, 9]],
}  # fmt: skip
THIN = dict.fromkeys(("post", "rafter", "stud", "head", "sole", "nogging"), "20x20")

JUDGED = {
    "huge loads": {"snow": 20.0, "wind": 60.0},
    "no snow": {"snow": 0.0},
    "600 mm wide": {"kind": "isolation", "size": (600.0, 600.0, 700.0, 650.0)},
    "12 m wide": {"kind": "loft", "size": (12000.0, 4200.0, 3000.0, 2600.0)},
    "flat roof": {"size": (3000.0, 2000.0, 2200.0, 2200.0)},
    "29 deg": {"size": (3000.0, 2000.0, 3100.0, 2000.0)},
    "33 deg": {"size": (3000.0, 2000.0, 3300.0, 2000.0)},
    "58 deg": {"kind": "isolation", "size": (3000.0, 1000.0, 3600.0, 2000.0)},
    "duopitch of 45 deg": {
        "kind": "isolation",
        "size": (3000.0, 2000.0, 1900.0, 1900.0),
        "roof": {"form": "duopitch", "ridge_height_mm": 2900},
    },
    "falls to the front": {"size": (3000.0, 2000.0, 2000.0, 2300.0)},
    "all open": {"faces": dict.fromkeys(SIDES, "open")},
    "all meshed": {"faces": dict.fromkeys(SIDES, "meshed")},
    "slab": {"frame": {"base": "slab", "anchor": "slab_anchor", "anchor_count": 8}},
    "pads": {"frame": {"base": "pads", "anchor": "concrete_hole", "anchor_count": 10}},
    "knee braces": {"frame": {"brace": "knee"}},
    "two posts on 6 m": {"size": (6000.0, 2000.0, 2400.0, 2200.0), "frame": {"post_count": 2}},
    "20 x 20": {"frame": THIN},
    "beside a barn": {"snow": 2.4, "feature": [BARN], "loads": {"exceptional_drift": True}},
    "no deck": {"roof": {"deck": "none", "cover": "corrugated"}},
    "half a roof": {"roof": {"covered_share": 0.5, "open_gap_mm": 25}},
    "long overhangs": {"roof": {"overhang_front_mm": 1500, "overhang_back_mm": 1200}},
    "no overhangs": {
        "roof": {"overhang_front_mm": 0, "overhang_back_mm": 0, "overhang_side_mm": 0}
    },
    "1400 m up": {"altitude_m": 1400, "snow": 6.0},
}


def report_of(*site, **keys):
    yard = loaded(*site, **keys)
    return frame_report(yard, yard.quarters[0])


@pytest.mark.parametrize("name", JUDGED)
def test_an_odd_yard_gets_a_verdict_that_json_can_hold(name):
    found = report_of(**JUDGED[name])
    told = json.loads(json.dumps(found.contract(), allow_nan=False))
    assert told["weakest"]
    assert found.sound is False  # none of them is anchored and braced well enough
    assert all(member["utilisation"] is None or member["utilisation"] >= 0
               for member in told["members"])  # fmt: skip


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"roof": {"form": "none"}}, "no roof to carry"),
        ({"size": (3000.0, 1000.0, 4400.0, 2000.0)}, "wind coefficients are known up to 60 deg"),
        ({"frame": {"anchor": "slab_anchor", "anchor_count": 4}}, "set base to slab"),
        (
            {
                "size": (9000.0, 2000.0, 2400.0, 2200.0),
                "frame": {"brace": "knee", "brace_leg_mm": 2500, "post_count": 2},
            },
            "shorten brace_leg_mm",
        ),
    ],
)
def test_what_cannot_be_judged_is_refused_with_its_remedy(keys, words):
    with pytest.raises(Problem, match=words):
        report_of(**keys)


def test_a_flat_roof_holds_its_rain_and_its_share_is_null():
    told = report_of(**JUDGED["flat roof"]).contract()
    rafter = next(one for one in told["members"] if one["what"] == "rafter")
    assert (rafter["governing"], rafter["utilisation"]) == ("ponding", None)


def test_a_rare_drift_counts_only_where_the_yard_asks_for_it():
    asked = report_of(**JUDGED["beside a barn"])
    left_out = report_of(snow=2.4, feature=[BARN])
    assert any(one["name"] == "exceptional drift of snow" for one in asked.actions)
    assert not any(one["name"] == "exceptional drift of snow" for one in left_out.actions)
    for more, less in zip(asked.members, left_out.members, strict=True):
        assert more.utilisation >= less.utilisation


def never_lower(heavier, lighter):
    for more, less in zip(heavier.members, lighter.members, strict=True):
        assert more.mark == less.mark
        assert more.utilisation >= less.utilisation - 1e-9, more.mark
    assert heavier.bearing["demand"] >= lighter.bearing["demand"] - 1e-9


@settings(max_examples=6, deadline=None)
@given(
    snow=st.floats(0, 4),
    more=st.floats(0.05, 3),
    kind=st.sampled_from(("shelter", "isolation")),
    feature=st.sampled_from(([], [BARN])),
)
def test_more_snow_never_makes_a_share_lower(snow, more, kind, feature):
    keys = {"kind": kind, "feature": feature, "loads": {"exceptional_drift": bool(feature)}}
    never_lower(report_of(snow=snow + more, **keys), report_of(snow=snow, **keys))


@settings(max_examples=5, deadline=None)
@given(wind=st.floats(15, 28), more=st.floats(0.5, 5), kind=st.sampled_from(("shelter", "loft")))
def test_more_wind_never_makes_a_share_lower(wind, more, kind):
    calm, storm = report_of(kind, wind=wind), report_of(kind, wind=wind + more)
    never_lower(storm, calm)
    assert storm.stability["uplift_kn"] > calm.stability["uplift_kn"]


@pytest.mark.parametrize("kind", ["shelter", "loft", "isolation"])
def test_a_stronger_class_never_makes_a_share_higher(kind):
    weak = report_of(kind, 2.4, 28.0, frame={"strength_class": "C16"})
    strong = report_of(kind, 2.4, 28.0, frame={"strength_class": "C24"})
    for better, worse in zip(strong.members, weak.members, strict=True):
        assert better.utilisation <= worse.utilisation + 1e-9, better.mark


@pytest.mark.parametrize(
    ("anchor", "base"), [("slab_anchor", "slab"), ("concrete_hole", "sleepers")]
)
def test_more_anchors_never_make_it_less_safe(anchor, base):
    def anchored(count):
        return report_of(frame={"anchor": anchor, "anchor_count": count, "base": base})

    def worst(report):
        used = [c["utilisation"] for c in report.anchors["checks"] if "slab" not in c["name"]]
        used += [j["utilisation"] for j in report.joints if j["name"] == "base-ground"]
        return [float("inf") if share is None else share for share in used]

    before = worst(anchored(4))
    for count in (5, 6, 9, 14):
        after = worst(anchored(count))
        assert all(b <= a + 1e-9 for a, b in zip(before, after, strict=True)), count
        before = after
